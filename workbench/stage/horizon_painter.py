"""Draws the windscreens of both cars with the horizon in them."""

from __future__ import annotations

import math

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPolygonF

from models.units import KINDS, UnitChoice, factor
from workbench.stage.horizon import View, round_mark
from workbench.stage.pens import Pens, fill

__all__ = ["HorizonPlace", "draw_horizon", "draw_horizon_scale", "horizon_place"]

#: Upper edge under the words of the scale, side margin and gap between the two, px.
_TOP, _MARGIN, _GAP = 76.0, 12.0, 24.0
#: Length of the mark of level, and its distance from the glass, px.
_TICK, _OFF = 7.0, 3.0
#: Width and height of a windscreen, and the least ones that still can be read, px.
_SHARE, _WIDEST, _ASPECT, _LEAST = 0.105, 168.0, 0.56, 78.0
#: Lines of text under it and the room kept to the road, px.
_TEXT = 34.0
#: What the height of a windscreen shows, rad, before exaggeration.
_FIELD = math.radians(22.0)
#: Level before the run from the upper edge, as a share of the height.
_LEVEL = 0.46
#: Shape of the glass: how far its upper corners come in, and their radius, as shares of the width.
_SLANT, _CORNER = 0.09, 0.07


class HorizonPlace:
    """Where the windscreens stand in a picture, and their paths.

    Attributes:
        boxes: of candidate and, where it is shown, baseline, px.
        left: left end of the strip that they take, px.
        strip: width of the strip, px.
    """

    def __init__(self, right: float, width: float, height: float, count: int) -> None:
        first = right - count * width - (count - 1) * _GAP
        self.boxes = tuple(
            QRectF(first + number * (width + _GAP), _TOP, width, height) for number in range(count)
        )
        self.glass = tuple(_glass(box) for box in self.boxes)
        self.left = first - _GAP
        self.strip = right + _MARGIN - self.left


def horizon_place(width: float, road: float, count: int) -> HorizonPlace | None:
    """Place at the right of a picture; None where there is no room.

    Args:
        width: of the picture, px.
        road: pixel of the road's height at design trim.
        count: how many windscreens.
    """
    wide = min(_SHARE * width, _WIDEST, (road - _TOP - _TEXT) / _ASPECT)
    if wide < _LEAST:
        return None
    return HorizonPlace(width - _MARGIN, round(wide), round(_ASPECT * wide), count)


def draw_horizon(
    painter: QPainter, place: HorizonPlace, number: int, view: View, name: str, pens: Pens
) -> None:
    """One windscreen; ``number`` says which of the two."""
    box, glass = place.boxes[number], place.glass[number]
    middle = QPointF(box.center().x(), box.top() + _LEVEL * box.height())
    scale = box.height() / _FIELD

    def at(direction: tuple[float, float], start: QPointF = middle) -> QPointF:
        return QPointF(start.x() + scale * direction[0], start.y() - scale * direction[1])

    centre = at(view.centre)
    reach = 2.0 * box.width()
    left, right = (
        QPointF(centre.x() + side * reach, centre.y() - side * reach * view.tilt) for side in (-1.0, 1.0)
    )
    edges = [_far(centre, edge, reach) for edge in (view.left_edge, view.right_edge)]
    painter.save()
    painter.setClipPath(glass)
    # Fills without smoothing: their edges lie under lines.
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.fillRect(box, fill(pens.soft(pens.colour, 0.05)))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(fill(pens.soft(pens.theme.road, 0.16)))
    painter.drawPolygon(QPolygonF([left, right, QPointF(right.x(), 1e4), QPointF(left.x(), 1e4)]))
    painter.setBrush(fill(pens.soft(pens.theme.road, 0.34)))
    painter.drawPolygon(QPolygonF([centre, *edges]))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(pens.line(pens.theme.road, 1.0))
    painter.drawLines([QLineF(centre, edge) for edge in edges])
    painter.drawLine(QLineF(at(view.near[0]), at(view.near[1])))
    painter.setPen(pens.line(pens.colour, 2.0))
    painter.drawLine(QLineF(left, right))
    painter.restore()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pens.line(pens.soft(pens.theme.ink, 0.65), 1.4))
    painter.drawPath(glass)
    painter.setPen(pens.line(pens.colour, 1.0))
    under = QRectF(box.left() - 20.0, box.bottom() + 2.0, box.width() + 40.0, 14.0)
    painter.drawText(under, Qt.AlignmentFlag.AlignCenter, name)


def draw_horizon_scale(
    painter: QPainter, place: HorizonPlace, exaggeration: float, pens: Pens, units: UnitChoice
) -> None:
    """Marks beside the windscreens: level before the run, and a round angle up and down from it."""
    unit = units["angle"]
    size = factor(unit, KINDS["angle"].si)
    per_unit = exaggeration * size / _FIELD * place.boxes[0].height()  # px
    mark = round_mark(0.36 * place.boxes[0].height() / per_unit)
    lines = []
    for box in place.boxes:
        level = box.top() + _LEVEL * box.height()
        for step, length in ((0.0, _TICK), (mark, 4.0), (-mark, 4.0)):
            y = level - step * per_unit
            lines.append(QLineF(box.left() - _OFF - length, y, box.left() - _OFF, y))
    painter.setPen(pens.line(pens.theme.faint, 1.0))
    painter.drawLines(lines)
    times = f", ×{exaggeration:g}" if exaggeration != 1.0 else ""
    right = place.boxes[-1].right()
    y = place.boxes[0].bottom() + 28.0
    text = f"horizon from the driver's eye{times}; marks ±{mark:g} {unit}"
    metrics = QFontMetricsF(painter.font())
    if metrics.horizontalAdvance(text) > right - place.left + 20.0:
        text = f"horizon{times}; marks ±{mark:g} {unit}"
    painter.drawText(QPointF(right - metrics.horizontalAdvance(text), y), text)


def _far(centre: QPointF, way: tuple[float, float], reach: float) -> QPointF:
    length = math.hypot(*way)
    return QPointF(centre.x() + reach * way[0] / length, centre.y() - reach * way[1] / length)


def _glass(box: QRectF) -> QPainterPath:
    """A trapezium with round corners."""
    slant, radius = _SLANT * box.width(), _CORNER * box.width()
    corners = [
        box.bottomLeft(),
        QPointF(box.left() + slant, box.top()),
        QPointF(box.right() - slant, box.top()),
        box.bottomRight(),
    ]
    path = QPainterPath()
    for number, corner in enumerate(corners):
        before, after = corners[number - 1], corners[(number + 1) % 4]
        begin, end = _toward(corner, before, radius), _toward(corner, after, radius)
        if number == 0:
            path.moveTo(begin)
        else:
            path.lineTo(begin)
        path.quadTo(corner, end)
    path.closeSubpath()
    return path


def _toward(start: QPointF, end: QPointF, distance: float) -> QPointF:
    line = QLineF(start, end)
    return line.pointAt(distance / line.length())
