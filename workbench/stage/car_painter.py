"""Draws the cars of a frame: in full with body, driver and running gear, or as an outline."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath

from workbench.stage.gear_painter import draw_far_wheels, draw_gear, fill_path
from workbench.stage.pens import Pens, fill
from workbench.stage.scene import Frame
from workbench.stage.shapes import at, curve_path, placed, tyre
from workbench.stage.silhouette import Point, Silhouette

__all__ = ["CarPaths", "draw_body", "draw_car", "draw_ghost"]

#: Distance of the two thin lines that make one of a ghost, across and up, px.
_BESIDE = 0.35


class CarPaths:
    """Body lines as painter paths, made once per car."""

    def __init__(self, body: Silhouette) -> None:
        self.body = body
        self.outline = curve_path(body.outline)
        self.outline.closeSubpath()
        self.lines = QPainterPath()
        for curve in body.lines:
            self.lines.addPath(curve_path(curve))


def draw_body(painter: QPainter, frame: Frame, paths: CarPaths, far_side: bool, pens: Pens) -> None:
    """The ground of the car, on which a ghost and the car's own lines lie."""
    pose = placed(frame.near.pose)
    fill_path(painter, pose.map(paths.outline), pens.soft(pens.colour, 0.08))
    fill_path(painter, pose.map(paths.lines), pens.soft(pens.colour, 0.02))
    if far_side:
        draw_far_wheels(painter, frame.far, pens)


def draw_ghost(painter: QPainter, frame: Frame, paths: CarPaths, pens: Pens) -> None:
    """Outline, wheels and centre of gravity.

    Each line is two thin ones side by side: Qt draws a line of 1 px several times faster than a wider one.
    """
    lines = placed(frame.near.pose).map(paths.outline)
    for wheel in (frame.near.front, frame.near.rear):
        lines.addPath(tyre(wheel))
        lines.addEllipse(at(wheel.centre), pens.pixels(2.0), pens.pixels(2.0))
    lines.addEllipse(at(frame.cg), pens.pixels(6.0), pens.pixels(6.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pens.line(pens.colour, 1.0))
    painter.drawPath(lines)
    painter.drawPath(lines.translated(pens.pixels(_BESIDE), pens.pixels(_BESIDE)))


def draw_car(painter: QPainter, frame: Frame, paths: CarPaths, level: float, pens: Pens) -> None:
    """Lines of a car in full; ``level`` is the drawn height of the road about it, m."""
    pose = placed(frame.near.pose)
    painter.strokePath(pose.map(paths.outline), pens.line(pens.colour, 2.4))
    painter.strokePath(pose.map(paths.lines), pens.line(pens.soft(pens.colour, 0.8), 1.0))
    _driver(painter, frame, paths.body, pens)
    draw_gear(painter, frame, pens)
    _axis(painter, frame, paths.body, level, pens)
    _gravity_mark(painter, frame.cg, pens)


def _driver(painter: QPainter, frame: Frame, body: Silhouette, pens: Pens) -> None:
    """Seat point, trunk and head; the seat's back leans on the trunk."""
    hip, head = frame.hip, frame.head
    lean = (head.x - hip.x), (head.z - hip.z)
    neck = Point(hip.x + 0.80 * lean[0], hip.z + 0.80 * lean[1])
    knee = Point(hip.x + 0.66 * lean[1], hip.z + 0.16 * lean[1])
    painter.setPen(pens.line(pens.soft(pens.theme.ink, 0.75), 1.3))
    painter.setBrush(fill(pens.theme.paper))
    painter.drawLine(QLineF(at(neck), at(hip)))
    painter.drawLine(QLineF(at(hip), at(knee)))
    painter.drawEllipse(at(head), body.head_radius, body.head_radius)
    painter.setBrush(fill(pens.theme.ink))
    painter.drawEllipse(at(hip), pens.pixels(2.5), pens.pixels(2.5))


def _axis(painter: QPainter, frame: Frame, body: Silhouette, level: float, pens: Pens) -> None:
    """The body's axis, and dashed the level on which it lies at design trim."""
    pose, height = frame.near.pose, frame.near.pose.axis
    front, rear = body.nose + 0.30, body.tail - 0.30
    painter.setPen(pens.dashed(pens.soft(pens.theme.faint, 0.8), 1.0))
    painter.drawLine(QLineF(rear, height + level, front, height + level))
    painter.setPen(pens.centre_line(pens.colour, 1.1))
    painter.drawLine(at(pose.place(rear, height)), at(pose.place(front, height)))


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
