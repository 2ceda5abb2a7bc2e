"""Braking, driving and cornering against published examples."""

from __future__ import annotations

from math import degrees, tan

import numpy as np
from numpy.typing import NDArray

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
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER"]

CHAPTER = Chapter("manoeuvres", "Braking, driving and cornering")

BOOK = "D. C. Barton and J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018"
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


def in_a_turn(vehicle: Vehicle) -> ManoeuvreStatics:
    """The car in a turn of 0.6 g."""
    return quasi_static(vehicle, AS_DESIGNED, 0.0, LATERAL)


def spring_part(vehicle: Vehicle) -> NDArray[np.float64]:
    """(2,) load that the springs of each axle pass from left to right."""
    car = mechanics(vehicle)
    change = in_a_turn(vehicle).stand.force - statics(car).force
    force = {element.name: float(f) for element, f in zip(car.elements, change, strict=True)}
    return np.array(
        [(force[f"{axle} right spring"] - force[f"{axle} left spring"]) / 2 for axle in ("front", "rear")]
    )


@CHAPTER.check(
    "Load transfer in a turn",
    source=f"{BOOK}, p. 174",
    status="seen",
    reason="half a unit of the last printed digit; of the springs 1 %: the two printed parts are together "
    "0.7 % below k φ / t of the printed inputs, and the split of the roll stiffness, 20 000 to 8 650 "
    "N·m/rad, is inferred from their ratio of 0.7 to 0.3",
)
def load_transfer() -> Numbers:
    """0.6 g; ms 1280 kg, b/L 0.54, roll centres 0.07 and 0.32 m, track 1.46 m, roll arm 0.365 m.

    Roll stiffness 28 650 N·m/rad; unsprung masses of 140 and 180 kg at 0.28 and 0.30 m; front and rear each.
    """
    whole = in_a_turn(roll_example()).lateral_transfer
    # 0.1 kg per wheel is the lightest allowed; a wheel without mass takes that away as well, 0.2 N.
    unsprung = whole - in_a_turn(roll_example((0.2, 0.2))).lateral_transfer
    unsprung *= np.array([140.0, 180.0]) / np.array([139.8, 179.8])
    springs = spring_part(roll_example())
    centres = whole - unsprung - springs
    for end, total, wheels, body, centre in (
        (0, 1919.0, 158.0, 1556.0, 195.0),
        (1, 1649.0, 218.0, 671.0, 760.0),
    ):
        axle, allowed = ("front", "rear")[end], (16.0, 7.0)[end]
        yield beside(f"{axle}: total, N", whole[end], total, within=allowed)
        yield beside(f"{axle}: of the unsprung masses, N", unsprung[end], wheels, within=0.5)
        yield beside(f"{axle}: of the springs, N", springs[end], body, within=allowed)
        yield beside(f"{axle}: of the roll centre, N", centres[end], centre, within=0.5)


@CHAPTER.check(
    "Load transfer by the springs of both axles",
    source=f"{BOOK}, p. 174: k φ / t of its inputs",
    status="computed apart",
    reason="half a newton",
)
def spring_sum() -> Numbers:
    """The same turn."""
    yield beside("sum, N", spring_part(roll_example()).sum(), 2242.2, within=0.5)


@CHAPTER.check(
    "Roll gradient",
    source=f"{BOOK}, p. 174",
    status="seen",
    reason="half a unit of the last printed digit; the roll of the turn is the gradient to rounding",
)
def roll_gradient() -> Numbers:
    """ms d/(ks - ms g d)."""
    vehicle = roll_example()
    car = mechanics(vehicle)
    gradient = gradients(vehicle, car, linearised(car)).roll
    yield beside("rad/(m/s²)", gradient, 0.0194, within=5e-5)
    yield beside("degrees per g", degrees(gradient) * 9.81, 10.9, within=0.05)
    yield beside("roll at 0.6 g, rad", in_a_turn(vehicle).roll, gradient * LATERAL, relative=1e-9)


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


