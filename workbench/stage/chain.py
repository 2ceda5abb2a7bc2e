"""Rockers and links that turn a bar, seen from the side: the geometry, without a screen."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from models.linkage import Chain, drawn
from workbench.stage.pose import Pose
from workbench.stage.silhouette import Point

__all__ = ["ChainLines", "chain_lines"]

#: Travels between which a chain is drawn by straight lines; joints then stand within 0.1 mm.
_STEPS = 64


@dataclass(frozen=True, slots=True)
class ChainLines:
    """A chain as drawn.

    Attributes:
        bodies: pivot, joint from the wheel and joint towards the bar of each; the last one turns the bar.
        links: ends of the links.
    """

    bodies: tuple[tuple[Point, Point, Point], ...]
    links: tuple[tuple[Point, Point], ...]

    @property
    def bar(self) -> Point:
        """Where the bar is."""
        return self.bodies[-1][0]

    @property
    def lever(self) -> Point:
        """Joint of the lever on the bar."""
        return self.bodies[-1][1]


@dataclass(frozen=True, slots=True, eq=False)
class _Table:
    """(bodies, 3, 2, n) x and z of pivot and joints over travels from ``low`` on, ``step`` apart, m."""

    places: NDArray[np.float64]
    trim: NDArray[np.float64]
    low: float
    step: float

    def at(self, travel: float) -> NDArray[np.float64]:
        """(bodies, 3, 2) at a travel, m; beyond the ends as there."""
        u = min(max((travel - self.low) / self.step, 0.0), float(_STEPS))
        cell = min(int(u), _STEPS - 1)
        share = u - cell
        found: NDArray[np.float64] = (1 - share) * self.places[..., cell] + share * self.places[..., cell + 1]
        return found


def chain_lines(chain: Chain, travel: float, wheel: Point, pose: Pose, exaggeration: float) -> ChainLines:
    """A chain at a wheel travel; the body carries its pivots, its joints move ``exaggeration`` times as far.

    Args:
        chain: of either side.
        travel: of its wheel, m.
        wheel: where the wheel centre is at design trim.
        pose: of the body.
        exaggeration: factor on all displacements.
    """
    table = _table(chain)
    places = table.trim + exaggeration * (table.at(travel) - table.trim)
    bodies = tuple(
        (
            pose.place(wheel.x + pivot[0], wheel.z + pivot[1]),
            pose.place(wheel.x + inlet[0], wheel.z + inlet[1]),
            pose.place(wheel.x + outlet[0], wheel.z + outlet[1]),
        )
        for pivot, inlet, outlet in places.tolist()
    )
    links = tuple((one[2], other[1]) for one, other in pairwise(bodies))
    return ChainLines(bodies, links)


@lru_cache(maxsize=32)
def _table(chain: Chain) -> _Table:
    travels = np.append(np.linspace(-chain.rebound, chain.jounce, _STEPS + 1), 0.0)
    shown = drawn(chain, travels)
    places = np.array(
        [[np.broadcast_to(body.at, body.inlet.shape), body.inlet, body.outlet] for body in shown.bodies]
    )[..., [0, 2]]
    places = np.moveaxis(places, 2, 3)
    step = (chain.rebound + chain.jounce) / _STEPS
    return _Table(places[..., :-1], places[..., -1], -chain.rebound, step)
