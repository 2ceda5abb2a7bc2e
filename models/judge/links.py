"""Angles of links to their levers over wheel travel: chains of the bars, and end links in steel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot, nan

import numpy as np

from models.assembly import CORNERS
from models.hardware.hardware import Hardware
from models.hardware.stabiliser_bar import StabiliserBar
from models.hardware.stabiliser_beam import stabiliser_beam
from models.judge.envelope import Array, link_angles
from models.linkage import Chain, Drawn, drawn
from models.vehicle import TorsionCoupling, Vehicle

__all__ = ["LinkSwing", "chain_links", "drawn_link_angles", "end_link_angle", "end_links"]

_SAMPLES = 65


@dataclass(frozen=True, slots=True, eq=False)
class LinkSwing:
    """A link and a lever at one of its ends over the whole travel of their wheel.

    Attributes:
        name: of both, in words, without the place.
        place: corner, or axle where left and right are alike.
        travel: (N,) of the wheel, m, as far as a chain is described.
        angle: (N,) between link and lever, 0 in line to π/2 square, rad.
        lean: of the link from the vertical at design trim, rad; NaN where it does not count.
    """

    name: str
    place: str
    travel: Array
    angle: Array
    lean: float = nan


def chain_links(vehicle: Vehicle, ends: tuple[Array, Array]) -> tuple[LinkSwing, ...]:
    """Links of the chains of all bars that are fitted, each at both of its ends.

    Args:
        vehicle: the car.
        ends: (4,) travels in rebound and jounce, m.
    """
    found = []
    for bar, wheel, chain in _chains(vehicle):
        figure = drawn(chain, np.linspace(ends[0][wheel], ends[1][wheel], _SAMPLES))
        for number, (link, angles) in enumerate(zip(figure.links, drawn_link_angles(figure), strict=True)):
            for body, angle in zip(figure.bodies[number : number + 2], angles, strict=True):
                name = f"{bar}, {link.name} at the {body.name}"
                found.append(LinkSwing(name, CORNERS[wheel], figure.travel, angle))
    return tuple(found)


def drawn_link_angles(figure: Drawn) -> Array:
    """(links, 2, N) angle of each link of a chain to the body it comes from and to the one it turns, rad."""
    angles = []
    for link, before, after in zip(figure.links, figure.bodies[:-1], figure.bodies[1:], strict=True):
        for body, joint, end in ((before, link.start, link.end), (after, link.end, link.start)):
            pivot = body.at + ((joint - body.at) @ body.axis)[:, None] * body.axis
            angles.append(link_angles(pivot, joint, end))
    return np.array(angles).reshape(len(figure.links), 2, len(figure.travel))


def end_links(hardware: Hardware, ends: tuple[Array, Array]) -> tuple[LinkSwing, ...]:
    """End links of the stabiliser bars that are described in steel.

    Args:
        hardware: parts in steel of the car.
        ends: (4,) travels in rebound and jounce, m.
    """
    found = []
    for axle, first, bar in (("front", 0, hardware.front_stabiliser), ("rear", 2, hardware.rear_stabiliser)):
        if bar is not None:
            wheels = slice(first, first + 2)
            travel = np.linspace(ends[0][wheels].min(), ends[1][wheels].max(), _SAMPLES)
            found.append(_end_link(axle, bar, travel))
    return tuple(found)


def end_link_angle(bar: StabiliserBar, travel: float) -> float:
    """Angle between the end link of a stabiliser bar and its lever at a wheel travel (m), rad."""
    return float(_end_link("", bar, np.array([travel])).angle[0])


def _end_link(axle: str, bar: StabiliserBar, travel: Array) -> LinkSwing:
    """A lever a that turns about the axis of the bushes, across the car, and a link of length L from it.

    With d from that axis to the far joint, and b across the car between the two joints, the sides of the
    triangle give d·a = (d² + a² + b² - L²) / 2, and link and lever stand at acos |d·a - a²| / (L a).
    """
    beam = stabiliser_beam(bar)
    bush, end = beam.line.nodes[beam.bush_node], beam.line.nodes[-1]
    far = np.array([bar.link.x, bar.link.y, bar.link.z])
    length, lever = float(np.linalg.norm(far - end)), hypot(end[0] - bush[0], end[2] - bush[2])
    lifted = far[2] + bar.link.ratio * travel
    across = (far[0] - bush[0]) ** 2 + (lifted - bush[2]) ** 2
    along = (across + lever**2 + (far[1] - end[1]) ** 2 - length**2) / 2
    angle = np.arccos(np.minimum(np.abs(along - lever**2) / (length * lever), 1.0))
    return LinkSwing("Stabiliser bar, end link", axle, travel, angle, beam.link_lean)


def _chains(vehicle: Vehicle) -> Iterator[tuple[str, int, Chain]]:
    """Chains of the bars that are fitted: name, wheel, chain."""
    ends: list[tuple[str, float, int, Chain | None]] = []
    for left, side in enumerate(vehicle.sides):
        if isinstance(side.coupling, TorsionCoupling):
            rate = side.coupling.bar_rate
            ends.append(("Interconnection bar", rate, left, side.coupling.front_linkage))
            ends.append(("Interconnection bar", rate, left + 2, side.coupling.rear_linkage))
        wheel = left if side.trim.axle == "front" else left + 2
        ends.append(("Trim spring", side.trim.bar_rate, wheel, side.trim.linkage))
    for first, axle in ((0, vehicle.front), (2, vehicle.rear)):
        bar = axle.stabiliser
        ends += [("Stabiliser bar", bar.bar_rate, first + side, bar.linkage) for side in (0, 1)]
    for name, rate, wheel, chain in ends:
        if rate and chain is not None:
            yield name, wheel, chain
