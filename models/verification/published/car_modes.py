"""Natural frequencies of half and full cars, and rates of the modes of four wheels."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from models.assembly import assemble, half_car
from models.ride.modes import modes
from models.ride.rates import rates
from models.vehicle import (
    Axle,
    Body,
    IndependentWheels,
    MeasuredInertia,
    Side,
    Spring,
    Stabiliser,
    Tyre,
    Vehicle,
)
from models.verification.cars import link
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER"]

CHAPTER = Chapter("car-modes", "Half and full car: frequencies and mode rates")

Array = NDArray[np.float64]
JAZAR = "R. N. Jazar, Vehicle Dynamics: Theory and Application, ch. 12 (inputs from memory)"
APART = "half a unit of the last of the digits computed"


def car(
    mass: float,
    inertias: tuple[float, float],
    a: float,
    b: float,
    track: float,
    unsprung: tuple[float, float],
    rates_: tuple[float, float],
    tyre_rate: float,
) -> Vehicle:
    """Car without damping; inertias of roll and pitch, masses and rates of each wheel."""
    front, rear = (
        Axle(
            track=track,
            wheels=IndependentWheels(unsprung_mass=wheel),
            spring=Spring(rate=rate),
            tyre=Tyre(rate=tyre_rate),
        )
        for wheel, rate in zip(unsprung, rates_, strict=True)
    )
    roll, pitch = (MeasuredInertia(value=value) for value in inertias)
    body = Body(mass=mass, cg_to_front_axle=a, roll_inertia=roll, pitch_inertia=pitch)
    return Vehicle(wheelbase=a + b, body=body, front=front, rear=rear)


@CHAPTER.check("Half car of Jazar", source=JAZAR, status="computed apart", reason=APART)
def jazar_half_car() -> Numbers:
    """m 420 kg, Iy 1100 kg·m², 53 and 76 kg, a 1.4, b 1.47 m, 10 and 13 kN/m, tyres 200 kN/m (per axle)."""
    vehicle = car(420.0, (500.0, 1100.0), 1.4, 1.47, 1.5, (26.5, 38.0), (5e3, 6.5e3), 100e3)
    found = modes(half_car(assemble(vehicle))).frequency
    yield beside("frequencies, Hz", found, [0.9767, 1.1797, 8.4309, 10.0208], within=5e-5)


@CHAPTER.check(
    "Half car of an exercise",
    source="https://acedmypaper.com/1003743/ (inputs seen)",
    status="computed apart",
    reason=APART,
)
def exercise_half_car() -> Numbers:
    """m 1500 kg, J 1000 kg·m², 20 kg each, 2 and 2.5 m, 200 kN/m each, tyres 350 kN/m (per axle)."""
    vehicle = car(1500.0, (500.0, 1000.0), 2.0, 2.5, 1.5, (10.0, 10.0), (100e3, 100e3), 175e3)
    found = modes(half_car(assemble(vehicle))).frequency
    yield beside("frequencies, Hz", found, [2.0551, 5.6735, 26.4390, 26.7660], within=5e-5)


def jazar_full_car(bar: float) -> Array:
    """Natural frequencies, Hz.

    The CG of the example is 25 mm left of the middle; cars of the program have it in the middle, so it is
    moved here.  The bar twists by the body's roll less that of the axle: a lever ratio of 1 / track.
    """
    vehicle = car(840.0, (820.0, 1100.0), 1.4, 1.47, 1.45, (53.0, 76.0), (10e3, 13e3), 200e3)
    front = vehicle.front.model_copy(update={"stabiliser": Stabiliser(bar_rate=bar, lever_ratio=1 / 1.45)})
    model = assemble(vehicle.model_copy(update={"front": front}))
    middle_from_cg = np.eye(7)
    middle_from_cg[0, 1] = -0.025  # z in the middle, which is right of the CG
    moved = replace(model, stiffness=middle_from_cg.T @ model.stiffness @ middle_from_cg)
    return modes(moved).frequency


@CHAPTER.check(
    "Full car of Jazar, without and with a bar", source=JAZAR, status="computed apart", reason=APART
)
def jazar_full_cars() -> Numbers:
    """m 840 kg, Ix 820, Iy 1100 kg·m², 53 and 76 kg, a 1.4, b 1.47 m, CG 0.7 and 0.75 m from the wheels.

    10 and 13 kN/m, tyres 200 kN/m at each wheel; a front bar of 25 kN·m/rad.
    """
    plain = [0.8392, 1.1138, 1.4634, 8.4272, 8.4334, 10.0190, 10.0219]
    with_bar = [1.1091, 1.1584, 1.4634, 8.4272, 8.4334, 10.0219, 10.5779]
    yield beside("frequencies without a bar, Hz", jazar_full_car(0.0), plain, within=5e-5)
    yield beside("frequencies with the bar, Hz", jazar_full_car(25e3), with_bar, within=5e-5)


@CHAPTER.check(
    "Full car of an exercise",
    source="https://www.studypool.com/questions/147429/ (inputs seen)",
    status="computed apart",
    reason=APART,
)
def exercise_full_car() -> Numbers:
    """m 1200 (sprung), Ip 1800, Ir 750, a 1.0, b 1.1, half track 0.6 m, 30 kg, 16 and 18, tyres 150 kN/m."""
    found = modes(
        assemble(car(1200.0, (750.0, 1800.0), 1.0, 1.1, 1.2, (30.0, 30.0), (16e3, 18e3), 150e3))
    ).frequency
    expected = [0.8614, 0.9592, 1.1493, 11.8405, 11.8436, 11.9121, 11.9163]
    yield beside("frequencies, Hz", found, expected, within=5e-5)


MODE_NAMES = ("heave, N/m", "roll, N·m/rad", "pitch, N·m/rad", "warp, N/m")


def mode_rates(stabiliser: float = 0.0, side: Side | None = None) -> Array:
    """(4,) of four corners of 20 kN/m, half track 0.75 m, half wheelbase 1.4 m."""
    axle = Axle(
        track=1.5,
        spring=Spring(rate=20e3),
        stabiliser=Stabiliser(bar_rate=stabiliser, lever_ratio=1.0),
    )
    body = Body(cg_to_front_axle=1.4)
    found = rates(assemble(Vehicle(wheelbase=2.8, body=body, front=axle, rear=axle, left=side or Side())))
    return np.array([found.heave, found.roll, found.pitch, found.warp])


@CHAPTER.check(
    "Mode rates of four corners, and what links add to them",
    source="vᵀ K v of heave (1, 1, 1, 1), roll (±t), pitch (±l) and warp (1, -1, -1, 1)",
    status="closed form",
    reason="exact but for rounding of 1e5 N/m",
)
def four_corners() -> Numbers:
    """Four corners of 20 kN/m, half track t 0.75 m, half wheelbase l 1.4 m.

    Stabilisers of 8 kN/m; links of 5 kN/m on both sides against the sum and the difference of the travels.
    """
    plain = mode_rates()
    for name, found, expected in (
        ("corners", plain, (80e3, 45e3, 156.8e3, 80e3)),
        ("stabilisers add", mode_rates(stabiliser=8e3) - plain, (0.0, 36e3, 0.0, 64e3)),
        ("levelling links add", mode_rates(side=link(5e3)) - plain, (40e3, 22.5e3, 0.0, 0.0)),
        (
            "pitch-stiffening links add",
            mode_rates(side=link(5e3, "pitch stiffening")) - plain,
            (0.0, 0.0, 78.4e3, 40e3),
        ),
    ):
        for mode, one, value in zip(MODE_NAMES, found, expected, strict=True):
            yield beside(f"{name}: {mode}", one, value, within=1e-9 * max(value, 1e5))
