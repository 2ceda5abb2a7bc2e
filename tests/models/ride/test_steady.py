from __future__ import annotations

from math import inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import g

from models.assembly import linearised, mechanics
from models.errors import InputError
from models.fields import replaced
from models.ride.lean import roll_gravity
from models.ride.manoeuvres import manoeuvre_forces
from models.ride.steady import ManoeuvreStatics, gradients, quasi_static
from models.statics import statics
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    AxleGeometry,
    Body,
    IndependentWheels,
    Load,
    LoadCase,
    Occupant,
    Seat,
    Side,
    Spring,
    Stabiliser,
    Stop,
    TorsionCoupling,
    Tyre,
    Vehicle,
)
from tests.cars import EVERYTHING, load_cases, long_levers, manoeuvred, real_vehicles

LUGGAGE = LoadCase(name="luggage", loads=(Load(mass=150.0, x=-3.0, y=-0.3, z=0.8),))
#: Stiffest tyre allowed: 2e-5 of a soft spring.
RIGID = Tyre(rate=1e9, damping=0.0, radius=0.3)


def geared(vehicle: Vehicle, front: AxleGeometry, rear: AxleGeometry) -> Vehicle:
    return replaced(replaced(vehicle, ("front", "geometry"), front), ("rear", "geometry"), rear)


def full_support(share: float) -> Vehicle:
    one = AxleGeometry(brake_support=share, drive_support=share)
    car = geared(EVERYTHING, one, one)
    return replaced(car, ("forces", "front_drive_share"), 0.4)


def springs(found: ManoeuvreStatics, vehicle: Vehicle) -> np.ndarray:
    """(elements,) change of the element forces from rest."""
    return found.stand.force - statics(mechanics(vehicle)).force


# Along the car


@pytest.mark.parametrize("support", [-0.5, 0.0, 0.3, 1.0, 1.5])
@pytest.mark.parametrize("a_x", [-6.0, 3.0])
def test_load_transfer_does_not_depend_on_the_support(support: float, a_x: float) -> None:
    """m a h / L with h the height of the CG of the whole car."""
    found = quasi_static(full_support(support), AS_DESIGNED, a_x, 0.0)
    unsprung = 2 * 41.0 + 118.0
    moved = (1480.0 * 0.55 + unsprung * 0.31) * a_x / 2.75
    # The equilibrium is found to 1e-11 of the weight.
    np.testing.assert_allclose(found.load_change[:2].sum(), -moved, rtol=1e-9)
    np.testing.assert_allclose(found.load_change[2:].sum(), moved, rtol=1e-9)


@pytest.mark.parametrize("a_x", [-6.0, 3.0])
def test_with_full_support_the_springs_see_nothing(a_x: float) -> None:
    vehicle = full_support(1.0)
    found = quasi_static(vehicle, AS_DESIGNED, a_x, 0.0)
    # 1e-12 m against some 50 mm without support.
    np.testing.assert_allclose(found.travel, 0.0, atol=1e-12)
    np.testing.assert_allclose(springs(found, vehicle), 0.0, atol=1e-7)
    # What is left is the give of the tyres: load change over tyre rate at each axle.
    sunk = found.load_change[[0, 2]] / [214e3, 197e3]
    assert found.pitch == pytest.approx((sunk[0] - sunk[1]) / 2.75)


def test_with_full_support_and_stiff_tyres_the_body_does_not_pitch() -> None:
    car = full_support(1.0)
    for axle in ("front", "rear"):
        car = replaced(car, (axle, "tyre"), RIGID)
    supported = quasi_static(car, AS_DESIGNED, -6.0, 0.0).pitch
    free = quasi_static(
        geared(car, AxleGeometry(brake_support=0.0), AxleGeometry(brake_support=0.0)), AS_DESIGNED, -6.0, 0.0
    )
    # Tyres of 1e9 N/m in place of springs of 15 to 20 kN/m at the wheel.
    assert 0 < supported < 3e-5 * free.pitch


def test_half_the_support_is_half_the_spring_force() -> None:
    """On springs in proportion to travel, which bars on levers are not."""
    vehicle, halfway = (
        full_support(share).model_copy(update={"left": Side(), "right": None}) for share in (0.0, 0.5)
    )
    none, half = (quasi_static(car, AS_DESIGNED, -5.0, 0.0) for car in (vehicle, halfway))
    np.testing.assert_allclose(springs(half, vehicle), springs(none, vehicle) / 2, atol=1e-6)
    np.testing.assert_array_equal(half.support, [0.5, 0.5])


