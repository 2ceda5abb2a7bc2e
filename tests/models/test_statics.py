"""Equilibrium of load cases: against hand statics, and what is said of cars that do not stand."""

from __future__ import annotations

from math import atan2, cos, radians, sin, sqrt

import numpy as np
import pytest
from hypothesis import given
from scipy.constants import g

from models.assembly import Mechanics, linearised, mechanics
from models.errors import InputError
from models.fields import replaced
from models.statics import Statics, statics
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    Body,
    GasSpring,
    Load,
    LoadCase,
    Occupant,
    Seat,
    Side,
    Spring,
    SpringPoint,
    Stabiliser,
    Stop,
    TabulatedSpring,
    TorsionCoupling,
    Tyre,
    Vehicle,
)
from tests.cars import EVERYTHING, load_cases, real_vehicles

DRIVER = Load(name="driver", mass=75.0, x=-1.35, y=0.37, z=0.6)
BARE = Axle(spring=Spring(rate=0.0))
SIDES = ("left", "right")


def case(*loads: Load) -> LoadCase:
    return LoadCase(name="test", loads=loads)


def stand(vehicle: Vehicle, *loads: Load) -> Statics:
    return statics(mechanics(vehicle, case(*loads)))


def joined(front: float, rear: float, a: float = 1.45) -> Vehicle:
    """Car on nothing but two joined bars (and stabilisers against roll)."""
    side = Side(coupling=TorsionCoupling(bar_rate=1500.0, front_lever_ratio=front, rear_lever_ratio=rear))
    axle = Axle(spring=Spring(rate=0.0), stabiliser=Stabiliser(bar_rate=500.0))
    return Vehicle(body=Body(cg_to_front_axle=a), front=axle, rear=axle, left=side)


def lever_turn(ratio: float, angle: float, travel: float) -> tuple[float, float]:
    """Turn of a lever and its growth per travel, from the triangle of its length and its height."""
    length = 1 / (abs(ratio) * cos(angle))
    height = length * sin(angle) + travel
    end = length * sin(radians(80))
    inside = min(max(height, -end), end)
    growth = 1 / sqrt(length**2 - inside**2)
    turn = atan2(inside, sqrt(length**2 - inside**2)) - angle + growth * (height - inside)
    return (turn, growth) if ratio > 0 else (-turn, -growth)


def forces(car: Mechanics, q: np.ndarray) -> np.ndarray:
    """What pushes each degree of freedom, written apart from the solver."""
    deflections = car.deflections @ q
    total = car.weight.copy()
    for element, b in zip(car.elements, car.incidence, strict=True):
        row, deflection = b.copy(), b @ deflections
        for lever in element.levers:
            turn, row[lever.wheel] = lever_turn(lever.ratio, lever.angle, deflections[lever.wheel])
            deflection += turn - lever.ratio * deflections[lever.wheel]
        push = element.preload + (float(element.spring.force(deflection)) if element.spring else 0.0)
        total -= push * (row @ car.deflections)
    wheels = q[3:7]
    total[3:7] += np.maximum(car.tyre_load - car.tyre_stiffness * wheels, 0.0)
    return total


def axle_loads_by_hand(vehicle: Vehicle, loads: tuple[Load, ...]) -> tuple[float, float]:
    """Front and rear tyre load (N) from moments of all weights about the axles."""
    length, body, occupant = vehicle.wheelbase, vehicle.body, vehicle.seat.occupant.mass
    behind = [(body.mass, body.cg_to_front_axle), (occupant, body.cg_to_front_axle - vehicle.seat.x)]
    behind += [(load.mass, -load.x) for load in loads]
    unsprung = mechanics(vehicle).wheel_mass.sum(axis=1)
    rear = sum(mass * place for mass, place in behind) / length + unsprung[2:].sum()
    front = sum(mass * (length - place) for mass, place in behind) / length + unsprung[:2].sum()
    return front * g, rear * g