SQUAT = f"{BOOK}, p. 197, eq. 3.63, 3.64 and 3.69"


@CHAPTER.check(
    "No pitch in driving",
    source=SQUAT,
    status="seen",
    reason="tyres of 1e9 N/m under springs of 3e4 leave 1e-4 of the pitch without support",
    cases=[(30e3, 30e3), (36e3, 22e3)],
)
def no_pitch(case: tuple[float, float]) -> Numbers:
    """With the support e/d = (h/l)(1 + kr/kf) the rear rises as the front does; 3 m/s², rear driven."""
    front, rear = case
    free = quasi_static(longitudinal(front, rear, 0.0), AS_DESIGNED, 3.0, 0.0)
    held = quasi_static(longitudinal(front, rear, 1 + rear / front), AS_DESIGNED, 3.0, 0.0)
    name = f"{front / 1e3:g} and {rear / 1e3:g} kN/m"
    yield beside(f"{name}: pitch, rad", held.pitch, 0.0, within=1e-4 * abs(free.pitch))
    yield beside(f"{name}: front travel, m", held.travel[0], held.travel[2], relative=1e-3)


@CHAPTER.check(
    "Spring forces in driving",
    source=SQUAT,
    status="seen",
    reason="the book's car has no unsprung mass; here it is 0.4 kg of wheels in 1700 kg",
)
def spring_forces() -> Numbers:
    """Front -m a h/l = kf δf, rear (m a/l)(h - l e/d) = kr δr; 3 m/s², 30 and 26 kN/m, support 0.4."""
    support = 0.4
    vehicle = longitudinal(30e3, 26e3, support)
    for axle in ("front", "rear"):
        vehicle = replaced(vehicle, (axle, "wheels"), IndependentWheels(unsprung_mass=0.1))
    found = quasi_static(vehicle, AS_DESIGNED, 3.0, 0.0)
    moment = 1700.0 * 3.0 * 0.55 / 2.9
    yield beside("front, N", 2 * 30e3 * found.travel[0], -moment, relative=3e-4)
    yield beside("rear, N", 2 * 26e3 * found.travel[2], moment * (1 - support), relative=3e-4)


@CHAPTER.check(
    "Rear lift in braking",
    source=f"{BOOK}, p. 201: -936 N on 35.2 N/mm",
    status="seen",
    reason="half a unit of the last printed digit",
)
def rear_lift() -> Numbers:
    """The inputs of the 936 N were not seen; the deceleration is set so that it comes out."""
    vehicle = longitudinal(30e3, 35.2e3, 0.0)
    change = quasi_static(vehicle, AS_DESIGNED, -1.0, 0.0).load_change[2]
    found = quasi_static(vehicle, AS_DESIGNED, 936.0 / change, 0.0)
    yield beside("change of load, N", found.load_change[2], -936.0, relative=1e-6)
    yield beside("lift, mm", 1e3 * float(found.travel[2]), -26.6, within=0.05)


@CHAPTER.check(
    "Support angle of an anti-dive of a quarter",
    source="https://www.super7thheaven.co.uk/anti-dive-geometry (a builder's page): share · tan α · L/h; "
    "the same form in Milliken and Milliken, Race Car Vehicle Dynamics, ch. 17 (from memory)",
    status="seen",
    reason="half a unit of the last printed digit",
)
def anti_dive() -> Numbers:
    """25 %, front brake share 0.6, L 2550 mm, h 600 mm; every mass at the height of the CG."""
    axle = Axle(tyre=Tyre(radius=0.6), geometry=AxleGeometry(brake_support=0.25))
    vehicle = Vehicle(
        wheelbase=2.55,
        body=Body(cg_to_front_axle=1.2, cg_height=0.6),
        front=axle,
        rear=axle,
        forces=LongitudinalForces(front_brake_share=0.6),
    )
    angle = float(support_angle(vehicle, mechanics(vehicle))[0])
    yield beside("tan α", tan(angle), 0.098, within=5e-4)
    yield beside("α, deg", degrees(angle), 5.6, within=0.05)
