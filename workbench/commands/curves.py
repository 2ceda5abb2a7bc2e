"""Curves over time or frequency as a table, as CSV and as data: what ``time`` and ``spectrum`` share."""

from __future__ import annotations

import argparse
import csv
import io
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.cautions import CAUTIONS
from models.errors import InputError
from models.exports import Column
from models.plain_cells import plain_cell, plain_comment
from models.units import UnitChoice
from workbench.commands.command import Answer
from workbench.commands.driven import Driven, add_run_options, driven, run_head
from workbench.commands.text import finite, table_lines

__all__ = ["CurveKind", "Curves", "add_curve_options", "curves_answer"]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Curves:
    """What one variant does: channels over one column, of equal length."""

    variant: str
    over: Column
    channels: tuple[Column, ...]


@dataclass(frozen=True, slots=True)
class CurveKind:
    """What a command prints curves of.

    Attributes:
        usual, known: keys of the channels printed by default, and of all.
        curves: of a variant.
        more_lines: table before the curves, of keys.
        more_data: of a variant, beside its curves.
    """

    usual: tuple[str, ...]
    known: tuple[str, ...]
    curves: Callable[[str, Analysis, Sequence[str], argparse.Namespace], Curves]
    more_lines: Callable[[Driven, Sequence[str]], list[str]]
    more_data: Callable[[Analysis, Sequence[str], UnitChoice], Mapping[str, Any]]


def add_curve_options(command: argparse.ArgumentParser) -> None:
    """What is driven, the choice of channels and the form of what is printed."""
    add_run_options(command)
    command.add_argument(
        "--channel",
        action="append",
        metavar="KEY",
        help="channel, such as pitch or travel_FL, or all; may be given more than once; a name that does not "
        "exist lists those that do",
    )
    command.add_argument("--csv", action="store_true", help="print CSV instead of a table")


def curves_answer(kind: CurveKind, options: argparse.Namespace) -> Answer:
    """Drive what is asked for, and print its curves.

    Raises:
        InputError: file, variant, load case, channel, value or form are refused.
    """
    if options.csv and options.json:
        raise InputError.of("csv", "json", "--csv and --json exclude each other")
    keys = _chosen_keys(options.channel, kind)
    found = driven(options)
    pairs = list(zip(found.variants, found.analyses, strict=True))
    curves = [kind.curves(variant.name, analysis, keys, options) for variant, analysis in pairs]
    if options.json:
        variants = {
            variant.name: {
                "does_not_stand": analysis.stand.reason or None,
                **_curves_data(own, found.units),
                **kind.more_data(analysis, keys, found.units),
            }
            for (variant, analysis), own in zip(pairs, curves, strict=True)
        }
        return Answer({**run_head(found.project), "variants": variants, "cautions": list(CAUTIONS)})
    cautions = "Cautions: " + " ".join(CAUTIONS)
    if options.csv:
        return Answer(_csv_text(curves, found.units, [*found.lines, cautions]))
    table = table_lines(_rows(curves, found.units, "{:.6g}"), 0)
    return Answer("\n".join([*found.lines, "", *kind.more_lines(found, keys), *table, "", cautions]))


def _chosen_keys(asked: Sequence[str] | None, kind: CurveKind) -> list[str]:
    """Keys that are asked for, each once; the usual ones where none is."""
    if "all" in (asked or ()):
        return list(kind.known)
    for key in asked or ():
        if key not in kind.known:
            reason = f"there is no channel '{key}' (there are: all, {', '.join(kind.known)})"
            raise InputError.of("channel", key, reason)
    return list(dict.fromkeys(asked or kind.usual))


def _csv_text(found: Sequence[Curves], units: UnitChoice, comments: Sequence[str]) -> str:
    """Comment lines with ``#``, heads with units, and numbers with nine digits."""
    text = io.StringIO()
    for comment in comments:
        text.write(f"{plain_comment(comment)}\n")
    csv.writer(text, lineterminator="\n").writerows(_rows(found, units, "{:.9g}"))
    return text.getvalue().rstrip("\n")


def _curves_data(curves: Curves, units: UnitChoice) -> dict[str, Any]:
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
        "values": [finite(value) for value in column.shown(units).tolist()],
    }


def _rows(found: Sequence[Curves], units: UnitChoice, form: str) -> list[list[str]]:
    """A head and rows; variants over the same points share their column."""
    columns: list[list[str]] = []
    over: Array | None = None
    for curves in found:
        if over is None or not np.array_equal(over, curves.over.values):
            over = curves.over.values
            columns.append(_cells(curves.over, "", units, form))
        columns += [_cells(one, curves.variant, units, form) for one in curves.channels]
    return [list(row) for row in zip_longest(*columns, fillvalue="")]


def _cells(column: Column, variant: str, units: UnitChoice, form: str) -> list[str]:
    return [plain_cell(column.head(units, variant)), *map(form.format, column.shown(units).tolist())]
