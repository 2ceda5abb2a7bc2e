"""Force laws on a uniform grid, so that a look-up costs one multiplication and no search.

Between the grid points a law is a straight line, beyond them it goes on with the slope of its end.
Value, slope and stored energy are those of this broken line exactly; how far the line is from the law
that was asked for is stated by :func:`resample`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError

__all__ = ["LawTable", "linear_law", "resample", "two_slope_law"]

Array = NDArray[np.float64]

#: Points looked at in each cell of the grid when the error of resampling is sought.
CHECKS_PER_CELL = 16


@dataclass(frozen=True, eq=False)
class LawTable:
    """Force over deflection (or over its rate): broken line through equally spaced points.

    Attributes:
        x0: place of the first point; m, rad, m/s or rad/s.
        dx: distance of two points, above zero.
        values: (n,) force at the points, n at least 2; N or N·m.
        endless: the end slopes are the law itself, so that it holds outside the grid as well.

    Raises:
        InputError: fewer than two points, no positive distance, or a number that is not finite.
    """

    x0: float
    dx: float
    values: Array
    endless: bool = False

    def __post_init__(self) -> None:
        if self.values.ndim != 1 or len(self.values) < 2:
            raise InputError.of("law", self.values.shape, "a law needs two points or more in one row")
        if not (np.isfinite(self.x0) and np.isfinite(self.dx) and self.dx > 0):
            raise InputError.of(
                "law", (self.x0, self.dx), "the points of a law need a finite distance above 0"
            )
        if not np.isfinite(self.values).all():
            raise InputError.of("law", "not finite", "every force of a law must be a finite number")

    @property
    def low(self) -> float:
        """Place of the first point; below it the law is extrapolated."""
        return self.x0

    @property
    def high(self) -> float:
        """Place of the last point; above it the law is extrapolated."""
        return self.x0 + self.dx * (len(self.values) - 1)

    def left_by(self, x: Array) -> bool:
        """Whether any of ``x`` lies where the law was extrapolated."""
        return not self.endless and bool(x.min() < self.low or x.max() > self.high)

    @cached_property
    def node_energy(self) -> Array:
        """(n,) energy stored at the points, counted from the place 0; J (or W for a damper)."""
        grown = np.concatenate([[0.0], np.cumsum(self.dx * (self.values[1:] + self.values[:-1]) / 2)])
        energy: Array = grown - self._energy_above(np.zeros(()), grown)
        return energy

    def value(self, x: Array | float) -> Array:
        """Force at ``x``; same shape."""
        cell, part = self._cell(x)
        return self.values[cell] + part * (self.values[cell + 1] - self.values[cell])

    def slope(self, x: Array | float) -> Array:
        """Rate of the law at ``x``; at a point that of the cell above it."""
        cell, _ = self._cell(x)
        return (self.values[cell + 1] - self.values[cell]) / self.dx

    def energy(self, x: Array | float) -> Array:
        """Integral of the force from 0 to ``x``, exact for the broken line."""
        return self._energy_above(np.asarray(x, dtype=np.float64), self.node_energy)

    def _energy_above(self, x: Array, nodes: Array) -> Array:
        cell, part = self._cell(x)
        low, rise = self.values[cell], self.values[cell + 1] - self.values[cell]
        energy: Array = nodes[cell] + self.dx * part * (low + part * rise / 2)
        return energy

    def _cell(self, x: Array | float) -> tuple[NDArray[np.intp], Array]:
        """Cell of each place and the place within it, 0 to 1 inside the grid."""
        u = (np.asarray(x, dtype=np.float64) - self.x0) / self.dx
        cell = np.clip(np.floor(u), 0, len(self.values) - 2).astype(np.intp)
        return cell, u - cell


def linear_law(rate: float, preload: float = 0.0) -> LawTable:
    """F = preload + rate x, exact everywhere."""
    return two_slope_law(rate, rate, preload)


@lru_cache(maxsize=256)  # most laws of a car stay as they are while one is edited
def two_slope_law(below: float, above: float, preload: float = 0.0) -> LawTable:
    """F = preload + below x for x < 0 and preload + above x for x > 0, exact everywhere."""
    values = preload + np.array([-below, 0.0, above])
    values.flags.writeable = False
    return LawTable(x0=-1.0, dx=1.0, values=values, endless=True)


def resample(
    law: Callable[[Array], Array] | tuple[Array, Array], low: float, high: float, count: int
) -> tuple[LawTable, float]:
    """Law on ``count`` equally spaced points from ``low`` to ``high``, and the error that this makes.

    A kink of the law is kept exactly if it falls on a grid point; otherwise it is cut across one cell.

    Args:
        law: function of an array of places, or measured points (x ascending, force) between which the
            law is straight and beyond which it goes on with its end slopes.
        low, high: range of the grid.
        count: number of points, 2 or more.

    Returns:
        The table and its largest deviation from the law in the range, relative to the span of the force
        there (0 for a constant law).  It is found at 16 places in each cell and, for measured points, at
        each of them, where the deviation of two broken lines is largest.

    Raises:
        InputError: the range is empty, there are too few points, or a force is not finite.
    """
    if not low < high or count < 2:
        raise InputError.of("law", (low, high, count), "a law needs a range above 0 and two points or more")
    checks = np.linspace(low, high, CHECKS_PER_CELL * (count - 1) + 1, dtype=np.float64)
    if callable(law):
        function = law
    else:
        x, force = (np.asarray(part, dtype=np.float64) for part in law)
        function = _broken_line(x, force)
        checks = np.concatenate([checks, x[(x > low) & (x < high)]])
    dx = (high - low) / (count - 1)
    table = LawTable(x0=low, dx=dx, values=function(low + dx * np.arange(count, dtype=np.float64)))
    exact = function(checks)
    deviation, span = np.abs(table.value(checks) - exact).max(), np.ptp(exact)
    if not np.isfinite(deviation):
        raise InputError.of("law", "not finite", "every force of a law must be a finite number")
    return table, float(deviation / span) if span > 0 else 0.0


def _broken_line(x: Array, force: Array) -> Callable[[Array], Array]:
    if x.ndim != 1 or x.shape != force.shape or len(x) < 2 or not (np.diff(x) > 0).all():
        raise InputError.of("law", x.shape, "measured points need ascending places and a force for each")

    def line(at: Array) -> Array:
        cell = np.clip(np.searchsorted(x, at, side="right") - 1, 0, len(x) - 2)
        slope = (force[cell + 1] - force[cell]) / (x[cell + 1] - x[cell])
        return force[cell] + slope * (at - x[cell])

    return line
