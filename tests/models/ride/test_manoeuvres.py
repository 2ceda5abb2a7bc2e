from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from models.assembly import Mechanics, half_car, half_car_in_roll, linearised, mechanics, quarter_car
from models.errors import InputError
from models.fields import replaced
from models.manoeuvre import Accelerate, Brake, BrakeInTurn, Corner, Straight
from models.ride.manoeuvres import (
    full_accelerations,
    in_model,
    manoeuvre_accelerations,
    manoeuvre_forces,
    support,
    support_angle,
)
from models.vehicle import (
    AS_DESIGNED,
    AxleGeometry,
    Load,
    LoadCase,
    LongitudinalForces,
    Occupant,
    Seat,
    SolidAxle,
    Vehicle,
)
from tests.cars import EVERYTHING, load_cases, manoeuvred, real_vehicles

Array = NDArray[np.float64]

SUPPORTED = replaced(
    replaced(EVERYTHING, ("front", "geometry"), AxleGeometry(brake_support=0.4, drive_support=0.3)),
    ("rear", "geometry"),
    AxleGeometry(roll_centre_height=0.3, brake_support=0.7, drive_support=0.6),
)
OCCUPIED = replaced(SUPPORTED, ("seat",), Seat(x=0.2, y=0.35, height=0.7, occupant=Occupant(mass=60.0)))
LUGGAGE = LoadCase(name="luggage", loads=(Load(mass=150.0, x=-3.0, y=-0.3, z=0.8),))


def on_the_ground(car: Mechanics, forces: Array) -> Array:
    """Lift and moments (heave, roll, pitch) of generalised forces on the car as one rigid body."""
    points = [*car.corners, car.seat] if car.occupant_mass else [*car.corners]
    rigid = np.vstack([np.eye(3), [[1.0, y, -x] for x, y in points]])
    return rigid.T @ forces


def mass_moment(vehicle: Vehicle, car: Mechanics) -> float:
    """Σ m h, written out."""
    return (
        car.body_mass[0, 0] * car.cg_height
        + car.occupant_mass * vehicle.seat.height
        + car.wheel_mass[:2, :2].sum() * vehicle.front.tyre.radius
        + car.wheel_mass[2:, 2:].sum() * vehicle.rear.tyre.radius
    )


# Over time


def test_onset_hold_and_fade() -> None:
    t = np.array([0.0, 1.0, 1.25, 1.5, 2.0, 2.5, 3.5, 3.75, 4.0, 4.25, 4.5, 9.0])
    a_x, a_y = manoeuvre_accelerations(
        BrakeInTurn(longitudinal=6.0, lateral=-4.0, start=1.0, onset=1.0, hold=1.5), t
    )
    quarter = (1 - np.cos(np.pi / 4)) / 2
    share = [0, 0, quarter, 0.5, 1, 1, 1, 1 - quarter, 0.5, quarter, 0, 0]
    np.testing.assert_allclose(a_x, -6.0 * np.array(share), atol=1e-15)
    np.testing.assert_allclose(a_y, -4.0 * np.array(share), atol=1e-15)


@pytest.mark.parametrize(
    ("manoeuvre", "expected"),
    [
        (Straight(), (0.0, 0.0)),
        (Brake(longitudinal=5.0), (-5.0, 0.0)),
        (Accelerate(longitudinal=3.0), (3.0, 0.0)),
        (Corner(lateral=-4.0), (0.0, -4.0)),
        (BrakeInTurn(longitudinal=2.0, lateral=1.0), (-2.0, 1.0)),
    ],
)
def test_signs(manoeuvre: Brake, expected: tuple[float, float]) -> None:
    assert full_accelerations(manoeuvre) == expected
    end = manoeuvre_accelerations(manoeuvre, np.array([5.0]))
    assert (end[0][0], end[1][0]) == expected


# Forces


@pytest.mark.parametrize("vehicle", [Vehicle(), SUPPORTED, OCCUPIED])
@pytest.mark.parametrize("load", [AS_DESIGNED, LUGGAGE])
@pytest.mark.parametrize(("a_x", "a_y"), [(-5.0, 0.0), (3.0, 0.0), (0.0, 4.0), (-2.0, -6.0)])
def test_the_moments_about_the_ground_are_those_of_the_inertia(
    vehicle: Vehicle, load: LoadCase, a_x: float, a_y: float
) -> None:
    """Whatever the links do, the tyres have to carry m h a, and no lift."""
    car = mechanics(vehicle, load)
    found = on_the_ground(car, manoeuvre_forces(vehicle, car, a_x, a_y))
    moment = mass_moment(vehicle, car)
    # Rounding of sums of some 1e4 N m.
    np.testing.assert_allclose(found, [0.0, moment * a_y, -moment * a_x], atol=1e-9)


@pytest.mark.invariant
@given(vehicle=manoeuvred(real_vehicles), load=load_cases, a_x=st.floats(-10, 10), a_y=st.floats(-10, 10))
def test_the_moments_about_the_ground_of_any_car(
    vehicle: Vehicle, load: LoadCase, a_x: float, a_y: float
) -> None:
    try:
        car = mechanics(vehicle, load)
    except InputError:  # the loads take away more than the body has
        return
    found = on_the_ground(car, manoeuvre_forces(vehicle, car, a_x, a_y))
    moment = mass_moment(vehicle, car)
    np.testing.assert_allclose(found, [0.0, moment * a_y, -moment * a_x], atol=1e-8)


