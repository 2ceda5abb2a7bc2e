"""Angles of levers and drop links of the near side against their limits; without a screen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.hardware import Hardware
from models.judge.envelope import lever_angle
from models.judge.links import drawn_link_angles, end_link_angle
from models.levers import AnyLever, lever
from models.linkage import Chain, drawn
from models.vehicle import TorsionCoupling
from workbench.stage.chain import ChainLines
from workbench.stage.running_gear import Bar
from workbench.stage.scene import Frame
from workbench.stage.silhouette import Point

__all__ = ["AngleMark", "angle_marks"]

#: Travels between which the angles of links are straight lines; right to 0.1 deg where a link is square.
_STEPS = 256


@dataclass(frozen=True, slots=True)
class AngleMark:
    """An angle at a joint; true size, turned into the plane of the drawing as levers are.

    Attributes:
        kind: of a lever, from level, or of a link to its lever.
        apex: bar end of a lever, or joint of a link.
        toward: where a lever points, or the other end of a link.
        beside: on which side of the link its lever is; of a lever its tip.
        angle: rad; of a lever jounce positive.
        limit: of its amount, rad.
    """

    kind: Literal["lever", "link"]
    apex: Point
    toward: Point
    beside: Point
    angle: float
    limit: float

    @property
    def beyond(self) -> bool:
        """Whether the limit is passed."""
        return abs(self.angle) > self.limit if self.kind == "lever" else self.angle < self.limit


@dataclass(frozen=True, slots=True)
class _Turned:
    """What turns a bar: its lever between ``root`` and ``tip``, the travel of its wheel, and its chain."""

    lever: AnyLever
    root: Point
    tip: Point
    travel: float
    chain: tuple[Chain, ChainLines] | None


def angle_marks(analysis: Analysis, frame: Frame, hardware: Hardware | None = None) -> tuple[AngleMark, ...]:
    """Levers and links of the near side at the time of a frame, end links where steel is described."""
    limits = analysis.vehicle.packaging
    marks: list[AngleMark] = []
    for one in _turned(analysis, frame):
        angle = float(lever_angle(one.lever, one.travel))
        marks.append(AngleMark("lever", one.root, one.tip, one.tip, angle, limits.lever_angle_limit))
        if one.chain is not None:
            marks += _link_marks(*one.chain, one.travel, limits.link_angle_limit)
    marks += _end_link_marks(frame, hardware or Hardware(), limits.link_angle_limit)
    return tuple(marks)


def _turned(analysis: Analysis, frame: Frame) -> Iterator[_Turned]:
    """What turns the bars that are drawn."""
    vehicle, near = analysis.vehicle, frame.near
    side = vehicle.sides[1]
    bar, link = side.coupling, frame.link
    if isinstance(bar, TorsionCoupling) and isinstance(link, Bar):
        for wheel, ratio, angle, chain, end in (
            (near.front, bar.front_lever_ratio, bar.front_lever_angle, bar.front_linkage, link.front),
            (near.rear, bar.rear_lever_ratio, bar.rear_lever_angle, bar.rear_linkage, link.rear),
        ):
            pair = (chain, end.chain) if chain is not None and end.chain is not None else None
            yield _Turned(lever(1, ratio, angle, chain), end.root, end.tip, wheel.travel, pair)
    trim = side.trim
    for wheel, axle in ((near.front, vehicle.front), (near.rear, vehicle.rear)):
        lines = iter(wheel.chains)
        chain = axle.stabiliser.linkage
        if axle.stabiliser.bar_rate > 0 and chain is not None:
            yield _chained(chain, next(lines), wheel.travel)
        if wheel.trim and trim.linkage is not None:
            yield _chained(trim.linkage, next(lines), wheel.travel)
        elif wheel.trim:
            plain = lever(1, trim.lever_ratio, trim.lever_angle)
            yield _Turned(plain, wheel.pivot, wheel.centre, wheel.travel, None)


def _chained(chain: Chain, lines: ChainLines, travel: float) -> _Turned:
    return _Turned(lever(1, 0.0, 0.0, chain), lines.bar, lines.lever, travel, (chain, lines))


def _link_marks(chain: Chain, lines: ChainLines, travel: float, limit: float) -> Iterator[AngleMark]:
    """Each link at the end where it is less square."""
    travels, angles = _table(chain)
    for number, (link, ends) in enumerate(zip(lines.links, angles, strict=True)):
        present = [float(np.interp(travel, travels, end)) for end in ends]
        end = int(present[1] < present[0])
        pivot = lines.bodies[number + end][0]
        yield AngleMark("link", link[end], link[1 - end], pivot, present[end], limit)


def _end_link_marks(frame: Frame, hardware: Hardware, limit: float) -> Iterator[AngleMark]:
    """End links of stabiliser bars without a chain, at the wheels to which these are drawn."""
    for wheel, bar in (
        (frame.near.front, hardware.front_stabiliser),
        (frame.near.rear, hardware.rear_stabiliser),
    ):
        if wheel.stabiliser is not None and bar is not None:
            foot, mount = wheel.stabiliser.foot, wheel.stabiliser.mount
            below = Point(foot.x, foot.z - abs(mount.z - foot.z))
            yield AngleMark("link", foot, below, mount, end_link_angle(bar, wheel.travel), limit)


@lru_cache(maxsize=32)
def _table(chain: Chain) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """(n,) travels and (links, 2, n) angles at both ends of the links."""
    figure = drawn(chain, np.linspace(-chain.rebound, chain.jounce, _STEPS + 1))
    return figure.travel, drawn_link_angles(figure)
