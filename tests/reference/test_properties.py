"""What textbooks state for every car, on random cars; single cars are in models.verification."""

from __future__ import annotations

from math import inf, pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.assembly import assemble, half_car, quarter_car
from models.ride.channels import channel_index
from models.ride.frequency_response import frequency_response
from models.ride.pitch_plane import pitch_plane
from models.ride.random_road import random_road
from models.ride.steady import quasi_static
from models.roads import RoughSurface
from models.vehicle import AS_DESIGNED, Body, Vehicle
from models.verification.cars import link, quarter_car_twice, two_degree_car
from models.verification.published.manoeuvres import longitudinal
from models.verification.published.quarter_car import SPRING, SPRUNG, TYRE, UNSPRUNG, two_quarter_cars
from tests.manual import near


@given(
    mass=st.floats(400, 3500),
    a=st.floats(0.8, 1.7),
    b=st.floats(0.8, 1.7),
    gyration=st.floats(0.6, 2.0),
    front=st.floats(5e3, 100e3),
    rear=st.floats(5e3, 100e3),
)
def test_sum_and_product_of_the_squares_and_product_of_the_nodes(
    mass: float, a: float, b: float, gyration: float, front: float, rear: float
) -> None:
    """Vieta's formulas on the characteristic equation (standard; den Hartog, Wong).  Rounding only."""
    car = two_degree_car(mass, a, b, gyration, (front, rear))
    plane = pitch_plane(assemble(car), tyre_in_series=False)
    slow, fast = ((2 * pi * f) ** 2 for f in plane.frequency)
    inertia = mass * gyration**2
    both = (front + rear) / mass + (front * a**2 + rear * b**2) / inertia
    near("ω1² + ω2², 1/s²", slow + fast, both, relative=1e-6)
    product = front * rear * (a + b) ** 2 / (mass * inertia)
    near("ω1² ω2², 1/s⁴", slow * fast, product, relative=1e-6)
    if plane.motion_centre[0] not in (0.0, inf):
        nodes = plane.motion_centre[0] * plane.motion_centre[1]
        near("product of the nodes, m²", nodes, -(gyration**2), relative=1e-6)


@given(spring_rate=st.floats(5e3, 80e3), damping=st.floats(200.0, 6000.0))
def test_invariants_of_the_quarter_car(spring_rate: float, damping: float) -> None:
    """At √(kt/mu) the body answers alike whatever spring and damper; at √(kt/(ms + mu)) the travel does.

    J. K. Hedrick and T. Butsuen, Proc. IMechE D 204 (1990) 21-27 (formulas from memory); the quarter car is
    inside a half car.  Allowed is half a unit of the last of the digits computed apart.
    """
    model = half_car(assemble(quarter_car_twice(SPRUNG, UNSPRUNG, spring_rate, damping, TYRE)))
    omega = np.array([sqrt(TYRE / UNSPRUNG), sqrt(TYRE / (SPRUNG + UNSPRUNG))])
    gains = frequency_response(model, omega / (2 * pi), speed=20.0).wheel[:, :, 0]
    at_front = gains[:, channel_index("heave")] - 1.4 * gains[:, channel_index("pitch")]
    near("|z_s/z_r|", abs(at_front[0]), 0.142992, within=5e-7)
    near("|z̈_s/z_r|, 1/s²", abs(omega[0] ** 2 * at_front[0]), 604.724, within=5e-4)
    near("|travel/z_r|", abs(gains[1, channel_index("travel_FL")]), 1.142992, within=5e-7)
    near("z_s/z_r, real and in antiphase", at_front[0], -UNSPRUNG / SPRUNG, within=1e-9)


def test_less_and_more_damping_than_the_best_both_shake_more() -> None:
    """The closed form c = k_s √((m_s + m_u)/k_t) is a minimum of the program too."""
    best = SPRING * np.sqrt((SPRUNG + UNSPRUNG) / TYRE)
    grid, surface = np.geomspace(1e-3, 1e5, 3000), RoughSurface()

    def shaking(damping: float) -> float:
        model = two_quarter_cars(damping=damping)
        response = frequency_response(model, grid, 20.0)
        return random_road(model, response, surface, 20.0).channel_rms("seat_acceleration")

    assert shaking(best) < shaking(0.9 * best)
    assert shaking(best) < shaking(1.1 * best)


def test_every_corner_carries_its_static_share() -> None:
    """By hand: m b/L/2 in front, m a/L/2 behind; rounding only."""
    full = assemble(Vehicle(body=Body(mass=1600.0, cg_to_front_axle=1.2)))
    shares = [quarter_car(full, number).mass[0, 0] for number in range(4)]
    near("share, kg", shares, [800 * 1.7 / 2.9] * 2 + [800 * 1.2 / 2.9] * 2, relative=1e-12)


def test_the_slower_mode_is_named_by_its_node() -> None:
    """Node at the CG: pitch.  Equal moments leave bounce below, a levelling link alone pitch at 0 Hz."""
    equal = two_degree_car(1200.0, 1.3, 1.5, sqrt(2100 / 1200), (32e3, 32e3 * 1.3 / 1.5))
    assert pitch_plane(assemble(equal), tyre_in_series=False).names == ("bounce", "pitch")
    alone = two_degree_car(1200.0, 1.3, 1.5, sqrt(2100 / 1200), (0.0, 0.0), side=link(7.5e3))
    assert pitch_plane(assemble(alone), tyre_in_series=False).names == ("pitch", "bounce")


@pytest.mark.parametrize(("front", "rear"), [(30e3, 30e3), (36e3, 22e3)])
def test_a_car_without_support_squats_and_one_with_all_of_it_rises(front: float, rear: float) -> None:
    """The car of the check "No pitch in driving": what would pitch without the support."""
    free = quasi_static(longitudinal(front, rear, 0.0), AS_DESIGNED, 3.0, 0.0)
    held = quasi_static(longitudinal(front, rear, 1 + rear / front), AS_DESIGNED, 3.0, 0.0)
    assert free.pitch < -0.01
    assert held.travel[0] < 0
