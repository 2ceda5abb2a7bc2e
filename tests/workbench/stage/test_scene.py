"""Geometry of the stage against the kinematics of the model."""

from __future__ import annotations

import math

import numpy as np
import pytest

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.roads import HalfSine, OneMinusCosine, RandomRoad
from models.run import Run
from models.vehicle import FluidCoupling, Load, LoadCase, Side, Vehicle
from tests.cars import EVERYTHING
from workbench.stage.running_gear import Bar, Fluid, Wheel
from workbench.stage.scene import Flank, Frame, sides_differ, stage_frame

TIMES = (0.0, 0.231, 0.2873, 0.41, 0.6, 1.0)
FACTORS = (1.0, 5.0, 20.0)
# The scene only adds and scales numbers of the size of a metre: what is left is rounding.
ROUNDING = 1e-12


@pytest.fixture(scope="module")
def uneven() -> Analysis:
    """Every part fitted, unequal sides, a bump under the left wheels only."""
    return analyse(EVERYTHING, Run(event=OneMinusCosine(side="left"), duration=1.0))


def at(analysis: Analysis, key: str, time: float) -> float:
    return float(np.interp(time, analysis.time.t, analysis.time.channel(key)))


def wheels(frame: Frame) -> dict[str, tuple[Flank, Wheel]]:
    near, far = frame.near, frame.far
    return {
        "FL": (far, far.front),
        "FR": (near, near.front),
        "RL": (far, far.rear),
        "RR": (near, near.rear),
    }


@pytest.mark.parametrize("factor", FACTORS)
@pytest.mark.parametrize("time", TIMES)
def test_body_over_each_wheel_follows_heave_roll_and_pitch(
    uneven: Analysis, time: float, factor: float
) -> None:
    frame = stage_frame(uneven, time, factor)
    z, roll, pitch = (at(uneven, key, time) for key in ("heave", "roll", "pitch"))
    for (corner, (flank, wheel)), (x, y) in zip(wheels(frame).items(), uneven.model.corners, strict=True):
        rise = flank.pose.place(wheel.centre.x, 0.5).z - 0.5
        assert rise == pytest.approx(factor * (z + y * roll - x * pitch), abs=ROUNDING * factor), corner


def test_body_keeps_its_shape(uneven: Analysis) -> None:
    pose = stage_frame(uneven, 0.3, 20.0).near.pose
    points = [(0.7, 0.2), (-1.1, 1.4), (-3.6, 0.6)]
    placed = [pose.place(*point) for point in points]
    # A small rotation, drawn large, is a rotation with a stretch of sqrt(1 + slope²): angles are kept.
    stretch = math.hypot(1.0, pose.slope)
    assert pose.slope != 0.0
    for first, second in ((0, 1), (1, 2), (2, 0)):
        before, after = math.dist(points[first], points[second]), math.dist(placed[first], placed[second])
        assert after == pytest.approx(stretch * before, rel=ROUNDING)


@pytest.mark.parametrize("factor", FACTORS)
@pytest.mark.parametrize("time", TIMES)
def test_wheels_stand_where_the_model_puts_them(uneven: Analysis, time: float, factor: float) -> None:
    for corner, (_, wheel) in wheels(stage_frame(uneven, time, factor)).items():
        assert wheel.centre.x == (0.0 if corner[0] == "F" else -EVERYTHING.wheelbase)
        height = at(uneven, f"wheel_{corner}", time)
        assert wheel.centre.z == pytest.approx(wheel.radius + factor * height, abs=ROUNDING * factor)
        assert wheel.travel == pytest.approx(at(uneven, f"travel_{corner}", time), abs=ROUNDING)


@pytest.mark.parametrize("factor", [1.0, 5.0])
@pytest.mark.parametrize("time", TIMES)
def test_a_loaded_tyre_ends_on_the_road(joined: Analysis, time: float, factor: float) -> None:
    for _, wheel in wheels(stage_frame(joined, time, factor)).values():
        assert wheel.contact == ""
        assert wheel.centre.z - wheel.depth == pytest.approx(wheel.road, abs=ROUNDING * factor)


