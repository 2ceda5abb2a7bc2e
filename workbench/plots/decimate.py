"""Fewer points for the same picture."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

__all__ = ["decimated"]

Array = NDArray[np.float64]

# Least points per column that are worth thinning out.
_DENSE = 4


def decimated(x: Array, y: Array, low: float, high: float, columns: int) -> tuple[Array, Array]:
    """The part of a curve between ``low`` and ``high``, thinned to its extremes per column.

    Args:
        x, y: (N,) with x ascending.
        low, high: visible range of x.
        columns: how many parts of equal count of points the visible range has.

    Returns:
        x and y of the points to draw, samples of the curve in their order: first and last visible one
        (and one beyond at each end), and the least and greatest of each column.
    """
    first = max(int(np.searchsorted(x, low)) - 1, 0)
    last = min(int(np.searchsorted(x, high, side="right")) + 1, len(x))
    count = last - first
    group = count // max(columns, 1)
    if group < _DENSE:
        return x, y
    whole = count // group * group
    columns_y = y[first : first + whole].reshape(-1, group)
    starts = np.arange(first, first + whole, group)
    picked = np.sort(np.stack([columns_y.argmin(axis=1), columns_y.argmax(axis=1)], axis=1), axis=1)
    inner = (starts[:, None] + picked).ravel()
    rest = np.arange(first + whole, last)
    index = np.concatenate([[first], inner, rest, [last - 1]])
    index = index[np.diff(index, prepend=-1) > 0]
    return x[index], y[index]
