"""Draws the posts of a rig under the wheels, where the wheels are lifted and the road is flat."""

from __future__ import annotations

from PySide6.QtCore import QLineF
from PySide6.QtGui import QPainter

from workbench.stage.camera import Camera
from workbench.stage.pens import Pens
from workbench.stage.scene import Flank, Frame

__all__ = ["draw_posts"]

#: Half the width of the plate under a wheel, share of the radius of the wheel.
_PLATE = 0.7


def draw_posts(painter: QPainter, frame: Frame, camera: Camera, far_side: bool, pens: Pens) -> None:
    """A plate under each wheel and the ram that carries it; those of the far side faint."""
    if far_side:
        _draw(painter, frame.far, camera, pens, pens.soft(pens.theme.road, 0.6), 1.0)
    _draw(painter, frame.near, camera, pens, pens.theme.road, 2.0)


def _draw(painter: QPainter, flank: Flank, camera: Camera, pens: Pens, colour: str, width: float) -> None:
    painter.setPen(pens.line(colour, width))
    for wheel in (flank.front, flank.rear):
        x = camera.x + camera.scale * wheel.centre.x
        plate, foot = camera.y - camera.scale * wheel.road, camera.y + camera.scale * wheel.radius
        half = _PLATE * wheel.radius * camera.scale
        painter.drawLines([QLineF(x - half, plate, x + half, plate), QLineF(x, plate, x, foot)])
