"""What the report tells of each place, and how it sorts figures by state."""

from __future__ import annotations

from math import isnan

import pytest

from models.fields import replaced
from models.hardware import PLACES, BarSpring, CoilSpring, GasStrut, Hardware, StabiliserBar, apply_all
from models.judge.part_report import PLACE_NAMES, differing, is_exceeded, part_reports
from models.part_loads import design_loads, part_figures
from models.vehicle import Load, LoadCase, Vehicle

BOOT = LoadCase(name="boot, full", loads=(Load(mass=200.0, x=-3.0),))
HARDWARE = Hardware(front_spring=CoilSpring(), rear_spring=BarSpring(), front_stabiliser=StabiliserBar())


def test_every_figure_of_a_part_is_told_once() -> None:
    found = part_reports(Vehicle(), HARDWARE, (BOOT,))
    assert tuple(found) == PLACES == tuple(PLACE_NAMES)
    figures = part_figures(Vehicle(), HARDWARE, (BOOT,))
    for place in ("front_spring", "rear_spring", "front_stabiliser"):
        report = found[place]
        by_state = [cell for row in report.states.rows for cell in row.cells if cell.key != "use"]
        assert sorted(f.key for f in (*report.figures, *by_state)) == sorted(f.key for f in figures[place])
    assert dict(found["rear_spring"].groups) == {"Clocking": figures["clocking rear_spring"]}
    assert found["trim"].part is None
    assert isnan(found["trim"].safety)


def test_rows_are_the_states_and_the_last_column_the_use_of_the_limit() -> None:
    report = part_reports(Vehicle(), HARDWARE, (BOOT,))["front_spring"]
    assert report.states.columns == ("Force", "Length", "Shear stress", "Use")
    assert [row.name for row in report.states.rows][:2] == ["design trim", "boot, full"]
    stress, use = zip(*(row.cells[-2:] for row in report.states.rows), strict=True)
    allowed = report.value("allowed_stress")
    assert [figure.value for figure in use] == pytest.approx([figure.value / allowed for figure in stress])
    assert max(figure.value for figure in use) == pytest.approx(1 / report.safety)
    assert report.highest_stress == pytest.approx(max(figure.value for figure in stress))


def test_gas_is_held_against_its_pressure() -> None:
    report = part_reports(Vehicle(), Hardware(front_spring=GasStrut()))["front_spring"]
    assert report.states.columns == ("Pressure", "Use")
    assert isnan(report.highest_stress)
    assert report.safety > 1


def test_what_applying_would_change_and_what_it_would_not() -> None:
    car = Vehicle()
    report = part_reports(car, HARDWARE)["front_spring"]
    assert [change.label for change in differing(report, car)] == ["Front spring rate"]
    done = apply_all(car, HARDWARE, design_loads(car))
    found = part_reports(done, HARDWARE)
    assert all(differing(report, done) == () and report.mismatch == () for report in found.values())


def test_weak_parts_are_told() -> None:
    weak = replaced(HARDWARE, ("front_spring", "material", "shear_limit_preset"), 100e6)
    report = part_reports(Vehicle(), weak)["front_spring"]
    told = {figure.key for figure in report.figures if is_exceeded(figure)}
    assert told >= {"safety"}
    assert all(is_exceeded(row.cells[-1]) for row in report.states.rows if row.key != "rebound")
    strong = part_reports(apply_all(Vehicle(), HARDWARE), HARDWARE)["front_spring"]
    assert not {f.key for f in strong.figures if is_exceeded(f)} & {"safety", "reverse_stress"}
