"""Cells of the table of load cases as text."""

from __future__ import annotations

import math

from models.judge.statics import LoadCaseRow, attitude_words
from models.units import KINDS, UnitChoice, factor

__all__ = ["COLUMNS", "LAST", "cells", "remarks"]

#: Heading, kind of quantity and tooltip of each column.
COLUMNS: tuple[tuple[str, str, str], ...] = (
    ("Load case", "", "A click makes it the load case that the car carries."),
    ("FL", "force", "Vertical tyre force front left at rest"),
    ("FR", "force", "Vertical tyre force front right at rest"),
    ("RL", "force", "Vertical tyre force rear left at rest"),
    ("RR", "force", "Vertical tyre force rear right at rest"),
    ("Trim\nF", "travel", "Body height over the front axle against design trim; down below 0"),
    ("Trim\nR", "travel", "Body height over the rear axle against design trim; down below 0"),
    ("Nose", "angle", "Pitch of the body against design trim: nose up or down"),
    ("Low side", "angle", "Roll of the body against design trim: the side that is low"),
    ("Jounce\nF", "travel", "Front wheel travel left to the bump stop; below 0 it is pressed"),
    ("Jounce\nR", "travel", "Rear wheel travel left to the bump stop; below 0 it is pressed"),
    ("Stands", "", "Whether the car stands, and what is out of the ordinary"),
)
LAST = len(COLUMNS) - 1


def cells(row: LoadCaseRow, units: UnitChoice) -> tuple[str, ...]:
    """Text of each column."""
    numbers = {"force": 0, "travel": 0 if units["travel"] == "mm" else 2}

    def text(values: tuple[float, ...], kind: str) -> list[str]:
        return [_number(value, units, kind, numbers[kind]) for value in values]

    return (
        row.name,
        *text(row.tyre_force, "force"),
        *text(row.trim, "travel"),
        *attitude_words(row.roll, row.pitch, units),
        *text(row.jounce_left, "travel"),
        _stands(row),
    )


def remarks(row: LoadCaseRow) -> str:
    """Reason or warnings in full, as a sentence; empty where there is nothing to say."""
    if row.reason:
        return f"The car does not stand: {row.reason}."
    text = "; ".join(row.warnings)
    return f"{text[0].upper()}{text[1:]}." if text else ""


def _stands(row: LoadCaseRow) -> str:
    if row.reason:
        return f"no: {row.reason}"
    return f"yes, but {'; '.join(row.warnings)}" if row.warnings else "yes"


def _number(value: float, units: UnitChoice, kind: str, places: int) -> str:
    if not math.isfinite(value):
        return "–"
    shown = value / factor(units[kind], KINDS[kind].si)
    text = f"{shown:.{places}f}"
    return (text.removeprefix("-") if float(text) == 0 else text).replace("-", "−")
