"""Charts of bars, tyres, cushion and line: their forces are those of the car as it is assembled."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.constants import g

from models.assembly import assemble, mechanics
from models.charts.bar_laws import diagonal_chart, stabiliser_chart, trim_chart
from models.charts.cushion_laws import cushion_damping_chart, cushion_force_chart
from models.charts.law_source import LawSource
from models.charts.laws import restriction_chart
from models.charts.table import table_text
from models.charts.tyre_laws import tyre_damping_chart, tyre_force_chart
from models.fields import replaced
from models.statics import statics
from models.units import METRIC
from models.vehicle import (
    Axle,
    DiagonalCoupling,
    FluidCoupling,
    Load,
    LoadCase,
    Occupant,
    Seat,
    Side,
    Spring,
    Stabiliser,
    TrimSpring,
    Tyre,
    Vehicle,
)

CAR = Vehicle(
    front=Axle(stabiliser=Stabiliser(bar_rate=1200.0, lever_ratio=4.0), tyre=Tyre(rate=190e3, damping=80.0)),
    left=Side(
        coupling=FluidCoupling(front_area=0.002, rear_area=0.003, resistance=2e8),
        trim=TrimSpring(axle="front", bar_rate=300.0, lever_ratio=2.0, lever_angle=0.2),
    ),
    diagonal=DiagonalCoupling(bar_rate=600.0, front_lever_ratio=2.0, rear_lever_ratio=3.0),
    seat=Seat(occupant=Occupant(mass=70.0, cushion_rate=40e3, cushion_damping=700.0)),
)
SOURCE = LawSource(CAR)
LEVEL = replaced(CAR, ("left", "trim", "lever_angle"), 0.0)
LOPSIDED = LoadCase(name="one side", loads=(Load(mass=200.0, x=-1.5, y=0.5),))

# Sums of a few products of doubles.
EXACT = {"rel": 1e-12, "abs": 1e-9}


def test_a_stabiliser_pushes_with_the_square_of_its_lever() -> None:
    (curve,) = stabiliser_chart("front", SOURCE).curves
    # Both ends turn: twist 2 r x, so F = k r · 2 r x.
    assert curve.y == pytest.approx(2 * 1200.0 * 4.0**2 * curve.x, **EXACT)
    assert (curve.x[0], curve.x[-1]) == pytest.approx((-0.08, 0.08))


def test_a_bar_shows_the_part_of_the_wheel_rates_that_goes_with_it() -> None:
    """The wheel-rate matrix of the linear car with the bar, less that without it."""
    for path, chart, motion, wheel in (
        (("front", "stabiliser", "bar_rate"), stabiliser_chart("front", SOURCE), (1, -1, 0, 0), 0),
        (("diagonal", "bar_rate"), diagonal_chart(SOURCE), (1, -1, -1, 1), 0),
        (("left", "trim", "bar_rate"), trim_chart("left", LawSource(LEVEL)), (1, 0, 0, 0), 0),
    ):
        # The fluid stiffens with its static pressure, of which trim springs take their share: leave it out.
        dry = replaced(LEVEL, ("left", "coupling"), Side().coupling)
        matrix = [
            sum(
                element.stiffness * np.outer(element.incidence[:4], element.incidence[:4])
                for element in assemble(car).elements
            )
            for car in (dry, replaced(dry, path, 0.0))
        ]
        rate = float((np.asarray(matrix[0] - matrix[1]) @ np.array(motion))[wheel])
        # Through the points next to design trim, 4 mm away, where a lever of 0.5 m has turned by 8 mrad: of
        # its sine and cosine 2/3 of the square of that is left.
        curve = chart.curves[0]
        middle = int(np.searchsorted(curve.x, 0.0))
        slope = (curve.y[middle + 1] - curve.y[middle - 1]) / (curve.x[middle + 1] - curve.x[middle - 1])
        assert slope == pytest.approx(rate, rel=6e-5), path


def test_the_diagonal_pushes_by_its_levers_at_front_and_rear() -> None:
    front, rear = diagonal_chart(SOURCE).curves
    assert (front.label, front.place, rear.label, rear.place) == ("FL", "front", "RR", "rear")
    twist = 2 * (2.0 + 3.0) * front.x
    assert front.y == pytest.approx(600.0 * 2.0 * twist, **EXACT)
    assert rear.y == pytest.approx(600.0 * 3.0 * twist, **EXACT)


def test_a_trim_spring_acts_at_the_wheel_of_its_axle() -> None:
    chart = trim_chart("right", SOURCE)
    assert chart.title == "Right trim spring"
    (curve,) = chart.curves
    name = "right trim spring"
    preload = next(element.preload for element in SOURCE.car.elements if element.name == name)
    assert preload > 10.0
    # Lever at 0.2 rad above the horizontal, lifted by x.
    height = np.sin(0.2) + 2.0 * np.cos(0.2) * curve.x
    turn, ratio = np.arcsin(height) - 0.2, 2.0 * np.cos(0.2) / np.sqrt(1 - height**2)
    assert curve.y == pytest.approx((preload + 300.0 * turn) * ratio - preload * 2.0, **EXACT)
    # One that holds the other axle leaves this wheel alone.
    other = replaced(CAR, ("left", "trim", "axle"), "rear")
    old, new = trim_chart("right", SOURCE, LawSource(other)).curves
    assert (old.role, new.role) == ("baseline", "candidate")
    assert not old.y.any()


def test_bars_are_marked_where_the_car_stands_with_a_load() -> None:
    travel = statics(mechanics(CAR, LOPSIDED)).travel
    (opposed,) = stabiliser_chart("front", SOURCE, load=LOPSIDED).marks
    (warp,) = diagonal_chart(SOURCE, load=LOPSIDED).marks
    (own,) = trim_chart("left", SOURCE, load=LOPSIDED).marks
    assert {opposed.label, warp.label, own.label} == {"one side"}
    assert opposed.x == pytest.approx((travel[0] - travel[1]) / 2, rel=1e-12)
    assert warp.x == pytest.approx((travel[0] - travel[1] - travel[2] + travel[3]) / 4, rel=1e-12)
    assert own.x == pytest.approx(travel[0], rel=1e-12)
    assert min(abs(opposed.x), abs(own.x)) > 1e-4
    assert stabiliser_chart("front", SOURCE).marks == ()


def test_a_bar_that_is_not_fitted_is_a_baseline_without_force() -> None:
    bare = LawSource(replaced(CAR, ("diagonal", "bar_rate"), 0.0))
    curves = diagonal_chart(SOURCE, bare).curves
    assert [curve.role for curve in curves] == ["baseline"] * 2 + ["candidate"] * 2
    assert not curves[0].y.any()
    assert len(diagonal_chart(SOURCE, LawSource(replaced(CAR, ("body", "mass"), 1500.0))).curves) == 2


def test_a_tyre_presses_and_never_pulls() -> None:
    chart = tyre_force_chart("front", SOURCE, load=LOPSIDED)
    (curve,) = chart.curves
    assert curve.x[0] < 0.0 < curve.x[-1]
    assert 0.0 in curve.x  # the place of lift-off
    assert not curve.y[curve.x <= 0].any()
    assert curve.y[curve.x > 0] == pytest.approx(190e3 * curve.x[curve.x > 0], **EXACT)


def test_the_static_loads_of_left_and_right_are_marked() -> None:
    chart = tyre_force_chart("front", SOURCE, load=LOPSIDED)
    loads = statics(mechanics(CAR, LOPSIDED)).tyre_force[:2]
    assert [mark.label for mark in chart.marks] == ["one side, left", "one side, right"]
    (curve,) = chart.curves
    assert [np.interp(mark.x, curve.x, curve.y) for mark in chart.marks] == pytest.approx(
        list(loads), rel=1e-9
    )
    level = replaced(CAR, ("seat", "occupant", "mass"), 0.0)
    (mark,) = tyre_force_chart("front", LawSource(level)).marks
    body, wheel = level.body, 45.0
    share = (level.wheelbase - body.cg_to_front_axle) / level.wheelbase / 2
    assert mark.label == "as designed"
    assert mark.x == pytest.approx(g * (body.mass * share + wheel) / 190e3, rel=1e-9)


def test_tyres_of_a_car_that_does_not_stand_have_a_curve_without_a_load() -> None:
    floating = Vehicle(rear=Axle(spring=Spring(rate=0.0)))
    chart = tyre_force_chart("rear", LawSource(floating))
    assert chart.marks == ()
    assert chart.curves[0].y[-1] > 0


def test_tyre_damping_is_straight() -> None:
    (curve,) = tyre_damping_chart("front", SOURCE).curves
    assert curve.y == pytest.approx(80.0 * curve.x, **EXACT)


def test_the_cushion_carries_the_occupant_at_his_mark() -> None:
    chart = cushion_force_chart(SOURCE)
    (curve,), (mark,) = chart.curves, chart.marks
    assert mark.label == "occupant"
    assert np.interp(mark.x, curve.x, curve.y) == pytest.approx(70.0 * g, rel=1e-12)
    assert curve.y == pytest.approx(40e3 * curve.x, **EXACT)
    (damping,) = cushion_damping_chart(SOURCE).curves
    assert damping.y == pytest.approx(700.0 * damping.x, **EXACT)


def test_an_empty_seat_is_no_baseline() -> None:
    empty = LawSource(replaced(CAR, ("seat", "occupant", "mass"), 0.0))
    softer = LawSource(replaced(CAR, ("seat", "occupant", "cushion_rate"), 20e3))
    assert len(cushion_force_chart(SOURCE, empty).curves) == 1
    assert [curve.role for curve in cushion_force_chart(SOURCE, softer).curves] == ["baseline", "candidate"]
    assert not cushion_force_chart(empty).curves[0].y.any()
    assert cushion_force_chart(empty).marks == ()


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_line_resists_by_the_areas_of_both_wheels(side: str) -> None:
    front, rear = restriction_chart(side, SOURCE).curves  # type: ignore[arg-type]
    # Flow (A_f + A_r) v through the line, pressure R times that, at the wheels by their areas.
    pressure = 2e8 * (0.002 + 0.003) * front.x
    assert front.y == pytest.approx(0.002 * pressure, **EXACT)
    assert rear.y == pytest.approx(0.003 * pressure, **EXACT)


def test_a_curve_leaves_as_a_table_of_numbers() -> None:
    lines = table_text(tyre_force_chart("front", SOURCE), METRIC).splitlines()
    assert lines[:2] == [
        "# Front tyres",
        '"Tyre deflection (mm, pressed +)","Vertical tyre force, Candidate (N)"',
    ]
    assert lines[2] == "-20,0"
    assert "0,0" in lines
