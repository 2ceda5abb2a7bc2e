"""One chart on the screen."""

from __future__ import annotations

import math

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QPen
from PySide6.QtWidgets import QVBoxLayout, QWidget

from models.charts import Axis, Chart, Curve
from models.charts.chart import Array
from models.charts.legend import LegendKey, legend, short_label
from models.charts.limits import extent, grown, y_limits
from models.charts.span_rows import SpanRow, span_rows
from models.units import METRIC, UnitChoice, format_value
from workbench.cursor import TimeCursor
from workbench.help.anchors import chart_place
from workbench.plots.canvas import Canvas
from workbench.plots.decimate import decimated
from workbench.plots.line_item import LineItem
from workbench.plots.lines_of_text import LegendEntry, LegendLine, ReadoutItem, ReadoutLine
from workbench.plots.marks_item import MarksItem
from workbench.plots.notes_item import NotesItem
from workbench.plots.pens import curve_pen, style_pen, variant_colour
from workbench.plots.points_item import PointsItem
from workbench.plots.spans_item import SpansItem
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["ChartView"]

# Width of the columns in which a dense curve keeps its extremes, px: one cannot see the difference to 1.
_COLUMN = 2
# Share of the height of a linear axis below which the readout gives 0 and not a digit of a decaying tail.
_FAINT = 1e-4
# How near to a point a click means it, px.
_NEAR = 14.0


