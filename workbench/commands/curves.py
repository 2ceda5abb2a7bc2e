"""Curves over time or frequency as a table, as CSV and as data: what ``time`` and ``spectrum`` share."""

from __future__ import annotations

import argparse
import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.charts import Axis
from models.errors import InputError
from models.units import UnitChoice
from workbench.commands.text import finite, table_lines

__all__ = ["Column", "Curves", "add_curve_options", "chosen_keys", "csv_text", "curves_data", "curves_table"]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """Values of one channel, SI, and what they measure."""

    key: str
    axis: Axis
    values: Array


@dataclass(frozen=True, slots=True, eq=False)
class Curves:
    """What one variant does: channels over one column, of equal length."""

    variant: str
    over: Column
    channels: tuple[Column, ...]


def add_curve_options(command: argparse.ArgumentParser) -> None:
    """The choice of channels and the form of what is printed."""
    command.add_argument(
        "--channel",
        action="append",
        metavar="KEY",
        help="channel, such as pitch or travel_FL, or all; may be given more than once; a name that does not "
        "exist lists those that do",
    )
    command.add_argument("--csv", action="store_true", help="print CSV instead of a table")


def chosen_keys(asked: Sequence[str] | None, usual: Sequence[str], known: Sequence[str]) -> list[str]:
    """Keys that are asked for, each once; the usual ones where none is.

    Raises:
        InputError: there is none of that key; says which there are.
    """
    if "all" in (asked or ()):
        return list(known)
    for key in asked or ():
        if key not in known:
            reason = f"there is no channel '{key}' (there are: all, {', '.join(known)})"
            raise InputError.of("channel", key, reason)
    return list(dict.fromkeys(asked or usual))


def curves_table(found: Sequence[Curves], units: UnitChoice) -> list[str]:
    """Lines of one table for all variants."""
    return table_lines(_rows(found, units, "{:.6g}"), 0)


def csv_text(found: Sequence[Curves], units: UnitChoice, comments: Sequence[str]) -> str:
    """Comment lines with ``#``, heads with units, and numbers with nine digits."""
    text = io.StringIO()
    for comment in comments:
        text.write(f"# {' '.join(comment.split())}\n")
    csv.writer(text, lineterminator="\n").writerows(_rows(found, units, "{:.9g}"))
    return text.getvalue().rstrip("\n")


def curves_data(curves: Curves, units: UnitChoice) -> dict[str, Any]:
    """The same as data."""
    return {
        curves.over.key: _column_data(curves.over, units),
        "channels": {one.key: _column_data(one, units) for one in curves.channels},
    }


def _column_data(column: Column, units: UnitChoice) -> dict[str, Any]:
    scale, unit = column.axis.display(units)
    return {
        "label": column.axis.label,
        "unit": unit,
        "si_per_unit": scale,
        "values": [finite(value) for value in (column.values / scale).tolist()],
    }


def _rows(found: Sequence[Curves], units: UnitChoice, form: str) -> list[list[str]]:
    """A head and rows; variants over the same points share their column."""
    columns: list[list[str]] = []
    over: Array | None = None
    for curves in found:
        if over is None or not np.array_equal(over, curves.over.values):
            over = curves.over.values
            columns.append(_cells(curves.over, curves.over.axis.label, units, form))
        columns += [
            _cells(one, f"{one.axis.label}, {curves.variant}", units, form) for one in curves.channels
        ]
    return [list(row) for row in zip_longest(*columns, fillvalue="")]


def _cells(column: Column, label: str, units: UnitChoice, form: str) -> list[str]:
    scale, unit = column.axis.display(units)
    head = label if unit == "1" else f"{label} ({unit})"
    return [" ".join(head.split()), *map(form.format, (column.values / scale).tolist())]
