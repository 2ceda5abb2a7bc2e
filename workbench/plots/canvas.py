"""The drawing surface: a pyqtgraph plot that only does what it is told."""

from __future__ import annotations

from typing import Any

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QFocusEvent, QFont, QFontMetrics, QKeyEvent

from workbench.plots.axes import NAME_LINES, RoundAxis

__all__ = ["Canvas"]

# Fixed, so that panels above each other line up and nothing moves when numbers get longer.
_LEFT_WIDTH, _BOTTOM_HEIGHT = 48, 20
# Names up the left side take what they need, up to a limit, and stand off the frame, px.
_WIDEST, _AIR = 210, 14

_WAYS = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
#: Steps of keys as shares of the width in sight, and how many of them a wide one is.
_STEP, _WIDE, _PAN = 0.01, 10, 0.1
_ZOOM = 1.25


class _Box(pg.ViewBox):  # type: ignore[misc]  # pyqtgraph has no types
    """View box without a menu of its own; a double click asks for a fit.

    Signals:
        menu_wanted(QPoint): a right click without a drag; place on the screen.
        clicked(object, bool): place of a click, px, and whether Ctrl was held.
        brushed(object, bool): rectangle of a drag, in coordinates of the axes, and whether Ctrl was held.
    """

    fit_wanted = Signal()
    menu_wanted = Signal(QPoint)
    clicked = Signal(object, bool)
    brushed = Signal(object, bool)

    def __init__(self) -> None:
        super().__init__(enableMenu=False)
        self.brushing = False
        self.disableAutoRange()
        self.setDefaultPadding(0.0)

    def mouseClickEvent(self, event: Any) -> None:
        if event.double() and event.button() == Qt.MouseButton.LeftButton:
            event.accept()
            self.fit_wanted.emit()
        elif event.button() == Qt.MouseButton.LeftButton:
            event.accept()
            self.clicked.emit(event.pos(), _with_ctrl(event))
        elif event.button() == Qt.MouseButton.RightButton:  # not dragged, which zooms
            event.accept()
            self.menu_wanted.emit(event.screenPos().toPoint())

    def mouseDragEvent(self, event: Any, axis: int | None = None) -> None:
        if not self.brushing or axis is not None or event.button() != Qt.MouseButton.LeftButton:
            super().mouseDragEvent(event, axis)
            return
        event.accept()
        if not event.isFinish():
            self.updateScaleBox(event.buttonDownPos(), event.pos())
            return
        self.rbScaleBox.hide()
        area = QRectF(QPointF(event.buttonDownPos(event.button())), QPointF(event.pos())).normalized()
        self.brushed.emit(self.childGroup.mapRectFromParent(area), _with_ctrl(event))


def _with_ctrl(event: Any) -> bool:
    return bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)


