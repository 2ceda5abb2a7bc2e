"""Bars as curves: a renderer of lines draws them as boxes on the axis."""

from __future__ import annotations

import numpy as np

from models.charts.chart import Array

__all__ = ["bars", "lying_bars"]


def bars(aside: float, half: float, height: Array) -> tuple[Array, Array]:
    """x and y of boxes from 0 to ``height`` (N,) at 1 + aside, 2 + aside, ..., x ascending.

    Args:
        aside: shift of the middles.
        half: half of the width.
        height: values; NaN for no bar.
    """
    middle = 1.0 + np.arange(len(height)) + aside
    left, right, foot = middle - half, middle + half, np.zeros_like(height)
    x = np.column_stack([left, left, right, right])
    y = np.column_stack([foot, height, height, foot])
    return x.ravel(), y.ravel()


def lying_bars(aside: float, half: float, length: Array) -> tuple[Array, Array]:
    """x and y of boxes from 0 to ``length`` (N,), the first one on top, for names that need room.

    Args:
        aside: shift of the middles, down.
        half: half of the width.
        length: values; NaN for no bar.
    """
    y, x = bars(-aside, half, length[::-1])
    return x, y
