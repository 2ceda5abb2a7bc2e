"""Draws the two cars of a frame: the candidate in full, the baseline as an outline."""

from __future__ import annotations

import math

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QPolygonF, QTransform

from workbench.stage.pens import Pens, fill
from workbench.stage.scene import Bar, Flank, Frame, Lever, Pose, Wheel
from workbench.stage.silhouette import Curve, Point, Silhouette

__all__ = ["CarPaths", "draw_cars"]

_RIM = 0.64
_COILS = 6
_BAR_RADIUS = 0.065
_GENERATORS = 6
#: Turns of the bar are drawn larger than the motion by this factor; its twist is written beside it.
_BAR_GAIN = 4.0


class CarPaths:
    """Body lines as painter paths, made once per car."""

    def __init__(self, body: Silhouette) -> None:
        self.body = body
        self.outline = _path(body.outline)
        self.outline.closeSubpath()
        self.lines = QPainterPath()
        for curve in body.lines:
            self.lines.addPath(_path(curve))


def draw_cars(
    painter: QPainter,
    candidate: tuple[Frame, CarPaths],
    ghost: tuple[Frame, CarPaths] | None,
    far_side: bool,
    pens: Pens,
) -> None:
    """Both cars from back to front; what is faint lies between the candidate's ground and its lines."""
    frame, paths = candidate
    outline = _placed(frame.near.pose).map(paths.outline)
    lines = _placed(frame.near.pose).map(paths.lines)
    _fill(painter, outline, pens.soft(pens.theme.candidate, 0.08))
    _fill(painter, lines, pens.soft(pens.theme.candidate, 0.02))
    if far_side:
        _far_wheels(painter, frame.far, pens)
    if ghost is not None:
        _ghost(painter, *ghost, pens)
    painter.strokePath(outline, pens.line(pens.theme.candidate, 2.4))
    painter.strokePath(lines, pens.line(pens.soft(pens.theme.candidate, 0.8), 1.0))
    _driver(painter, frame, paths.body, pens)
    _running_gear(painter, frame, pens)
    _axis(painter, frame, paths.body, pens)
    _gravity_mark(painter, frame.cg, pens)


def _far_wheels(painter: QPainter, flank: Flank, pens: Pens) -> None:
    """Wheels of the far side, faint."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pens.line(pens.soft(pens.theme.candidate, 0.45), 1.0))
    for wheel in (flank.front, flank.rear):
        painter.drawPath(_tyre(wheel))
        painter.drawEllipse(_at(wheel.centre), _RIM * wheel.radius, _RIM * wheel.radius)


def _running_gear(painter: QPainter, frame: Frame, pens: Pens) -> None:
    """Wheels, interconnection bar, arms, springs and trim spring of the near side."""
    colour, wheels = pens.theme.candidate, (frame.near.front, frame.near.rear)
    for wheel in wheels:
        _wheel(painter, wheel, pens)
    if frame.bar is not None:
        _bar(painter, frame.bar, frame.exaggeration, pens)
    for wheel in wheels:
        _arm(painter, wheel, pens)
        if wheel.mount is not None:
            painter.setPen(pens.line(colour, 1.6))
            painter.drawPolyline(_zigzag(wheel.centre, wheel.mount, wheel.radius))
        if wheel.trim:
            painter.setPen(pens.line(colour, 1.4))
            painter.drawPolyline(_spiral(wheel.pivot, pens.pixels(9.0)))


def _ghost(painter: QPainter, frame: Frame, paths: CarPaths, pens: Pens) -> None:
    """Outline, wheels and centre of gravity of the baseline."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pens.line(pens.theme.baseline, 1.4))
    painter.drawPath(_placed(frame.near.pose).map(paths.outline))
    for wheel in (frame.near.front, frame.near.rear):
        painter.drawPath(_tyre(wheel))
        painter.drawEllipse(_at(wheel.centre), pens.pixels(2.0), pens.pixels(2.0))
    painter.drawEllipse(_at(frame.cg), pens.pixels(6.0), pens.pixels(6.0))


