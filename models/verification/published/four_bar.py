"""The chain of one link against the four-bar linkage of textbooks: Freudenstein's equation and an example.

Freudenstein's equation K1 cos θ4 - K2 cos θ2 + K3 = cos(θ2 - θ4) is solved as in the book by the half-angle.
"""

from __future__ import annotations

from math import acos, atan, atan2, cos, degrees, pi, radians, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from models.linkage.solve import Body, Stage, solve
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER", "STOPPING", "freudenstein", "toggle"]

CHAPTER = Chapter("four-bar", "Linkages: the four-bar")

NORTON = "R. L. Norton, Design of Machinery, ch. 4, position analysis (inputs and answers from memory)"
FREUDENSTEIN = (
    "F. Freudenstein's equation; Norton, Design of Machinery, ch. 4, 6 and 7 (formulas from memory)"
)
A, B, C, D = 0.04, 0.12, 0.08, 0.1
#: A linkage whose crank cannot go round; it stops with coupler and output in line.
STOPPING = (0.09, 0.06, 0.055, 0.1)
BRANCHES = ((False, "open"), (True, "crossed"))


def freudenstein(crank: float, crossed: bool = False, bars: tuple[float, ...] = (A, B, C, D)) -> float:
    """Angle of the output for that of the crank, both from the line of the pivots, rad."""
    a, b, c, d = bars
    k1, k2, k3 = d / a, d / c, (a**2 - b**2 + c**2 + d**2) / (2 * a * c)
    first = cos(crank) - k1 - k2 * cos(crank) + k3
    second, third = -2 * sin(crank), k1 - (k2 + 1) * cos(crank) + k3
    root = sqrt(second**2 - 4 * first * third) * (1 if crossed else -1)
    return 2 * atan((-second + root) / (2 * first))


def toggle() -> float:
    """Crank angle at the toggle, rad: cos θ2 = (a² + d² - b² - c²)/(2 a d) - b c/(a d)."""
    a, b, c, d = STOPPING
    return acos((a**2 + d**2 - b**2 - c**2) / (2 * a * d) - b * c / (a * d))


def place(x: float, y: float) -> NDArray[np.float64]:
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
    along = np.array([[1.0], [0.0], [0.0]])
    bodies = (Body(place(0, 0), along, pin, pin), Body(place(d, 0), along, end, end))
    stages = solve(bodies, np.array([a * (sin(crank) - sin(design))]))
    return output + float(stages[1].angle[0]), stages


@CHAPTER.check(
    "Example of the book",
    source=NORTON,
    status="from memory",
    reason="half a unit of the last printed digit, and 0.003 deg for cos 40 deg = 0.766, as the book takes "
    "it: with that Freudenstein's equation gives 57.327 and -98.007 for 57.325 and -98.005",
)
def example() -> Numbers:
    """Links of 100 (fixed), 40, 120 and 80 mm, crank at 40 deg, from wherever the linkage was built."""
    for crossed, branch in BRANCHES:
        for design in (20.0, 40.0, 75.0):
            output, stages = four_bar(radians(design), radians(40.0), crossed)
            turned = float(stages[0].angle[0])
            yield beside("angle of the crank, rad", turned, radians(40.0 - design), within=1e-12)
            printed = -98.01 if crossed else 57.33
            name = f"output, {branch}, built at {design:g} deg: deg"
            yield beside(name, degrees(output), printed, within=5e-3 + 3e-3)


@CHAPTER.check(
    "Freudenstein's equation",
    source=FREUDENSTEIN,
    status="closed form",
    reason="rounding; the crank stays clear of the vertical, beyond which no lift turns an arm",
)
def positions() -> Numbers:
    """The same links, built at 10 deg, at five angles of the crank."""
    for crossed, branch in BRANCHES:
        for crank in (-60.0, -20.0, 25.0, 50.0, 85.0):
            output, _ = four_bar(radians(10.0), radians(crank), crossed)
            wanted = freudenstein(radians(crank), crossed)
            once_round = (output - wanted + pi) % (2 * pi) - pi
            yield beside(f"{branch}, {crank:g} deg: output, rad", wanted + once_round, wanted, within=1e-12)


@CHAPTER.check(
    "Rates and bends of the four-bar",
    source=FREUDENSTEIN,
    status="closed form",
    reason="rounding, which grows with each derivative",
)
def rates() -> Numbers:
    """Output ω4 = a ω2 sin(θ2 - θ3)/(c sin(θ4 - θ3)) and α4 = (C D - A F)/(A E - B D), the book's letters.

    The crank is turned by the travel: ω2 = α', and its α2 = α''; the transmission angle is that between
    coupler and output.
    """
    for crossed, branch in BRANCHES:
        for crank in (-50.0, 15.0, 40.0, 70.0):
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
            name = f"{branch}, {crank:g} deg"
            yield beside(f"{name}: crank, rad/m", w2, 1 / (A * cos(t2)), relative=1e-12)
            yield beside(f"{name}: output, rad/m", lever.rate[0], w4, relative=1e-11)
            yield beside(f"{name}: output, rad/m²", lever.bend[0], a4, relative=1e-10)
            sine = abs(sin(t4 - t3))
            yield beside(
                f"{name}: sine of the transmission angle", lever.transmission[0], sine, relative=1e-11
            )


@CHAPTER.check(
    "Toggle of the four-bar",
    source=FREUDENSTEIN,
    status="closed form",
    reason="rounding of the margin; the reserve is the root of what rounding leaves",
)
def locks() -> Numbers:
    """Where coupler and output are in line |C| = ρ, and Freudenstein's root ends: 90, 60, 55 and 100 mm."""
    _, (_, stage) = four_bar(radians(40.0), toggle(), bars=STOPPING)
    yield beside("margin", stage.margin[0], 0.0, within=1e-12)
    yield beside("reserve", stage.reserve[0], 0.0, within=2e-6)
