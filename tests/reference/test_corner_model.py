"""The quarter car of a corner against a published one, and what holds of every quarter car."""

from __future__ import annotations

import numpy as np
import pytest

from models.assembly import RideModel, assemble, quarter_car
from models.ride.channels import channel_index
from models.ride.frequency_response import frequency_response
from models.ride.modes import modes
from models.vehicle import Axle, Body, Damper, IndependentWheels, Spring, Tyre, Vehicle

# D. C. Barton and J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018, p. 209 (seen).
SPRUNG, UNSPRUNG, SPRING, TYRE = 317.5, 45.4, 22e3, 192e3


def corner(spring: float = SPRING, damping: float = 1500.0) -> RideModel:
    axle = Axle(
        wheels=IndependentWheels(unsprung_mass=UNSPRUNG),
        spring=Spring(rate=spring),
        damper=Damper(jounce=damping, rebound=damping),
        tyre=Tyre(rate=TYRE, damping=0.0),
    )
    body = Body(mass=4 * SPRUNG, cg_to_front_axle=1.4)
    return quarter_car(assemble(Vehicle(wheelbase=2.8, body=body, front=axle, rear=axle)), 0)


def gain(model: RideModel, omega: float, key: str) -> complex:
    response = frequency_response(model, np.array([omega / (2 * np.pi)]), speed=20.0)
    return complex(response.wheel[0, channel_index(key), 0])


def test_published_frequencies_and_first_shape() -> None:
    """7.87 and 68.73 rad/s, A_unsprung / A_sprung = 0.104 in the first mode.

    0.15 %: the book rounds its characteristic equation (4786 for 4783) and its results.
    """
    found = modes(corner())
    assert found.frequency * 2 * np.pi == pytest.approx([7.87, 68.73], rel=1.5e-3)
    first = found.shapes[:, 0]
    assert first[1] / first[0] == pytest.approx(0.104, rel=5e-3)


@pytest.mark.parametrize("spring", [10e3, 22e3, 60e3])
@pytest.mark.parametrize("damping", [300.0, 1500.0, 5000.0])
def test_invariant_points(spring: float, damping: float) -> None:
    """J. K. Hedrick and T. Butsuen, Proc. IMechE D 204 (1990) 21-27 (abstract seen, formulas from memory)."""
    model = corner(spring, damping)
    hop = np.sqrt(TYRE / UNSPRUNG)
    assert gain(model, hop, "heave") == pytest.approx(-UNSPRUNG / SPRUNG, rel=1e-9)
    assert abs(gain(model, hop, "heave_acceleration")) == pytest.approx(TYRE / SPRUNG, rel=1e-9)
    whole = SPRUNG + UNSPRUNG
    rattle = gain(model, np.sqrt(TYRE / whole), "travel_FL")
    assert abs(rattle) == pytest.approx(whole / SPRUNG, rel=1e-9)


def test_every_corner_carries_its_static_share() -> None:
    """By hand: m b/L/2 in front, m a/L/2 behind."""
    vehicle = Vehicle(body=Body(mass=1600.0, cg_to_front_axle=1.2))
    full = assemble(vehicle)
    shares = [quarter_car(full, number).mass[0, 0] for number in range(4)]
    assert shares == pytest.approx([800 * 1.7 / 2.9] * 2 + [800 * 1.2 / 2.9] * 2, rel=1e-12)
