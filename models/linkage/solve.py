"""A chain of bodies on fixed axes, joined by links of fixed length, solved in closed form.

The first body is the arm of the wheel: its wheel joint is lifted by the travel s.  Each further body is a
rocker that a link turns, the last one the lever on the bar.  All points are given where they are at design
trim, so that a chain always fits there and the lengths of its links follow.

Every stage asks for the angle α of one body in ``A cos α + B sin α = C``:

arm
    Its joint, r from a point of the axis e, rises by s: A = z of r⊥, B = z of e×r, C = A + s.
link of length L from the point p of the body before
    |p - r(α)| = L: with c = p - r∥, A = c·r⊥, B = c·(e×r), C = (c·c + r⊥·r⊥ - L²)/2.

With ρ² = A² + B² and D = ±√(ρ² - C²), of the sign of B at design trim, sin α = (B C - A D)/ρ² and
cos α = (A C + B D)/ρ²: the branch on which the chain is built.  D is 0 at the toggle, and beyond it the stage
does not reach.  Over travel the rates follow by differentiating the constraint (primes are d/ds, r_α = e×r,
r_αα = -r⊥):

    arm   α' = 1/D,  α'' = C/D³,
    link  α' = d·p'/D,  α'' = (d·p'' + |p' - r'|² - α'² d·r_αα)/D   with d = p - r, D = d·r_α.

Moments about its axis: a link with the compression f turns its body by -f D/L and holds the body before,
whose point it starts at, with f d·p_α/L.  So a torque T on a body needs f = -T L/D and comes to the body
before as T d·p_α/D = T dα/dα_before: no stage loses work.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from models.linkage.vectors import Array, across, cross, dot, turned

__all__ = ["Body", "Motion", "Stage", "link_forces", "moved", "solve"]

_UP = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True, eq=False)
class Body:
    """A body that turns about a fixed axis; points where they are at design trim, (3, ...), m.

    Attributes:
        at, axis: a point of the axis, and its direction of length 1.
        inlet: the wheel joint of the arm; of others the end of the link that turns them.
        outlet: where the link to the next body begins; the last one has none, and this is not looked at.
    """

    at: Array
    axis: Array
    inlet: Array
    outlet: Array


class Stage(NamedTuple):
    """One body over travel; each (...).

    Attributes:
        cosine, sine: of its angle from design trim.
        rate, bend: first and second derivative of the angle over travel, rad/m and rad/m².
        gain: turn per turn of the body before, dα/dα_before; of the arm the rate.
        thrust: compression of the link per torque that the body resists, 1/m; of the arm 0.
        reserve: |D|/ρ: 1 farthest from the toggle, 0 at it and where the stage does not reach.
        margin: 1 - |C|/ρ, below 0 where the stage does not reach.
        transmission: sine of the angle between the link and the arm that it turns; of the wheel's arm the
            upward share of the motion of its joint.
        length: of the link, m; of the arm 0.
    """

    cosine: Array
    sine: Array
    rate: Array
    bend: Array
    gain: Array
    thrust: Array
    reserve: Array
    margin: Array
    transmission: Array
    length: Array

    @property
    def angle(self) -> Array:
        """Angle from design trim within ±π, rad."""
        return np.arctan2(self.sine, self.cosine)


class Motion(NamedTuple):
    """A point over travel: its place, m, and the first and second derivative of that; (3, ...)."""

    place: Array
    rate: Array
    bend: Array


class _Closed(NamedTuple):
    """Solution of A cos α + B sin α = C."""

    cosine: Array
    sine: Array
    d: Array
    reserve: Array
    margin: Array


def solve(bodies: Sequence[Body], travel: Array) -> tuple[Stage, ...]:
    """The bodies of a chain at wheel travels (...), m; shapes of points and travels broadcast.

    Where a stage does not reach, its ``reserve`` is 0, and its other numbers and those of the stages after it
    mean nothing.
    """
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        stages = [_arm(bodies[0], np.asarray(travel, dtype=np.float64))]
        for before, body in pairwise(bodies):
            stages.append(_linked(before, stages[-1], body))
    return tuple(stages)


def link_forces(stages: Sequence[Stage]) -> tuple[Array, ...]:
    """Compression of each link per torque on the last body that resists a turn of it above 0, 1/m."""
    torque, forces = np.ones_like(stages[-1].rate), []
    for stage in reversed(stages[1:]):
        forces.append(torque * stage.thrust)
        torque = torque * stage.gain
    return tuple(reversed(forces))


def moved(body: Body, stage: Stage, point: Array) -> Motion:
    """A point of a body over travel."""
    arm = turned(point - body.at, body.axis, stage.cosine, stage.sine)
    way = cross(body.axis, arm)
    inward = -across(arm, body.axis)
    return Motion(body.at + arm, stage.rate * way, stage.bend * way + stage.rate**2 * inward)


def _arm(body: Body, s: Array) -> Stage:
    arm = body.inlet - body.at
    way = cross(body.axis, arm)
    a, b = across(arm, body.axis)[2], way[2]
    found = _closed(a, b, a + s, b)
    rate = 1 / found.d
    return Stage(
        found.cosine,
        found.sine,
        rate,
        (a + s) * rate**3,
        rate,
        np.zeros_like(rate),
        found.reserve,
        found.margin,
        np.abs(found.d) / np.sqrt(dot(way, way)),
        np.zeros_like(rate),
    )


def _linked(before: Body, stage: Stage, body: Body) -> Stage:
    p = moved(before, stage, before.outlet)
    arm = body.inlet - body.at
    radial, way = across(arm, body.axis), cross(body.axis, arm)
    link = body.inlet - before.outlet
    squared, radius = dot(link, link), dot(radial, radial)
    c = p.place - body.at - (arm - radial)
    found = _closed(dot(c, radial), dot(c, way), (dot(c, c) + radius - squared) / 2, -dot(link, way))
    d = p.place - body.at - turned(arm, body.axis, found.cosine, found.sine)
    radial_now = across(p.place - body.at - d, body.axis)
    way_now = cross(body.axis, radial_now)
    gain = dot(d, cross(before.axis, p.place - before.at)) / found.d
    rate = gain * stage.rate
    apart = p.rate - rate * way_now
    bend = (dot(d, p.bend) + dot(apart, apart) + rate**2 * dot(d, radial_now)) / found.d
    length = np.sqrt(squared)
    return Stage(
        found.cosine,
        found.sine,
        rate,
        bend,
        gain,
        -length / found.d,
        found.reserve,
        found.margin,
        np.abs(found.d) / (length * np.sqrt(radius)),
        length,
    )


def _closed(a: Array, b: Array, c: Array, branch: Array) -> _Closed:
    """Angle on the branch whose D is of the sign of ``branch``."""
    squared = a**2 + b**2
    left = squared - c**2
    d = np.copysign(np.sqrt(np.maximum(left, 0.0)), branch)
    rho = np.sqrt(squared)
    return _Closed(
        (a * c + b * d) / squared,
        (b * c - a * d) / squared,
        d,
        np.nan_to_num(np.abs(d) / rho),
        np.nan_to_num(1 - np.abs(c) / rho, nan=-1.0),
    )
