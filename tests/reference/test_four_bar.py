"""The chain of one link against the four-bar linkage of textbooks: Freudenstein's equation and an example.

The example is that of R. L. Norton, Design of Machinery, chapter 4 (position analysis, links of 100, 40, 120
and 80 mm, crank at 40 deg), inputs and answers from memory; the formulas of chapters 6 and 7 for rates too.
Freudenstein's equation K1 cos θ4 - K2 cos θ2 + K3 = cos(θ2 - θ4) is solved as there by the half-angle.
"""

from __future__ import annotations

from math import acos, atan, atan2, cos, degrees, radians, sin, sqrt

import numpy as np
import pytest
from pydantic import ValidationError

from models.linkage import Arm, Axis, BarLever, Point, WishboneDropLink
from models.linkage.solve import Body, Stage, solve

A, B, C, D = 0.04, 0.12, 0.08, 0.1
X = np.array([[1.0], [0.0], [0.0]])


def freudenstein(crank: float, crossed: bool = False, bars: tuple[float, ...] = (A, B, C, D)) -> float:
    """Angle of the output for that of the crank, both from the line of the pivots, rad."""
    a, b, c, d = bars
    k1, k2, k3 = d / a, d / c, (a**2 - b**2 + c**2 + d**2) / (2 * a * c)
    first = cos(crank) - k1 - k2 * cos(crank) + k3
    second, third = -2 * sin(crank), k1 - (k2 + 1) * cos(crank) + k3
    root = sqrt(second**2 - 4 * first * third) * (1 if crossed else -1)
    return 2 * atan((-second + root) / (2 * first))


def place(x: float, y: float) -> np.ndarray:
    """Of the plane of the four-bar in the transverse plane of the car."""
    return np.array([[0.0], [x], [y]])


def four_bar(
    design: float, crank: float, crossed: bool = False, bars: tuple[float, ...] = (A, B, C, D)
) -> tuple[float, tuple[Stage, ...]]:
    """Angle of the output, rad, of a four-bar built at the crank angle ``design`` and then turned."""
    a, _, c, d = bars
    output = freudenstein(design, crossed, bars)
    pin = place(a * cos(design), a * sin(design))
    end = place(d + c * cos(output), c * sin(output))
    bodies = (Body(place(0, 0), X, pin, pin), Body(place(d, 0), X, end, end))
    stages = solve(bodies, np.array([a * (sin(crank) - sin(design))]))
    assert float(stages[0].angle[0]) == pytest.approx(crank - design, abs=1e-12)
    return output + float(stages[1].angle[0]), stages


@pytest.mark.parametrize(("crossed", "printed"), [(False, 57.33), (True, -98.01)])
@pytest.mark.parametrize("design", [20.0, 40.0, 75.0])
def test_example_of_the_book(design: float, crossed: bool, printed: float) -> None:
    """From wherever the linkage was built.

    The tolerance is half a unit of the last printed digit, and 0.003 deg for cos 40 deg = 0.766, as the book
    takes it: with that Freudenstein's equation gives 57.327 and -98.007 for 57.325 and -98.005.
    """
    output, _ = four_bar(radians(design), radians(40.0), crossed)
    assert degrees(output) == pytest.approx(printed, abs=5e-3 + 3e-3)


@pytest.mark.parametrize("crossed", [False, True])
@pytest.mark.parametrize("crank", [-60.0, -20.0, 25.0, 50.0, 85.0])
def test_freudensteins_equation(crank: float, crossed: bool) -> None:
    """Exact but for rounding; the crank stays clear of the vertical, beyond which no lift turns an arm."""
    output, _ = four_bar(radians(10.0), radians(crank), crossed)
    wanted = freudenstein(radians(crank), crossed)
    assert (output - wanted + np.pi) % (2 * np.pi) == pytest.approx(np.pi, abs=1e-12)


