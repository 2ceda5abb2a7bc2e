"""Separate points of a chart."""

from __future__ import annotations

import pyqtgraph as pg
from PySide6.QtGui import QColor

__all__ = ["PointsItem"]

# Diameter of a point per width of the pen of a curve.
_SIZE = 3.0


class PointsItem(pg.ScatterPlotItem):  # type: ignore[misc]  # pyqtgraph has no types
    """Dots of one colour."""

    def __init__(self, colour: QColor, width: float) -> None:
        super().__init__(pen=None, brush=colour, size=_SIZE * width, pxMode=True)
