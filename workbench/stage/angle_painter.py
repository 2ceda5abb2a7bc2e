"""Draws the angles of levers and links against their limits."""

from __future__ import annotations

import math
from collections.abc import Iterator

from PySide6.QtCore import QLineF, QMarginsF, QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter

from models.units import UnitChoice
from workbench.stage.angles import AngleMark
from workbench.stage.camera import Camera
from workbench.stage.pens import Pens, fill
from workbench.stage.readout import running
from workbench.stage.silhouette import Point

__all__ = ["draw_angles"]

#: Radius of the dial of a lever and of a link, and how far needle and limit stand out, px.
_RADII, _OUT = {"lever": 19.0, "link": 13.0}, 3.0
#: Links that are shorter in the drawing are seen end on, px.
_END_ON = 4.0
#: Words stand so far from the dial, or in one of the rings around it where something else stands there, px.
_ASIDE, _RINGS, _GAP = 3.0, 5, 2.0
#: Smallest angle worth a digit, rad.
_RESOLUTION = math.radians(0.1)


def draw_angles(
    painter: QPainter,
    marks: tuple[AngleMark, ...],
    camera: Camera,
    rise: float,
    pens: Pens,
    units: UnitChoice,
    small: QFont,
    taken: list[QRectF],
) -> list[QRectF]:
    """A dial at each joint: wedge of the present angle with a tick at the limit, and the angle in words.

    What is beyond its limit is bold and in the warning colour.  Words keep clear of those at the places
    ``taken``, px; gives their own places.
    """
    dials = [_dial(painter, mark, camera, rise, pens) for mark in marks]
    strong = QFont(small)
    strong.setBold(True)
    words: list[QRectF] = []
    # What is beyond its limit has the first choice of places.
    for mark, dial in sorted(zip(marks, dials, strict=True), key=lambda pair: not pair[0].beyond):
        font = strong if mark.beyond else small
        painter.setFont(font)
        angle = running(mark.angle, "angle", units, sign=mark.kind == "lever", resolution=_RESOLUTION)
        text, metrics = f"{mark.kind} {angle}", QFontMetricsF(font)
        box = _free_box(dial, text, metrics, [*taken, *words, *dials])
        words.append(box)
        colour = pens.theme.mark if mark.beyond else pens.theme.ink
        painter.fillRect(box, fill(pens.soft(pens.colour, 0.08)))
        painter.setPen(pens.line(colour, 1.0))
        painter.drawText(QPointF(box.left(), box.top() + metrics.ascent()), text)
    return words


def _dial(painter: QPainter, mark: AngleMark, camera: Camera, rise: float, pens: Pens) -> QRectF:
    """Gives the place it takes, px."""
    apex, toward, beside = (
        camera.point(Point(place.x, place.z - rise)) for place in (mark.apex, mark.toward, mark.beside)
    )
    radius = _RADII[mark.kind]
    box = QRectF(apex.x() - radius, apex.y() - radius, 2 * radius, 2 * radius)
    zero, sense = _ways(mark, apex, toward, beside)
    limits = (-mark.limit, mark.limit) if mark.kind == "lever" else (mark.limit,)
    arc = (-mark.limit, mark.limit) if mark.kind == "lever" else (0.0, max(mark.angle, mark.limit))
    colour = pens.theme.mark if mark.beyond else pens.theme.ink
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(fill(pens.soft(colour, 0.45 if mark.beyond else 0.25)))
    painter.drawPie(box, _sixteenths(zero), _sixteenths(sense * mark.angle))
    painter.setPen(pens.line(pens.soft(pens.theme.ink, 0.6), 1.0))
    painter.drawArc(box, _sixteenths(zero + sense * arc[0]), _sixteenths(sense * (arc[1] - arc[0])))
    for limit in limits:
        painter.drawLine(_ray(apex, zero + sense * limit, radius - _OUT, radius + _OUT))
    painter.setPen(pens.line(colour, 2.2 if mark.beyond else 1.2))
    painter.drawLine(_ray(apex, zero + sense * mark.angle, 0.0, radius + _OUT))
    return box


def _ways(mark: AngleMark, apex: QPointF, toward: QPointF, beside: QPointF) -> tuple[float, float]:
    """Where the angle begins, rad from the right turning up, and which way it counts, 1 or -1.

    Of a lever from level to the side where it points, up positive; of a link from the link to its lever.
    """
    way = toward - apex
    if mark.kind == "lever":
        return (0.0, 1.0) if way.x() >= 0 else (math.pi, -1.0)
    arm = beside - apex
    if math.hypot(way.x(), way.y()) < _END_ON:
        way = QPointF(0.0, -1.0)
    turn = arm.x() * way.y() - arm.y() * way.x()
    if arm.x() * way.x() + arm.y() * way.y() < 0:
        turn = -turn  # the acute angle is to the lever's line beyond the joint
    return math.atan2(-way.y(), way.x()), 1.0 if turn >= 0 else -1.0


def _ray(apex: QPointF, angle: float, start: float, end: float) -> QLineF:
    x, y = math.cos(angle), -math.sin(angle)
    return QLineF(apex.x() + start * x, apex.y() + start * y, apex.x() + end * x, apex.y() + end * y)


def _sixteenths(angle: float) -> int:
    return round(16 * math.degrees(angle))


def _free_box(dial: QRectF, text: str, metrics: QFontMetricsF, taken: list[QRectF]) -> QRectF:
    """Room for a text as near to a dial as it is free."""
    places = list(_places(dial, metrics.horizontalAdvance(text), metrics.height()))
    gap = QMarginsF(_GAP, 0.0, _GAP, 0.0)
    return next((box for box in places if not any(box.intersects(other + gap) for other in taken)), places[0])


def _places(dial: QRectF, width: float, height: float) -> Iterator[QRectF]:
    """Boxes beside, over and under a dial, ring by ring."""
    middle = dial.center()
    for ring in range(_RINGS):
        across = dial.width() / 2 + _ASIDE + _OUT
        up = dial.height() / 2 + _ASIDE + ring * height
        for left, top in (
            (middle.x() + across, middle.y() - height / 2 - ring * height),
            (middle.x() - across - width, middle.y() - height / 2 - ring * height),
            (middle.x() + across, middle.y() - height / 2 + ring * height),
            (middle.x() - across - width, middle.y() - height / 2 + ring * height),
            (middle.x() - width / 2, middle.y() - up - height),
            (middle.x() - width / 2, middle.y() + up),
        ):
            yield QRectF(left, top, width, height)
