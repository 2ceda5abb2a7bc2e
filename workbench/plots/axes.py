"""Axes with few, round and readable ticks."""

from __future__ import annotations

import math

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

__all__ = ["RoundAxis", "decade_text", "log_ticks", "round_ticks"]

_SUPERSCRIPT = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")

# Room of one tick label along the axis, px.
_ROOM = {"left": 32.0, "bottom": 64.0}

# Between frame and label, and how far labels reach past the ends of the axis, px.
_OFFSET, _SPILL = 5.0, 20.0

Levels = list[tuple[float, list[float]]]
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
        for level, (spacing, values) in enumerate(self.tickValues(low, high, length)):
            pen = self._grid_pens[min(level, 1)]
            for value, text in zip(values, self.tickStrings(values, 1.0, spacing), strict=True):
                share = (value - low) / (high - low)
                place = box.bottom() - share * length if upright else box.left() + share * length
                ends = (
                    (box.left(), place, box.right(), place)
                    if upright
                    else (place, box.top(), place, box.bottom())
                )
                lines.append((pen, QPointF(*ends[:2]), QPointF(*ends[2:])))
                if text:
                    texts.append(self._text(painter, box, place, text))
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

    def tickValues(self, low: float, high: float, size: float) -> Levels:
        """Ticks by level: labelled ones, then lines of the grid alone."""
        count = max(int(size / _ROOM[self.orientation]), 2)
        return log_ticks(low, high, count) if self.decades else round_ticks(low, high, count)

    def tickStrings(self, values: list[float], scale: float, spacing: float) -> list[str]:
        """Labels of one level."""
        if self.decades:
            return [decade_text(value) if spacing != _BARE else "" for value in values]
        digits = max(0, -math.floor(math.log10(spacing) + 1e-9)) if spacing > 0 else 0
        return [_minus(f"{value + 0.0:.{digits}f}") for value in values]


# Spacings that mark the levels within a decade.
_LABELLED, _BARE = 0.3, 0.1


def round_ticks(low: float, high: float, count: int) -> Levels:
    """At most ``count`` ticks at a step of 1, 2 or 5 times a power of ten."""
    span = high - low
    if not (math.isfinite(span) and span > 0):
        return []
    power = 10.0 ** math.floor(math.log10(span / count))
    step = next(nice * power for nice in (1, 2, 5, 10, 20) if nice * power * count >= span * (1 - 1e-9))
    first, last = math.ceil(low / step - 1e-6), math.floor(high / step + 1e-6)
    if not 0 <= last - first <= 100:
        return []
    return [(step, [number * step for number in range(first, last + 1)])]


def log_ticks(low: float, high: float, count: int) -> Levels:
    """Decades, thinned to ``count``, and within them 2 to 9 as grid, labelled where few decades show."""
    if not (math.isfinite(high - low) and 0 < high - low < 60):
        return []
    every = max(1, math.ceil((high - low) / count))
    decades = range(math.ceil(low - 1e-6), math.floor(high + 1e-6) + 1)
    majors = [float(decade) for decade in decades if decade % every == 0]
    if (high - low) * 1.8 > count:
        return [(float(every), majors)]
    inner = [
        (nice, decade + math.log10(nice))
        for decade in range(math.floor(low), math.ceil(high) + 1)
        for nice in range(2, 10)
        if low - 1e-6 <= decade + math.log10(nice) <= high + 1e-6
    ]
    labelled = {2, 5} if (high - low) * 3 <= count + 1 else set()
    return [
        (float(every), majors),
        (_LABELLED, [place for nice, place in inner if nice in labelled]),
        (_BARE, [place for nice, place in inner if nice not in labelled]),
    ]


def decade_text(exponent: float) -> str:
    """0.01, 2, 500, and powers of ten further out."""
    if -3 <= exponent < 5:
        return f"{10**exponent:.3g}" if exponent < 3 else f"{10**exponent:.0f}"
    decade = math.floor(exponent + 1e-6)
    lead = round(10 ** (exponent - decade))
    return ("" if lead == 1 else f"{lead}·") + "10" + str(decade).translate(_SUPERSCRIPT)


def _minus(text: str) -> str:
    return text.replace("-", "−")
