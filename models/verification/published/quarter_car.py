"""Quarter car: a published one, its invariants, and closed forms on a road of white velocity."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from models.assembly import RideModel, assemble, half_car, quarter_car
from models.ride.channels import channel_index
from models.ride.frequency_response import frequency_response
from models.ride.modes import modes
from models.ride.random_road import random_road
from models.roads import RoughSurface
from models.verification.cars import quarter_car_twice
from models.verification.check import Chapter, Number, Numbers, beside

__all__ = ["CHAPTER", "SPRING", "SPRUNG", "TYRE", "UNSPRUNG", "quarter_car_of_the_book", "two_quarter_cars"]

CHAPTER = Chapter("quarter-car", "Quarter car")

BARTON_FIELDHOUSE = "D. C. Barton and J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018, p. 209"
SPRUNG, UNSPRUNG, SPRING, TYRE = 317.5, 45.4, 22e3, 192e3


def two_quarter_cars(spring: float = SPRING, damping: float = 1500.0) -> RideModel:
    """Half car made of the quarter car twice, its tracks brought together.

    Tracks at one place make the road of both sides the same, as a quarter car has but one.
    """
    model = half_car(assemble(quarter_car_twice(SPRUNG, UNSPRUNG, spring, damping, TYRE)))
    return replace(model, corners=model.corners * [1.0, 1e-9])


def quarter_car_of_the_book(spring: float = SPRING, damping: float = 1500.0) -> RideModel:
    """The quarter car of a corner."""
    return quarter_car(assemble(quarter_car_twice(SPRUNG, UNSPRUNG, spring, damping, TYRE)), 0)


def gain(model: RideModel, omega: float, key: str) -> complex:
    """Channel per metre of road at the first wheel."""
    response = frequency_response(model, np.array([omega / (2 * np.pi)]), speed=20.0)
    return complex(response.wheel[0, channel_index(key), 0])


@CHAPTER.check(
    "Frequencies and first shape",
    source=BARTON_FIELDHOUSE,
    status="seen",
    reason="half a unit of the last printed digit; the book rounds a coefficient of its equation up by 0.06 "
    "% (4786 for 4783), and its frequencies with it",
)
def published_quarter_car() -> Numbers:
    """Ms 317.5, Mu 45.4 kg, Ks 22, Kt 192 kN/m; as a corner of a car and twice inside a half car."""
    found = modes(quarter_car_of_the_book())
    slow, fast = 2 * np.pi * found.frequency
    yield beside("body, rad/s", slow, 7.87, within=1e-2)
    yield beside("wheel hop, rad/s", fast, 68.73, within=0.04)
    yield beside(
        "A_unsprung / A_sprung of the body's mode",
        found.shapes[1, 0] / found.shapes[0, 0],
        0.104,
        within=5e-4,
    )
    twice = modes(two_quarter_cars())
    yield beside("inside a half car: body, rad/s", 2 * np.pi * twice.frequency[:2], 7.87, within=1e-2)
    yield beside("inside a half car: wheel hop, rad/s", 2 * np.pi * twice.frequency[2:], 68.73, within=0.04)
    z, pitch, front, rear = twice.shapes[:, 0]
    for wheel, body in ((front, z - 1.4 * pitch), (rear, z + 1.4 * pitch)):
        if abs(body) > 1e-6:  # the two body modes share one frequency and may mix the axles in any way
            yield beside("inside a half car: A_unsprung / A_sprung", wheel / body, 0.104, within=5e-4)


HEDRICK_BUTSUEN = (
    "J. K. Hedrick and T. Butsuen, Proc. IMechE D 204 (1990) 21-27 (abstract seen, formulas from memory)"
)


@CHAPTER.check(
    "Points that no spring or damper moves",
    source=HEDRICK_BUTSUEN,
    status="closed form",
    reason="rounding",
    cases=[(spring, damping) for spring in (10e3, 22e3, 60e3) for damping in (300.0, 1500.0, 5000.0)],
)
def invariant_points(case: tuple[float, float]) -> Numbers:
    """The quarter car with springs of 10 to 60 kN/m and dampers of 300 to 5000 N·s/m.

    At ω = √(kt/mu): z_s/z_r = -mu/ms, |z̈_s/z_r| = kt/ms; at √(kt/(ms + mu)): |travel/z_r| = (ms + mu)/ms.
    """
    spring, damping = case
    name = f"{spring / 1e3:g} kN/m, {damping:g} N·s/m"
    yield from _invariants(quarter_car_of_the_book(spring, damping), name)


def _invariants(model: RideModel, name: str) -> Iterator[Number]:
    hop, whole = np.sqrt(TYRE / UNSPRUNG), SPRUNG + UNSPRUNG
    heave = gain(model, hop, "heave")
    yield beside(f"{name}: z_s/z_r (real)", heave.real, -UNSPRUNG / SPRUNG, relative=1e-9)
    yield beside(f"{name}: z_s/z_r (imaginary)", heave.imag, 0.0, within=1e-9 * UNSPRUNG / SPRUNG)
    acceleration = abs(gain(model, hop, "heave_acceleration"))
    yield beside(f"{name}: |z̈_s/z_r|, 1/s²", acceleration, TYRE / SPRUNG, relative=1e-9)
    rattle = abs(gain(model, np.sqrt(TYRE / whole), "travel_FL"))
    yield beside(f"{name}: |travel/z_r|", rattle, whole / SPRUNG, relative=1e-9)


@CHAPTER.check(
    "The same points as numbers",
    source=HEDRICK_BUTSUEN,
    status="computed apart",
    reason="half a unit of the last of the digits computed",
)
def invariant_numbers() -> Numbers:
    """Of the quarter car of the book inside a half car."""
    model = two_quarter_cars()
    hop = np.sqrt(TYRE / UNSPRUNG)
    at_front = gain(model, hop, "heave") - 1.4 * gain(model, hop, "pitch")
    yield beside("|z_s/z_r|", abs(at_front), 0.142992, within=5e-7)
    yield beside("|z̈_s/z_r|, 1/s²", hop**2 * abs(at_front), 604.724, within=5e-4)
    rattle = abs(gain(model, np.sqrt(TYRE / (SPRUNG + UNSPRUNG)), "travel_FL"))
    yield beside("|travel/z_r|", rattle, 1.142992, within=5e-7)


@CHAPTER.check(
    "Momentum is the impulse of the tyre",
    source=HEDRICK_BUTSUEN,
    status="closed form",
    reason="rounding",
    cases=[3.0, 30.0, 300.0],
)
def momentum(omega: float) -> Numbers:
    """m_s z̈_s + m_u z̈_u = k_t (z_r - z_u) for any suspension."""
    model = two_quarter_cars()
    unsprung = -(omega**2) * gain(model, omega, "wheel_FL")
    left = SPRUNG * gain(model, omega, "seat_acceleration") + UNSPRUNG * unsprung
    right = gain(model, omega, "tyre_force_FL")
    yield beside(f"{omega:g} rad/s, N/m", left, right, relative=1e-10)


@CHAPTER.check(
    "With k² = a b the front does not feel the rear",
    source="mass coupling m (a b - k²)/L² of the two axles: textbook",
    status="closed form",
    reason="rounding of the response to the front",
)
def front_does_not_feel_the_rear() -> Numbers:
    """Acceleration of the body over the front axle per metre of road at the rear axle, 1 and 10 Hz."""
    response = frequency_response(two_quarter_cars(), np.array([1.0, 10.0]), 20.0)
    seat = np.abs(response.wheel[:, channel_index("seat_acceleration")])
    yield beside("from the rear, 1/s²", seat[:, 1], 0.0, within=1e-12 * seat[:, 0].max())


def white_noise_rms(spring: float, c: float, one_sided_velocity_psd: float) -> tuple[float, float, float]:
    """Body acceleration, suspension travel and tyre deflection of a quarter car.

    Solved from the Lyapunov equation, the forms usual in the literature on suspension control.
    """
    ms, mu, ks, kt, w = SPRUNG, UNSPRUNG, spring, TYRE, one_sided_velocity_psd / 2
    total = ms + mu
    acceleration = w / 2 * (kt * c / ms**2 + total * ks**2 / (ms**2 * c))
    travel = w / 2 * total / c
    tyre = (
        w
        / 2
        * (
            c * total**2 / (kt * ms**2)
            + ks**2 * total**3 / (c * kt**2 * ms**2)
            - 2 * ks * mu * total / (c * kt * ms)
            + mu / c
        )
    )
    return np.sqrt(acceleration), np.sqrt(travel), np.sqrt(tyre)


LYAPUNOV = "variances from the Lyapunov equation, the forms usual in the literature on suspension control"


@CHAPTER.check(
    "RMS values on a road of white velocity",
    source=LYAPUNOV,
    status="closed form",
    reason="8000 points 0.26 % apart leave 1e-5 at the resonances; the tyre deflection above 1 MHz is 2e-6 "
    "of the whole",
    cases=[(22e3, 1500.0, 20.0, 64e-6), (22e3, 1500.0, 5.0, 64e-6), (12e3, 900.0, 33.0, 256e-6)],
)
def white_road(case: tuple[float, float, float, float]) -> Numbers:
    """RMS over 1 mHz to 1 MHz, as good as all frequencies, of three springs, dampers, speeds and roads.

    var z̈_s = W/2 (kt c/ms² + (ms + mu) ks²/(ms² c)), var travel = W/2 (ms + mu)/c, W = (2π n0)² G V/2.
    """
    spring, damping, speed, roughness = case
    model = two_quarter_cars(spring, damping)
    response = frequency_response(model, np.geomspace(1e-3, 1e6, 8000), speed)
    ride = random_road(model, response, RoughSurface(roughness=roughness), speed)
    acceleration, travel, tyre = white_noise_rms(spring, damping, (2 * np.pi * 0.1) ** 2 * roughness * speed)
    name = f"{spring / 1e3:g} kN/m at {speed:g} m/s"
    for what, key, expected in (
        ("acceleration, m/s²", "seat_acceleration", acceleration),
        ("travel, m", "travel_FL", travel),
        ("tyre force, N", "tyre_force_FL", TYRE * tyre),
    ):
        yield beside(f"{name}: {what}", ride.channel_rms(key), expected, relative=2e-5)


@CHAPTER.check(
    "RMS values on a road of white velocity, as numbers",
    source="frequency integration from 1 mHz to 10 kHz, apart from the program",
    status="computed apart",
    reason="half a unit of the last of the digits computed for the closed forms; what is added for the "
    "program is its 2e-5 of integration",
)
def white_road_numbers() -> Numbers:
    """The closed forms above and the program; c 1500 N·s/m, 20 m/s, G 64e-6 m³: S_v 5.053237e-4 (m/s)²/Hz."""
    forms = white_noise_rms(SPRING, 1500.0, 5.053237e-4)
    model = two_quarter_cars()
    response = frequency_response(model, np.geomspace(1e-3, 1e6, 8000), 20.0)
    ride = random_road(model, response, RoughSurface(roughness=64e-6), 20.0)
    for what, form, key, share, expected, digit in (
        ("acceleration, m/s²", forms[0], "seat_acceleration", 1.0, 0.712508, 5e-7),
        ("travel, mm", 1e3 * forms[1], "travel_FL", 1e3, 5.52844, 5e-6),
        ("tyre deflection, mm", 1e3 * forms[2], "tyre_force_FL", 1e3 / TYRE, 2.15307, 5e-6),
        ("tyre force, N", TYRE * forms[2], "tyre_force_FL", 1.0, 413.39, 5e-3),
    ):
        yield beside(f"closed form: {what}", form, expected, within=digit)
        yield beside(
            f"program: {what}", share * ride.channel_rms(key), expected, within=digit + 2e-5 * expected
        )