@pytest.mark.parametrize("crossed", [False, True])
@pytest.mark.parametrize("crank", [-50.0, 15.0, 40.0, 70.0])
def test_rates_of_the_book(crank: float, crossed: bool) -> None:
    """ω4 = a ω2 sin(θ2 - θ3) / (c sin(θ4 - θ3)) and α4 = (C D - A F) / (A E - B D) with the book's letters.

    The crank is turned by the travel: ω2 = α', and its α2 = α''.
    """
    t2 = radians(crank)
    _, (arm, lever) = four_bar(radians(10.0), t2, crossed)
    t4 = freudenstein(t2, crossed)
    t3 = atan2(C * sin(t4) - A * sin(t2), D + C * cos(t4) - A * cos(t2))
    w2, a2 = float(arm.rate[0]), float(arm.bend[0])
    w4 = A * w2 * sin(t2 - t3) / (C * sin(t4 - t3))
    w3 = A * w2 * sin(t4 - t2) / (B * sin(t3 - t4))
    first, second, fourth, fifth = C * sin(t4), B * sin(t3), C * cos(t4), B * cos(t3)
    third = A * a2 * sin(t2) + A * w2**2 * cos(t2) + B * w3**2 * cos(t3) - C * w4**2 * cos(t4)
    sixth = A * a2 * cos(t2) - A * w2**2 * sin(t2) - B * w3**2 * sin(t3) + C * w4**2 * sin(t4)
    a4 = (third * fifth - second * sixth) / (first * fifth - second * fourth)
    assert w2 == pytest.approx(1 / (A * cos(t2)), rel=1e-12)
    assert float(lever.rate[0]) == pytest.approx(w4, rel=1e-11)
    assert float(lever.bend[0]) == pytest.approx(a4, rel=1e-10)
    # The transmission angle is that between coupler and output.
    assert float(lever.transmission[0]) == pytest.approx(abs(sin(t4 - t3)), rel=1e-11)


#: A linkage whose crank cannot go round, and where it stops, with coupler and output in line:
#: cos θ2 = (a² + d² - b² - c²)/(2 a d) - b c/(a d).
STOPPING = (0.09, 0.06, 0.055, 0.1)


def toggle() -> float:
    a, b, c, d = STOPPING
    return acos((a**2 + d**2 - b**2 - c**2) / (2 * a * d) - b * c / (a * d))


def test_toggle_of_the_book() -> None:
    """There |C| = ρ, and Freudenstein's root ends; the reserve is the root of what rounding leaves."""
    _, (_, at_toggle) = four_bar_at(toggle())
    assert float(at_toggle.margin[0]) == pytest.approx(0.0, abs=1e-12)
    assert float(at_toggle.reserve[0]) < 2e-6
    assert float(four_bar_at(toggle() - 0.01)[1][1].margin[0]) > 1e-4
    assert float(four_bar_at(toggle() + 0.01)[1][1].margin[0]) < -1e-4


def four_bar_at(crank: float) -> tuple[float, tuple[Stage, ...]]:
    return four_bar(radians(40.0), crank, bars=STOPPING)


def test_a_chain_is_refused_with_the_travel_of_the_toggle() -> None:
    """A wishbone of 90 mm as crank: it locks a little (reserve 0.02) before the toggle of the book."""
    a, _, c, d = STOPPING
    design = radians(40.0)
    output = freudenstein(design, bars=STOPPING)
    pin = Point(y=a * cos(design), z=a * sin(design))
    arm = Arm(axis=Axis(), wheel=pin, link=pin)
    lever = BarLever(axis=Axis(y=d), link=Point(y=d + c * cos(output), z=c * sin(output)))
    travel = 1e3 * a * (sin(toggle()) - sin(design))
    with pytest.raises(ValidationError, match="Jounce travel: the linkage locks at") as refused:
        WishboneDropLink(arm=arm, lever=lever, jounce=0.05, rebound=0.01)
    words = str(refused.value)
    assert "the drop link cannot turn the lever any further" in words
    found = float(words.split("locks at ")[1].split(" mm")[0])
    assert travel - 0.2 < found < travel + 0.05  # it is printed to 0.1 mm
    free = WishboneDropLink(arm=arm, lever=lever, jounce=(found - 0.1) / 1e3, rebound=0.01)
    assert free.jounce < travel / 1e3
