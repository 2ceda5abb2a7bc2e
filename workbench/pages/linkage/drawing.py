"""The two views of a chain, in which its joints are dragged or nudged by key."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from models.linkage import Axis, Chain, Joint, drawn, joints
from models.units import KINDS, METRIC, UnitChoice, factor
from workbench.document import next_gesture
from workbench.editor.target import StepGesture
from workbench.pages.linkage.painter import Shown, draw_chain, draw_ground
from workbench.pages.linkage.sheet import FRONT, SIDE, VIEWS, Place, Room, Sheet, View, room_of
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["LinkageDrawing"]

_HANDLE, _REACH = 4.6, 11.0  # radius of a handle and of what belongs to it, px
_PLACES = 25  # along the path of a joint
_NUDGE, _FINE = 1e-3, 1e-4  # m
_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}
_TIP = (
    "Drag a point in either view: the links fit its new place.  It stops where the linkage would lock.\n"
    "Arrow keys move the chosen point by 1 mm, with Shift by 0.1 mm; left and right act in the view last "
    "clicked, with Alt in the other one.\nPage keys choose the next point."
)


@dataclass(frozen=True, slots=True)
class _Grip:
    """A joint in the hand: the view, how far from it the mouse took it, px, and the undo step."""

    view: View
    name: str
    beside: QPointF
    gesture: int


class LinkageDrawing(QWidget):
    """Draws a chain at a travel, to scale; its points are handles at design trim.

    Signals:
        moved(str, object, int): the user wants a joint at a place (x, y, z in m); number of the gesture.
        chosen(str): name of the joint that is now the chosen one.
    """

    moved = Signal(str, object, int)
    chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._chain: Chain | None = None
        self._joints: tuple[Joint, ...] = ()
        self._shown: Shown | None = None
        self._travel, self._radius, self._ends = 0.0, 0.3, True
        self._room: Room | None = None
        self._sheet: Sheet | None = None
        self._grip: _Grip | None = None
        self._hover = self._choice = self._message = ""
        self._view = FRONT
        self._steps = StepGesture()
        self._theme, self._units = LIGHT, METRIC
        self.setFont(small_font(self.font()))
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(320, 150)
        self.setAccessibleName("Side and front view of the linkage")
        self.setToolTip(_TIP)

    def sizeHint(self) -> QSize:
        return QSize(640, 260)

    # -- what is shown -------------------------------------------------------------------------------

    def show_chain(self, chain: Chain, travel: float, radius: float) -> None:
        """Show a chain at a wheel travel, m, with a tyre of this radius, m."""
        self._chain, self._travel, self._radius = chain, travel, radius
        self._joints = joints(chain)
        ends = -chain.rebound, chain.jounce
        self._shown = Shown(drawn(chain, [travel, 0.0, *ends, *np.linspace(*ends, _PLACES)]), radius)
        if self._choice not in [joint.name for joint in self._joints]:
            self.choose(self._joints[-1].name)
        if self._grip is None:  # the scale stands while a point is in the hand
            self._fit()
        self.update()

    def show_ends(self, wanted: bool) -> None:
        """Show the chain at both ends of its travel, or not."""
        self._ends = wanted
        self.update()

    def say(self, message: str) -> None:
        """Write a line over the foot of the drawing, which keeps its size."""
        if message != self._message:
            self._message = message
            self.update()

    def choose(self, name: str) -> None:
        """Make a joint the one that keys move."""
        if name != self._choice:
            self._choice = name
            joint = self.joint(name)
            self.setAccessibleDescription(f"Chosen point: {joint.label}" if joint else "")
            self.update()
            self.chosen.emit(name)

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = units
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self.update()

    @property
    def message(self) -> str:
        """The line over the foot."""
        return self._message

    @property
    def choice(self) -> str:
        """Name of the joint that keys move."""
        return self._choice

    def joint(self, name: str) -> Joint | None:
        """Joint of a name."""
        return next((joint for joint in self._joints if joint.name == name), None)

    def pixel(self, name: str, view: View) -> QPointF:
        """Where the handle of a joint is drawn."""
        joint = self.joint(name)
        assert joint is not None
        assert self._sheet is not None
        return self._sheet.place(view, joint.place)

    def _fit(self) -> None:
        if self._shown is not None:
            self._room = room_of(self._shown.extent)
            self._sheet = Sheet(self.width(), self.height(), self._room)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    # -- painting ------------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._theme.paper))
        if self._shown is None or self._sheet is None:
            return
        draw_ground(painter, self._sheet, self._theme, self._units)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        draw_chain(painter, self._sheet, self._shown, self._theme, self._ends)
        self._handles(painter)
        self._name(painter)
        self._foot(painter)
        if self.hasFocus():
            painter.setPen(QPen(QColor(self._theme.candidate), 1.4))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(self._pane(self._view)))

    def _pane(self, view: View) -> QRectF:
        assert self._sheet is not None
        return self._sheet.panes[view]

    def _handles(self, painter: QPainter) -> None:
        assert self._sheet is not None
        theme = self._theme
        for view in VIEWS:
            for joint in sorted(self._joints, key=lambda one: one.name == self._choice):
                there = self._sheet.place(view, joint.place)
                chosen = joint.name == self._choice
                painter.setPen(QPen(QColor(theme.mark if chosen else theme.candidate), 1.6))
                raised = joint.name == self._hover
                painter.setBrush(QColor(theme.mark if chosen else theme.rule if raised else theme.raised))
                painter.drawEllipse(there, _HANDLE, _HANDLE)
                if isinstance(joint.part, Axis):  # a pivot has a dot in its middle
                    painter.setBrush(QColor(theme.raised if chosen else theme.candidate))
                    painter.setPen(Qt.PenStyle.NoPen)
                    painter.drawEllipse(there, 1.7, 1.7)

    def _name(self, painter: QPainter) -> None:
        """Name and place of the joint in the hand, under the mouse, or chosen by the keys."""
        name = self._grip.name if self._grip else self._hover or (self._choice if self.hasFocus() else "")
        joint = self.joint(name)
        if joint is None:
            return
        unit = self._units["travel"]
        scale = factor(unit, KINDS["travel"].si)
        numbers = "  ".join(
            f"{axis} {value / scale:.{1 if scale < 2e-3 else 3}f}".replace("-", "−")
            for axis, value in zip("xyz", joint.place, strict=True)
        )
        self._label(painter, self.pixel(name, self._view), f"{joint.label}   {numbers} {unit}")

    def _label(self, painter: QPainter, beside: QPointF, text: str) -> None:
        metrics = painter.fontMetrics()
        width, height = metrics.horizontalAdvance(text) + 10, metrics.height() + 4
        left = min(max(beside.x() + 12, 2.0), self.width() - width - 2.0)
        top = beside.y() - height - 8 if beside.y() > height + 30 else beside.y() + 10
        room = QRectF(left, top, width, height)
        painter.setPen(QPen(QColor(self._theme.rule), 1))
        painter.setBrush(QColor(self._theme.raised))
        painter.drawRoundedRect(room, 3, 3)
        painter.setPen(QColor(self._theme.ink))
        painter.drawText(room, Qt.AlignmentFlag.AlignCenter, text)

    def _foot(self, painter: QPainter) -> None:
        if not self._message:
            return
        flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
        wide = QRectF(0, 0, self.width() - 20, 200)
        height = painter.fontMetrics().boundingRect(wide.toRect(), flags, self._message).height()
        room = QRectF(0, self.height() - height - 8, self.width(), height + 8)
        painter.fillRect(room, QColor(self._theme.raised))
        painter.setPen(QColor(self._theme.mark))
        painter.drawLine(room.topLeft(), room.topRight())
        painter.drawText(room.adjusted(10, 4, -10, -4), flags, self._message)

    # -- mouse ---------------------------------------------------------------------------------------

    def _under(self, pixel: QPointF) -> str:
        """Joint whose handle is under a pixel; of several the chosen one."""
        assert self._sheet is not None
        view = self._sheet.view_at(pixel)
        near = [
            (round(_distance(self._sheet.place(view, joint.place), pixel)), joint.name != self._choice, joint)
            for joint in self._joints
        ]
        inside = [one for one in near if one[0] <= _REACH]
        return min(inside, key=lambda one: one[:2])[2].name if inside else ""

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() != Qt.MouseButton.LeftButton or self._sheet is None:
            event.ignore()
            return
        self._view = self._sheet.view_at(event.position())
        name = self._under(event.position())
        if name:
            beside = event.position() - self.pixel(name, self._view)
            self._grip = _Grip(self._view, name, beside, next_gesture())
            self.choose(name)
        self.say("")
        self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._sheet is None:
            return
        if self._grip is None:
            self._show_hover(self._under(event.position()), self._sheet.view_at(event.position()))
            return
        grip, joint = self._grip, self.joint(self._grip.name)
        if joint is not None:
            there = self._sheet.moved(grip.view, joint.place, event.position() - grip.beside)
            self.moved.emit(grip.name, there, grip.gesture)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self._grip is not None:
            self._grip = None
            self._fit()
            self.update()

    def leaveEvent(self, event: QEvent) -> None:
        self._show_hover("", self._view)

    def _show_hover(self, name: str, view: View) -> None:
        if name != self._hover:
            self._hover = name
            if name:
                self._view = view
            self.setCursor(Qt.CursorShape.SizeAllCursor if name else Qt.CursorShape.ArrowCursor)
            self.update()

    # -- keys ----------------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self._choose_next(1 if key == Qt.Key.Key_PageDown else -1)
        elif key in _ARROWS:
            self._nudge(*_ARROWS[key], event.modifiers())
        else:
            super().keyPressEvent(event)

    def _choose_next(self, step: int) -> None:
        names = [joint.name for joint in self._joints]
        if names:
            here = names.index(self._choice) if self._choice in names else -step
            self.choose(names[(here + step) % len(names)])

    def _nudge(self, across: float, up: float, modifiers: Qt.KeyboardModifier) -> None:
        joint = self.joint(self._choice)
        if joint is None:
            return
        other = bool(modifiers & Qt.KeyboardModifier.AltModifier)
        view = (FRONT if self._view is SIDE else SIDE) if other else self._view
        step = _FINE if modifiers & Qt.KeyboardModifier.ShiftModifier else _NUDGE
        there = list(joint.place)
        there[view.across] += step * across
        there[2] += step * up
        place: Place = (round(there[0], 7), round(there[1], 7), round(there[2], 7))
        self.moved.emit(joint.name, place, self._steps.number())


def _distance(one: QPointF, other: QPointF) -> float:
    return float(np.hypot(one.x() - other.x(), one.y() - other.y()))
