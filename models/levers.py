"""A lever on a bar that a wheel lifts: how far the bar turns over wheel travel, and how that changes.

A lever of length r that stands at φ0 above the horizontal at design trim has its end r sin φ0 above its
pivot; lifted by s it stands at φ with r sin φ = r sin φ0 + s.  With the lever ratio β = 1/(r cos φ0) the bar
end turns by

    g(s) = asin(sin φ0 + s β cos φ0) - φ0,   g'(0) = β,   g''(0) = β² tan φ0,

so that a bar of rate k under the torque T gives the wheel rate
k β² + T β² tan φ0 = (k + T tan φ0)/(r² cos²φ0).

Near the vertical (toggle) no lift turns the lever: from 80 deg on g goes on straight.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, cos, radians, sin
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["STEEPEST", "Lever", "Turn", "turned"]

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

    def stands_at(self, travel: float) -> float:
        """Angle above the horizontal, rad; from STEEPEST on that."""
        low, high = self.reach
        rise = abs(self.ratio) * cos(self.angle)
        return asin(sin(self.angle) + rise * min(max(travel, low), high))


class Turn(NamedTuple):
    """Turn g of an element (rad), its ratio g' (rad/m) and the slope g'' of that (rad/m²)."""

    angle: Array
    ratio: Array
    slope: Array


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
