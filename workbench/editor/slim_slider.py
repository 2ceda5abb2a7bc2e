"""Thin slider that stands under the label of a row."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QSlider, QWidget

from workbench.editor.wheel import PointedAt, wheel_steps
from workbench.theme import Theme

__all__ = ["SlimSlider"]

_PLACES = 1000
_KNOB = 5.0  # radius, px
_STEPS = {
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_Up: 1,
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Down: -1,
    Qt.Key.Key_PageUp: 10,
    Qt.Key.Key_PageDown: -10,
}


class SlimSlider(QSlider):
    """Goes to the place that is pressed; a press on its knob alone moves nothing.

    Signals:
        moved: place from 0 to 1, only when the user moves it.
        stepped: steps by key or wheel, and whether they are fine ones.
    """

    moved = Signal(float)
    stepped = Signal(float, bool)

    def __init__(self, theme: Callable[[], Theme], parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._theme = theme
        self._pointed_at = PointedAt(self)
        self._grip: float | None = None
        self._tick: float | None = None
        self.setRange(0, _PLACES)
        # The number field next to it takes the same arrow keys, so Tab passes the slider by.
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.valueChanged.connect(lambda place: self.moved.emit(place / _PLACES))

    def show_fraction(self, fraction: float) -> None:
        """Move the knob without telling anyone."""
        place = round(fraction * _PLACES)
        if place != self.value():
            blocked = self.blockSignals(True)
            self.setValue(place)
            self.blockSignals(blocked)

    def show_tick(self, fraction: float | None) -> None:
        """Mark the place of a reference value."""
        if fraction != self._tick:
            self._tick = fraction
            self.update()

    def sizeHint(self) -> QSize:
        return QSize(80, 14)

    def minimumSizeHint(self) -> QSize:
        return QSize(24, 14)

    def _knob_x(self) -> float:
        return self._x(self.value() / _PLACES)

    def _x(self, fraction: float) -> float:
        return _KNOB + 1 + fraction * (self.width() - 2 * _KNOB - 2)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._pointed_at.note()
        if event.button() != Qt.MouseButton.LeftButton:
            event.ignore()
            return
        x = event.position().x()
        on_knob = abs(x - self._knob_x()) <= _KNOB + 2
        self._grip = x - self._knob_x() if on_knob else 0.0
        self.setSliderDown(True)
        if not on_knob:
            self._go_to(x)
        self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._pointed_at.note()
        if self._grip is not None:
            self._go_to(event.position().x() - self._grip)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self._grip is not None:
            self._grip = None
            self.setSliderDown(False)
            self.update()

    def _go_to(self, x: float) -> None:
        room = max(self.width() - 2 * _KNOB - 2, 1.0)
        self.setSliderPosition(round((x - _KNOB - 1) / room * _PLACES))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in _STEPS:
            self.stepped.emit(_STEPS[key], bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier))
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self._pointed_at.is_meant:
            self.stepped.emit(*wheel_steps(event))
            event.accept()
        else:
            event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = self._theme()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        middle, x = self.height() / 2, self._knob_x()
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.rule))
        painter.drawRoundedRect(QRectF(0, middle - 1, self.width(), 2), 1, 1)
        painter.setBrush(QColor(theme.baseline))
        painter.drawRoundedRect(QRectF(0, middle - 1, x, 2), 1, 1)
        if self._tick is not None:
            painter.drawRect(QRectF(self._x(self._tick) - 0.75, middle - 5, 1.5, 10))
        active = self.isSliderDown() or self.hasFocus()
        painter.setPen(QPen(QColor(theme.candidate if active else theme.baseline), 2.0 if active else 1.2))
        painter.setBrush(QColor(theme.raised))
        painter.drawEllipse(QPointF(x, middle), _KNOB - 0.5, _KNOB - 0.5)