class ChartView(QWidget):
    """Draws a :class:`Chart`; follows a :class:`TimeCursor` when the chart is over time.

    While the subject of the chart stays the same, only numbers change: ranges stay and grow when a curve
    leaves, and not at all once the user has zoomed by hand.  A double click or :meth:`fit` shows all.

    Signals:
        picked(float, float): the user clicked a separate point of the chart: x and y, SI.
        picked_too(float, float): the same with Ctrl held.
        brushed(object, bool): where :attr:`brushing`, the user dragged a rectangle over the chart: least x,
            greatest x, least y and greatest y, SI, and whether it adds to what was brushed before.
        menu_wanted(QPoint): the user asks what can be done with the chart; place on the screen.
    """

    picked = Signal(float, float)
    picked_too = Signal(float, float)
    brushed = Signal(object, bool)
    menu_wanted = Signal(QPoint)

    def __init__(self, parent: QWidget | None = None, name_others: bool = True) -> None:
        """Make a view; without ``name_others`` its legend names candidate and baseline only."""
        super().__init__(parent)
        self._name_others = name_others
        self._chart: Chart | None = None
        self._units: UnitChoice = METRIC
        self._theme = LIGHT
        self._cursor: TimeCursor | None = None
        self._hover: float | None = None
        self._zoomed = False
        self._x_extent = (0.0, 1.0)
        self._lines: list[LineItem | PointsItem] = []
        self._drawn: tuple[Curve, ...] = ()
        self._window: tuple[float, ...] = ()
        self._legend, self._readout = LegendLine(self), ReadoutLine(self)
        self._canvas = Canvas(small_font(self.font()))
        self._canvas.setAccessibleName("Empty chart")
        self._marks = MarksItem(small_font(self.font()))
        self._spans = SpansItem(small_font(self.font()))
        self._notes = NotesItem(small_font(self.font()))
        self._time_line = pg.InfiniteLine(angle=90, movable=True)
        self._hover_line = pg.InfiniteLine(angle=90)
        self._build()
        self.set_theme(LIGHT)

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for widget in (self._legend, self._canvas, self._readout):
            column.addWidget(widget, 1 if widget is self._canvas else 0)
        for item in (self._marks, self._spans, self._notes):
            self._canvas.addItem(item, ignoreBounds=True)
        for line in (self._time_line, self._hover_line):
            line.setVisible(False)
            line.setZValue(20)
            self._canvas.addItem(line, ignoreBounds=True)
        self._time_line.sigDragged.connect(self._time_line_dragged)
        self._canvas.hovered.connect(self._hovered)
        self._canvas.zoomed.connect(self._zoomed_by_hand)
        self._canvas.fit_wanted.connect(self.fit)
        self._canvas.menu_wanted.connect(self.menu_wanted)
        self._canvas.window_changed.connect(self._draw_numbers)
        self._canvas.box.clicked.connect(self._clicked)
        self._canvas.box.brushed.connect(self._brushed)
        self._canvas.pick_wanted.connect(self._pick_at)

    @property
    def chart(self) -> Chart | None:
        """The chart now shown."""
        return self._chart

    def help_place(self, _at: QPoint | None) -> str:
        """Place of the chart in the handbook; empty without one."""
        return "" if self._chart is None else chart_place(self._chart.key)

    @property
    def units(self) -> UnitChoice:
        """Units of display."""
        return self._units

    @property
    def brushing(self) -> bool:
        """Whether a drag marks a rectangle; the middle button then moves the chart."""
        return bool(self._canvas.box.brushing)

    @brushing.setter
    def brushing(self, wanted: bool) -> None:
        self._canvas.box.brushing = wanted

    @property
    def readout(self) -> str:
        """The line of values as plain text."""
        return self._readout.text

    def set_chart(self, chart: Chart) -> None:
        """Show a chart."""
        before, self._chart = self._chart, chart
        new_subject = before is None or before.subject != chart.subject
        if new_subject or before is None or before.curve_set != chart.curve_set:
            self._rebuild_curves()
        self._place_marks()
        if new_subject:
            self._canvas.setAccessibleName(chart.title)
            self._rebuild_axes()
            self.fit()
        else:
            self._grow()
            self._draw_numbers()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        if dict(units) == dict(self._units):
            return
        self._units = units
        if self._chart is not None:
            self._rebuild_axes()
            self._place_marks()
            self.fit()

    def set_theme(self, theme: Theme) -> None:
        """Draw in the colours of a theme."""
        self._theme = theme
        paper, ink, faint, rule = (QColor(text) for text in (theme.paper, theme.ink, theme.faint, theme.rule))
        minor = _between(paper, rule, 0.45)
        self._canvas.setBackground(paper)
        for axis in (self._canvas.x_axis, self._canvas.y_axis):
            axis.set_colours(faint, faint, rule, minor)
        for line in (self._legend, self._readout):
            line.set_colours(paper, ink, faint)
        self._marks.set_colours(paper, faint)
        self._notes.set_colours(paper, ink)
        self._spans.set_colours(paper, faint, QColor(theme.candidate), QColor(theme.baseline))
        mark = QColor(theme.mark)
        self._time_line.setPen(pg.mkPen(mark, width=1))
        self._time_line.setHoverPen(pg.mkPen(mark, width=2))
        self._hover_line.setPen(pg.mkPen(faint, width=1, style=Qt.PenStyle.DotLine))
        if self._chart is not None:
            self._rebuild_curves()
            self._rebuild_axes()
            self._draw_numbers()

    def set_cursor(self, cursor: TimeCursor) -> None:
        """Follow a time cursor, and move it when its line is dragged."""
        if self._cursor is not None:
            self._cursor.moved.disconnect(self._cursor_moved)
        self._cursor = cursor
        cursor.moved.connect(self._cursor_moved)
        self._show_time_line()
        self._read_out()

    def fit(self) -> None:
        """Show all curves in round limits, and follow them again."""
        self._zoomed = False
        if self._chart is None:
            return
        self._x_extent = extent(self._chart, "x", self._units)
        low, high = extent(self._chart, "y", self._units)
        self._canvas.set_ranges(_span(self._x_extent), y_limits(self._chart.y, low, high, self._units))
        self._draw_numbers()

    def _grow(self) -> None:
        """Follow a new length of x; make room in y for a curve that leaves."""
        assert self._chart is not None
        x_extent = extent(self._chart, "x", self._units)
        followed, self._x_extent = self._x_extent, x_extent
        if self._zoomed:
            return
        if x_extent != followed:
            self._canvas.set_ranges(x=_span(x_extent))
        low, high = extent(self._chart, "y", self._units)
        wanted = y_limits(self._chart.y, low, high, self._units)
        present = self._canvas.ranges[1]
        needed = grown(present, wanted, max(low, wanted[0]), high)
        if needed != present:
            self._canvas.set_ranges(y=needed)

    def _rebuild_curves(self) -> None:
        assert self._chart is not None
        for line in self._lines:
            self._canvas.removeItem(line)
        self._drawn = ()
        self._lines = [_item(curve, self._theme) for curve in self._chart.curves]
        for line in self._lines:
            self._canvas.addItem(line, ignoreBounds=True)
        self._fill_legend()

    def _rebuild_axes(self) -> None:
        assert self._chart is not None
        self._canvas.set_logarithmic(self._chart.x.log, self._chart.y.log)
        self._canvas.set_names(self._chart.x.names, self._chart.y.names)
        self._readout.set_axis_title(self._chart.x.title(self._units))
        self._fill_legend()
        self._show_time_line()

    def _fill_legend(self) -> None:
        assert self._chart is not None
        axis = self._chart.y
        keys = [key for key in legend(self._chart) if self._name_others or key.role != "other"]
        entries = [_legend_entry(key, self._theme) for key in keys]
        unit = axis.unit_and_sign(self._units)
        self._legend.set_content(axis.title(self._units), f"({unit})" if unit else "", entries)

    def _place_marks(self) -> None:
        assert self._chart is not None
        axis = self._chart.x
        self._marks.set_marks(
            [(_coordinate(mark.x, axis, self._units), mark.label) for mark in self._chart.marks]
        )
        self._notes.set_notes(
            [
                (
                    _coordinate(note.x, axis, self._units),
                    _coordinate(note.y, self._chart.y, self._units),
                    note.text,
                )
                for note in self._chart.notes
            ]
        )
        self._spans.set_rows(
            [_in_coordinates(row, axis, self._units) for row in span_rows(self._chart.spans)]
        )

    def _draw_numbers(self) -> None:
        if self._chart is None:
            return
        (x_low, x_high), _ = self._canvas.ranges
        columns = max(int(self._canvas.box.width()) // _COLUMN, 25)
        to_x, to_y = (_scale(axis, self._units) for axis in (self._chart.x, self._chart.y))
        low, high = (_value(end, self._chart.x, to_x) for end in (x_low, x_high))
        window = low, high, columns, to_x, to_y
        if window != self._window:
            self._window, self._drawn = window, ()
        for number, (curve, line) in enumerate(zip(self._chart.curves, self._lines, strict=True)):
            if number < len(self._drawn) and self._drawn[number] is curve:
                continue  # the baseline, through a drag of the candidate
            x, y = (
                (curve.x, curve.y) if curve.form != "line" else decimated(*_finite(curve), low, high, columns)
            )
            line.setData(_coordinates(x, self._chart.x, to_x), _coordinates(y, self._chart.y, to_y))
        self._drawn = self._chart.curves
        self._read_out()

    def _show_time_line(self) -> None:
        over_time = self._chart is not None and self._chart.over_time
        self._time_line.setVisible(over_time and self._cursor is not None)
        if over_time and self._cursor is not None:
            self._cursor_moved(self._cursor.time)

    def _cursor_moved(self, seconds: float) -> None:
        if self._chart is None or not self._chart.over_time:
            return
        place = _coordinate(seconds, self._chart.x, self._units)
        if self._time_line.value() != place:
            self._time_line.setValue(place)
        if self._hover is None:
            self._read_out()

    def _time_line_dragged(self) -> None:
        if self._cursor is not None and self._chart is not None:
            self._cursor.move_to(
                _value(self._time_line.value(), self._chart.x, _scale(self._chart.x, self._units))
            )

    def _hovered(self, place: float | None) -> None:
        if self._chart is None:
            return
        if place is None:
            self._hover = None
        else:
            self._hover = _value(place, self._chart.x, _scale(self._chart.x, self._units))
            self._hover_line.setValue(place)
        self._hover_line.setVisible(place is not None)
        self._read_out()
        if self._canvas.hasFocus():
            self._canvas.setAccessibleDescription(self.readout)

    def _brushed(self, area: QRectF, too: bool) -> None:
        if self._chart is None:
            return
        x, y = ((axis, _scale(axis, self._units)) for axis in (self._chart.x, self._chart.y))
        ends = (area.left(), area.right(), *sorted((area.top(), area.bottom())))
        limits = [_value(end, *axis) for end, axis in zip(ends, (x, x, y, y), strict=True)]
        self.brushed.emit(tuple(limits), too)

    def _clicked(self, place: QPointF, too: bool) -> None:
        """Tell the nearest separate point, of those of the candidate first."""
        if self._chart is None:
            return
        to_x, to_y = (_scale(axis, self._units) for axis in (self._chart.x, self._chart.y))
        (x_low, x_high), (y_low, y_high) = self._canvas.ranges
        wide, high = self._canvas.box.width() / (x_high - x_low), self._canvas.box.height() / (y_high - y_low)
        for curve in sorted(self._chart.curves, key=lambda curve: curve.role != "candidate"):
            if curve.form != "points" or not curve.x.size:
                continue
            x = (_coordinates(curve.x, self._chart.x, to_x) - x_low) * wide - place.x()
            y = (y_high - _coordinates(curve.y, self._chart.y, to_y)) * high - place.y()
            far = np.nan_to_num(np.hypot(x, y), nan=np.inf)
            nearest = int(np.argmin(far))
            if far[nearest] <= _NEAR:
                told = self.picked_too if too else self.picked
                told.emit(float(curve.x[nearest]), float(curve.y[nearest]))
                return

    def _pick_at(self, place: float) -> None:
        """Tell the separate point nearest in x, of those of the candidate first."""
        if self._chart is None:
            return
        scale = _scale(self._chart.x, self._units)
        for curve in sorted(self._chart.curves, key=lambda curve: curve.role != "candidate"):
            if curve.form == "points" and curve.x.size:
                far = np.abs(_coordinates(curve.x, self._chart.x, scale) - place)
                nearest = int(np.argmin(np.nan_to_num(far, nan=np.inf)))
                self.picked.emit(float(curve.x[nearest]), float(curve.y[nearest]))
                return

    def _zoomed_by_hand(self) -> None:
        self._zoomed = True

    def _read_out(self) -> None:
        """Values at the mouse, else at the time cursor, else nothing."""
        chart = self._chart
        if chart is None:
            return
        place = self._hover
        if place is None and chart.over_time and self._cursor is not None:
            place = self._cursor.time
        if place is None:
            self._readout.set_content("", (), "")
            return
        x_scale, x_unit = chart.x.display(self._units)
        y_scale, y_unit = chart.y.display(self._units)
        items = [
            ReadoutItem(
                short_label(curve.label),
                _number(self._seen(float(np.interp(place, curve.x, curve.y, np.nan, np.nan)) / y_scale)),
                variant_colour(curve.role, self._theme, curve.shade),
            )
            for curve in sorted(chart.curves, key=lambda curve: curve.role != "candidate")
            if curve.form == "line"
        ]
        where = chart.x.name_at(place) or f"{_number(place / x_scale)} {x_unit}"
        self._readout.set_content(where, items, y_unit)

    def _seen(self, value: float) -> float:
        """A value of y, or 0 where it is too small to matter beside what the axis shows."""
        assert self._chart is not None
        low, high = self._canvas.ranges[1]
        return 0.0 if not self._chart.y.log and abs(value) < _FAINT * (high - low) else value


def _item(curve: Curve, theme: Theme) -> LineItem | PointsItem:
    if curve.form == "points":
        return PointsItem(variant_colour(curve.role, theme, curve.shade), curve_pen(curve, theme).widthF())
    return LineItem(curve_pen(curve, theme), broken=curve.form == "path")


def _legend_entry(key: LegendKey, theme: Theme) -> LegendEntry:
    if key.role is None:
        return LegendEntry(key.text, style_pen(QColor(theme.ink), 1.4, key.place, key.side))
    width = 2.4 if key.role == "candidate" else 1.6
    return LegendEntry(key.text, QPen(variant_colour(key.role, theme, key.shade), width), long=True)


def _number(value: float) -> str:
    return format_value(value, "1", "1").replace("-", "−")


def _between(first: QColor, second: QColor, share: float) -> QColor:
    """Opaque mixture: lines of one colour are drawn faster than transparent ones."""

    def mixed(a: float, b: float) -> float:
        return a + (b - a) * share

    return QColor.fromRgbF(
        mixed(first.redF(), second.redF()),
        mixed(first.greenF(), second.greenF()),
        mixed(first.blueF(), second.blueF()),
    )


def _span(limits: tuple[float, float]) -> tuple[float, float]:
    low, high = limits
    return (low, high) if high > low else (low - 0.5, high + 0.5)


def _scale(axis: Axis, units: UnitChoice) -> float:
    return axis.display(units)[0]


def _coordinate(value: float, axis: Axis, units: UnitChoice) -> float:
    shown = value / _scale(axis, units)
    return math.log10(shown) if axis.log else shown


def _in_coordinates(row: SpanRow, axis: Axis, units: UnitChoice) -> SpanRow:
    return SpanRow(
        row.label,
        tuple(
            (role, _coordinate(start, axis, units), _coordinate(end, axis, units))
            for role, start, end in row.spans
        ),
    )


def _value(coordinate: float, axis: Axis, scale: float) -> float:
    return (10.0**coordinate if axis.log else coordinate) * scale


def _coordinates(values: Array, axis: Axis, scale: float) -> Array:
    shown = values / scale
    return np.log10(np.maximum(shown, 1e-30)) if axis.log else shown


def _finite(curve: Curve) -> tuple[Array, Array]:
    if np.isfinite(curve.y.sum()):
        return curve.x, curve.y
    keep = np.isfinite(curve.y)
    return curve.x[keep], curve.y[keep]
