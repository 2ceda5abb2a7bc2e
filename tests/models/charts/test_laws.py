"""Charts of laws: springs with their stops, dampers with their friction, the baseline if it differs."""

from __future__ import annotations

import numpy as np
import pytest

from models.assembly import mechanics
from models.charts.law_source import LawSource
from models.charts.laws import damping_chart, interconnection_chart, wheel_force_chart
from models.charts.table import table_text
from models.fields import replaced
from models.statics import statics
from models.units import METRIC
from models.vehicle import (
    Axle,
    DigressiveDamper,
    Friction,
    GasSpring,
    Load,
    LoadCase,
    Side,
    Spring,
    Stop,
    TorsionCoupling,
    Vehicle,
)
from models.wheel_forces import interconnection_force, wheel_damping, wheel_force

CAR = Vehicle(
    front=Axle(
        spring=Spring(rate=20e3, motion_ratio=0.9),
        damper=DigressiveDamper(),
        bump_stop=Stop(gap=0.07, rate=80e3),
        rebound_stop=Stop(gap=0.05, rate=60e3),
        friction=Friction(force=90.0, width=0.02),
    ),
    left=Side(coupling=TorsionCoupling(bar_rate=900.0, rear_lever_ratio=3.0)),
)
LOAD = LoadCase(name="full", loads=(Load(mass=400.0, x=-1.5),))


def test_stops_are_marked_at_their_contacts_and_lie_in_sight() -> None:
    chart = wheel_force_chart("front", LawSource(CAR))
    assert [(mark.label, mark.x) for mark in chart.marks] == [("rebound stop", -0.05), ("bump stop", 0.07)]
    (curve,) = chart.curves
    # 30 mm past the stops in steps of 20 mm, at least 80 mm.
    assert (curve.x[0], curve.x[-1]) == pytest.approx((-0.08, 0.1))
    for kink in (-0.05, 0.07):
        assert kink in curve.x
    assert np.array_equal(curve.y, wheel_force(CAR.front, curve.x))


def test_the_load_case_is_marked_where_the_car_stands_with_it() -> None:
    chart = wheel_force_chart("rear", LawSource(CAR), load=LOAD)
    (mark,) = chart.marks
    stand = statics(mechanics(CAR, LOAD))
    assert mark.label == "full"
    assert mark.x == stand.travel[2:].mean() > 0.01
    assert chart.curves[0].x[-1] >= mark.x


def test_a_car_that_does_not_stand_has_no_mark() -> None:
    floating = replaced(replaced(CAR, ("left",), Side()), ("rear", "spring", "rate"), 0.0)
    assert wheel_force_chart("rear", LawSource(floating), load=LOAD).marks == ()


@pytest.mark.parametrize(("part", "ends", "label"), [("jounce", (0.0, 0.1), "bump stop")])
def test_a_part_of_the_travel_has_its_own_stop_only(part: str, ends: tuple[float, float], label: str) -> None:
    chart = wheel_force_chart("front", LawSource(CAR), part=part, load=LOAD)  # type: ignore[arg-type]
    assert (chart.curves[0].x[0], chart.curves[0].x[-1]) == pytest.approx(ends)
    assert [mark.label for mark in chart.marks] == [label]


def test_the_baseline_is_drawn_below_the_candidate_where_it_differs() -> None:
    softer = replaced(CAR, ("front", "spring", "rate"), 15e3)
    chart = wheel_force_chart("front", LawSource(CAR), LawSource(softer), names=("new", "old"))
    assert [(curve.variant, curve.role) for curve in chart.curves] == [
        ("old", "baseline"),
        ("new", "candidate"),
    ]
    assert np.array_equal(chart.curves[0].y, wheel_force(softer.front, chart.curves[0].x))
    assert len(damping_chart("front", LawSource(CAR), LawSource(softer)).curves) == 1


def test_a_gas_spring_has_the_force_that_trim_gives_it() -> None:
    gas = replaced(CAR, ("front", "spring"), GasSpring(motion_ratio=0.9))
    heavy = replaced(gas, ("body", "mass"), 2400.0)
    light, stiff = (wheel_force_chart("front", LawSource(car)).curves[0].y[-1] for car in (gas, heavy))
    assert stiff > 1.2 * light


def test_damper_and_friction_add_up() -> None:
    chart = damping_chart("front", LawSource(CAR))
    (curve,) = chart.curves
    assert np.array_equal(curve.y, wheel_damping(CAR.front, curve.x))
    assert (curve.x[0], curve.x[-1]) == (-1.0, 1.0)
    for kink in (-0.1, -0.02, 0.0, 0.02, 0.1):  # knee speed and friction width
        assert kink in curve.x
    closely = damping_chart("front", LawSource(CAR), closely=True).curves[0].x
    assert (closely[0], closely[-1]) == pytest.approx((-0.1, 0.1))


def test_the_interconnection_shows_both_wheels() -> None:
    chart = interconnection_chart("left", LawSource(CAR))
    assert [(curve.label, curve.place) for curve in chart.curves] == [("front", "front"), ("rear", "rear")]
    front, rear = chart.curves
    assert front.x[-1] == 0.08
    assert np.array_equal([front.y, rear.y], interconnection_force(mechanics(CAR), "left", front.x))


def test_the_curve_leaves_as_a_table_of_numbers() -> None:
    text = table_text(wheel_force_chart("front", LawSource(CAR)), METRIC)
    head, first = text.splitlines()[1:3]
    assert head.startswith('"Wheel travel (mm, jounce +)"')
    assert first.startswith("-80,")
