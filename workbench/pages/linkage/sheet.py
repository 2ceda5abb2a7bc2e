"""Side view and front view beside each other, at one scale and with their heights in line."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPolygonF

from models.charts.chart import Array
from workbench.polygon import polygon

__all__ = ["FRONT", "SIDE", "VIEWS", "Place", "Room", "Sheet", "View", "room_of"]

Place = tuple[float, float, float]

# Px: ruler of the heights, between the views, at the right, title, ruler below.
_LEFT, _BETWEEN, _RIGHT, _TOP, _BOTTOM = 44.0, 16.0, 8.0, 22.0, 20.0
# Of what is shown, m: least size, air around it, and the steps in which it grows, so that a drag does not
# change the scale at each move.
_LEAST, _AIR, _STEP = 0.16, 0.02, 0.02


@dataclass(frozen=True, slots=True)
class View:
    """A view: which coordinate goes to the right (0 or 1), and what it is called."""

    across: int
    title: str


SIDE = View(0, "Side view, forward →")
FRONT = View(1, "Front view, outward →")
VIEWS = (SIDE, FRONT)


@dataclass(frozen=True, slots=True)
class Room:
    """What is shown, x y z in m."""

    low: Place
    high: Place


def room_of(points: Array) -> Room:
    """Room in which points (n, 3) have air around them, in round steps."""
    low, high = points.min(axis=0) - _AIR, points.max(axis=0) + _AIR
    short = np.maximum(_LEAST - (high - low), 0.0) / 2
    low, high = np.floor((low - short) / _STEP) * _STEP, np.ceil((high + short) / _STEP) * _STEP
    return Room(_place(low), _place(high))


class Sheet:
    """From metres to pixels of the two views."""

    def __init__(self, width: float, height: float, room: Room) -> None:
        """Fit a room into a widget of this size, px."""
        spans = np.array(room.high) - np.array(room.low)
        wide = max(width - _LEFT - _BETWEEN - _RIGHT, 10.0)
        high = max(height - _TOP - _BOTTOM, 10.0)
        #: Px/m.
        self.scale = min(wide / float(spans[0] + spans[1]), high / float(spans[2]))
        spare = max(wide - self.scale * float(spans[0] + spans[1]), 0.0) / 2
        side = QRectF(_LEFT, _TOP, self.scale * float(spans[0]) + spare, high)
        left = side.right() + _BETWEEN
        self.panes = {SIDE: side, FRONT: QRectF(left, _TOP, width - _RIGHT - left, high)}
        self._middle = _place((np.array(room.high) + np.array(room.low)) / 2)

    def place(self, view: View, point: Array | Place) -> QPointF:
        """Where a point (3,) is drawn."""
        centre = self.panes[view].center()
        return QPointF(
            centre.x() + self.scale * (float(point[view.across]) - self._middle[view.across]),
            centre.y() - self.scale * (float(point[2]) - self._middle[2]),
        )

    def line(self, view: View, points: Array) -> QPolygonF:
        """Where points (n, 3) are drawn."""
        centre = self.panes[view].center()
        return polygon(
            centre.x() + self.scale * (points[:, view.across] - self._middle[view.across]),
            centre.y() - self.scale * (points[:, 2] - self._middle[2]),
        )

    def moved(self, view: View, point: Place, pixel: QPointF) -> Place:
        """A point whose two coordinates of this view are those of a pixel."""
        centre = self.panes[view].center()
        there = list(point)
        there[view.across] = self._middle[view.across] + (pixel.x() - centre.x()) / self.scale
        there[2] = self._middle[2] - (pixel.y() - centre.y()) / self.scale
        return there[0], there[1], there[2]

    def span(self, view: View, across: bool) -> tuple[float, float]:
        """What a view shows to the right, or upwards, m."""
        pane, middle = self.panes[view], self._middle[view.across if across else 2]
        half = (pane.width() if across else pane.height()) / (2 * self.scale)
        return middle - half, middle + half

    def view_at(self, pixel: QPointF) -> View:
        """The view that a pixel belongs to."""
        return SIDE if pixel.x() < (self.panes[SIDE].right() + self.panes[FRONT].left()) / 2 else FRONT


def _place(point: Array) -> Place:
    return float(point[0]), float(point[1]), float(point[2])
