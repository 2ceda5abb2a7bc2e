"""A small chart painted by hand: cheap to have many of, and computed only where it is in sight."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QContextMenuEvent,
    QFocusEvent,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QMenu, QSizePolicy, QWidget

from models.charts import Axis, Chart
from models.charts.chart import Role
from models.charts.limits import Limits, extent, grown, y_limits
from models.charts.ticks import Tick, round_ticks
from models.units import UnitChoice, format_value
from workbench.plots.copied_figure import copy_as_shown, copy_figure
from workbench.plots.pens import curve_pen, variant_colour
from workbench.polygon import polygon
from workbench.theme import Theme, small_font

__all__ = ["SmallChart"]

_HEIGHT = 120
# Room for the numbers at the left, px, and room of one number along each axis.
_LEFT, _X_ROOM, _Y_ROOM = 44.0, 44.0, 20.0
_DOT = 3.0
# Step of a key as a share of the level axis.
_KEY_STEP = 0.01
# A range is taken back when the curves fill less than this share of it.
_IDLE = 0.4


class SmallChart(QWidget):
    """Draws a chart on linear axes; asks for the chart when painted, so that one out of sight costs nothing.

    Ranges grow when a curve leaves them, and shrink only when much of them is empty: while a value is dragged
    the curve moves and the axes stand.

    Signals:
        export_wanted(object): the :class:`Chart` that the user wants as a file.
    """

    export_wanted = Signal(object)

    def __init__(
        self,
        source: Callable[[], Chart],
        units: Callable[[], UnitChoice],
        theme: Callable[[], Theme],
        parent: QWidget | None = None,
    ) -> None:
        """Draw what ``source`` gives, in the units and colours that hold when it is painted."""
        super().__init__(parent)
        self._source = source
        self._units_now, self._theme_now = units, theme
        self._chart: Chart | None = None
        self._units: UnitChoice = {}
        self._theme = theme()
        self._y: Limits | None = None
        self._hover: float | None = None
        self._description = ""  # for readers of screens, while nothing is read out
        self.setFont(small_font(self.font()))
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(240, _HEIGHT)

    def minimumSizeHint(self) -> QSize:
        return QSize(120, _HEIGHT)

    @property
    def chart(self) -> Chart:
        """The chart as it stands."""
        if self._chart is None:
            units = dict(self._units_now())
            before = self._y if units == self._units else None
            self._units, self._chart = units, self._source()
            self._y = _y_range(self._chart, units, before)
        return self._chart

    @property
    def y_range(self) -> Limits:
        """What the upright axis spans, in the units shown."""
        assert self.chart is not None
        assert self._y is not None
        return self._y

    def invalidate(self) -> None:
        """Ask for the chart anew at the next painting."""
        self._chart = None
        self.update()

    @property
    def caption(self) -> str:
        """The line on top: what is drawn, or the values under the mouse."""
        chart = self.chart
        x_unit, y_unit = chart.x.display(self._units)[1], chart.y.display(self._units)[1]
        if self._hover is None:
            return f"{chart.y.label} ({y_unit})"
        texts = [f"{self._number(self._hover, chart.x)} {x_unit}: {self._values('candidate')} {y_unit}"]
        if any(curve.role == "baseline" for curve in chart.curves):
            texts.append(f"baseline {self._values('baseline')}")
        return ", ".join(texts)

    def _values(self, role: Role) -> str:
        """Values under the mouse of the curves of one car."""
        assert self._hover is not None
        curves = [curve for curve in self.chart.curves if curve.role == role]
        values = [float(np.interp(self._hover, curve.x, curve.y)) for curve in curves]
        numbers = [self._number(value, self.chart.y) for value in values]
        return ", ".join(f"{c.label} {number}".strip() for c, number in zip(curves, numbers, strict=True))

    def _number(self, value: float, axis: Axis) -> str:
        return format_value(value / axis.display(self._units)[0], "1", "1").replace("-", "−")

    # -- painting ------------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        chart, theme = self.chart, self._theme_now()
        self._theme = theme
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(theme.paper))
        line = QFontMetricsF(self.font()).height()
        width = self.width() - _LEFT - self._margin()
        box = QRectF(_LEFT, line + 5, width, self.height() - 2 * line - 10)
        assert self._y is not None
        to_pixels = _Mapping(box, extent(chart, "x", self._units), self._y)
        self._draw_grid(painter, box, to_pixels)
        self._draw_captions(painter, box, line)
        self._draw_marks(painter, box, to_pixels)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setClipRect(box.adjusted(-1, -1, 1, 1))
        for curve in chart.curves:
            pen = curve_pen(curve, theme)
            pen.setCosmetic(False)  # as wide on a screen of many pixels
            painter.setPen(pen)
            painter.drawPolyline(to_pixels.polygon(*self._shown(curve.x, curve.y)))
        painter.setClipping(False)
        self._draw_dots(painter, to_pixels)
        self._draw_places(painter, box, to_pixels)

    def _shown(self, x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        chart = self.chart
        return x / chart.x.display(self._units)[0], y / chart.y.display(self._units)[0]

    def _draw_grid(self, painter: QPainter, box: QRectF, to_pixels: _Mapping) -> None:
        rule, faint = QColor(self._theme.rule), QColor(self._theme.faint)
        metrics = QFontMetricsF(self.font())
        centre = Qt.AlignmentFlag.AlignCenter
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        for tick in _ticks(to_pixels.x, box.width() / _X_ROOM):
            x = round(to_pixels.place_x(tick.place)) + 0.5
            painter.setPen(faint if tick.place == 0 else rule)
            painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
            painter.setPen(faint)
            width = metrics.horizontalAdvance(tick.text) + 2
            left = min(max(x - width / 2, 0.0), self.width() - width)
            painter.drawText(QRectF(left, box.bottom() + 2, width, metrics.height()), centre, tick.text)
        for tick in _ticks(to_pixels.y, box.height() / _Y_ROOM):
            y = round(to_pixels.place_y(tick.place)) + 0.5
            painter.setPen(faint if tick.place == 0 else rule)
            painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
            painter.setPen(faint)
            # Labels at the ends stay clear of the caption and of the numbers below.
            top = max(y - metrics.height() / 2, box.top() - 3)
            top = min(top, box.bottom() - metrics.height() + 3)
            painter.drawText(QRectF(0, top, _LEFT - 5, metrics.height()), right, tick.text)

    def _draw_captions(self, painter: QPainter, box: QRectF, line: float) -> None:
        painter.setPen(QColor(self._theme.faint if self._hover is None else self._theme.ink))
        room = QRectF(4, 2, self.width() - 8, line)
        left, right = Qt.AlignmentFlag.AlignLeft, Qt.AlignmentFlag.AlignRight
        metrics = QFontMetricsF(self.font())
        painter.drawText(
            room, left, metrics.elidedText(self.caption, Qt.TextElideMode.ElideRight, room.width())
        )
        if self._hover is None:
            left_over = room.width() - metrics.horizontalAdvance(self.caption) - 12
            x = self.chart.x
            for unit in (x.unit_and_sign(self._units), x.display(self._units)[1]):
                over = f"over {x.label.lower()} ({unit})"
                if metrics.horizontalAdvance(over) <= left_over:
                    painter.drawText(room, right, over)
                    break

    def _draw_marks(self, painter: QPainter, box: QRectF, to_pixels: _Mapping) -> None:
        metrics, scale = QFontMetricsF(self.font()), self.chart.x.display(self._units)[0]
        for number, mark in enumerate(sorted(self.chart.marks, key=lambda mark: mark.x)):
            x = round(to_pixels.place_x(mark.x / scale)) + 0.5
            painter.setPen(QPen(QColor(self._theme.faint), 1, Qt.PenStyle.DashLine))
            painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
            width = metrics.horizontalAdvance(mark.label)
            left = x - width - 4 if x + width + 8 > box.right() else x + 4
            y = self._clear_of_curve(box, to_pixels, (left, left + width), metrics.height(), number % 2)
            room = QRectF(left, y, width, metrics.height())
            painter.fillRect(room, QColor(self._theme.paper))
            painter.setPen(QColor(self._theme.faint))
            painter.drawText(room, Qt.AlignmentFlag.AlignLeft, mark.label)

    def _clear_of_curve(
        self, box: QRectF, to_pixels: _Mapping, span: tuple[float, float], height: float, step: int
    ) -> float:
        """Top of the name of a mark over ``span`` px, at the end of the drawing away from the candidate."""
        curve = self.chart.curves[-1]
        x, y = self._shown(curve.x, curve.y)
        under = np.interp([to_pixels.x_at(place) for place in span], x, y)
        places = [to_pixels.place_y(float(value)) for value in under]
        if box.bottom() - max(places) < min(places) - box.top():
            return box.top() + 2 + step * height
        return box.bottom() - (1 + step) * height - 1

    def _draw_dots(self, painter: QPainter, to_pixels: _Mapping) -> None:
        """A dot on the last curve, the candidate's, at each mark; on all curves under the mouse."""
        chart = self.chart
        dots = [(mark.x, chart.curves[-1]) for mark in chart.marks]
        if self._hover is not None:
            dots += [(self._hover, curve) for curve in chart.curves]
        painter.setPen(Qt.PenStyle.NoPen)
        for place, curve in dots:
            x, y = self._shown(np.array([place]), np.interp([place], curve.x, curve.y))
            painter.setBrush(variant_colour(curve.role, self._theme))
            painter.drawEllipse(QPointF(to_pixels.place_x(x[0]), to_pixels.place_y(y[0])), _DOT, _DOT)

    def _draw_places(self, painter: QPainter, box: QRectF, to_pixels: _Mapping) -> None:
        """Name the candidate's curves beside their right ends, where there are several."""
        named = [curve for curve in self.chart.curves if curve.role == "candidate" and curve.label]
        ends = sorted(
            (to_pixels.place_y(self._shown(curve.x[-1:], curve.y[-1:])[1][0]), curve.label) for curve in named
        )
        metrics = QFontMetricsF(self.font())
        painter.setPen(QColor(self._theme.faint))
        lowest = box.top()
        for number, (y, label) in enumerate(ends):
            room_below = (len(ends) - 1 - number) * metrics.ascent()
            y = min(max(y + metrics.ascent() / 2 - 1, lowest + metrics.ascent()), box.bottom() - room_below)
            painter.drawText(QPointF(box.right() + 4, y), label)
            lowest = y

    def _margin(self) -> float:
        """Room at the right, px: that of the names of the curves."""
        labels = [curve.label for curve in self.chart.curves if curve.label]
        return max((QFontMetricsF(self.font()).horizontalAdvance(label) for label in labels), default=2) + 6

    # -- mouse ---------------------------------------------------------------------------------------

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        low, high = self._x_ends()
        share = (event.position().x() - _LEFT) / max(self.width() - _LEFT - self._margin(), 1.0)
        inside = 0.0 <= share <= 1.0
        self._hover = low + share * (high - low) if inside else None
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        self._hover = None
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._description = self.accessibleDescription()
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self._read_at(0.5)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.setAccessibleDescription(self._description)
        self._hover = None
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        low, high = self._x_ends()
        share = 0.5 if self._hover is None else (self._hover - low) / ((high - low) or 1.0)
        match event.key():
            case Qt.Key.Key_Left | Qt.Key.Key_Right:
                wide = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
                step = _KEY_STEP * (10 if wide else 1)
                self._read_at(share + (step if event.key() == Qt.Key.Key_Right else -step))
            case Qt.Key.Key_Home | Qt.Key.Key_End:
                self._read_at(0.0 if event.key() == Qt.Key.Key_Home else 1.0)
            case _:
                super().keyPressEvent(event)

    def _x_ends(self) -> Limits:
        """What the level axis spans, SI."""
        chart = self.chart
        low, high = extent(chart, "x", self._units)
        scale = chart.x.display(self._units)[0]
        return low * scale, high * scale

    def _read_at(self, share: float) -> None:
        """Read out at a share of the level axis."""
        low, high = self._x_ends()
        self._hover = low + min(max(share, 0.0), 1.0) * (high - low)
        self.setAccessibleDescription(self.caption)
        self.update()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.addAction("Export figure or data…", lambda: self.export_wanted.emit(self.chart))
        menu.addAction("Copy figure", lambda: copy_figure(self, self.chart))
        menu.addAction("Copy as shown", lambda: copy_as_shown(self))
        menu.popup(event.globalPos())