def test_links_push_body_and_wheels_apart_by_their_share_of_the_load_change() -> None:
    car = mechanics(SUPPORTED)
    change = mass_moment(SUPPORTED, car) / SUPPORTED.wheelbase * 5.0
    forces = manoeuvre_forces(SUPPORTED, car, -5.0, 0.0)
    np.testing.assert_allclose(forces[3:7], np.array([-0.4, -0.4, 0.7, 0.7]) * change / 2, rtol=1e-12)
    assert forces[0] == pytest.approx((0.4 - 0.7) * change)
    driven = manoeuvre_forces(SUPPORTED, car, 5.0, 0.0)
    np.testing.assert_allclose(driven[3:7], np.array([0.0, 0.0, -0.6, -0.6]) * change / 2, rtol=1e-12)


def test_the_body_feels_the_lateral_force_above_the_roll_axis() -> None:
    car = mechanics(SUPPORTED)
    a = SUPPORTED.body.cg_to_front_axle
    at_rear = a / SUPPORTED.wheelbase
    axis = 0.08 * (1 - at_rear) + 0.3 * at_rear
    forces = manoeuvre_forces(SUPPORTED, car, 0.0, 4.0)
    assert forces[1] == pytest.approx(1480.0 * 4.0 * (0.55 - axis))
    assert forces[0] == forces[2] == 0.0
    rear = (1480.0 * at_rear * 0.3 + 118.0 * 0.31) * 4.0 / 1.47
    np.testing.assert_allclose(forces[5:7], [rear, -rear], rtol=1e-12)


def test_forces_over_time_are_those_of_each_time() -> None:
    car = mechanics(OCCUPIED)
    a_x, a_y = np.array([-3.0, 0.0, 2.0]), np.array([1.0, 5.0, -2.0])
    over_time = manoeuvre_forces(OCCUPIED, car, a_x, a_y)
    assert over_time.shape == (8, 3)
    for number in range(3):
        np.testing.assert_array_equal(
            over_time[:, number], manoeuvre_forces(OCCUPIED, car, a_x[number], a_y[number])
        )


def test_an_axle_without_brakes_or_drive_has_no_support() -> None:
    front_only = replaced(
        SUPPORTED, ("forces",), LongitudinalForces(front_brake_share=1.0, front_drive_share=1.0)
    )
    np.testing.assert_array_equal(support(front_only, braking=True), [0.4, 0.0])
    np.testing.assert_array_equal(support(front_only, braking=False), [0.3, 0.0])
    assert support_angle(front_only, mechanics(front_only))[1] == 0.0


def test_support_angle_gives_back_the_link_force() -> None:
    car = mechanics(OCCUPIED)
    forces = manoeuvre_forces(OCCUPIED, car, -1.0, 0.0)
    mass = car.body_mass[0, 0] + car.occupant_mass + car.wheel_mass.sum()
    brake = mass * np.array([0.65, 0.35])
    links = np.array([-forces[3:5].sum(), forces[5:7].sum()])
    np.testing.assert_allclose(np.tan(support_angle(OCCUPIED, car)), links / brake, rtol=1e-12)


# Smaller models


def test_half_car_feels_braking_and_no_cornering() -> None:
    car = mechanics(SUPPORTED)
    forces = manoeuvre_forces(SUPPORTED, car, [-5.0, 0.0], [0.0, 5.0])
    half = in_model(half_car(linearised(car)), forces)
    braking = forces[:, 0]
    np.testing.assert_allclose(
        half[:, 0], [braking[0], braking[2], braking[3:5].sum(), braking[5:7].sum()], rtol=1e-12
    )
    np.testing.assert_allclose(half[:, 1], 0.0, atol=1e-12)


def test_half_car_in_roll_feels_cornering() -> None:
    car = mechanics(SUPPORTED)
    forces = manoeuvre_forces(SUPPORTED, car, [0.0], [5.0])
    half = in_model(half_car_in_roll(linearised(car)), forces)[:, 0]
    turning = forces[:, 0]
    np.testing.assert_allclose(
        half, [0.0, turning[1], turning[3] + turning[5], turning[4] + turning[6]], atol=1e-9
    )


@pytest.mark.parametrize("corner", range(4))
def test_quarter_car_feels_the_load_change_of_its_wheel(corner: int) -> None:
    """Body and wheel together: half the load change of the axle, which the tyre has to carry."""
    vehicle = replaced(SUPPORTED, ("rear", "wheels"), SolidAxle(mass=118.0))
    car = mechanics(vehicle)
    forces = manoeuvre_forces(vehicle, car, [-5.0], [0.0])
    found = in_model(quarter_car(linearised(car), corner), forces)[:, 0]
    change = mass_moment(vehicle, car) / vehicle.wheelbase * 5.0 / 2
    assert -found.sum() == pytest.approx(change if corner < 2 else -change)


def test_full_car_takes_the_forces_as_they_are() -> None:
    car = mechanics(OCCUPIED)
    forces = manoeuvre_forces(OCCUPIED, car, [-5.0, 1.0], [0.0, 5.0])
    np.testing.assert_array_equal(in_model(linearised(car), forces), forces)