@given(vehicle=real_vehicles, load=load_cases)
def test_tyre_loads_are_those_of_hand_statics(vehicle: Vehicle, load: LoadCase) -> None:
    """Moments about the axles and about the centre line, whatever the springs do.

    The solver leaves 1e-11 of the weight at each degree of freedom, whose moments reach some metres.
    """
    try:
        car = mechanics(vehicle, load)
    except InputError:  # the loads take away more than the body has
        return
    found = statics(car)
    assert np.isfinite(found.q).all()
    assert bool(found.reason) != found.stable
    if not found.stable:
        return
    front, rear = axle_loads_by_hand(vehicle, load.loads)
    whole = front + rear
    assert found.tyre_force[:2].sum() == pytest.approx(front, abs=1e-9 * whole)
    assert found.tyre_force[2:].sum() == pytest.approx(rear, abs=1e-9 * whole)
    half = np.array([vehicle.front.track, -vehicle.front.track, vehicle.rear.track, -vehicle.rear.track]) / 2
    masses = [(vehicle.seat.occupant.mass, vehicle.seat.y), *((item.mass, item.y) for item in load.loads)]
    assert found.tyre_force @ half == pytest.approx(g * sum(m * y for m, y in masses), abs=1e-9 * whole)
    assert np.abs(forces(car, found.q)).max() <= 1e-10 * whole


def test_driver_to_the_left_leans_the_car_to_the_left() -> None:
    found = stand(Vehicle(), DRIVER)
    roll, _ = found.attitude
    assert roll < 0  # roll > 0 lifts the left side
    assert found.tyre_force[0] > found.tyre_force[1]
    assert found.trim[0] < found.trim[1] < 0


def test_sag_by_hand() -> None:
    """A load over the CG on equal corners of 26 kN/m with tyres of 200 kN/m in series: F / (4 k)."""
    load = Load(mass=100.0, x=-1.45, y=0.0, z=0.55)
    series = 26e3 * 200e3 / (26e3 + 200e3)
    found = stand(Vehicle(), load)
    assert found.trim == pytest.approx([-100 * g / 4 / series] * 4, rel=1e-9)
    assert found.travel == pytest.approx([100 * g / 4 / 26e3] * 4, rel=1e-9)


def test_tongue_load_lifts_the_nose() -> None:
    found = stand(Vehicle(), Load(mass=80.0, x=-4.1, y=0.0, z=0.45))
    _, pitch = found.attitude
    assert pitch < 0  # nose up
    assert found.trim[0] > 0 > found.trim[2]
    assert found.tyre_force[0] < mechanics(Vehicle()).tyre_load[0]


def test_without_load_nothing_moves() -> None:
    found = statics(mechanics(EVERYTHING, AS_DESIGNED))
    assert found.stable
    assert found.warnings == ()
    assert np.abs(found.q).max() < 1e-12


@given(vehicle=real_vehicles, load=load_cases)
def test_linear_car_about_the_equilibrium_is_the_slope_of_the_forces(
    vehicle: Vehicle, load: LoadCase
) -> None:
    """Central differences over 1 µm and 1 µrad, where no stop, table or tyre has a kink that near.

    Rounding of forces of 1e4 N over a difference of 2e-6 makes 1e-6 N/m of some 1e5; growing laws up to
    (third derivative) 1e-12 of their share.  2e-7 of the largest entry holds both.
    """
    try:
        car = mechanics(vehicle, load)
    except InputError:
        return
    found = statics(car)
    if not found.stable:
        return
    for element, x in zip(car.elements, found.deflection, strict=True):
        near = [element.stiffness(x + step) - element.stiffness(x - step) for step in (1e-5,)]
        if element.spring and abs(near[0]) > 1e-3 * (abs(element.stiffness(x)) + 1.0):
            return  # a kink, or gas close to its end
    model = linearised(car, found.q)
    step = 1e-6
    columns = [
        (forces(car, found.q - step * unit) - forces(car, found.q + step * unit)) / (2 * step)
        for unit in np.eye(len(car.dof))
    ]
    scale = np.abs(model.stiffness).max()
    np.testing.assert_allclose(np.array(columns).T, model.stiffness, rtol=0, atol=2e-7 * scale)


def test_joined_bars_alone_are_balanced_but_hold_no_pitch() -> None:
    """By hand: the bar does not twist when s_f β_f = -s_r β_r: equal levers leave mid-wheelbase free."""
    found = stand(joined(2.5, 2.5))
    assert not found.stable
    assert found.reason.startswith("nothing holds the body in pitch")
    assert found.soft_mode is not None
    assert np.abs(found.q).max() < 1e-9  # the levers are as the weights: it would stand level
    heave, roll, pitch = found.soft_mode
    assert (abs(roll), abs(heave)) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert abs(pitch) == 1.0


def test_the_free_point_is_named() -> None:
    """By hand: levers 3 and 2 leave the point free that divides the wheelbase 2 : 3 from the front.

    s_f : s_r = -2 : 3, so that it lies 2/5 of 2.9 m behind the front axle: 0.29 m ahead of the CG.
    """
    found = stand(joined(3.0, 2.0))
    assert not found.stable
    assert "pitch (it turns freely about a point 0.29 m ahead of the CG)" in found.reason