def test_dive_of_equal_axles() -> None:
    """CG in the middle, no support: θ = m a h / (2 k_ride L²) per wheel of four, tyres in series."""
    free = AxleGeometry(brake_support=0.0, drive_support=0.0)
    vehicle = geared(Vehicle(), free, free)
    moment = 1700 * 0.55 + 4 * 45 * 0.31
    ride_rate = 26e3 * 200e3 / 226e3
    assert vehicle.front.spring.rate == vehicle.rear.spring.rate == 26e3
    found = quasi_static(vehicle, AS_DESIGNED, -4.0, 0.0)
    # Unsprung inertia loads the springs as well: its moment comes through the body.
    assert found.pitch == pytest.approx(moment * 4.0 / (4 * ride_rate * 1.45**2), rel=1e-9)
    assert found.roll == pytest.approx(0.0, abs=1e-12)


def test_squat_of_a_driven_rear_axle() -> None:
    found = quasi_static(EVERYTHING, AS_DESIGNED, 3.0, 0.0)
    assert found.pitch < 0
    np.testing.assert_array_equal(found.support, [0.0, 0.25])


# Across the car


def test_roll_and_load_transfer_by_the_closed_form() -> None:
    """φ = m d a / (k - m g d) and ΔF_i = [m_i h_rc,i a + k_i φ + m_u,i r a] / t_i, rigid tyres."""
    front = Axle(
        track=1.5,
        wheels=IndependentWheels(unsprung_mass=40.0),
        spring=Spring(rate=24e3),
        stabiliser=Stabiliser(bar_rate=500.0, lever_ratio=3.0),
        tyre=RIGID,
        geometry=AxleGeometry(roll_centre_height=0.05),
    )
    rear = Axle(
        track=1.4,
        wheels=IndependentWheels(unsprung_mass=50.0),
        spring=Spring(rate=20e3),
        tyre=RIGID,
        geometry=AxleGeometry(roll_centre_height=0.25),
    )
    body = Body(mass=1400.0, cg_to_front_axle=1.1, cg_height=0.6)
    vehicle = Vehicle(wheelbase=2.6, body=body, front=front, rear=rear)
    rates = np.array([24e3 * 1.5**2 / 2 + 500.0 * (3.0 * 1.5) ** 2, 20e3 * 1.4**2 / 2])
    mass = 1400.0 * np.array([1.5, 1.1]) / 2.6
    centres, tracks = np.array([0.05, 0.25]), np.array([1.5, 1.4])
    arm = float(mass @ (0.6 - centres))
    roll = arm * 4.0 / (rates.sum() - g * arm)
    transfer = (mass * centres * 4.0 + rates * roll + np.array([80.0, 100.0]) * 0.3 * 4.0) / tracks

    found = quasi_static(vehicle, AS_DESIGNED, 0.0, 4.0)
    # Rigid to 2e-5, felt by the body in roll through both axles.
    assert found.roll == pytest.approx(roll, rel=1e-4)
    np.testing.assert_allclose(found.lateral_transfer, transfer, rtol=1e-4)
    given_car = mechanics(vehicle)
    given = gradients(vehicle, given_car, linearised(given_car))
    assert given.roll == pytest.approx(roll / 4.0, rel=1e-4)
    assert given.front_transfer == pytest.approx(transfer[0] / transfer.sum(), rel=1e-4)


@pytest.mark.parametrize("load", [AS_DESIGNED, LUGGAGE])
def test_lateral_moments_with_the_weight_that_moves_over(load: LoadCase) -> None:
    """Σ -y ΔF = Σ m h a + m g d φ about the ground, tyres, unequal tracks and all."""
    vehicle = replaced(EVERYTHING, ("seat", "occupant"), Occupant(mass=70.0))
    car = mechanics(vehicle, load)
    found = quasi_static(vehicle, load, 0.0, 5.0)
    load_height = car.body_mass[0, 0] * car.cg_height
    moment = load_height + 70.0 * vehicle.seat.height + (2 * 41.0 + 118.0) * 0.31
    weight = roll_gravity(vehicle, car) * found.roll
    assert -car.corners[:, 1] @ found.load_change == pytest.approx(moment * 5.0 + weight, rel=1e-9)
    assert found.load_change.sum() == pytest.approx(0.0, abs=1e-6)


