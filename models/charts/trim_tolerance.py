"""Charts of a tolerance stack: how far drawn cars stand off, and which tolerance does it."""

from __future__ import annotations

import numpy as np

from models.charts.bars import bars
from models.charts.chart import Array, Axis, Chart, Curve, Mark, Place
from models.judge.trim_tolerance import OUTPUTS, TrimStack

__all__ = ["stack_effects_chart", "stack_heights_chart", "stack_pitch_chart", "stack_shares_chart"]

_COLUMN = {output.key: number for number, output in enumerate(OUTPUTS)}
_HEIGHTS: tuple[tuple[Place, str], ...] = (("front", "height_front"), ("rear", "height_rear"))
_SHARE = Axis("Share of cars", "share")
_BINS = 30
#: Half of the width of a bar.
_HALF = 0.12


def stack_heights_chart(stack: TrimStack, name: str) -> Chart:
    """How many of the drawn cars stand how far from the nominal height at each axle; the limit is marked."""
    x = Axis("Height error", "travel", sign="up +")
    limit = stack.tolerances.height_limit
    marks = (Mark(-limit, "allowed"), Mark(limit, "allowed"))
    return _histogram(stack, name, "stack-heights", "Height error at trim", x, _HEIGHTS, marks)


def stack_pitch_chart(stack: TrimStack, name: str) -> Chart:
    """How many of the drawn cars stand at which pitch angle from the nominal one."""
    x = Axis("Pitch error", "angle", sign="nose down +")
    return _histogram(stack, name, "stack-pitch", "Pitch error at trim", x, (("body", "pitch"),), ())


def stack_effects_chart(stack: TrimStack, name: str) -> Chart:
    """What each group of tolerances does to the height of front and rear, ±, and all together by chance."""
    y = Axis("Height change ±", "travel")
    curves = []
    for aside, (place, key) in zip((-0.15, 0.15), _HEIGHTS, strict=True):
        column = _COLUMN[key]
        values = np.array([*(row.effect[column] for row in stack.groups), stack.rss[column]])
        curves.append(Curve(name, place, *bars(aside, _HALF, values), place=place))
    x = Axis("Tolerance", "ratio", names=(*(row.label for row in stack.groups), "all, RSS"))
    return Chart("stack-effects", "What tolerances do to the height", x, y, tuple(curves))


def stack_shares_chart(stack: TrimStack, name: str) -> Chart:
    """Share of each group of tolerances in the variance of front height, rear height and pitch."""
    curves = []
    for aside, place, key in ((-0.26, "front", "height_front"), (0.0, "rear", "height_rear")):
        curves.append(_shares(stack, name, aside, "front" if place == "front" else "rear", key, place))
    curves.append(_shares(stack, name, 0.26, "body", "pitch", "pitch"))
    x = Axis("Tolerance", "ratio", names=tuple(row.label for row in stack.groups))
    y = Axis("Share of the variance", "share")
    return Chart("stack-shares", "Which tolerance moves the trim", x, y, tuple(curves))


def _shares(stack: TrimStack, name: str, aside: float, place: Place, key: str, label: str) -> Curve:
    values = np.array([row.share[_COLUMN[key]] for row in stack.groups])
    x, y = bars(aside, 0.8 * _HALF, values)
    return Curve(name, label, x, y, place=place, side="right" if place == "body" else "")


def _histogram(
    stack: TrimStack,
    name: str,
    key: str,
    title: str,
    x: Axis,
    parts: tuple[tuple[Place, str], ...],
    marks: tuple[Mark, ...],
) -> Chart:
    columns = [stack.standing[:, _COLUMN[output]] for _, output in parts]
    edges = _edges(columns)
    curves = []
    for (place, _), values in zip(parts, columns, strict=True):
        share = np.histogram(values, edges)[0] / max(len(stack.draws), 1)
        label = "" if place == "body" else place
        curves.append(Curve(name, label, *_steps(edges, share), place=place))
    return Chart(key, title, x, _SHARE, tuple(curves), marks)


def _edges(columns: list[Array]) -> Array:
    """(bins + 1,) edges that are the same for all columns, symmetric about 0."""
    furthest = max((float(np.abs(values).max(initial=0.0)) for values in columns), default=0.0)
    furthest = furthest or 1.0
    return np.linspace(-furthest, furthest, _BINS + 1)


def _steps(edges: Array, share: Array) -> tuple[Array, Array]:
    """Outline of a histogram, from 0 to 0."""
    return np.repeat(edges, 2), np.concatenate([[0.0], np.repeat(share, 2), [0.0]])