def test_bars_with_wrong_levers_and_a_load_give_a_reason_and_no_exception() -> None:
    for vehicle in (joined(3.0, 2.0), joined(2.0, 3.0, a=1.2)):
        found = stand(vehicle, DRIVER)
        assert not found.stable
        assert "nothing holds the body" in found.reason
        assert np.isfinite(found.q).all()


@pytest.mark.parametrize(
    ("vehicle", "words"),
    [
        (Vehicle(front=BARE, rear=BARE), "heave and roll and pitch"),
        (joined(2.5, 2.5).model_copy(update={"front": BARE, "rear": BARE}), "pitch"),
    ],
)
def test_each_free_motion_is_named(vehicle: Vehicle, words: str) -> None:
    assert stand(vehicle).reason == f"nothing holds the body in {words}"


def test_a_load_beside_the_wheels_tips_the_car() -> None:
    assert stand(Vehicle(), Load(mass=3000.0, x=-5.0)).reason == "the car tips over its rear wheels"
    assert stand(Vehicle(), Load(mass=3000.0, x=3.0)).reason == "the car tips over its front wheels"
    assert stand(Vehicle(), Load(mass=3000.0, y=2.0)).reason == "the car tips over its left wheels"
    assert stand(Vehicle(), Load(mass=3000.0, y=-2.0)).reason == "the car tips over its right wheels"


def test_a_load_that_lifts_a_wheel_says_which() -> None:
    """One rear wheel unloads on a stiff front stabiliser."""
    stiff = Axle(stabiliser=Stabiliser(bar_rate=1e6, lever_ratio=5.0), tyre=Tyre(rate=1e7))
    soft = Axle(spring=Spring(rate=2e4), tyre=Tyre(rate=1e7))
    stiff_body = Vehicle(front=soft, rear=stiff, body=Body(mass=1000.0, cg_to_front_axle=0.4))
    found = stand(stiff_body, Load(mass=400.0, x=-0.4, y=0.6, z=0.5))
    assert found.reason == "the load lifts RR off the ground"
    assert found.tyre_force[3] == 0.0
    front, _ = axle_loads_by_hand(stiff_body, (Load(mass=400.0, x=-0.4),))
    assert found.tyre_force[:2].sum() == pytest.approx(front, rel=1e-9)


STOPPED = Axle(bump_stop=Stop(gap=0.02, rate=50e3), rebound_stop=Stop(gap=0.03, rate=50e3))


def test_stops_that_carry_at_rest_are_named_with_their_force() -> None:
    """By hand: past a gap of 20 mm spring and stop share the corner's load: 26 (20 + p) + 50 p."""
    vehicle = Vehicle(front=STOPPED, rear=STOPPED)
    mass = 4 * (26e3 * 0.02 + 76e3 * 0.01) / g  # 10 mm past the gap
    found = stand(vehicle, Load(mass=mass, x=-1.45, y=0.0))
    assert found.stable
    assert found.jounce_left == pytest.approx([-0.01] * 4, abs=1e-9)
    assert found.rebound_left == pytest.approx([0.06] * 4, abs=1e-9)
    assert found.warnings[0] == "front left bump stop carries 500 N at rest"
    assert len(found.warnings) == 4


ON_STOPS = Axle(spring=Spring(rate=0.0), bump_stop=Stop(gap=0.06, rate=40e3, growth=2e6))


def test_a_car_on_nothing_but_its_stops_stands_on_them() -> None:
    """By hand: a quarter of 1700 kg on 40 kN/m p + 2 MN/m² p² past the gap."""
    found = stand(Vehicle(front=ON_STOPS, rear=ON_STOPS))
    past = (sqrt(40e3**2 + 4 * 2e6 * 1700 * g / 4) - 40e3) / (2 * 2e6)
    assert found.stable
    assert found.soft_mode is None
    # The solver leaves 1e-11 of the weight on some 190 kN/m.
    assert found.travel == pytest.approx([0.06 + past] * 4, abs=1e-10)
    assert found.warnings == (
        "the car rests on its stops: at design trim nothing holds the body in heave and roll and pitch",
        *(f"{end} {side} bump stop carries 4.2 kN at rest" for end in ("front", "rear") for side in SIDES),
    )