class _Mapping:
    """From units of display to pixels of a box."""

    def __init__(self, box: QRectF, x: Limits, y: Limits) -> None:
        self.x, self.y, self._box = x, y, box

    def place_x(self, value: float) -> float:
        return self._box.left() + (value - self.x[0]) / (self.x[1] - self.x[0]) * self._box.width()

    def place_y(self, value: float) -> float:
        return self._box.bottom() - (value - self.y[0]) / (self.y[1] - self.y[0]) * self._box.height()

    def x_at(self, pixel: float) -> float:
        return self.x[0] + (pixel - self._box.left()) / self._box.width() * (self.x[1] - self.x[0])

    def polygon(self, x: np.ndarray, y: np.ndarray) -> QPolygonF:
        left = self._box.left() + (x - self.x[0]) * (self._box.width() / (self.x[1] - self.x[0]))
        top = self._box.bottom() - (y - self.y[0]) * (self._box.height() / (self.y[1] - self.y[0]))
        return polygon(left, top)


def _ticks(limits: Limits, count: float) -> list[Tick]:
    """About ``count`` ticks, and two at least: one alone tells no scale."""
    wanted = max(int(count), 3)
    tries = (round_ticks(*limits, more) for more in range(wanted, wanted + 3))
    return next((ticks for ticks in tries if len(ticks) > 1), round_ticks(*limits, wanted))


def _y_range(chart: Chart, units: UnitChoice, before: Limits | None) -> Limits:
    low, high = extent(chart, "y", units)
    wanted = y_limits(chart.y, low, high, units)
    if before is None or wanted[1] - wanted[0] < _IDLE * (before[1] - before[0]):
        return wanted
    return grown(before, wanted, low, high)
