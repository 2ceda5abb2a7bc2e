"""Round limits of axes, the same on screen and on paper.

Everything here is in axis coordinates: units of display, or their decimal logarithm on a log axis.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Literal

from models.charts.chart import Axis, Chart
from models.units import UnitChoice

__all__ = ["Limits", "extent", "grown", "y_limits"]

Limits = tuple[float, float]

# A log axis shows this many decades below the highest curve; notches go deeper.
_DECADES = {"value": 3.0, "power": 7.0, "gain": 3.0, "psd": 5.0}

# A curve that spans less than this (SI) is at rest, and its wiggles are rounding.
_AT_REST = {"force": 1e-2}
_AT_REST_ELSE = 1e-6

# Room beside points and bars at the ends of x, as a share of their extent.
_AIR = 0.02


def extent(chart: Chart, which: Literal["x", "y"], units: UnitChoice) -> Limits:
    """Least and greatest value of all curves; around a single value of x a unit or a decade."""
    axis = chart.x if which == "x" else chart.y
    low, high = (_coordinate(end, axis, units) for end in chart.extent(which))
    if which == "y" or axis.names:
        return low, high
    if low == high:
        return (0.0, 1.0) if chart.y.names and low == 0 else (low - 0.5, high + 0.5)
    air = _AIR * (high - low) if _needs_air(chart) else 0.0
    # Bars stand on 0.
    return low - air * (low != 0 or not chart.y.names), high + air * (high != 0 or not chart.y.names)


def _needs_air(chart: Chart) -> bool:
    """Whether points or ends of bars would be cut in half at the ends of x."""
    return bool(chart.y.names) or any(curve.form == "points" for curve in chart.curves)


def y_limits(axis: Axis, low: float, high: float, units: UnitChoice) -> Limits:
    """Round limits around values from ``low`` to ``high``; names are held just so."""
    if axis.names:
        return low, high
    if axis.log:
        bottom = _round_decade(max(low, high - _DECADES[axis.form]), math.floor)
        top = _round_decade(high, math.ceil)
        # A level curve on a round number: half of it and twice of it around.
        return (bottom, top) if top > bottom else (bottom - math.log10(2), top + math.log10(2))
    at_rest = _AT_REST.get(axis.kind, _AT_REST_ELSE) / axis.display(units)[0]
    if high - low < at_rest:
        centre = 0.0 if abs(low) < at_rest else low
        return centre - 1.0, centre + 1.0
    step = _nice_step((high - low) / 8)
    return math.floor(low / step) * step, math.ceil(high / step) * step


def grown(present: Limits, wanted: Limits, low: float, high: float) -> Limits:
    """``present``, moved to ``wanted`` at an end that the values from ``low`` to ``high`` leave."""
    return (
        min(present[0], wanted[0]) if low < present[0] else present[0],
        max(present[1], wanted[1]) if high > present[1] else present[1],
    )


def _coordinate(value: float, axis: Axis, units: UnitChoice) -> float:
    shown = value / axis.display(units)[0]
    return math.log10(shown) if axis.log else shown


def _nice_step(step: float) -> float:
    power = 10.0 ** math.floor(math.log10(step))
    return next(nice * power for nice in (1, 2, 5, 10) if nice * power >= step * (1 - 1e-9))


def _round_decade(exponent: float, towards: Callable[[float], int]) -> float:
    """The next 1, 2 or 5 times a power of ten, downwards (floor) or upwards (ceil)."""
    decade = math.floor(exponent)
    stops = [decade + math.log10(nice) for nice in (1, 2, 5, 10)]
    if towards is math.floor:
        return max(stop for stop in stops if stop <= exponent + 1e-9)
    return min(stop for stop in stops if stop >= exponent - 1e-9)
