"""Draws the room that a car has: travel to its stops, and clearance under its points."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QMarginsF, QPointF, QRectF
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPolygonF

from models.units import UnitChoice
from workbench.stage.camera import Camera
from workbench.stage.pens import Pens, fill
from workbench.stage.readout import running
from workbench.stage.room import ClearanceMark, TravelEnd, TravelGauge
from workbench.stage.silhouette import Point

__all__ = ["draw_clearances", "draw_gauges"]

#: Half of an end of the gauge, and the pointer of the wheel, px.
_TICK, _POINTER = 6.0, 5.0
#: The sign of a point under the body, px.
_SIGN = 4.0
#: Names stand so far under the road, or in one of the rows below where something else stands there, px.
_UNDER, _MOST_ROWS, _GAP = 3.0, 4, 6.0
#: Smallest clearance worth a digit, m.
_RESOLUTION = 1e-3


def draw_gauges(
    painter: QPainter,
    gauges: tuple[TravelGauge, ...],
    camera: Camera,
    rise: float,
    pens: Pens,
    units: UnitChoice,
    small: QFont,
) -> list[QRectF]:
    """Both ends of the travel beside a wheel with what is left to them, and where the wheel is between.

    Gives the places of the words, px.
    """
    painter.setFont(small)
    words: list[QRectF] = []
    for gauge in gauges:
        ends = [end for end in (gauge.jounce, gauge.rebound) if end is not None]
        if not ends:
            continue
        wheel = _pixel(gauge.wheel, camera, rise)
        painter.setPen(pens.line(pens.soft(pens.theme.ink, 0.6), 1.0))
        heights = [_pixel(end.place, camera, rise).y() for end in ends] + [wheel.y()]
        painter.drawLine(QLineF(wheel.x(), min(heights), wheel.x(), max(heights)))
        words += [_end(painter, end, gauge, camera, rise, pens, units) for end in ends]
        painter.setPen(pens.line(pens.theme.ink, 1.0))
        painter.setBrush(fill(pens.colour))
        base = wheel.x() - gauge.outward * 1.6 * _POINTER
        painter.drawPolygon(
            QPolygonF([wheel, QPointF(base, wheel.y() - _POINTER), QPointF(base, wheel.y() + _POINTER)])
        )
    return words


def draw_clearances(
    painter: QPainter,
    marks: tuple[ClearanceMark, ...],
    camera: Camera,
    rise: float,
    pens: Pens,
    units: UnitChoice,
    small: QFont,
    taken: list[QRectF],
) -> list[QRectF]:
    """Points with a line down to the road and the clearance under it, in the warning colour where short.

    Words keep clear of those at the places ``taken``, px; gives these and their own.
    """
    painter.setFont(small)
    metrics = QFontMetricsF(small)
    for mark in sorted(marks, key=lambda mark: mark.point.x):
        colour = pens.theme.mark if mark.short else pens.theme.ink
        point, ground = (_pixel(place, camera, rise) for place in (mark.point, mark.ground))
        painter.setPen(pens.line(colour, 1.6 if mark.short else 1.0))
        painter.drawLine(point, ground)
        painter.setBrush(fill(colour))
        painter.drawPolygon(
            QPolygonF(
                [
                    point,
                    QPointF(point.x() - _SIGN, point.y() - 1.6 * _SIGN),
                    QPointF(point.x() + _SIGN, point.y() - 1.6 * _SIGN),
                ]
            )
        )
        text = f"{mark.name} {running(mark.clearance, 'travel', units, resolution=_RESOLUTION)}"
        box = _free_box(ground.x(), camera.y + _UNDER, text, metrics, taken)
        taken = [*taken, box]
        painter.drawText(QPointF(box.left(), box.top() + metrics.ascent()), text)
    return taken


def _free_box(middle: float, top: float, text: str, metrics: QFontMetricsF, taken: list[QRectF]) -> QRectF:
    """Room for a text in the highest row that is free."""
    width = metrics.horizontalAdvance(text)
    rows = [
        QRectF(middle - width / 2, top + row * metrics.height(), width, metrics.height())
        for row in range(_MOST_ROWS)
    ]
    gap = QMarginsF(_GAP, -1.0, _GAP, -1.0)
    return next((box for box in rows if not any(box.intersects(other + gap) for other in taken)), rows[-1])


def _end(
    painter: QPainter,
    end: TravelEnd,
    gauge: TravelGauge,
    camera: Camera,
    rise: float,
    pens: Pens,
    units: UnitChoice,
) -> QRectF:
    place = _pixel(end.place, camera, rise)
    colour = pens.theme.mark if end.left < 0 else pens.theme.ink
    painter.setPen(pens.line(colour, 2.0))
    painter.drawLine(QLineF(place.x() - _TICK, place.y(), place.x() + _TICK, place.y()))
    text = running(end.left, "travel", units, resolution=_RESOLUTION)
    metrics = QFontMetricsF(painter.font())
    aside, width = _TICK + 4.0, metrics.horizontalAdvance(text)
    left = place.x() + aside if gauge.outward > 0 else place.x() - aside - width
    box = QRectF(left, place.y() - metrics.height() / 2, width, metrics.height())
    painter.drawText(QPointF(left, box.top() + metrics.ascent()), text)
    return box


def _pixel(place: Point, camera: Camera, rise: float) -> QPointF:
    return camera.point(Point(place.x, place.z - rise))