def test_a_tyre_leaves_the_road_when_its_load_is_used_up() -> None:
    run = Run(event=HalfSine(height=0.12, length=1.0), speed=20.0, duration=1.0, laws="nonlinear")
    analysis = analyse(Vehicle(), run)
    stretch = analysis.time.channel("wheel_FR") - analysis.time.channel("road_FR")
    highest = int(np.argmax(stretch))
    # Half of what an axle carries, over the rate of its tyre.
    car = analysis.vehicle
    share = (car.wheelbase - car.body.cg_to_front_axle) / car.wheelbase
    spare = 9.80665 * (car.body.mass * share / 2 + 45.0) / car.front.tyre.rate
    assert stretch[highest] > spare
    flying = stage_frame(analysis, float(analysis.time.t[highest]), 2.0).near.front
    assert flying.contact == "off the road"
    gap = flying.centre.z - flying.depth - flying.road
    assert gap == pytest.approx(2.0 * (stretch[highest] - spare), abs=1e-9)


def test_a_stop_is_touched_when_the_travel_has_used_its_gap() -> None:
    soft = replaced(
        replaced(Vehicle(), ("front", "spring", "rate"), 12e3), ("front", "bump_stop", "gap"), 0.03
    )
    car = replaced(soft, ("front", "bump_stop", "rate"), 60e3)
    analysis = analyse(car, Run(event=HalfSine(height=0.08, length=2.0), duration=1.0))
    travel = analysis.time.channel("travel_FR")
    deepest = float(analysis.time.t[np.argmax(travel)])
    assert travel.max() > 0.03
    frame = stage_frame(analysis, deepest)
    assert frame.near.front.contact == "bump stop"
    assert frame.near.front.travel > 0.03
    assert stage_frame(analysis, 0.0).near.front.contact == ""


@pytest.mark.parametrize("factor", [1.0, 5.0])
def test_a_load_case_stands_as_its_statics_say(factor: float) -> None:
    case = LoadCase(name="boot", loads=(Load(mass=160.0, x=-3.4, y=-0.3),))
    analysis = analyse(Vehicle(), Run(duration=0.5), case)
    stand, frame = analysis.stand, stage_frame(analysis, 0.0, factor)
    roll, pitch = stand.attitude
    assert pitch < -1e-3
    assert roll > 1e-4  # a load on the right lowers the right side
    for row, (corner, (flank, wheel)) in enumerate(wheels(frame).items()):
        # The tyre is pressed in by what the statics put on it beyond the design load.
        axle = analysis.vehicle.front if corner[0] == "F" else analysis.vehicle.rear
        more = stand.tyre_force[row] - analysis.car.tyre_load[row]
        assert wheel.centre.z == pytest.approx(wheel.radius - factor * more / axle.tyre.rate, abs=1e-9)
        assert wheel.travel == pytest.approx(stand.travel[row])
        rise = flank.pose.place(wheel.centre.x, 0.5).z - 0.5
        assert rise == pytest.approx(factor * stand.trim[row], abs=1e-9)
    assert frame.pitch == 0.0
    assert (frame.rest.roll, frame.rest.pitch) == stand.attitude
    # The mark of the CG is that of car and load: behind and below nothing else moved it.
    mass = analysis.vehicle.body.mass
    assert frame.cg.x == pytest.approx((-1.45 * mass - 3.4 * 160.0) / (mass + 160.0))


def test_fluid_cylinders_fill_the_accumulator() -> None:
    fluid = FluidCoupling(front_area=0.002, rear_area=0.003, volume=0.002)
    analysis = analyse(Vehicle(left=Side(coupling=fluid)), Run(event=OneMinusCosine(), duration=1.0))
    frame = stage_frame(analysis, 0.3, 5.0)
    assert isinstance(frame.link, Fluid)
    front, rear = frame.near.front, frame.near.rear
    displaced = 0.002 * front.travel + 0.003 * rear.travel
    assert abs(displaced) > 1e-5
    assert frame.link.displaced == pytest.approx(displaced)
    assert frame.link.gas == pytest.approx(1.0 - displaced / 0.002)
    assert (frame.link.front, frame.link.rear) == (front.cylinder.mount, rear.cylinder.mount)


def test_struts_join_wheel_and_body(uneven: Analysis) -> None:
    frame = stage_frame(uneven, 0.4, 5.0)
    for wheel in (frame.near.front, frame.near.rear):
        assert wheel.spring is not None
        assert wheel.damper is not None
        assert wheel.spring.foot == wheel.centre
        # The damper stands on the arm, between pivot and wheel centre.
        share = (wheel.damper.foot.x - wheel.centre.x) / (wheel.pivot.x - wheel.centre.x)
        assert 0.0 < share < 1.0
        along = wheel.centre.z + share * (wheel.pivot.z - wheel.centre.z)
        assert wheel.damper.foot.z == pytest.approx(along)
        assert wheel.stabiliser is not None
    assert (frame.near.front.solid, frame.near.rear.solid) == (False, True)


