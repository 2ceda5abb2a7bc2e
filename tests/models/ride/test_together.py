"""Elements put together push as they did apart."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from models.ride.laws import linear_law, resample, two_slope_law
from models.ride.nonlinear_model import ForceElement, Friction, Stop
from models.ride.together import together
from models.verification.engines.nonlinear_cars import EVERY_LAW

Array = NDArray[np.float64]

WHEEL = np.array([1.0, 0.0, 0.0, 0.0])
HARDENING = resample(lambda x: 400.0 + 2e4 * x + 3e6 * x**3, -0.2, 0.2, 401)[0]
CORNER = (
    ForceElement("spring", 0.8 * WHEEL, spring=HARDENING),
    ForceElement("damper", 0.7 * WHEEL, damper=two_slope_law(2100.0, 1300.0)),
    ForceElement("bump stop", WHEEL, jounce_stop=Stop(0.05, 4e4, 2e6)),
    ForceElement("rebound stop", 1.3 * WHEEL, rebound_stop=Stop(0.06, 3e4, 1e6)),
    ForceElement("friction", 0.9 * WHEEL, friction=Friction(60.0, 0.01)),
)
STRAIGHT = (
    ForceElement("bar", np.array([3.4, -3.4, 0.0, 0.0]), spring=linear_law(700.0, 30.0)),
    ForceElement("second bar", np.array([-1.7, 1.7, 0.0, 0.0]), spring=linear_law(500.0)),
    ForceElement("trim", 2.6 * WHEEL, spring=linear_law(250.0, -40.0)),
    ForceElement("more trim", 1.1 * WHEEL, spring=linear_law(900.0, 10.0), damper=linear_law(80.0)),
    ForceElement("not fitted", 0.0 * WHEEL, spring=linear_law(1e5)),
)


def _force(element: ForceElement, deflection: float, rate: float) -> float:
    """By the definitions of the parts, a sum over them."""
    force = float(element.spring.value(deflection)) if element.spring else 0.0
    force += float(element.damper.value(rate)) if element.damper else 0.0
    if element.jounce_stop:
        past = max(deflection - element.jounce_stop.gap, 0.0)
        force += (element.jounce_stop.rate + element.jounce_stop.progression * past) * past
    if element.rebound_stop:
        past = max(-element.rebound_stop.gap - deflection, 0.0)
        force -= (element.rebound_stop.rate + element.rebound_stop.progression * past) * past
    if element.friction:
        force += element.friction.force * float(np.clip(rate / element.friction.width, -1.0, 1.0))
    return force


def _pushed(elements: tuple[ForceElement, ...], x: Array, rate: Array) -> Array:
    return np.sum(
        [e.incidence * _force(e, float(e.incidence @ x), float(e.incidence @ rate)) for e in elements], 0
    )


@pytest.mark.parametrize(
    "elements", [CORNER, STRAIGHT, CORNER + STRAIGHT], ids=["corner", "straight", "both"]
)
def test_forces_on_the_coordinates_are_the_same(elements: tuple[ForceElement, ...]) -> None:
    """To rounding: products of a ratio and a rate taken in another order."""
    joined = together(elements)
    random = np.random.default_rng(4)
    for _ in range(300):
        x, rate = random.uniform(-0.15, 0.15, 4), random.uniform(-1.0, 1.0, 4)
        apart = _pushed(elements, x, rate)
        np.testing.assert_allclose(
            _pushed(joined, x, rate), apart, rtol=1e-11, atol=1e-11 * np.abs(apart).max()
        )


def test_a_corner_is_one_and_straight_springs_add_up() -> None:
    assert len(together(CORNER)) == 1
    # One of the wheel; the bars pull opposite ways along one deflection.
    assert len(together(STRAIGHT)) == 3


def test_two_curved_springs_stay_two() -> None:
    assert len(together((CORNER[0], CORNER[0]))) == 2
    assert len(together((CORNER[2], CORNER[2]))) == 2


def test_linkages_stay_as_they_are() -> None:
    linked = tuple(element for element in EVERY_LAW.elements if element.links)
    assert linked
    assert together(EVERY_LAW.elements)[-len(linked) :] == linked
    assert together(replace(EVERY_LAW, elements=linked).elements) == linked