def test_stops_at_one_end_do_not_hold_the_body() -> None:
    found = stand(Vehicle(front=ON_STOPS, rear=BARE))
    assert found.reason == "nothing holds the body in heave and roll and pitch"
    assert found.soft_mode is not None
    assert not found.warnings


def test_joined_bars_with_wrong_levers_come_to_rest_on_the_stops_of_one_end() -> None:
    vehicle = joined(3.0, 2.0)
    for axle in ("front", "rear"):
        vehicle = replaced(vehicle, (axle, "bump_stop"), ON_STOPS.bump_stop)
    found = stand(vehicle, DRIVER)
    assert found.stable
    assert (found.jounce_left[:2] > 0).all()
    assert (found.jounce_left[2:] < 0).all()
    front, rear = axle_loads_by_hand(vehicle, (DRIVER,))
    assert found.tyre_force[:2].sum() == pytest.approx(front, rel=1e-9)
    assert found.tyre_force[2:].sum() == pytest.approx(rear, rel=1e-9)


def test_travel_without_stops_has_no_end() -> None:
    found = stand(Vehicle(), DRIVER)
    assert np.isinf(found.jounce_left).all()
    assert np.isinf(found.rebound_left).all()


def test_travel_left_counts_from_where_the_car_stands() -> None:
    found = stand(Vehicle(front=STOPPED), DRIVER)
    assert found.jounce_left[:2] == pytest.approx(0.02 - found.travel[:2])
    assert found.rebound_left[:2] == pytest.approx(0.03 + found.travel[:2])
    assert np.isinf(found.jounce_left[2:]).all()


def test_load_beyond_the_gas_volume_is_said() -> None:
    gas = Axle(spring=GasSpring(area=0.008, volume=2e-4))
    found = stand(Vehicle(front=gas, rear=gas), Load(mass=9000.0, x=-1.45, y=0.0))
    assert found.stable or found.reason
    heavy = stand(
        Vehicle(front=gas, rear=gas, body=Body(mass=400.0)),
        *(Load(mass=10e3, x=-1.45, y=0.0) for _ in range(10)),
    )
    assert any(warning.startswith("load beyond travel: front left spring") for warning in heavy.warnings)


def test_a_spring_beyond_its_measured_curve_is_said() -> None:
    points = (SpringPoint(deflection=-0.05, force=-1300.0), SpringPoint(deflection=0.01, force=300.0))
    measured = Axle(spring=TabulatedSpring(points=points))
    found = stand(Vehicle(front=measured), Load(mass=400.0, x=-1.0, y=0.0))
    assert "front left spring is beyond its measured curve at rest" in found.warnings


def test_a_missing_mass_raises_the_car() -> None:
    found = stand(Vehicle(), Load(name="no engine", mass=-200.0, x=0.0, y=0.0))
    assert found.trim[0] > 0
    assert found.stable


def test_a_load_that_leaves_no_car_is_refused_with_value_range_and_unit() -> None:
    with pytest.raises(InputError, match=r"Mass: -300 kg .*more than 0 kg") as refused:
        mechanics(Vehicle(), case(Load(mass=-2000.0)))
    assert refused.value.problems[0].field == "load case test"
    with pytest.raises(InputError, match=r"Inertia: .* kg·m² .*more than 0 kg·m²"):
        mechanics(Vehicle(), case(Load(mass=-1600.0, x=2.0, z=4.0)))


def test_inertia_of_load_and_body_by_parallel_axes() -> None:
    """By hand: two masses at a distance d about their CG have m1 m2 / (m1 + m2) d²."""
    vehicle = Vehicle()
    load = Load(mass=150.0, x=-2.45, y=0.0, z=0.55)
    car, plain = mechanics(vehicle, case(load)), mechanics(vehicle)
    reduced = 150.0 * 1700.0 / 1850.0
    assert car.body_mass[2, 2] - plain.body_mass[2, 2] == pytest.approx(reduced * 1.0**2, rel=1e-9)
    assert car.corners[0, 0] == pytest.approx(1.45 + 150 / 1850, rel=1e-12)


def test_occupant_stays_on_his_cushion() -> None:
    """By hand: he sinks with the floor and the cushion keeps its force."""
    seat = Seat(x=0.0, y=0.0, occupant=Occupant(mass=60.0))
    vehicle = replaced(Vehicle(), ("seat",), seat)
    found = stand(vehicle, Load(mass=100.0, x=-1.45, y=0.0, z=0.55))
    assert found.q[7] == pytest.approx(found.q[0], rel=1e-9)
