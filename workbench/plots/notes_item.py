"""Short texts at places of a chart, such as the level of a contour."""

from __future__ import annotations

from collections.abc import Sequence

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

__all__ = ["NotesItem"]

_ROOM = 2.0


class NotesItem(pg.GraphicsObject):  # type: ignore[misc]  # pyqtgraph has no types
    """All notes of one plot in one item."""

    def __init__(self, font: QFont) -> None:
        super().__init__()
        self._font, self._metrics = font, QFontMetricsF(font)
        self._notes: tuple[tuple[float, float, str], ...] = ()
        self._ink, self._paper = QColor(), QColor()
        self.setZValue(10)

    @property
    def notes(self) -> tuple[tuple[float, float, str], ...]:
        """Place in axis coordinates and text of each note."""
        return self._notes

    def set_colours(self, paper: QColor, ink: QColor) -> None:
        """Take the colours of a theme."""
        self._paper, self._ink = paper, ink
        self.update()

    def set_notes(self, notes: Sequence[tuple[float, float, str]]) -> None:
        """Show these notes: place in axis coordinates and text."""
        if tuple(notes) != self._notes:
            self._notes = tuple(notes)
            self.update()

    def boundingRect(self) -> QRectF:
        """The whole view."""
        box = self.getViewBox()
        return QRectF() if box is None else QRectF(box.viewRect())

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None) -> None:
        to_pixels, view = painter.transform(), self.boundingRect()
        painter.save()
        painter.resetTransform()
        painter.setFont(self._font)
        painter.setPen(self._ink)
        for x, y, text in self._notes:
            if view.contains(QPointF(x, y)):
                room = QRectF(0, 0, self._metrics.horizontalAdvance(text) + _ROOM, self._metrics.height())
                room.moveCenter(to_pixels.map(QPointF(x, y)))
                painter.fillRect(room, self._paper)
                painter.drawText(room, Qt.AlignmentFlag.AlignCenter, text)
        painter.restore()
