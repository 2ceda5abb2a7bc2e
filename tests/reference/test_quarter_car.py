"""A quarter car inside the half car: closed forms of its RMS values on a road of white velocity.

With a dynamic index of 1 the front and the rear of the half car move without each other, each a
quarter car of mass m b/L and m a/L.  The body over the front axle is read as a seat placed there.
"""

from dataclasses import replace

import numpy as np
import pytest

from models.assembly import RideModel, assemble, half_car
from models.ride.channels import channel_index
from models.ride.frequency_response import frequency_response
from models.ride.random_road import random_road
from models.roads import RoughSurface
from models.vehicle import (
    Axle,
    Body,
    Damper,
    IndependentWheels,
    InertiaFromDynamicIndex,
    Seat,
    Spring,
    Tyre,
    Vehicle,
)

# D. C. Barton and J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018, p. 209 (seen).
SPRUNG, UNSPRUNG, SPRING, TYRE = 317.5, 45.4, 22e3, 192e3


def two_quarter_cars(spring: float, damping: float) -> RideModel:
    """Half car made of four of the quarter cars, its tracks brought together.

    Tracks at one place make the road of both sides the same, as a quarter car has but one.
    """
    axle = Axle(
        wheels=IndependentWheels(unsprung_mass=UNSPRUNG),
        spring=Spring(rate=spring),
        damper=Damper(jounce=damping, rebound=damping),
        tyre=Tyre(rate=TYRE, damping=0.0),
    )
    vehicle = Vehicle(
        wheelbase=2.8,
        body=Body(mass=4 * SPRUNG, cg_to_front_axle=1.4, pitch_inertia=InertiaFromDynamicIndex(index=1.0)),
        front=axle,
        rear=axle,
        seat=Seat(x=1.4, y=0.0),
    )
    model = half_car(assemble(vehicle))
    return replace(model, corners=model.corners * [1.0, 1e-9])


def gain(model: RideModel, omega: float, key: str) -> complex:
    """Channel per metre of road at the front axle."""
    response = frequency_response(model, np.array([omega / (2 * np.pi)]), speed=20.0)
    return complex(response.wheel[0, channel_index(key), 0])


@pytest.mark.parametrize("omega", [3.0, 30.0, 300.0])
def test_momentum_is_the_impulse_of_the_tyre(omega: float) -> None:
    """m_s z̈_s + m_u z̈_u = k_t (z_r - z_u) for any suspension.

    J. K. Hedrick and T. Butsuen, Proc. IMechE D 204 (1990) 21-27, identity from memory.
    """
    model = two_quarter_cars(SPRING, 1500.0)
    unsprung = -(omega**2) * gain(model, omega, "wheel_FL")
    left = SPRUNG * gain(model, omega, "seat_acceleration") + UNSPRUNG * unsprung
    assert left == pytest.approx(gain(model, omega, "tyre_force_FL"), rel=1e-10)


def test_front_does_not_feel_the_rear() -> None:
    response = frequency_response(two_quarter_cars(SPRING, 1500.0), np.array([1.0, 10.0]), 20.0)
    from_rear = response.wheel[:, channel_index("seat_acceleration"), 1]
    from_front = response.wheel[:, channel_index("seat_acceleration"), 0]
    assert np.abs(from_rear).max() < 1e-12 * np.abs(from_front).max()


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


@pytest.mark.parametrize(
    ("spring", "damping", "speed", "roughness"),
    [(22e3, 1500.0, 20.0, 64e-6), (22e3, 1500.0, 5.0, 64e-6), (12e3, 900.0, 33.0, 256e-6)],
)
def test_white_noise_closed_forms(spring: float, damping: float, speed: float, roughness: float) -> None:
    """RMS over 1 mHz to 1 MHz, as good as all frequencies.

    8000 points: 0.26 % apart, and 1e-5 of error at the resonances; the tyre deflection above 1 MHz is
    2e-6 of the whole.
    """
    model = two_quarter_cars(spring, damping)
    response = frequency_response(model, np.geomspace(1e-3, 1e6, 8000), speed)
    ride = random_road(model, response, RoughSurface(roughness=roughness), speed)
    acceleration, travel, tyre = white_noise_rms(spring, damping, (2 * np.pi * 0.1) ** 2 * roughness * speed)
    assert ride.channel_rms("seat_acceleration") == pytest.approx(acceleration, rel=2e-5)
    assert ride.channel_rms("travel_FL") == pytest.approx(travel, rel=2e-5)
    assert ride.channel_rms("tyre_force_FL") == pytest.approx(TYRE * tyre, rel=2e-5)


def test_closed_forms_reproduce_the_computed_figures() -> None:
    """Figures computed apart from this program, by frequency integration from 1 mHz to 10 kHz."""
    acceleration, travel, tyre = white_noise_rms(SPRING, 1500.0, 5.053237e-4)
    assert acceleration == pytest.approx(0.712508, abs=5e-7)
    assert travel == pytest.approx(5.52844e-3, abs=5e-9)
    assert tyre == pytest.approx(2.15307e-3, abs=5e-9)
    assert TYRE * tyre == pytest.approx(413.39, abs=5e-3)


def test_damping_of_least_acceleration() -> None:
    """c = k_s √((m_s + m_u)/k_t) (from the closed form): less and more damping both shake more."""
    best = SPRING * np.sqrt((SPRUNG + UNSPRUNG) / TYRE)
    grid, surface = np.geomspace(1e-3, 1e5, 3000), RoughSurface()

    def shaking(damping: float) -> float:
        model = two_quarter_cars(SPRING, damping)
        return random_road(model, frequency_response(model, grid, 20.0), surface, 20.0).channel_rms(
            "seat_acceleration"
        )

    assert shaking(best) < shaking(0.9 * best)
    assert shaking(best) < shaking(1.1 * best)
