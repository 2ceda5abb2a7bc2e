"""What the scorecard says of a figure, in the user's units, on screen and as text."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Sequence
from math import isfinite, isnan

from models.judge.scorecard import Cell, Row, Scorecard, scope_words
from models.plain_cells import plain_cell
from models.target import target_text
from models.units import KINDS, UnitChoice, factor, format_value

__all__ = [
    "change_cell",
    "change_words",
    "label_of",
    "margin_words",
    "table_rows",
    "table_text",
    "target_words",
    "value_words",
    "verdict_words",
]

_EVEN = 0.0005


def label_of(row: Row, units: UnitChoice) -> str:
    """Name of the figure, with the situation of a target that has its own."""
    scope = "" if row.target is None else scope_words(row.target, units)
    return f"{row.figure.label} · {scope}" if scope else row.figure.label


def target_words(row: Row, units: UnitChoice) -> str:
    """Limits without the unit; empty without a target."""
    return "" if row.target is None else target_text(row.target, units)


def value_words(row: Row, cell: Cell, units: UnitChoice) -> str:
    """Value without the unit; a dash where there is none."""
    kind = row.figure.kind
    return format_value(cell.value, units[kind], KINDS[kind].si).replace("-", "−")


def margin_words(row: Row, cell: Cell, units: UnitChoice) -> str:
    """Distance to the nearest limit with unit and per cent: "+0.12 deg (24 %)"; below 0 outside."""
    verdict = cell.verdict
    if verdict is None or not isfinite(verdict.margin):
        return ""
    share = "" if isnan(verdict.share) else f" ({verdict.share:.0%})".replace("%", " %")
    return _step(row, verdict.margin, units) + share.replace("-", "−")


def verdict_words(cell: Cell) -> str:
    """ "pass", "miss", or nothing without a target."""
    if cell.verdict is None:
        return ""
    return "pass" if cell.verdict.passed else "miss"


def change_words(row: Row, cell: Cell, units: UnitChoice) -> str:
    """Change against the baseline with unit: "−0.12 deg (−24 %)", "=" for none."""
    return _change(cell, lambda: _step(row, cell.change, units))


def change_cell(row: Row, cell: Cell, units: UnitChoice) -> str:
    """The same for a cell of a table that names the unit elsewhere: "−0.12 (−24 %)"."""
    return _change(cell, lambda: _step(row, cell.change, units, with_unit=False))


def _change(cell: Cell, step: Callable[[], str]) -> str:
    if not isfinite(cell.change):
        return ""
    if cell.change == 0 or abs(cell.change_share) < _EVEN:
        return "="
    share = "" if isnan(cell.change_share) else f" ({cell.change_share:+.0%})".replace("%", " %")
    return step() + share.replace("-", "−")


def table_rows(card: Scorecard, rows: Iterable[Row], units: UnitChoice) -> list[list[str]]:
    """Head and rows, with value, margin, verdict and change of each variant in columns of their own.

    Numbers are in the units of display with nine digits; what is not there is empty.
    """
    head = ["Group", "Figure", "Unit", "At least", "At most"]
    for place, name in enumerate(card.variants):
        named = f"{name} (baseline)" if place == card.baseline else name
        head += [named, f"{named}, margin", f"{named}, verdict", f"{named}, change", f"{named}, change %"]
    return [head, *(_fields(row, units) for row in rows)]


def table_text(rows: Iterable[Sequence[str]]) -> str:
    """Rows as CSV."""
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows(map(plain_cell, row) for row in rows)
    return text.getvalue()


def _fields(row: Row, units: UnitChoice) -> list[str]:
    unit = units[row.figure.kind]
    low, high = (None, None) if row.target is None else (row.target.low, row.target.high)
    fields = [
        row.figure.group,
        label_of(row, units),
        "" if unit == "1" else unit,
        *(_plain(row, v, units) for v in (low, high)),
    ]
    for cell in row.cells:
        margin = None if cell.verdict is None else cell.verdict.margin
        share = f"{100 * cell.change_share:.9g}" if isfinite(cell.change_share) else ""
        fields += [
            _plain(row, cell.value, units),
            _plain(row, margin, units),
            verdict_words(cell),
            _plain(row, cell.change, units),
            share,
        ]
    return fields


def _plain(row: Row, value: float | None, units: UnitChoice) -> str:
    if value is None or not isfinite(value):
        return ""
    kind = row.figure.kind
    return f"{value / factor(units[kind], KINDS[kind].si):.9g}"


def _step(row: Row, step: float, units: UnitChoice, with_unit: bool = True) -> str:
    unit, si = units[row.figure.kind], KINDS[row.figure.kind].si
    sign = "+" if step >= 0 else "−"
    shown = f"{sign}{format_value(abs(step), unit, si, 2)}"
    return f"{shown} {unit}" if with_unit and unit != "1" else shown