def test_a_roll_axis_through_the_cg_leaves_no_roll() -> None:
    vehicle = geared(Vehicle(), *[AxleGeometry(roll_centre_height=0.55)] * 2)
    found = quasi_static(vehicle, AS_DESIGNED, 0.0, 5.0)
    np.testing.assert_allclose(found.travel, 0.0, atol=1e-12)
    above = geared(Vehicle(), *[AxleGeometry(roll_centre_height=0.8)] * 2)
    np.testing.assert_array_less(quasi_static(above, AS_DESIGNED, 0.0, 5.0).travel[[1, 3]], 0.0)


@pytest.mark.invariant
@pytest.mark.parametrize(("a_x", "a_y"), [(0.0, 4.0), (-5.0, 4.0), (2.0, 7.0)])
def test_right_turn_mirrors_left_turn(a_x: float, a_y: float) -> None:
    left, right = (quasi_static(Vehicle(), AS_DESIGNED, a_x, sign * a_y) for sign in (1.0, -1.0))
    assert left.roll == pytest.approx(-right.roll)
    assert left.pitch == pytest.approx(right.pitch)
    np.testing.assert_allclose(left.load_change, right.load_change[[1, 0, 3, 2]], rtol=1e-9, atol=1e-6)


def test_braking_in_a_turn_is_the_sum_in_a_linear_car() -> None:
    brake, turn, both = (
        quasi_static(long_levers(EVERYTHING), LUGGAGE, *a) for a in ((-3.0, 0.0), (0.0, 3.0), (-3.0, 3.0))
    )
    # Roll by braking, of the uneven sides, moves weight over as well; it is some 1e-4 of the load change.
    np.testing.assert_allclose(both.load_change, brake.load_change + turn.load_change, atol=2.0)
    level = [quasi_static(Vehicle(), AS_DESIGNED, *a) for a in ((-3.0, 0.0), (0.0, 3.0), (-3.0, 3.0))]
    np.testing.assert_allclose(
        level[2].load_change, level[0].load_change + level[1].load_change, rtol=1e-9, atol=1e-6
    )


# Gradients, stops and lift


@pytest.mark.parametrize("load", [AS_DESIGNED, LUGGAGE])
def test_gradients_are_the_slopes_of_the_equilibrium(load: LoadCase) -> None:
    stops = Stop(gap=0.05, rate=40e3, growth=1e6)
    vehicle = replaced(long_levers(EVERYTHING), ("front", "bump_stop"), stops)
    vehicle = replaced(vehicle, ("rear", "bump_stop"), stops)
    car = mechanics(vehicle, load)
    given = gradients(vehicle, car, linearised(car, statics(car).q))
    small = 1e-3
    turn, brake, drive = (
        quasi_static(vehicle, load, *a) for a in ((0.0, small), (-small, 0.0), (small, 0.0))
    )
    # The car is linear near its trim; the equilibrium is found to some 1e-12 rad.
    assert turn.roll / small == pytest.approx(given.roll, rel=1e-7)
    assert brake.pitch / small == pytest.approx(given.dive, rel=1e-7)
    assert -drive.pitch / small == pytest.approx(given.squat, rel=1e-7)
    share = turn.lateral_transfer[0] / turn.lateral_transfer.sum()
    assert share == pytest.approx(given.front_transfer, rel=1e-6)


def test_stops_shorten_the_dive() -> None:
    stops = Stop(gap=0.01, rate=40e3)
    stopped = replaced(Vehicle(), ("front", "bump_stop"), stops)
    free, held = (quasi_static(car, AS_DESIGNED, -6.0, 0.0) for car in (Vehicle(), stopped))
    assert held.pitch < free.pitch
    np.testing.assert_allclose(held.load_change, free.load_change, rtol=1e-9)


def test_a_wheel_lifts_and_the_car_still_stands() -> None:
    """All roll stiffness in front: the inner front wheel lifts first."""
    stiff = replaced(Vehicle(), ("front", "stabiliser"), Stabiliser(bar_rate=20e3, lever_ratio=4.0))
    found = quasi_static(stiff, AS_DESIGNED, 0.0, 8.5)
    assert found.held
    assert found.lifted == ("FL",)
    assert found.stand.tyre_force[0] == 0.0
    car = mechanics(stiff)
    moment = 1700 * 0.55 + 4 * 45 * 0.31
    weight = roll_gravity(stiff, car) * found.roll
    assert -car.corners[:, 1] @ found.load_change == pytest.approx(moment * 8.5 + weight, rel=1e-9)


