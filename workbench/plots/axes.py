"""Axes with few, round and readable ticks."""

from __future__ import annotations

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from models.charts.ticks import log_ticks, round_ticks

__all__ = ["RoundAxis"]

# Room of one tick label along the axis, px.
_ROOM = {"left": 32.0, "bottom": 64.0}

# Between frame and label, and how far labels reach past the ends of the axis, px.
_OFFSET, _SPILL = 5.0, 20.0

_Line = tuple[QPen, QPointF, QPointF]
_Text = tuple[QRectF, Qt.AlignmentFlag, str]


class RoundAxis(pg.AxisItem):  # type: ignore[misc]  # pyqtgraph has no types
    """Left or bottom axis with its lines of the grid; a log axis is given exponents and shows decades.

    The base class draws grid lines paler the denser they are, so a grid would flicker while a range grows.
    """

    def __init__(self, orientation: str) -> None:
        self.decades = False
        self._grid_pens = (QPen(), QPen())
        super().__init__(orientation, maxTickLength=0)
        self.setGrid(255)

    def set_colours(self, frame: QColor, text: QColor, grid: QColor, minor_grid: QColor) -> None:
        """Take the colours of a theme."""
        self._grid_pens = (pg.mkPen(grid), pg.mkPen(minor_grid))
        self.setPen(frame)
        self.setTextPen(text)

    def boundingRect(self) -> QRectF:
        rect: QRectF = super().boundingRect()
        return rect.adjusted(-_SPILL, -_SPILL, _SPILL, _SPILL)

    def generateDrawSpecs(self, painter: QPainter) -> tuple[_Line, list[_Line], list[_Text]] | None:
        """Lines and labels; the base class records them once per range and size."""
        view = self.linkedView()
        if view is None:
            return None
        painter.setFont(self.style["tickFont"] or painter.font())
        box = view.mapRectToItem(self, view.boundingRect())
        upright = self.orientation == "left"
        length = box.height() if upright else box.width()
        low, high = self.range
        if length <= 0 or not high > low:
            return None
        lines: list[_Line] = []
        texts: list[_Text] = []
        count = max(int(length / _ROOM[self.orientation]), 3)
        for tick in log_ticks(low, high, count) if self.decades else round_ticks(low, high, count):
            share = (tick.place - low) / (high - low)
            place = box.bottom() - share * length if upright else box.left() + share * length
            start = QPointF(box.left(), place) if upright else QPointF(place, box.top())
            end = QPointF(box.right(), place) if upright else QPointF(place, box.bottom())
            lines.append((self._grid_pens[tick.minor], start, end))
            if tick.text:
                texts.append(self._text(painter, box, place, tick.text))
        frame = (box.topLeft(), box.bottomLeft()) if upright else (box.bottomLeft(), box.bottomRight())
        return (self.pen(), *frame), lines, texts

    def _text(self, painter: QPainter, box: QRectF, place: float, text: str) -> _Text:
        metrics = painter.fontMetrics()
        width, height = metrics.horizontalAdvance(text) + 2.0, float(metrics.height())
        if self.orientation == "left":
            # Labels at the ends stay inside, clear of the lines of text and of the other axis.
            top = min(max(place - height / 2, box.top() - 3.0), box.bottom() - height + 3.0)
            where = QRectF(box.left() - _OFFSET - width, top, width, height)
            return where, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, text
        where = QRectF(place - width / 2, box.bottom() + _OFFSET - 1.0, width, height)
        return where, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop, text