def test_levers_turn_with_the_travel_and_reach_the_wheels(joined: Analysis) -> None:
    coupling, time, factor = joined.vehicle.left.coupling, 0.3, 5.0
    frame = stage_frame(joined, time, factor)
    bar, slope = frame.link, frame.near.pose.slope
    assert isinstance(bar, Bar)
    for lever, wheel, ratio in (
        (bar.front, frame.near.front, coupling.front_lever_ratio),
        (bar.rear, frame.near.rear, coupling.rear_lever_ratio),
    ):
        assert lever.angle == pytest.approx(math.asin(ratio * wheel.travel), rel=ROUNDING)
        assert lever.tip == wheel.centre
        # In the body's own frame the tip rises by the (exaggerated) travel.
        reach = (lever.root.x - lever.tip.x) + slope * (wheel.radius - frame.near.pose.axis)
        assert abs(reach) == pytest.approx(1 / ratio, rel=1e-9)
        rise = lever.tip.z - (lever.root.z - slope * reach)
        assert rise == pytest.approx(factor * wheel.travel, abs=1e-9)
    assert bar.twist == pytest.approx(bar.front.angle + bar.rear.angle, abs=ROUNDING)
    assert bar.twist == pytest.approx(at(joined, "twist_right", time), abs=ROUNDING)


def test_a_pitch_stiffening_bar_twists_by_the_difference(uneven: Analysis) -> None:
    # Half of the bump reaches the right wheels through stabilisers and axle, enough to twist its bar.
    bar = stage_frame(uneven, 0.4).link
    assert isinstance(bar, Bar)
    assert bar.sense == "pitch stiffening"
    assert abs(bar.twist) > 1e-4
    assert bar.twist == pytest.approx(bar.front.angle - bar.rear.angle, abs=ROUNDING)
    # Levers that point the same way.
    assert (bar.front.root.x < 0.0) == (bar.rear.root.x < -EVERYTHING.wheelbase)


def test_only_fitted_parts_are_drawn(joined: Analysis, separate: Analysis) -> None:
    soft, plain = stage_frame(joined, 0.0), stage_frame(separate, 0.0)
    assert plain.link is None
    assert plain.near.front.spring is not None
    assert soft.near.front.spring is None
    assert plain.near.front.cylinder is None
    assert (soft.near.front.trim, soft.near.rear.trim) == (False, True)
    assert (plain.near.front.trim, plain.near.rear.trim) == (False, False)


def test_values_between_samples_lie_on_the_line_between_them(joined: Analysis) -> None:
    t = joined.time.t
    first, between, second = (
        stage_frame(joined, float(time)) for time in (t[350], (t[350] + t[351]) / 2, t[351])
    )
    assert between.heave == pytest.approx((first.heave + second.heave) / 2, abs=ROUNDING)
    assert between.near.rear.centre.z == pytest.approx(
        (first.near.rear.centre.z + second.near.rear.centre.z) / 2, abs=ROUNDING
    )


def test_a_wheel_rolls_without_slip(joined: Analysis) -> None:
    frame = stage_frame(joined, 0.5)
    assert frame.distance == pytest.approx(joined.run.speed * 0.5)
    assert frame.near.front.turn * frame.near.front.radius == pytest.approx(frame.distance)


def test_marks_move_with_the_body(uneven: Analysis) -> None:
    time, factor, seat = 0.4, 5.0, EVERYTHING.seat
    frame = stage_frame(uneven, time, factor)
    z, roll, pitch = (at(uneven, key, time) for key in ("heave", "roll", "pitch"))
    assert frame.cg.z == pytest.approx(EVERYTHING.body.cg_height + factor * z, abs=1e-9)
    rise = factor * (z + seat.y * roll - seat.x * pitch)
    assert frame.hip.z == pytest.approx(seat.height + rise, abs=1e-9)


def test_the_far_side_is_told_apart(joined: Analysis, uneven: Analysis) -> None:
    assert not sides_differ(joined)
    assert sides_differ(uneven)
    half = Run(event=RandomRoad(), duration=1.0, model="half car")
    assert not sides_differ(analyse(Vehicle(), half))
