"""The numbers of a chart as CSV, in the units in which it is drawn."""

from __future__ import annotations

import csv
import io
from itertools import zip_longest

from models.charts.chart import Array, Axis, Chart
from models.charts.span_rows import span_rows
from models.plain_cells import plain_cell, plain_comment
from models.units import UnitChoice

__all__ = ["table_text"]


def table_text(chart: Chart, units: UnitChoice, heading: str = "") -> str:
    """Comment lines with ``#``, a row of names with units, then the numbers with nine digits.

    Curves on the same points share a column of x; a curve on points of its own brings its own column.
    """
    columns: list[list[str]] = []
    points: Array | None = None
    for curve in sorted(chart.curves, key=lambda curve: curve.role != "candidate"):
        if points is None or not _same(points, curve.x):
            points = curve.x
            columns.append(_column(chart.x.label, chart.x, points, units))
        columns.append(_column(f"{chart.y.label}, {curve.name}", chart.y, curve.y, units))
    text = io.StringIO()
    names = *_name_lines(chart.x), *_name_lines(chart.y)
    for comment in (*heading.splitlines(), chart.title, *names, *_span_lines(chart, units)):
        text.write(f"{plain_comment(comment)}\n")
    csv.writer(text, lineterminator="\n").writerows(zip_longest(*columns, fillvalue=""))
    return text.getvalue()


def _name_lines(axis: Axis) -> list[str]:
    """What stands where: "Load case: 1 as designed, 2 full boot"."""
    names = ", ".join(f"{number} {' '.join(name.split())}" for number, name in enumerate(axis.names, 1))
    return [f"{axis.label}: {names}"] if names else []


def _span_lines(chart: Chart, units: UnitChoice) -> list[str]:
    """One line per label and variant: "front bump stops, Soft rear: 0.412 to 0.455, 0.61 to 0.63 s"."""
    scale, unit = chart.x.display(units)
    names = {curve.role: curve.variant for curve in chart.curves}
    lines = []
    for row in span_rows(chart.spans):
        for role in dict.fromkeys(role for role, _, _ in row.spans):
            times = ", ".join(
                f"{start / scale:.6g} to {end / scale:.6g}" for own, start, end in row.spans if own == role
            )
            lines.append(f"{row.label}, {' '.join(names.get(role, role).split())}: {times} {unit}")
    return lines


def _same(first: Array, second: Array) -> bool:
    return first is second or (first.shape == second.shape and bool((first == second).all()))


def _column(label: str, axis: Axis, values: Array, units: UnitChoice) -> list[str]:
    scale, _ = axis.display(units)
    unit = "" if axis.names else f"({axis.unit_and_sign(units)})"
    name = plain_cell(" ".join(f"{label} {unit}".split()))
    return [name, *(f"{value:.9g}" for value in (values / scale).tolist())]