def _driver(painter: QPainter, frame: Frame, body: Silhouette, pens: Pens) -> None:
    """Seat point, trunk and head; the seat's back leans on the trunk."""
    hip, head = frame.hip, frame.head
    lean = (head.x - hip.x), (head.z - hip.z)
    neck = Point(hip.x + 0.80 * lean[0], hip.z + 0.80 * lean[1])
    knee = Point(hip.x + 0.66 * lean[1], hip.z + 0.16 * lean[1])
    painter.setPen(pens.line(pens.soft(pens.theme.ink, 0.75), 1.3))
    painter.setBrush(fill(pens.theme.paper))
    painter.drawPolyline(QPolygonF([_at(neck), _at(hip), _at(knee)]))
    painter.drawEllipse(_at(head), body.head_radius, body.head_radius)
    painter.setBrush(fill(pens.theme.ink))
    painter.drawEllipse(_at(hip), pens.pixels(2.5), pens.pixels(2.5))


def _wheel(painter: QPainter, wheel: Wheel, pens: Pens) -> None:
    colour, rim = pens.theme.candidate, _RIM * wheel.radius
    tyre = _tyre(wheel)
    tyre.addEllipse(_at(wheel.centre), rim, rim)
    _fill(painter, tyre, pens.soft(colour, 0.30))
    painter.strokePath(tyre, pens.line(colour, 1.8))
    painter.setPen(pens.line(pens.soft(colour, 0.7), 1.0))
    spokes = []
    for number in range(3):
        angle = -wheel.turn + 2 * math.pi * number / 3
        way = math.cos(angle), math.sin(angle)
        spokes.append(
            QLineF(
                wheel.centre.x + 0.45 * rim * way[0],
                wheel.centre.z + 0.45 * rim * way[1],
                wheel.centre.x + 0.92 * rim * way[0],
                wheel.centre.z + 0.92 * rim * way[1],
            )
        )
    painter.drawLines(spokes)


def _arm(painter: QPainter, wheel: Wheel, pens: Pens) -> None:
    painter.setPen(pens.line(pens.theme.ink, 2.2))
    painter.drawLine(_at(wheel.pivot), _at(wheel.centre))
    painter.setPen(pens.line(pens.theme.ink, 1.2))
    painter.setBrush(fill(pens.theme.paper))
    for joint, size in ((wheel.pivot, 3.0), (wheel.centre, 4.0)):
        painter.drawEllipse(_at(joint), pens.pixels(size), pens.pixels(size))


def _bar(painter: QPainter, bar: Bar, exaggeration: float, pens: Pens) -> None:
    """Tube with lines along it: they lie straight at rest and wind up as the bar twists."""
    front, rear = bar.front.root, bar.rear.root
    length = math.hypot(front.x - rear.x, front.z - rear.z)
    tilt = math.degrees(math.atan2(rear.z - front.z, rear.x - front.x))
    painter.save()
    painter.translate(front.x, front.z)
    painter.rotate(tilt)
    painter.setPen(pens.line(pens.theme.candidate, 1.3))
    painter.setBrush(fill(pens.soft(pens.theme.candidate, 0.15)))
    painter.drawRect(QRectF(0.0, -_BAR_RADIUS, length, 2 * _BAR_RADIUS))
    pen = QPen(pens.line(pens.theme.candidate, 1.5))
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)  # round ends would lie twice on each other and show as dots
    painter.setPen(pen)
    painter.drawLines(_generators(bar, exaggeration * _BAR_GAIN, length))
    painter.restore()
    for lever in (bar.front, bar.rear):
        _lever(painter, lever, pens)


def _generators(bar: Bar, gain: float, length: float) -> list[QLineF]:
    """Visible parts of the lines along the tube, from the front end to the rear end."""
    share = np.linspace(0.0, 1.0, 17)
    turned = gain * (bar.front.angle - share * bar.twist)
    around = turned + 2 * np.pi / _GENERATORS * (np.arange(_GENERATORS)[:, None] + 0.5)
    facing = np.cos(around) >= 0
    line, piece = np.nonzero(facing[:, :-1] & facing[:, 1:])
    x, height = length * share, _BAR_RADIUS * np.sin(around)
    ends = x[piece], height[line, piece], x[piece + 1], height[line, piece + 1]
    return list(map(QLineF, *(end.tolist() for end in ends)))


