"""What turns a bar as a wheel is lifted, how far over wheel travel, and how that changes.

A chain of rockers and links turns it by its travel table (:mod:`models.linkage`).  Without one it is a lever
in a plane.  Of length r and at φ0 above the horizontal at design trim it has its end r sin φ0 above its
pivot; lifted by s it stands at φ with r sin φ = r sin φ0 + s.  With the lever ratio β = 1/(r cos φ0) the bar
end turns by

    g(s) = asin(sin φ0 + s β cos φ0) - φ0,   g'(0) = β,   g''(0) = β² tan φ0,

so that a bar of rate k under the torque T gives the wheel rate
k β² + T β² tan φ0 = (k + T tan φ0)/(r² cos²φ0).

Near the vertical (toggle) no lift turns the lever: from 80 deg on g goes on straight.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.linkage import Chain, TravelTable, Turn, travel_table
from models.linkage.travel import turn_from

__all__ = ["STEEPEST", "AnyLever", "ChainLever", "ChainTables", "Lever", "Turn", "lever", "turned"]

Array = NDArray[np.float64]

#: Angle from the horizontal beyond which a lever is taken to go on straight, rad.
STEEPEST = radians(80.0)


@dataclass(frozen=True, slots=True)
class Lever:
    """Lever by which a wheel turns an element.

    Attributes:
        wheel: 0 to 3 for FL, FR, RL, RR.
        ratio: turn of the element per wheel travel at design trim, rad/m, not 0; below 0 where jounce
            unwinds it.
        angle: of the lever above the horizontal at design trim, rad, within ±STEEPEST.
    """

    wheel: int
    ratio: float
    angle: float

    @property
    def reach(self) -> tuple[float, float]:
        """Wheel travels at which the lever stands at -STEEPEST and at STEEPEST, m."""
        rise = abs(self.ratio) * cos(self.angle)
        return (-sin(STEEPEST) - sin(self.angle)) / rise, (sin(STEEPEST) - sin(self.angle)) / rise

    def turn(self, travel: ArrayLike) -> Turn:
        """Turn of the element over wheel travel, m; same shape."""
        return turned(self.ratio, self.angle, travel)


@dataclass(frozen=True, slots=True)
class ChainLever:
    """Chain of rockers and links by which a wheel turns an element.

    Attributes:
        wheel: 0 to 3 for FL, FR, RL, RR.
        table: the chain over its travel; left and right are mirror images and share it.
        sign: 1, or -1 where jounce unwinds the element.
    """

    wheel: int
    table: TravelTable
    sign: float = 1.0

    @property
    def ratio(self) -> float:
        """Turn of the element per wheel travel at design trim, rad/m."""
        return self.sign * self.table.at_trim[1]

    @property
    def reach(self) -> tuple[float, float]:
        """Wheel travels between which the chain is solved, m."""
        return float(self.table.travel[0]), float(self.table.travel[-1])

    def turn(self, travel: ArrayLike) -> Turn:
        """Turn of the element over wheel travel, m; same shape."""
        angle, ratio, slope = self.table.turn(travel)
        return Turn(self.sign * angle, self.sign * ratio, self.sign * slope)


AnyLever = Lever | ChainLever


def lever(wheel: int, ratio: float, angle: float, chain: Chain | None = None, sign: float = 1.0) -> AnyLever:
    """What turns an element: the chain where there is one, else a lever of this ratio and angle.

    Args:
        wheel: 0 to 3 for FL, FR, RL, RR.
        ratio, angle: of the lever at design trim, rad/m and rad.
        chain: takes the place of the lever.
        sign: 1, or -1 where jounce unwinds the element.
    """
    if chain is None:
        return Lever(wheel, sign * ratio, angle)
    return ChainLever(wheel, travel_table(chain), sign)


class ChainTables:
    """Several chains in one array, looked up together."""

    def __init__(self, levers: Sequence[ChainLever]) -> None:
        tables = [one.table for one in levers]
        cells = np.array([len(table.travel) - 1 for table in tables])
        self._last = cells - 1
        self._first = np.concatenate([[0], np.cumsum(cells)[:-1]])
        self._low = np.array([table.travel[0] for table in tables])
        self._step = np.array([table.step for table in tables])
        self._sign = np.array([one.sign for one in levers])
        self._quintics = np.concatenate([table.quintics for table in tables], axis=1)

    def turn(self, travel: Array) -> Turn:
        """Turn of each element at the travel (chains,) of its wheel, m."""
        u = (travel - self._low) / self._step
        on_grid = np.minimum(np.maximum(u, 0.0), self._last + 1.0)
        cell = np.minimum(on_grid.astype(np.intp), self._last)
        c = self._sign * self._quintics[:, self._first + cell]
        return turn_from(c, on_grid - cell, u - on_grid, self._step)


def turned(ratio: ArrayLike, angle: ArrayLike, travel: ArrayLike) -> Turn:
    """Turn by levers of these ratios and angles over wheel travel, m; shapes broadcast."""
    beta, start, s = (np.asarray(part, dtype=np.float64) for part in (ratio, angle, travel))
    rise, sense, steepest = np.abs(beta) * np.cos(start), np.sign(beta), np.sin(STEEPEST)
    height = np.sin(start) + rise * s
    inside = np.maximum(np.minimum(height, steepest), -steepest)
    per_height = 1 / np.sqrt(1 - inside**2)
    turn = np.arcsin(inside) - start + per_height * (height - inside)
    slope = np.where(height == inside, inside * per_height**3, 0.0)
    return Turn(sense * turn, sense * rise * per_height, sense * rise**2 * slope)
