"""Figures of a document as SVG."""

from __future__ import annotations

import re

from models.charts.figure import figure_bytes
from models.report.document import ChartFigure
from models.units import UnitChoice

__all__ = ["LARGE", "SMALL", "svg"]

#: Sizes in inches: across the page, and half of it.
LARGE, SMALL = (6.3, 3.1), (3.1, 2.5)

_PROLOGUE = re.compile(r"^.*?(?=<svg)", re.DOTALL)
_DEFINED, _REFERRED = re.compile(r'\bid="([^"]*)"'), re.compile(r'(xlink:href="#|url\(#)([^")]*)')


def svg(figure: ChartFigure, units: UnitChoice, number: int) -> str:
    """SVG element of a figure; its names are its own, so that many can stand in one page.

    Args:
        figure: to be drawn.
        units: of display.
        number: of the figure in the document.
    """
    drawn = figure_bytes(figure.chart, "svg", units, size=SMALL if figure.small else LARGE).decode()
    prefix = f"f{number}-"
    inside = _PROLOGUE.sub("", drawn, count=1)
    inside = _DEFINED.sub(rf'id="{prefix}\1"', inside)
    return _REFERRED.sub(rf"\g<1>{prefix}\2", inside)
