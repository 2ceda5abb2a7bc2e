"""Charts to files; the suffix says the format."""

from __future__ import annotations

import os
from pathlib import Path

from models.charts.chart import Chart
from models.charts.table import table_text
from models.errors import InputError
from models.project.write_file import write_file
from models.units import METRIC, UnitChoice

__all__ = ["export"]


def export(chart: Chart, path: str | os.PathLike[str], units: UnitChoice = METRIC, heading: str = "") -> None:
    """Write a chart as figure (PNG, SVG, PDF) or as table (CSV).

    The file appears whole or not at all.

    Args:
        chart: what to write.
        path: where to.
        units: units of display.
        heading: a line on project, variants and run.

    Raises:
        InputError: the suffix is none of the four, or the file cannot be written; what was there before is
            untouched.
    """
    write_file(path, _content(chart, Path(path).suffix.lower(), units, heading))


def _content(chart: Chart, suffix: str, units: UnitChoice, heading: str) -> bytes:
    if suffix == ".csv":
        return table_text(chart, units, heading).encode("utf-8")
    if suffix not in (".png", ".svg", ".pdf"):
        raise InputError.of("file", suffix, f"'{suffix}' is not a format; use .png, .svg, .pdf or .csv")
    from models.charts import figure  # matplotlib takes a second to import: only when a figure is wanted

    form = suffix.removeprefix(".")
    return figure.figure_bytes(chart, form, units, heading)  # type: ignore[arg-type]
