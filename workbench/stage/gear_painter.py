"""Draws the running gear of one side: wheels, arms, springs, dampers and what joins front and rear."""

from __future__ import annotations

import math

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QPolygonF

from workbench.stage.chain import ChainLines
from workbench.stage.pens import Pens, fill
from workbench.stage.running_gear import Bar, Fluid, Lever, Strut, Wheel
from workbench.stage.scene import Flank, Frame
from workbench.stage.shapes import at, between, spiral, tyre, zigzag
from workbench.stage.silhouette import Point

__all__ = ["draw_far_wheels", "draw_gear", "fill_path"]

_RIM = 0.64
_BAR_RADIUS = 0.065
_GENERATORS = 6
#: Turns of the bar are drawn larger than the motion by this factor; its twist is written beside it.
_BAR_GAIN = 4.0
#: Tubes of dampers and fluid cylinders: width, and least and usual length, m.
_DAMPER_TUBE, _CYLINDER_TUBE = 0.055, 0.085
_TUBE_LENGTH = 0.30
_ACCUMULATOR = 0.115
#: The solid axle's housing behind the wheel, as a share of the tyre's radius.
_HOUSING = 0.40


def draw_far_wheels(painter: QPainter, flank: Flank, pens: Pens) -> None:
    """Wheels of the far side, faint."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pens.line(pens.soft(pens.colour, 0.45), 1.0))
    for wheel in (flank.front, flank.rear):
        painter.drawPath(tyre(wheel))
        painter.drawEllipse(at(wheel.centre), _RIM * wheel.radius, _RIM * wheel.radius)


def draw_gear(painter: QPainter, frame: Frame, pens: Pens) -> None:
    """All of the near side, from back to front."""
    wheels = (frame.near.front, frame.near.rear)
    for wheel in wheels:
        _wheel(painter, wheel, pens)
    match frame.link:
        case Bar() as bar:
            _bar(painter, bar, frame.exaggeration, pens)
        case Fluid() as fluid:
            _fluid(painter, fluid, pens)
    for wheel in wheels:
        if wheel.stabiliser is not None:
            _stabiliser(painter, wheel.stabiliser, pens)
        for chain in wheel.chains:
            _chain(painter, chain, pens)
        if wheel.damper is not None:
            _tube(painter, wheel.damper.foot, wheel.damper.mount, _DAMPER_TUBE, pens)
        if wheel.cylinder is not None:  # its tube hangs from the body, where the line begins
            _tube(painter, wheel.cylinder.mount, wheel.cylinder.foot, _CYLINDER_TUBE, pens)
        if wheel.spring is not None:
            painter.setPen(pens.line(pens.colour, 1.6))
            painter.drawPolyline(zigzag(wheel.spring, wheel.radius))
        _arm(painter, wheel, pens)
        if wheel.trim:
            painter.setPen(pens.line(pens.colour, 1.4))
            painter.drawPolyline(spiral(wheel.pivot, pens.pixels(9.0)))


def fill_path(painter: QPainter, path: QPainterPath, colour: str) -> None:
    """Fill in pixels: Qt fills a path in metres twelve times slower."""
    world = painter.worldTransform()
    painter.resetTransform()
    painter.fillPath(world.map(path), fill(colour))
    painter.setWorldTransform(world)


def _wheel(painter: QPainter, wheel: Wheel, pens: Pens) -> None:
    rim = _RIM * wheel.radius
    outline = tyre(wheel)
    outline.addEllipse(at(wheel.centre), rim, rim)
    fill_path(painter, outline, pens.soft(pens.colour, 0.30))
    painter.strokePath(outline, pens.line(pens.colour, 1.8))
    if wheel.solid:
        _housing(painter, wheel, pens)
    painter.setPen(pens.line(pens.soft(pens.colour, 0.7), 1.0))
    spokes = []
    for number in range(3):
        angle = -wheel.turn + 2 * math.pi * number / 3
        way = math.cos(angle), math.sin(angle)
        spokes.append(
            QLineF(
                wheel.centre.x + 0.66 * rim * way[0],
                wheel.centre.z + 0.66 * rim * way[1],
                wheel.centre.x + 0.94 * rim * way[0],
                wheel.centre.z + 0.94 * rim * way[1],
            )
        )
    painter.drawLines(spokes)


def _housing(painter: QPainter, wheel: Wheel, pens: Pens) -> None:
    """A solid axle seen along its beam: the round housing of the final drive, and the tube's section."""
    painter.setPen(pens.line(pens.soft(pens.colour, 0.8), 1.2))
    painter.setBrush(fill(pens.soft(pens.colour, 0.16)))
    for share in (_HOUSING, 0.5 * _HOUSING):
        painter.drawEllipse(at(wheel.centre), share * wheel.radius, share * wheel.radius)


def _arm(painter: QPainter, wheel: Wheel, pens: Pens) -> None:
    painter.setPen(pens.line(pens.theme.ink, 2.2))
    painter.drawLine(at(wheel.pivot), at(wheel.centre))
    painter.setPen(pens.line(pens.theme.ink, 1.2))
    painter.setBrush(fill(pens.theme.paper))
    for joint, size in ((wheel.pivot, 3.0), (wheel.centre, 4.0)):
        painter.drawEllipse(at(joint), pens.pixels(size), pens.pixels(size))


