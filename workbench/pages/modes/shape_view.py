"""Drawing of one mode: the body as a line over its wheels, at the end of its swing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from models.ride.mode_shape import ModeShapes
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["Pose", "ShapeView", "pose"]

# Places from left to right: of the view from the side, and from behind at either axle.
_SIDE, _BEHIND = ("rear", "front"), (("front left", "front right"), ("rear left", "rear right"))

# Parts of the length between the wheels: overhang of the body line, largest swing, wheel radius, height of
# the body line over the wheels.
_OVERHANG, _SWING, _RADIUS, _RISE = 0.3, 0.16, 0.11, 0.24
_WIDEST = 420.0  # between the wheels, px
_HEAD = 5.0  # of an arrow, px


@dataclass(frozen=True, slots=True)
class Pose:
    """A mode in one view, largest swing 1 upwards or downwards.

    Attributes:
        ends: names of the two places, as they stand from left to right.
        body, wheels: heights at the two places.
    """

    ends: tuple[str, str]
    body: tuple[float, float]
    wheels: tuple[float, float]

    @property
    def side_view(self) -> bool:
        """Whether it is seen from the right side, front on the right; otherwise from behind."""
        return self.ends == _SIDE

    @property
    def node(self) -> float | None:
        """Where the body line stands still, from 0 at the left place to 1 at the right; None for nowhere."""
        first, second = self.body
        return first / (first - second) if first != second else None


def pose(shapes: ModeShapes, mode: int, like: Pose | None = None) -> Pose:
    """A mode from the side, or from behind at the axle that moves more, whichever shows it best.

    Args:
        shapes, mode: which mode.
        like: take the view of this pose instead, and the half of the swing that is more like it.
    """
    view = _best_view(shapes, mode) if like is None else like.ends
    corners, wheels = shapes.corners[:, mode].reshape(2, 2), shapes.wheels[:, mode].reshape(2, 2)
    if view == _SIDE:
        heights = np.concatenate([corners.mean(axis=1)[::-1], wheels.mean(axis=1)[::-1]])
    else:
        axle = _BEHIND.index(view)
        heights = np.concatenate([corners[axle], wheels[axle]])
    largest = heights[np.argmax(np.abs(heights))]
    heights = heights / (largest or 1.0)
    if like is not None and heights @ np.array([*like.body, *like.wheels]) < 0:
        heights = -heights
    a, b, c, d = (float(value) for value in heights)
    return Pose(view, (a, b), (c, d))


def _best_view(shapes: ModeShapes, mode: int) -> tuple[str, str]:
    if not shapes.across(mode):
        return _SIDE
    heights = np.abs(np.stack([shapes.corners[:, mode], shapes.wheels[:, mode]])).reshape(2, 2, 2)
    return _BEHIND[int(np.argmax(heights.max(axis=(0, 2))))]


class ShapeView(QWidget):
    """Rest faint, candidate strong, baseline thin; arrows show the swing, a ring the node of the body."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme: Theme = LIGHT
        self._title = ""
        self._candidate: Pose | None = None
        self._baseline: Pose | None = None
        self.setFont(small_font(self.font()))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(160, 110)

    @property
    def shown(self) -> tuple[Pose | None, Pose | None]:
        """Poses of candidate and baseline."""
        return self._candidate, self._baseline

    def show_mode(self, title: str, candidate: Pose | None, baseline: Pose | None) -> None:
        """Show a mode; the poses must be of one view."""
        if (title, candidate, baseline) != (self._title, self._candidate, self._baseline):
            self._title, self._candidate, self._baseline = title, candidate, baseline
            self.setAccessibleName(f"Shape of {title}")
            self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(420, 260)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._theme.paper))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._candidate is None:
            return
        painter.setPen(QColor(self._theme.ink))
        view = "from the side" if self._candidate.side_view else "from behind"
        painter.drawText(QPointF(10, 6 + painter.fontMetrics().ascent()), f"{self._title}, {view}")
        _Sheet(painter, QRectF(self.rect()), self._theme).draw(self._candidate, self._baseline)


