"""Figures of a document as SVG, each drawn once for all files that are made of it."""

from __future__ import annotations

import re

from models.report.document import ChartFigure, Document

__all__ = ["LARGE", "SMALL", "Drawings"]

#: Sizes in inches: across the page, and half of it.
LARGE, SMALL = (6.3, 2.7), (3.1, 2.5)

_PROLOGUE = re.compile(r"^.*?(?=<svg)", re.DOTALL)
_DEFINED, _REFERRED = re.compile(r'\bid="([^"]*)"'), re.compile(r'(xlink:href="#|url\(#)([^")]*)')


class Drawings:
    """Figures of one document, kept for as long as files of it are wanted."""

    def __init__(self, document: Document) -> None:
        """Draw nothing yet."""
        self.document = document
        self._drawn: dict[int, str] = {}

    def svg(self, figure: ChartFigure, number: int) -> str:
        """SVG element of a figure; its names are its own, so that many can stand in one page.

        Args:
            figure: of the document.
            number: of it in the document, counted from 1.
        """
        if number not in self._drawn:
            self._drawn[number] = _drawn(figure, self.document, number)
        return self._drawn[number]


def _drawn(figure: ChartFigure, document: Document, number: int) -> str:
    from models.charts.figure import figure_bytes  # matplotlib takes a second to import: only when needed

    size = SMALL if figure.small else LARGE
    drawn = figure_bytes(figure.chart, "svg", document.units, size=size).decode()
    prefix = f"f{number}-"
    inside = _PROLOGUE.sub("", drawn, count=1)
    inside = _DEFINED.sub(rf'id="{prefix}\1"', inside)
    return _REFERRED.sub(rf"\g<1>{prefix}\2", inside)