def _tube(painter: QPainter, closed: Point, rod: Point, width: float, pens: Pens) -> None:
    """Telescope: a tube from ``closed``, out of which the rod reaches to its other end."""
    length = max(math.hypot(rod.x - closed.x, rod.z - closed.z), 1e-6)
    share = min(_TUBE_LENGTH / length, 0.8)
    mouth = between(closed, rod, share)
    half = max(width, pens.pixels(4.0)) / 2
    aside = -half * (rod.z - closed.z) / length, half * (rod.x - closed.x) / length
    base = between(closed, rod, 0.22 * share)
    painter.setPen(pens.line(pens.colour, 1.4))
    painter.drawLine(QLineF(at(closed), at(rod)))
    painter.setBrush(fill(pens.soft(pens.colour, 0.15)))
    painter.drawPolygon(
        QPolygonF(
            [
                QPointF(base.x + aside[0], base.z + aside[1]),
                QPointF(mouth.x + aside[0], mouth.z + aside[1]),
                QPointF(mouth.x - aside[0], mouth.z - aside[1]),
                QPointF(base.x - aside[0], base.z - aside[1]),
            ]
        )
    )


def _stabiliser(painter: QPainter, link: Strut, pens: Pens) -> None:
    """Section of the bar, which runs across the car, and its lever down to the wheel."""
    painter.setPen(pens.line(pens.colour, 1.4))
    painter.drawLine(at(link.foot), at(link.mount))
    painter.setBrush(fill(pens.colour))
    painter.drawEllipse(at(link.mount), pens.pixels(2.6), pens.pixels(2.6))


def _bar(painter: QPainter, bar: Bar, exaggeration: float, pens: Pens) -> None:
    """Tube with lines along it: they lie straight at design trim and wind up as the bar twists."""
    front, rear = bar.front.root, bar.rear.root
    length = math.hypot(front.x - rear.x, front.z - rear.z)
    tilt = math.degrees(math.atan2(rear.z - front.z, rear.x - front.x))
    painter.save()
    painter.translate(front.x, front.z)
    painter.rotate(tilt)
    painter.setPen(pens.line(pens.colour, 1.3))
    painter.setBrush(fill(pens.soft(pens.colour, 0.15)))
    painter.drawRect(QRectF(0.0, -_BAR_RADIUS, length, 2 * _BAR_RADIUS))
    pen = QPen(pens.line(pens.colour, 1.5))
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)  # round ends would lie twice on each other and show as dots
    painter.setPen(pen)
    painter.drawLines(_generators(bar, exaggeration * _BAR_GAIN, length))
    painter.restore()
    for lever in (bar.front, bar.rear):
        _lever(painter, lever, pens)
        if lever.chain is not None:
            _chain(painter, lever.chain, pens)


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
    painter.setPen(pens.line(pens.colour, 4.2))
    painter.drawLine(at(lever.root), at(lever.tip))
    painter.setPen(pens.line(pens.colour, 1.6))
    painter.setBrush(fill(pens.theme.paper))
    painter.drawEllipse(at(lever.root), 1.15 * _BAR_RADIUS, 1.15 * _BAR_RADIUS)


def _chain(painter: QPainter, chain: ChainLines, pens: Pens) -> None:
    """Rockers and links from the wheel to the bar, with their joints."""
    painter.setPen(pens.line(pens.colour, 1.4))
    painter.setBrush(fill(pens.soft(pens.colour, 0.2)))
    for body in chain.bodies:
        painter.drawPolygon(QPolygonF([at(place) for place in body]))
    painter.setPen(pens.line(pens.theme.ink, 1.4))
    painter.drawLines([QLineF(at(start), at(end)) for start, end in chain.links])
    painter.setPen(pens.line(pens.theme.ink, 1.0))
    painter.setBrush(fill(pens.theme.paper))
    for joint in {joint for body in chain.bodies for joint in body}:
        painter.drawEllipse(at(joint), pens.pixels(1.9), pens.pixels(1.9))


def _fluid(painter: QPainter, fluid: Fluid, pens: Pens) -> None:
    """Line between the cylinders, and the accumulator whose gas gives way to the fluid below it."""
    centre, radius = fluid.accumulator, _ACCUMULATOR
    neck = Point(centre.x, centre.z - radius)
    line = (fluid.rear, neck, fluid.front)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pens.line(pens.colour, 2.2))
    painter.drawPolyline(QPolygonF([at(place) for place in line]))
    box = QRectF(centre.x - radius, centre.z - radius, 2 * radius, 2 * radius)
    painter.setPen(pens.line(pens.colour, 1.4))
    painter.setBrush(fill(pens.theme.paper))
    painter.drawEllipse(box)
    # The circle is half full at design trim; what lies under the level is fluid.
    level = min(max(1.0 - fluid.gas, -0.96), 0.96)
    half = math.degrees(math.acos(level))
    painter.setBrush(fill(pens.soft(pens.colour, 0.35)))
    # Qt counts angles towards its own y axis, which points up here: the lower part is mirrored.
    painter.drawChord(box, round(16 * (90.0 - half)), round(16 * 2 * half - 16 * 360))