@pytest.mark.parametrize(
    ("a_x", "a_y", "side"),
    [(0.0, 15.0, "right"), (0.0, -15.0, "left"), (-40.0, 0.0, "front"), (40.0, 0.0, "rear")],
)
def test_a_car_that_tips_over_is_said_to(a_x: float, a_y: float, side: str) -> None:
    found = quasi_static(Vehicle(), AS_DESIGNED, a_x, a_y)
    assert not found.held
    assert found.reason == f"the car tips over its {side} wheels"


def test_a_body_that_gravity_turns_over_is_said_to() -> None:
    soft = Axle(spring=Spring(rate=3e3))  # 6750 N·m/rad against m g d of 7800
    vehicle = Vehicle(front=soft, rear=soft)
    assert statics(mechanics(vehicle)).stable
    found = quasi_static(vehicle, AS_DESIGNED, 0.0, 1.0)
    assert not found.held
    assert found.reason == "nothing holds the body in roll"
    car = mechanics(vehicle)
    given = gradients(vehicle, car, linearised(car))
    assert given.roll == given.front_transfer == inf
    assert 0 < given.dive < inf


def test_a_car_free_in_pitch_has_no_dive_gradient() -> None:
    side = Side(coupling=TorsionCoupling(bar_rate=1500.0, front_lever_ratio=3.0, rear_lever_ratio=3.0))
    axle = Axle(spring=Spring(rate=0.0), stabiliser=Stabiliser(bar_rate=800.0))
    vehicle = Vehicle(front=axle, rear=axle, left=side)
    car = mechanics(vehicle)
    assert gradients(vehicle, car, linearised(car)).dive == inf
    assert not quasi_static(vehicle, AS_DESIGNED, -3.0, 0.0).held


def test_without_accelerations_the_car_stands_as_it_does() -> None:
    found = quasi_static(EVERYTHING, LUGGAGE, 0.0, 0.0)
    assert found.held
    assert found.roll == found.pitch == 0.0
    np.testing.assert_array_equal(found.load_change, np.zeros(4))


def test_seat_height_counts_with_an_occupant() -> None:
    low, high = (
        replaced(Vehicle(), ("seat",), Seat(height=height, occupant=Occupant(mass=100.0)))
        for height in (0.4, 0.8)
    )
    moved = [quasi_static(car, AS_DESIGNED, -5.0, 0.0).load_change[:2].sum() for car in (low, high)]
    assert moved[1] - moved[0] == pytest.approx(100.0 * 0.4 * 5.0 / 2.9)


@pytest.mark.invariant
@given(vehicle=manoeuvred(real_vehicles), load=load_cases, a_x=st.floats(-12, 8), a_y=st.floats(-12, 12))
def test_any_car_in_any_manoeuvre_is_in_balance_or_says_why_not(
    vehicle: Vehicle, load: LoadCase, a_x: float, a_y: float
) -> None:
    try:
        car = mechanics(vehicle, load)
    except InputError:  # the loads take away more than the body has
        return
    rest = statics(car)
    found = quasi_static(vehicle, load, a_x, a_y)
    assert found.held == (not found.reason)
    for numbers in (found.stand.q, found.load_change, found.lateral_transfer, found.travel):
        assert np.isfinite(numbers).all()
    given = gradients(vehicle, car, linearised(car, rest.q))
    assert not np.isnan([given.roll, given.dive, given.squat, given.front_transfer]).any()
    if found.held and rest.stable:
        moment = manoeuvre_forces(vehicle, car, a_x, a_y)
        # As one body on the ground: what the tyres carry more is the moment of the inertia and of the lean.
        rigid = np.vstack([np.eye(3), np.column_stack([np.ones(4), car.corners[:, 1], -car.corners[:, 0]])])
        carried = rigid[3:].T @ found.load_change
        wanted = rigid.T @ moment[:7]
        wanted[1] += (roll_gravity(vehicle, car) if a_y else 0.0) * found.roll
        np.testing.assert_allclose(carried, -wanted, atol=1e-4)
