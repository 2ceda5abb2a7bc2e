"""Short bars at the foot of a plot: when something lasts, such as a wheel off the road."""

from __future__ import annotations

from collections.abc import Sequence

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from models.charts.chart import Role
from models.charts.span_rows import SpanRow

__all__ = ["SpansItem"]

# Thickness of a bar by variant, least length that is seen, room to the edges and around the text, px.
_THICK: dict[Role, float] = {"candidate": 4.0, "baseline": 2.0}
_LEAST, _EDGE, _AROUND = 2.0, 4.0, 3.0

# How much of the curves the ground of a text hides.
_VEIL = 0.75


class SpansItem(pg.GraphicsObject):  # type: ignore[misc]  # pyqtgraph has no types
    """All spans of one plot in one item: a row per label, the candidate's bars over the baseline's.

    The texts stand once, in a column right of all bars, or left of them where there is more room.
    """

    def __init__(self, font: QFont) -> None:
        super().__init__()
        self._font, self._metrics = font, QFontMetricsF(font)
        self._rows: tuple[SpanRow, ...] = ()
        self._paper, self._ink = QColor(), QColor()
        self._colours: dict[Role, QColor] = {}
        self.setZValue(5)

    @property
    def rows(self) -> tuple[SpanRow, ...]:
        """Rows in axis coordinates."""
        return self._rows

    def set_colours(self, paper: QColor, ink: QColor, candidate: QColor, baseline: QColor) -> None:
        """Take the colours of a theme."""
        self._paper, self._ink = QColor(paper), ink
        self._paper.setAlphaF(_VEIL)
        self._colours = {"candidate": candidate, "baseline": baseline}
        self.update()

    def set_rows(self, rows: Sequence[SpanRow]) -> None:
        """Show these rows, top to bottom, in axis coordinates."""
        if tuple(rows) != self._rows:
            self._rows = tuple(rows)
            self.update()

    def boundingRect(self) -> QRectF:
        """The whole view."""
        box = self.getViewBox()
        return QRectF() if box is None else QRectF(box.viewRect())

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None) -> None:
        if not self._rows:
            return
        to_pixels = painter.transform()
        box = to_pixels.mapRect(self.boundingRect())
        painter.save()
        painter.resetTransform()
        painter.setFont(self._font)
        height = self._metrics.height()
        rows = [
            [
                (role, to_pixels.map(QPointF(start, 0.0)).x(), to_pixels.map(QPointF(end, 0.0)).x())
                for role, start, end in row.spans
            ]
            for row in self._rows
        ]
        column = self._column(box, [bar for bars in rows for bar in bars])
        for number, (row, bars) in enumerate(zip(self._rows, rows, strict=True)):
            middle = box.bottom() - _EDGE - (len(rows) - 0.5 - number) * height
            self._bars(painter, box, middle, bars)
            self._text(painter, column, middle, row.label)
        painter.restore()

    def _column(self, box: QRectF, bars: list[tuple[Role, float, float]]) -> float:
        """Left edge of the texts."""
        width = max(self._metrics.horizontalAdvance(row.label) for row in self._rows) + 2 * _AROUND
        first, last = min(start for _, start, _ in bars), max(end for _, _, end in bars)
        right = max(last + 2 * _EDGE, box.left() + _EDGE)
        if right + width <= box.right() or box.right() - last >= first - box.left():
            return min(right, box.right() - width)
        return max(min(first, box.right()) - 2 * _EDGE - width, box.left() + _EDGE)

    def _bars(
        self, painter: QPainter, box: QRectF, middle: float, bars: list[tuple[Role, float, float]]
    ) -> None:
        for role, start, end in bars:
            left, right = max(start, box.left()), min(max(end, start + _LEAST), box.right())
            if left < right:
                top = middle - _THICK["candidate"] if role == "candidate" else middle + 1.0
                painter.fillRect(QRectF(left, top, right - left, _THICK[role]), self._colours[role])

    def _text(self, painter: QPainter, left: float, middle: float, text: str) -> None:
        width, height = self._metrics.horizontalAdvance(text) + 2 * _AROUND, self._metrics.height()
        painter.fillRect(QRectF(left, middle - height / 2, width, height), self._paper)
        painter.setPen(self._ink)
        baseline = middle + (self._metrics.ascent() - self._metrics.descent()) / 2
        painter.drawText(QPointF(left + _AROUND, baseline), text)
