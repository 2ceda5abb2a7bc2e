"""Braking, driving and cornering against published examples; numbers and sources stand in published.py."""

from __future__ import annotations

from math import degrees, tan

import numpy as np
import pytest

from models.assembly import linearised, mechanics
from models.fields import replaced
from models.ride.manoeuvres import support_angle
from models.ride.steady import ManoeuvreStatics, gradients, quasi_static
from models.statics import statics
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    AxleGeometry,
    Body,
    IndependentWheels,
    LongitudinalForces,
    Spring,
    Tyre,
    Vehicle,
)
from tests.reference import published as ref
from tests.reference.published import Published

TRACK = 1.46
LATERAL = 0.6 * 9.81


def roll_example(unsprung: tuple[float, float] = (140.0, 180.0)) -> Vehicle:
    """The car of the example; its wheelbase and inertias do not enter, and its tyres are rigid to 2e-5."""
    front, rear = (
        Axle(
            track=TRACK,
            wheels=IndependentWheels(unsprung_mass=mass / 2),
            spring=Spring(rate=2 * rate / TRACK**2),
            tyre=Tyre(rate=1e9, radius=radius),
            geometry=AxleGeometry(roll_centre_height=height),
        )
        for mass, rate, radius, height in zip(
            unsprung, (20000.0, 8650.0), (0.28, 0.30), (0.07, 0.32), strict=True
        )
    )
    body = Body(mass=1280.0, cg_to_front_axle=0.46 * 2.5, cg_height=0.55)
    return Vehicle(wheelbase=2.5, body=body, front=front, rear=rear)


def turned(vehicle: Vehicle) -> ManoeuvreStatics:
    return quasi_static(vehicle, AS_DESIGNED, 0.0, LATERAL)


def spring_part(vehicle: Vehicle) -> np.ndarray:
    """(2,) load that the springs of each axle pass from left to right."""
    car = mechanics(vehicle)
    change = turned(vehicle).stand.force - statics(car).force
    force = {element.name: float(f) for element, f in zip(car.elements, change, strict=True)}
    return np.array(
        [(force[f"{axle} right spring"] - force[f"{axle} left spring"]) / 2 for axle in ("front", "rear")]
    )


def check(expected: tuple[Published, ...], found: np.ndarray) -> None:
    for one, value in zip(expected, found, strict=True):
        one.check(float(value))


def test_parts_of_the_load_transfer_in_a_turn() -> None:
    whole = turned(roll_example()).lateral_transfer
    # 0.1 kg per wheel is the lightest allowed; a wheel without mass takes that away as well, 0.2 N.
    light = (0.2, 0.2)
    unsprung = whole - turned(roll_example(light)).lateral_transfer
    unsprung *= np.array([140.0, 180.0]) / np.array([139.8, 179.8])
    springs = spring_part(roll_example())
    check(ref.BF_TOTAL, whole)
    check(ref.BF_UNSPRUNG_PART, unsprung)
    check(ref.BF_BODY_PART, springs)
    check(ref.BF_ROLL_CENTRE_PART, whole - unsprung - springs)
    ref.BF_BODY_SUM.check(float(springs.sum()))


def test_roll_gradient() -> None:
    vehicle = roll_example()
    car = mechanics(vehicle)
    gradient = gradients(vehicle, car, linearised(car)).roll
    ref.BF_ROLL_GRADIENT.check(gradient)
    ref.BF_ROLL_GRADIENT_DEGREES.check(degrees(gradient) * 9.81)
    assert turned(vehicle).roll == pytest.approx(gradient * LATERAL, rel=1e-9)


def longitudinal(front_rate: float, rear_rate: float, rear_support: float) -> Vehicle:
    """Rear-driven car on rigid tyres, rates per wheel; no support but at the driven axle."""
    front, rear = (
        Axle(
            spring=Spring(rate=rate),
            tyre=Tyre(rate=1e9),
            geometry=AxleGeometry(brake_support=0.0, drive_support=support),
        )
        for rate, support in ((front_rate, 0.0), (rear_rate, rear_support))
    )
    return Vehicle(front=front, rear=rear, forces=LongitudinalForces(front_drive_share=0.0))


@pytest.mark.parametrize(("front", "rear"), [(30e3, 30e3), (36e3, 22e3)])
def test_no_pitch_in_driving(front: float, rear: float) -> None:
    """BF_SQUAT: with the support e/d over h/l of 1 + kr/kf the rear rises as the front does."""
    free = quasi_static(longitudinal(front, rear, 0.0), AS_DESIGNED, 3.0, 0.0)
    held = quasi_static(longitudinal(front, rear, 1 + rear / front), AS_DESIGNED, 3.0, 0.0)
    assert free.pitch < -0.01
    # Rigid tyres are 1e9 N/m against 3e4.
    assert abs(held.pitch) < 1e-4 * abs(free.pitch), ref.BF_SQUAT
    assert held.travel[0] == pytest.approx(held.travel[2], rel=1e-3)
    assert held.travel[0] < 0


def test_spring_forces_in_driving() -> None:
    """BF_SQUAT: front -m a h/l = kf δf, rear (m a/l)(h - l e/d) = kr δr, of a car without unsprung mass."""
    support = 0.4
    vehicle = longitudinal(30e3, 26e3, support)
    for axle in ("front", "rear"):
        vehicle = replaced(vehicle, (axle, "wheels"), IndependentWheels(unsprung_mass=0.1))
    found = quasi_static(vehicle, AS_DESIGNED, 3.0, 0.0)
    moment = 1700.0 * 3.0 * 0.55 / 2.9
    # 0.4 kg of wheels in 1700 kg.
    assert 2 * 30e3 * found.travel[0] == pytest.approx(-moment, rel=3e-4), ref.BF_SQUAT
    assert 2 * 26e3 * found.travel[2] == pytest.approx(moment * (1 - support), rel=3e-4), ref.BF_SQUAT


def test_rear_lift_in_braking() -> None:
    vehicle = longitudinal(30e3, 35.2e3, 0.0)
    change = quasi_static(vehicle, AS_DESIGNED, -1.0, 0.0).load_change[2]
    found = quasi_static(vehicle, AS_DESIGNED, 936.0 / change, 0.0)
    assert found.load_change[2] == pytest.approx(-936.0)
    ref.BF_REAR_LIFT_MM.check(1e3 * float(found.travel[2]))


def test_support_angle_of_an_anti_dive_of_a_quarter() -> None:
    """Every mass at the printed height of the CG, 0.6 m."""
    axle = Axle(tyre=Tyre(radius=0.6), geometry=AxleGeometry(brake_support=0.25))
    vehicle = Vehicle(
        wheelbase=2.55,
        body=Body(cg_to_front_axle=1.2, cg_height=0.6),
        front=axle,
        rear=axle,
        forces=LongitudinalForces(front_brake_share=0.6),
    )
    angle = float(support_angle(vehicle, mechanics(vehicle))[0])
    ref.ANTI_DIVE_TANGENT.check(tan(angle))
    ref.ANTI_DIVE_DEGREES.check(degrees(angle))