class Canvas(pg.PlotWidget):  # type: ignore[misc]
    """Plot with fixed ranges, own axes and no built-in menus or buttons.

    Signals:
        hovered(object): x under the mouse in axis coordinates, or None when it leaves.
        zoomed(): the user moved or scaled the ranges by hand.
        fit_wanted(): double click.
        menu_wanted(QPoint): right click, or key of the menu; place on the screen.
        pick_wanted(float): the user asks by key for what is at this x.
        window_changed(): the visible range of x or the width has changed.
    """

    hovered = Signal(object)
    zoomed = Signal()
    fit_wanted = Signal()
    menu_wanted = Signal(QPoint)
    pick_wanted = Signal(float)
    window_changed = Signal()

    def __init__(self, font: QFont) -> None:
        self.box = _Box()
        self.x_axis, self.y_axis = RoundAxis("bottom"), RoundAxis("left")
        super().__init__(viewBox=self.box, axisItems={"bottom": self.x_axis, "left": self.y_axis})
        self._line: float | None = None  # x that keys have put the line at
        self.plotItem.hideButtons()
        self.plotItem.setMenuEnabled(False)
        self.plotItem.layout.setContentsMargins(2, 6, 14, 0)
        self.setFrameShape(self.Shape.NoFrame)
        self.setMinimumSize(80, 60)
        self.x_axis.setStyle(tickFont=font)
        self.y_axis.setStyle(tickFont=font)
        self.x_axis.setHeight(_BOTTOM_HEIGHT)
        self.y_axis.setWidth(_LEFT_WIDTH)
        for axis in (self.x_axis, self.y_axis):
            axis.setZValue(-10)
        self.box.fit_wanted.connect(self.fit_wanted)
        self.box.menu_wanted.connect(self.menu_wanted)
        self.box.sigRangeChangedManually.connect(lambda _mask: self.zoomed.emit())
        self.box.sigXRangeChanged.connect(lambda *_: self.window_changed.emit())
        self.box.sigResized.connect(lambda _box: self.window_changed.emit())
        self.scene().sigMouseMoved.connect(self._mouse_moved)

    @property
    def ranges(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Visible ranges of x and y in axis coordinates."""
        (x_low, x_high), (y_low, y_high) = self.box.viewRange()
        return (x_low, x_high), (y_low, y_high)

    def set_ranges(self, x: tuple[float, float] | None = None, y: tuple[float, float] | None = None) -> None:
        """Show these ranges."""
        self.box.setRange(xRange=x, yRange=y, padding=0.0)

    def set_logarithmic(self, x: bool, y: bool) -> None:
        """Say which coordinates are exponents of ten; bound the zoom to what numbers can hold."""
        self.x_axis.decades, self.y_axis.decades = x, y
        self.box.setLimits(
            xMin=-20 if x else -1e9, xMax=20 if x else 1e9, yMin=-30 if y else -1e12, yMax=30 if y else 1e12
        )
        self.x_axis.picture = self.y_axis.picture = None

    def set_names(self, x: tuple[str, ...], y: tuple[str, ...] = ()) -> None:
        """Name the places 1, 2, ... of an axis; no names for numbers."""
        metrics = QFontMetrics(self.x_axis.style["tickFont"])
        if x != self.x_axis.names:
            lines = min(max((len(name.split()) for name in x), default=1), NAME_LINES)
            self.x_axis.names, self.x_axis.picture = x, None
            self.x_axis.setHeight(_BOTTOM_HEIGHT + (lines - 1) * metrics.height())
        if y != self.y_axis.names:
            longest = max((metrics.horizontalAdvance(name) for name in y), default=0) + _AIR
            self.y_axis.names, self.y_axis.picture = y, None
            self.y_axis.setWidth(min(max(longest, _LEFT_WIDTH), _WIDEST))

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        event.accept()
        if event.reason() == QContextMenuEvent.Reason.Keyboard:
            self.menu_wanted.emit(self.mapToGlobal(self.rect().center()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self._take_key(Qt.Key(event.key()), event.modifiers()):
            event.ignore()  # what pyqtgraph would do with it is not wanted

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if event.reason() not in (Qt.FocusReason.MouseFocusReason, Qt.FocusReason.ActiveWindowFocusReason):
            self._read_at(sum(self.ranges[0]) / 2 if self._line is None else self._line)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._read_at(None)

    def _take_key(self, key: Qt.Key, held: Qt.KeyboardModifier) -> bool:
        (low, high), _ = self.ranges
        line = (low + high) / 2 if self._line is None else self._line
        if key in _WAYS and held & Qt.KeyboardModifier.AltModifier:
            step = _WAYS[key] * _PAN * (high - low)
            self._move_to((low + step, high + step), None)
        elif key in _WAYS:
            many = _WIDE if held & Qt.KeyboardModifier.ShiftModifier else 1
            self._read_at(min(max(line + _WAYS[key] * many * _STEP * (high - low), low), high))
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            self._read_at(low if key == Qt.Key.Key_Home else high)
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal, Qt.Key.Key_Minus):
            self._zoom(line, _ZOOM if key == Qt.Key.Key_Minus else 1 / _ZOOM)
        elif key == Qt.Key.Key_0:
            self.fit_wanted.emit()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.pick_wanted.emit(line)
        elif key == Qt.Key.Key_Escape and self._line is not None:
            self._read_at(None)
        else:
            return False
        return True

    def _read_at(self, line: float | None) -> None:
        self._line = line
        self.hovered.emit(line)

    def _zoom(self, line: float, factor: float) -> None:
        (low, high), (bottom, top) = self.ranges
        middle, half = (bottom + top) / 2, (top - bottom) / 2 * factor
        self._move_to(
            (line + (low - line) * factor, line + (high - line) * factor), (middle - half, middle + half)
        )

    def _move_to(self, x: tuple[float, float], y: tuple[float, float] | None) -> None:
        self.set_ranges(x, y)
        self.zoomed.emit()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.hovered.emit(self._line)

    def _mouse_moved(self, place: QPointF) -> None:
        inside = self.box.sceneBoundingRect().contains(place)
        self.hovered.emit(self.box.mapSceneToView(place).x() if inside else None)
