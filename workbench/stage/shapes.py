"""Shapes of the drawing as Qt paints them, from places in metres."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath, QPolygonF, QTransform

from workbench.stage.pose import Pose
from workbench.stage.running_gear import Strut, Wheel
from workbench.stage.silhouette import Curve, Point

__all__ = ["at", "between", "curve_path", "placed", "spiral", "tyre", "zigzag"]

_COILS = 6


def at(place: Point) -> QPointF:
    """A place as Qt has it."""
    return QPointF(place.x, place.z)


def between(first: Point, second: Point, share: float) -> Point:
    """Place at a share of the way."""
    return Point(first.x + share * (second.x - first.x), first.z + share * (second.z - first.z))


def placed(pose: Pose) -> QTransform:
    """:meth:`Pose.place` as a transform."""
    return QTransform(1.0, pose.slope, -pose.slope, 1.0, pose.slope * pose.axis, pose.lift)


def curve_path(curve: Curve) -> QPainterPath:
    """Painter path of a chain of Bézier pieces."""
    path = QPainterPath(at(curve[0]))
    for first, second, end in zip(curve[1::3], curve[2::3], curve[3::3], strict=True):
        path.cubicTo(at(first), at(second), at(end))
    return path


def tyre(wheel: Wheel) -> QPainterPath:
    """Round above the wheel centre; below it the tyre gives, down to the road."""
    (x, z), radius, depth = wheel.centre, wheel.radius, wheel.depth
    path = QPainterPath(QPointF(x + radius, z))
    path.arcTo(QRectF(x - radius, z - radius, 2 * radius, 2 * radius), 0.0, -180.0)
    path.arcTo(QRectF(x - radius, z - depth, 2 * radius, 2 * depth), -180.0, -180.0)
    path.closeSubpath()
    return path


def zigzag(spring: Strut, radius: float) -> QPolygonF:
    """Coil spring in side view: straight ends, the turns share what lies between."""
    lower, upper = spring.foot, spring.mount
    wide, ends = 0.20 * radius, 0.08 * radius
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


def spiral(centre: Point, radius: float) -> QPolygonF:
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
