"""Pieces of text and JSON that the commands share."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from models.judge import Figure
from models.units import KINDS, UnitChoice, factor

__all__ = ["figure_entry", "finite", "table_lines"]


def table_lines(rows: Sequence[Sequence[str]], words: int) -> list[str]:
    """Rows of one table below each other, the first one underlined.

    Args:
        rows: cells, the head first.
        words: how many of the first columns stand to the left; the others are numbers.
    """
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    lines = [_aligned(row, widths, words) for row in rows]
    lines.insert(1, "-" * max(map(len, lines)))
    return lines


def _aligned(row: Sequence[str], widths: Sequence[int], words: int) -> str:
    cells = [
        cell.ljust(width) if place < words else cell.rjust(width)
        for place, (cell, width) in enumerate(zip(row, widths, strict=True))
    ]
    return "  ".join(cells).rstrip()


def figure_entry(figure: Figure, units: UnitChoice) -> dict[str, Any]:
    """A figure for JSON, in its unit and in SI."""
    unit, si = units[figure.kind], KINDS[figure.kind].si
    return {
        "label": figure.label,
        "value": finite(figure.value / factor(unit, si)),
        "unit": unit,
        "si_value": finite(figure.value),
        "si_unit": si,
    }


def finite(value: float) -> float | None:
    """JSON has no infinity: a motion centre at infinity is null."""
    return float(value) if math.isfinite(value) else None
