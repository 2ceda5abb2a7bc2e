"""Draws what the cars drive over: road line, distances, the event in its place, scale bar."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPolygonF

from models.roads import Event
from models.units import UnitChoice, factor
from workbench.polygon import polygon
from workbench.stage.camera import FOOT, Camera
from workbench.stage.pens import Pens, fill
from workbench.stage.road_strip import RoadStrip, event_extent
from workbench.stage.scene import Frame

__all__ = ["Ground", "draw_foot"]

Array = NDArray[np.float64]

#: Steps of the distance scale and lengths of the scale bar, in the unit of the reader.
_STEPS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)
_CENTRED = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip
_LABEL_DISTANCE = 110.0
#: Bends of less than this are no corner of the road line, px.
_STRAIGHT = 1e-3


class Ground:
    """The road in sight in one frame, in pixels."""

    def __init__(
        self, strip: RoadStrip, frame: Frame, camera: Camera, rise: float, width: float, pens: Pens
    ) -> None:
        first, last = (frame.distance + (pixel - camera.x) / camera.scale for pixel in (-2.0, width + 2.0))
        distance, heights = strip.window(first, last)
        x = camera.x + camera.scale * (distance - frame.distance)
        far, near = camera.y + camera.scale * (rise - frame.exaggeration * heights)
        self._far, self._near = (x, far), _corners(x, near)
        self._bottom = camera.y + FOOT + camera.scale
        self._pens = pens

    def draw_earth(self, painter: QPainter) -> None:
        """Ground under the near track, behind the cars; its edge lies under the line of the road."""
        earth = QPolygonF(self._near)
        earth.append(QPointF(self._near.last().x(), self._bottom))
        earth.append(QPointF(self._near.first().x(), self._bottom))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(fill(_earth(self._pens)))
        # Without smoothing, which takes four times as long and would not be seen.
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.drawPolygon(earth)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    def draw_lines(self, painter: QPainter, far_side: bool) -> None:
        """The far track, faint, and the near one, both in front of the cars.

        The near line is three thin ones side by side: Qt draws a line of 1 px forty times faster than
        one of 2 px, which counts with the hundreds of bends of a random road.
        """
        road = self._pens.theme.road
        if far_side:
            painter.setPen(self._pens.line(self._pens.soft(road, 0.6), 1.0))
            painter.drawPolyline(_corners(*self._far))
        painter.setPen(self._pens.line(road, 1.0))
        for shift in ((0.0, 0.0), (0.8, 0.0), (0.0, 0.8)):
            painter.drawPolyline(self._near.translated(*shift))


def draw_foot(
    painter: QPainter,
    event: Event,
    frame: Frame,
    camera: Camera,
    size: tuple[float, float],
    pens: Pens,
    units: UnitChoice,
) -> None:
    """Distance scale along the lower edge, and the name of the event under its place."""
    width, height = size
    unit = units["length"]
    metre = factor(unit, "m")
    step = _step(_LABEL_DISTANCE / camera.scale / metre)
    left, right = (frame.distance + (pixel - camera.x) / camera.scale for pixel in (0.0, width))
    ticks, small = [], step / 5
    painter.setPen(pens.line(pens.theme.faint, 1.0))
    for number in range(math.ceil(left / metre / small), math.floor(right / metre / small) + 1):
        x = camera.x + camera.scale * (number * small * metre - frame.distance)
        whole = number % 5 == 0
        ticks.append(QLineF(x, height - 1.0, x, height - (7.0 if whole else 4.0)))
        if whole and 24.0 < x < width - 24.0:
            box = QRectF(x - 60.0, height - 22.0, 120.0, 14.0)
            painter.drawText(
                box, Qt.AlignmentFlag.AlignCenter, f"{number * small:g} {unit}".replace("-", "−")
            )
    painter.setPen(pens.line(pens.soft(pens.theme.faint, 0.7), 1.0))
    painter.drawLines(ticks)
    extent = event_extent(event)
    if extent is not None:
        _event(painter, event, extent, frame, camera, size, pens)


def _event(
    painter: QPainter,
    event: Event,
    extent: tuple[float, float],
    frame: Frame,
    camera: Camera,
    size: tuple[float, float],
    pens: Pens,
) -> None:
    width, height = size
    begin, end = (camera.x + camera.scale * (place - frame.distance) for place in extent)
    if end < 0 or begin > width:
        return
    y = height - 30.0
    top = y - 14.0
    side = getattr(event, "side", "both sides")
    name = event.kind if side == "both sides" else f"{event.kind}, {side} side"
    painter.setPen(pens.line(pens.theme.mark, 1.6))
    bracket = [QPointF(begin, top), QPointF(begin, y), QPointF(end, y), QPointF(end, top)]
    painter.drawPolyline(QPolygonF(bracket))
    text = painter.fontMetrics().horizontalAdvance(name) + 10.0
    middle = (max(begin, 0.0) + min(end, width)) / 2
    middle = min(max(middle, text / 2 + 2.0), width - text / 2 - 2.0)
    box = QRectF(middle - text / 2, y - 6.0, text, 13.0)
    painter.fillRect(box, fill(_earth(pens)))
    painter.drawText(box, _CENTRED, name)


def _earth(pens: Pens) -> str:
    return pens.soft(pens.theme.road, 0.10)


def _step(least: float) -> float:
    return next((step for step in _STEPS if step >= least), _STEPS[-1])


def _corners(x: Array, y: Array) -> QPolygonF:
    """Points of a line without those that lie straight between their neighbours."""
    bent = np.abs(np.diff(y, 2)) > _STRAIGHT
    keep = np.concatenate([[True], bent, [True]])
    return polygon(x[keep], y[keep])
