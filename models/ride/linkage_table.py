"""How far an element is moved by a wheel (or a seat) through a linkage: g(s) and its slope."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError

__all__ = ["LinkageTable"]

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class LinkageTable:
    """Element deflection g over travel s on a uniform grid, with the motion ratio g' at the points.

    Between the points g is the cubic that meets g and g' at both ends (Hermite), and the motion ratio in
    use is the slope of this cubic: force and deflection are then in exact balance of work.  Beyond the
    grid g goes on with its end slope.

    Attributes:
        x0, dx: place of the first point and distance of two, m (or rad for a turning coordinate).
        deflections: (n,) g at the points, m or rad, n at least 2.
        ratios: (n,) g' at the points.

    Raises:
        InputError: fewer than two points, unequal lengths, or a number that is not finite.
    """

    x0: float
    dx: float
    deflections: Array
    ratios: Array

    def __post_init__(self) -> None:
        shape = self.deflections.shape
        if len(shape) != 1 or shape[0] < 2 or self.ratios.shape != shape:
            raise InputError.of(
                "linkage", shape, "a linkage needs a deflection and a ratio at two points or more"
            )
        if not (np.isfinite(self.x0) and np.isfinite(self.dx) and self.dx > 0):
            raise InputError.of("linkage", (self.x0, self.dx), "its points need a finite distance above 0")
        if not (np.isfinite(self.deflections).all() and np.isfinite(self.ratios).all()):
            raise InputError.of("linkage", "not finite", "every deflection and ratio must be a finite number")

    def left_by(self, s: Array) -> bool:
        """Whether any of ``s`` lies where the linkage was extrapolated."""
        high = self.x0 + self.dx * (len(self.deflections) - 1)
        return bool(s.min() < self.x0 or s.max() > high)

    @cached_property
    def cubics(self) -> Array:
        """(n-1, 4) coefficients of g over the place in the cell, 0 to 1."""
        g, turn = self.deflections, self.ratios * self.dx
        rise = g[1:] - g[:-1]
        return np.column_stack(
            [g[:-1], turn[:-1], 3 * rise - 2 * turn[:-1] - turn[1:], turn[:-1] + turn[1:] - 2 * rise]
        )

    def deflection(self, s: Array | float) -> Array:
        """g at ``s``; same shape."""
        c, inside, beyond = self._cell(s)
        g: Array = c[0] + inside * (c[1] + inside * (c[2] + inside * c[3])) + beyond * _slope(c, inside)
        return g

    def ratio(self, s: Array | float) -> Array:
        """Motion ratio g' at ``s``; same shape."""
        c, inside, _ = self._cell(s)
        return _slope(c, inside) / self.dx

    def at(self, s: float) -> tuple[float, float]:
        """g and motion ratio at one place, without the cost of arrays."""
        u = (s - self.x0) / self.dx
        cells = len(self.deflections) - 1
        on_grid = min(max(u, 0.0), float(cells))
        cell = min(int(on_grid), cells - 1)
        inside = on_grid - cell
        c0, c1, c2, c3 = self.cubics[cell].tolist()
        slope = c1 + inside * (2 * c2 + inside * 3 * c3)
        return c0 + inside * (c1 + inside * (c2 + inside * c3)) + slope * (u - on_grid), slope / self.dx

    def _cell(self, s: Array | float) -> tuple[Array, Array, Array]:
        """Coefficients (4, ...), place in the cell (0 to 1), and what lies beyond the grid, in cells."""
        u = (np.asarray(s, dtype=np.float64) - self.x0) / self.dx
        cells = len(self.deflections) - 1
        on_grid = np.clip(u, 0, cells)
        cell = np.minimum(on_grid.astype(np.intp), cells - 1)
        return np.moveaxis(self.cubics[cell], -1, 0), on_grid - cell, u - on_grid


def _slope(c: Array, inside: Array) -> Array:
    slope: Array = c[1] + inside * (2 * c[2] + inside * 3 * c[3])
    return slope
