"""Recordings as CSV."""

from __future__ import annotations

import csv
import io

from models.exports.recording import Recording
from models.plain_cells import plain_cell, plain_comment
from models.units import UnitChoice

__all__ = ["csv_bytes"]


def csv_bytes(recording: Recording, units: UnitChoice) -> bytes:
    """UTF-8 text: comment lines with ``#``, heads with units, and numbers that read back to the last bit."""
    about = [f"{name}: {text}" for name, text in recording.about.lines]
    text = io.StringIO()
    for line in (recording.title, *about):
        text.write(f"{plain_comment(line)}\n")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow([plain_cell(column.head(units)) for column in recording.columns])
    columns = (column.shown(units).tolist() for column in recording.columns)
    writer.writerows(zip(*columns, strict=True))  # floats by repr, the shortest text that reads back the same
    return text.getvalue().encode("utf-8")