class _Sheet:
    """Places of one painting."""

    def __init__(self, painter: QPainter, room: QRectF, theme: Theme) -> None:
        self._painter, self._theme = painter, theme
        line = painter.fontMetrics().height()
        usable = room.adjusted(10, line + 8, -10, -line - 6)
        # Top to bottom: swing, rise of the body line, wheel, swing.
        height = 2 * _SWING + _RISE + 2 * _RADIUS
        self._between = min(_WIDEST, usable.width() / (1 + 2 * _OVERHANG), usable.height() / height)
        self._left = room.center().x() - self._between / 2
        spare = (usable.height() - height * self._between) / 2
        self._body = usable.top() + spare + _SWING * self._between
        self._hub = self._body + _RISE * self._between
        self._ground = self._hub + (_RADIUS + _SWING) * self._between
        self._swing = _SWING * self._between

    def draw(self, candidate: Pose, baseline: Pose | None) -> None:
        theme = self._theme
        self._figure(Pose(candidate.ends, (0, 0), (0, 0)), theme.rule, 1.4)
        if baseline is not None:
            self._figure(baseline, theme.baseline, 1.2)
        self._figure(candidate, theme.candidate, 2.4)
        self._arrows(candidate)
        self._node(candidate)
        self._painter.setPen(QColor(theme.faint))
        metrics = self._painter.fontMetrics()
        for end, name in enumerate(candidate.ends):
            width = metrics.horizontalAdvance(name)
            place = QPointF(self._x(end) - width / 2, self._ground + metrics.ascent() + 2)
            self._painter.drawText(place, name)

    def _x(self, place: float) -> float:
        return self._left + place * self._between

    def _body_y(self, shape: Pose, place: float) -> float:
        return self._body - self._swing * (shape.body[0] + place * (shape.body[1] - shape.body[0]))

    def _figure(self, shape: Pose, colour: str, width: float) -> None:
        painter = self._painter
        painter.setPen(QPen(QColor(colour), width))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        ends = (-_OVERHANG, 1 + _OVERHANG) if shape.side_view else (-0.12, 1.12)
        painter.drawLine(QLineF(*(part for end in ends for part in (self._x(end), self._body_y(shape, end)))))
        radius = _RADIUS * self._between
        for end, height in enumerate(shape.wheels):
            hub = QPointF(self._x(end), self._hub - self._swing * height)
            across = radius if shape.side_view else 0.45 * radius
            box = QRectF(hub.x() - across, hub.y() - radius, 2 * across, 2 * radius)
            if shape.side_view:
                painter.drawEllipse(box)
            else:
                painter.drawRoundedRect(box, 0.4 * across, 0.4 * across)

    def _arrows(self, shape: Pose) -> None:
        self._painter.setPen(QPen(QColor(self._theme.mark), 1.6))
        self._painter.setBrush(QColor(self._theme.mark))
        for end in (0, 1):
            for rest, height in ((self._body, shape.body[end]), (self._hub, shape.wheels[end])):
                self._arrow(self._x(end), rest, rest - self._swing * height)

    def _arrow(self, x: float, start: float, end: float) -> None:
        if abs(end - start) < _HEAD:
            return
        back = _HEAD if end > start else -_HEAD
        self._painter.drawLine(QLineF(x, start, x, end - back))
        head = (QPointF(x, end), QPointF(x - 0.6 * _HEAD, end - back), QPointF(x + 0.6 * _HEAD, end - back))
        self._painter.drawPolygon(QPolygonF(head))

    def _node(self, shape: Pose) -> None:
        node = shape.node
        if node is None or not -_OVERHANG <= node <= 1 + _OVERHANG:
            return
        self._painter.setPen(QPen(QColor(self._theme.candidate), 1.6))
        self._painter.setBrush(QColor(self._theme.paper))
        self._painter.drawEllipse(QPointF(self._x(node), self._body), 4.0, 4.0)
