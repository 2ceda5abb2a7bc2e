"""Axes with few, round and readable ticks."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPen

from models.charts.ticks import log_ticks, round_ticks

__all__ = ["NAME_LINES", "RoundAxis", "named"]

# Room of one tick label along the axis, px.
_ROOM = {"left": 32.0, "bottom": 64.0}

# Between frame and label, and how far labels reach past the ends of the axis, px.
_OFFSET, _SPILL = 5.0, 20.0

# Room of labels to the right of the plot, px.
_BEYOND = 13.0

# Between two names, px, and the lines that a name may take.
_BETWEEN, NAME_LINES = 2.0, 3

_Line = tuple[QPen, QPointF, QPointF]
_Text = tuple[QRectF, Qt.AlignmentFlag, str]


class RoundAxis(pg.AxisItem):  # type: ignore[misc]  # pyqtgraph has no types
    """Left or bottom axis with its lines of the grid; a log axis is given exponents and shows decades.

    The base class draws grid lines paler the denser they are, so a grid would flicker while a range grows.
    """

    def __init__(self, orientation: str) -> None:
        self.decades = False
        self.names: tuple[str, ...] = ()
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
        if self.names and upright:
            return (self.pen(), box.topLeft(), box.bottomLeft()), [], self._stacked(painter, box)
        if self.names:
            return (self.pen(), box.bottomLeft(), box.bottomRight()), [], self._named(painter, box)
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

    def _named(self, painter: QPainter, box: QRectF) -> list[_Text]:
        """Names in place of numbers, each on the lines that its share of the axis needs."""
        low, high = self.range
        metrics, room = painter.fontMetrics(), box.width() / (high - low)
        flags = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop
        texts: list[_Text] = []
        for number, text in enumerate(named(metrics, self.names, room), 1):
            if low <= number <= high:
                place = box.left() + (number - low) * room
                height = float((text.count("\n") + 1) * metrics.height())
                where = QRectF(place - room, box.bottom() + _OFFSET - 1.0, 2 * room, height)
                texts.append((where, flags, text))
        return texts

    def _stacked(self, painter: QPainter, box: QRectF) -> list[_Text]:
        """Names up the axis, each on one line; where lines would meet, only every second or third."""
        low, high = self.range
        metrics, room = painter.fontMetrics(), box.height() / (high - low)
        flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        height, width = float(metrics.height()), self.width() - _OFFSET - _BETWEEN
        step = max(ceil((height - 2.0) / room), 1)
        texts: list[_Text] = []
        for number in range(len(self.names), 0, -step):
            if low <= number <= high:
                middle = box.bottom() - (number - low) * room
                where = QRectF(box.left() - _OFFSET - width, middle - height / 2, width, height)
                elided = metrics.elidedText(self.names[number - 1], Qt.TextElideMode.ElideRight, int(width))
                texts.append((where, flags, elided))
        return texts

    def _text(self, painter: QPainter, box: QRectF, place: float, text: str) -> _Text:
        metrics = painter.fontMetrics()
        width, height = metrics.horizontalAdvance(text) + 2.0, float(metrics.height())
        if self.orientation == "left":
            # Labels at the ends stay inside, clear of the lines of text and of the other axis.
            top = min(max(place - height / 2, box.top() - 3.0), box.bottom() - height + 3.0)
            where = QRectF(box.left() - _OFFSET - width, top, width, height)
            return where, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, text
        left = min(place - width / 2, box.right() + _BEYOND - width)  # the last one is not cut
        where = QRectF(left, box.bottom() + _OFFSET - 1.0, width, height)
        return where, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop, text


def named(metrics: QFontMetrics, names: Sequence[str], room: float) -> list[str]:
    """Names on at most :data:`NAME_LINES` lines, ``room`` px apart; cut where they would meet."""
    lines = [_wrapped(metrics, name, room) for name in names]
    widths = [min(max(map(metrics.horizontalAdvance, own), default=0), room) for own in lines]
    texts = []
    for number, own in enumerate(lines):
        beside = max((*widths[max(number - 1, 0) : number], *widths[number + 1 : number + 2]), default=room)
        most = int(2 * room - beside - _BETWEEN)
        texts.append("\n".join(metrics.elidedText(line, Qt.TextElideMode.ElideRight, most) for line in own))
    return texts


def _wrapped(metrics: QFontMetrics, name: str, room: float) -> list[str]:
    lines: list[str] = []
    for word in name.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and (len(lines) == NAME_LINES or metrics.horizontalAdvance(longer) <= room - _BETWEEN):
            lines[-1] = longer
        else:
            lines.append(word)
    return lines
