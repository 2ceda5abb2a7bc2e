"""Travel, trim and clearance in the load cases and in the run."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from models.charts.packaging import clearance_chart, envelope_chart
from models.figure_text import unit_text
from models.judge.packaging import Checked, PackagingReport, packaging
from models.judge.packaging_text import limit_words, reasons, verdict, yield_words
from models.judge.statics import LoadCaseRow, attitude_words, load_case_table
from models.judge.trim_rows import left_out, method
from models.judge.trim_tolerance import bar_diameters, trim_stack
from models.report.bench import Bench, Car
from models.report.document import Block, ChartFigure, Note, Paragraph, Row, Subheading
from models.report.words import number, row, table, title_row

__all__ = ["trim"]


def trim(bench: Bench) -> Iterator[Block]:
    """How the cars stand, what is left of their travel, the limits, and what tolerances do to the height."""
    yield table("Load cases at rest", ("Load case", "Nose", "Low side"), _heads(bench), _rows(bench))
    yield from _told(bench)
    report = _packaging(bench, bench.candidate)
    other = None if bench.baseline is None else _packaging(bench, bench.baseline)
    name, beside = bench.names[0], bench.names[-1]
    chart = envelope_chart(report.envelope, name, None if other is None else (other.envelope, beside))
    yield ChartFigure(chart, "Wheel travel between the stops, at rest in each load case and in the run")
    yield table(
        "Checks of the candidate, each in the case that leaves least room",
        ("Check", "Place", "Load case", "Unit"),
        ("Value", "Limit", "Margin"),
        (_check(bench, one) for one in _tightest(report.checks)),
    )
    yield Paragraph(" ".join(filter(None, (verdict(report.checks), reasons(report)))))
    if report.vehicle.packaging.points:
        clearance = clearance_chart(report, name, None if other is None else (other, beside))
        yield ChartFigure(clearance, "Ground clearance along the car")
    yield from _stack(bench)


def _heads(bench: Bench) -> tuple[str, ...]:
    units = bench.units
    force, travel = units["force"], units["travel"]
    return (
        f"FL, {force}",
        f"FR, {force}",
        f"RL, {force}",
        f"RR, {force}",
        f"Height front, {travel}",
        f"Height rear, {travel}",
        f"Jounce left, {travel}",
        f"Rebound left, {travel}",
    )


def _rows(bench: Bench) -> Iterator[Row]:
    for car in bench.cars:
        yield title_row(f"{car.variant.name}")
        for one in load_case_table(car.variant.vehicle, bench.load_cases):
            yield _case(bench, one)


def _case(bench: Bench, one: LoadCaseRow) -> Row:
    units = bench.units
    if not one.stable:
        return row(one.name, "–", "–", *["–"] * 8)
    pairs = (
        " / ".join(number(value, "travel", units) for value in pair)
        for pair in (one.jounce_left, one.rebound_left)
    )
    return row(
        one.name,
        *attitude_words(one.roll, one.pitch, units),
        *(number(force, "force", units) for force in one.tyre_force),
        *(number(height, "travel", units) for height in one.trim),
        *pairs,
    )


def _told(bench: Bench) -> Iterator[Block]:
    yield Note(
        f"Nose and low side in {bench.units['angle']} against design trim; travel left to the stops as front "
        "/ rear, the lesser of left and right, – without a stop."
    )
    for car in bench.cars:
        told = [
            f"{one.name}, {words}"
            for one in load_case_table(car.variant.vehicle, bench.load_cases)
            for words in filter(None, (one.reason and f"does not stand, {one.reason}", *one.warnings))
        ]
        if told:
            yield Note(f"{car.variant.name}: {'; '.join(told)}.")


def _packaging(bench: Bench, car: Car) -> PackagingReport:
    return packaging(car.analysis, bench.load_cases, car.variant.hardware)


def _tightest(checks: Iterable[Checked]) -> Iterable[Checked]:
    """Of each check the case with the least margin; those without a limit are left out."""
    found: dict[str, Checked] = {}
    for one in checks:
        before = found.get(one.figure.key)
        if one.met is not None and (before is None or one.margin < before.margin):
            found[one.figure.key] = one
    return found.values()


def _check(bench: Bench, one: Checked) -> Row:
    units, kind = bench.units, one.figure.kind
    margin = "" if one.met is None else number(one.margin, kind, units)
    missed = one.met is False
    return row(
        one.figure.label,
        one.place,
        one.case,
        unit_text(kind, units),
        number(one.figure.value, kind, units),
        limit_words(one, units),
        (f"{margin} miss", "bad") if missed else margin,
    )


def _stack(bench: Bench) -> Iterator[Block]:
    steel = bench.candidate.variant.hardware
    stack = trim_stack(
        bench.candidate.variant.vehicle,
        steel.trim_tolerances,
        bench.project.load,
        diameters=bar_diameters(steel),
    )
    yield Subheading("Tolerances at trim")
    if stack.reason:
        yield Paragraph(f"The car does not stand, {stack.reason}.")
        return
    yield Paragraph(yield_words(stack, bench.units))
    yield Note(f"{method(stack)} {left_out()}")
