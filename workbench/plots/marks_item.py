"""Faint upright lines at places worth a name, such as a natural frequency."""

from __future__ import annotations

from collections.abc import Sequence

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

__all__ = ["MarksItem"]

# Strength of a line, room around a name, and distance of the lowest name from the foot, px.
_ALPHA, _MARGIN, _FOOT = 0.6, 4.0, 10.0


class MarksItem(pg.GraphicsObject):  # type: ignore[misc]  # pyqtgraph has no types
    """All marks of one plot in one item: they move with every step of a drag.

    Names stand at the foot, where curves seldom are, each lower than the one before, so that near marks
    stay readable.
    """

    def __init__(self, font: QFont) -> None:
        super().__init__()
        self._font, self._metrics = font, QFontMetricsF(font)
        self._marks: tuple[tuple[float, str], ...] = ()
        self._pen, self._ink, self._paper = QPen(), QColor(), QColor()
        self.setZValue(-5)

    @property
    def marks(self) -> tuple[tuple[float, str], ...]:
        """Place in axis coordinates and name of each mark."""
        return self._marks

    def set_colours(self, paper: QColor, faint: QColor) -> None:
        """Take the colours of a theme."""
        self._paper, self._ink = paper, faint
        pale = QColor(faint)
        pale.setAlphaF(_ALPHA)
        self._pen = QPen(pale, 1.0, Qt.PenStyle.DashLine)
        self.update()

    def set_marks(self, marks: Sequence[tuple[float, str]]) -> None:
        """Show these marks: place in axis coordinates and name."""
        if tuple(marks) != self._marks:
            self._marks = tuple(marks)
            self.update()

    def boundingRect(self) -> QRectF:
        """The whole view."""
        box = self.getViewBox()
        return QRectF() if box is None else QRectF(box.viewRect())

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None) -> None:
        to_pixels, view = painter.transform(), self.boundingRect()
        box = to_pixels.mapRect(view)
        painter.save()
        painter.resetTransform()
        painter.setFont(self._font)
        for number, (place, name) in enumerate(self._marks):
            if view.left() <= place <= view.right():
                x = to_pixels.map(QPointF(place, 0.0)).x()
                rise = _FOOT + (len(self._marks) - 1 - number) * self._metrics.height()
                self._draw(painter, box, round(x) + 0.5, box.bottom() - rise, name)
        painter.restore()

    def _draw(self, painter: QPainter, box: QRectF, x: float, y: float, name: str) -> None:
        painter.setPen(self._pen)
        painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
        width = self._metrics.horizontalAdvance(name)
        left = x + _MARGIN if x + width + 2 * _MARGIN < box.right() else x - _MARGIN - width
        room = QRectF(left, y - self._metrics.ascent(), width, self._metrics.height())
        painter.fillRect(room, self._paper)
        painter.setPen(self._ink)
        painter.drawText(QPointF(left, y), name)
