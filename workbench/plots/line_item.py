"""A curve drawn fast in any weight."""

from __future__ import annotations

import pyqtgraph as pg
from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPen, QTransform
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

__all__ = ["LineItem"]

# Corners of a triangle: whatever its direction, the line gets wider by about the same.
_AROUND = ((0.0, -1.15), (1.0, 0.58), (-1.0, 0.58))

# A spread below this would not be seen, px.
_LEAST_SPREAD = 0.15


class LineItem(pg.PlotCurveItem):  # type: ignore[misc]  # pyqtgraph has no types
    """Antialiased curve; a heavy one is a hairline drawn a few times, moved by parts of a pixel.

    Qt strokes antialiased lines of up to 1 px directly, and fills the outline of wider ones: a curve of
    2,000 points takes 0.08 ms with a pen of 1.0 px and 2.2 ms with 1.6 px.
    """

    def __init__(self, pen: QPen, broken: bool = False) -> None:
        """A curve in the colour, dashes and width of a pen; a broken one has gaps where it is NaN."""
        super().__init__(antialias=True, skipFiniteCheck=not broken, connect="finite" if broken else "all")
        self.set_weighted_pen(pen)

    def set_weighted_pen(self, pen: QPen) -> None:
        """Draw with the colour, dashes and width of a pen."""
        hairline = QPen(pen)
        hairline.setWidthF(1.0)
        if pen.dashPattern():
            hairline.setDashPattern([length * pen.widthF() for length in pen.dashPattern()])
        spread = (pen.widthF() - 1.0) / 2
        moves = tuple((spread * x, spread * y) for x, y in _AROUND)
        self._moves = moves if spread > _LEAST_SPREAD else ((0.0, 0.0),)
        self.setPen(hairline)

    def boundingRect(self) -> QRectF:
        """The whole view: to look for the extremes of the curve costs more than it saves."""
        box = self.getViewBox()
        return QRectF() if box is None else QRectF(box.viewRect())

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(self.opts["pen"])
        path, straight = self.getPath(), painter.transform()
        for dx, dy in self._moves:
            painter.setTransform(straight * QTransform.fromTranslate(dx, dy))
            painter.drawPath(path)
        painter.setTransform(straight)