def _lever(painter: QPainter, lever: Lever, pens: Pens) -> None:
    colour = pens.theme.candidate
    painter.setPen(pens.line(colour, 4.2))
    painter.drawLine(_at(lever.root), _at(lever.tip))
    painter.setPen(pens.line(colour, 1.6))
    painter.setBrush(fill(pens.theme.paper))
    painter.drawEllipse(_at(lever.root), 1.15 * _BAR_RADIUS, 1.15 * _BAR_RADIUS)


def _axis(painter: QPainter, frame: Frame, body: Silhouette, pens: Pens) -> None:
    """A level through the centre of gravity, and the body's axis that lay on it at design trim."""
    pose, height = frame.near.pose, frame.near.pose.axis
    front, rear = body.nose + 0.30, body.tail - 0.30
    painter.setPen(pens.line(pens.soft(pens.theme.faint, 0.6), 1.0))
    painter.drawLine(QLineF(rear, frame.cg.z, front, frame.cg.z))
    painter.setPen(pens.centre_line(pens.theme.candidate, 1.1))
    painter.drawLine(_at(pose.place(rear, height)), _at(pose.place(front, height)))


def _gravity_mark(painter: QPainter, place: Point, pens: Pens) -> None:
    """Circle with two quarters filled, the sign of a centre of gravity."""
    radius = pens.pixels(7.0)
    box = QRectF(place.x - radius, place.z - radius, 2 * radius, 2 * radius)
    painter.setPen(pens.line(pens.theme.ink, 1.3))
    painter.setBrush(fill(pens.theme.paper))
    painter.drawEllipse(box)
    painter.setBrush(fill(pens.theme.ink))
    painter.drawPie(box, 0, 90 * 16)
    painter.drawPie(box, 180 * 16, 90 * 16)


def _tyre(wheel: Wheel) -> QPainterPath:
    """Round above the wheel centre; below it the tyre gives, down to the road."""
    (x, z), radius, depth = wheel.centre, wheel.radius, wheel.depth
    path = QPainterPath(QPointF(x + radius, z))
    path.arcTo(QRectF(x - radius, z - radius, 2 * radius, 2 * radius), 0.0, -180.0)
    path.arcTo(QRectF(x - radius, z - depth, 2 * radius, 2 * depth), -180.0, -180.0)
    path.closeSubpath()
    return path


def _zigzag(lower: Point, upper: Point, radius: float) -> QPolygonF:
    """Coil spring in side view: straight ends, the turns share what lies between."""
    wide, ends = 0.22 * radius, 0.08 * radius
    along = upper.x - lower.x, upper.z - lower.z
    length = max(math.hypot(*along), 1e-6)
    unit = along[0] / length, along[1] / length
    turns = [(0.0, 0.0), (ends, 0.0)]
    step = (length - 2 * ends) / (2 * _COILS)
    turns += [(ends + step * (n + 0.5), wide if n % 2 else -wide) for n in range(2 * _COILS)]
    turns += [(length - ends, 0.0), (length, 0.0)]
    return QPolygonF(
        [QPointF(lower.x + s * unit[0] - w * unit[1], lower.z + s * unit[1] + w * unit[0]) for s, w in turns]
    )


def _spiral(centre: Point, radius: float) -> QPolygonF:
    """Clock spring: the sign of the trim spring."""
    points = []
    for number in range(41):
        share = number / 40
        angle = 4.5 * math.pi * share
        points.append(
            QPointF(
                centre.x + radius * share * math.cos(angle),
                centre.z + radius * share * math.sin(angle),
            )
        )
    return QPolygonF(points)


def _fill(painter: QPainter, path: QPainterPath, colour: str) -> None:
    """Fill in pixels: Qt fills a path in metres twelve times slower."""
    world = painter.worldTransform()
    painter.resetTransform()
    painter.fillPath(world.map(path), fill(colour))
    painter.setWorldTransform(world)


def _placed(pose: Pose) -> QTransform:
    """:meth:`Pose.place` as a transform."""
    return QTransform(1.0, pose.slope, -pose.slope, 1.0, pose.slope * pose.axis, pose.lift)


def _path(curve: Curve) -> QPainterPath:
    path = QPainterPath(_at(curve[0]))
    for first, second, end in zip(curve[1::3], curve[2::3], curve[3::3], strict=True):
        path.cubicTo(_at(first), _at(second), _at(end))
    return path


def _at(place: Point) -> QPointF:
    return QPointF(place.x, place.z)
