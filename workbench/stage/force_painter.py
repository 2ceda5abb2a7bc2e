"""Draws the arrows of the forces and their scale."""

from __future__ import annotations

import math
from typing import Literal

from PySide6.QtCore import QLineF, QPointF
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPolygonF

from models.units import KINDS, UnitChoice, factor
from workbench.stage.camera import Camera
from workbench.stage.forces import LETTERS, Arrow
from workbench.stage.pens import Pens, fill
from workbench.stage.silhouette import Point

__all__ = ["draw_arrows", "draw_force_scale", "draw_letters"]

#: Arrows shorter than this are left out, px.
_LEAST = 2.5
_HEAD = 7.0
#: Length of the scale, px, at most, and its place from the left.
_SCALE_LENGTH, _LEFT = 46.0, 18.0


def draw_arrows(
    painter: QPainter, shown: list[Arrow], camera: Camera, rise: float, pens: Pens, small: QFont
) -> None:
    """Arrows in the ink of the theme with the letter of their part at the tip."""
    colour = pens.theme.ink
    painter.setFont(small)
    metrics = QFontMetricsF(small)
    for arrow in shown:
        length = arrow.height * camera.scale
        if abs(length) < _LEAST:
            continue
        tail = camera.point(Point(arrow.tail.x, arrow.tail.z - rise))
        tip = QPointF(tail.x(), tail.y() - length)
        _arrow(painter, tail, tip, colour, pens)
        letter = LETTERS[arrow.part]
        drop = -3.0 if length > 0 else metrics.ascent() + 1.0
        painter.drawText(QPointF(tip.x() - metrics.horizontalAdvance(letter) / 2, tip.y() + drop), letter)


def draw_force_scale(
    painter: QPainter,
    kind: Literal["change", "whole"],
    newtons_per_pixel: float,
    span: tuple[float, float],
    pens: Pens,
    units: UnitChoice,
) -> None:
    """A round force as an arrow at the left, and what it is.

    Args:
        painter: draws in pixels.
        kind: what is shown.
        newtons_per_pixel: scale of the arrows.
        span: upper and lower end of the room, px.
        pens, units: how.
    """
    unit = units["force"]
    size = factor(unit, KINDS["force"].si)
    metrics = QFontMetricsF(painter.font())
    top, bottom = span
    most = min(max(bottom - top, metrics.height()), _SCALE_LENGTH) * newtons_per_pixel / size
    power = 10.0 ** math.floor(math.log10(most))
    force = next(step * power for step in (5.0, 2.0, 1.0) if step * power <= most)
    length = force * size / newtons_per_pixel
    _arrow(painter, QPointF(_LEFT, top + length), QPointF(_LEFT, top), pens.theme.ink, pens)
    painter.setPen(pens.line(pens.theme.faint, 1.0))
    what = "change" if kind == "change" else "whole"
    painter.drawText(QPointF(_LEFT + 10.0, top + metrics.ascent()), f"{force:g} {unit}, {what}")


def draw_letters(painter: QPainter, parts: tuple[str, ...], y: float, pens: Pens) -> None:
    """The letters of the parts in one line on the base line ``y``."""
    painter.setPen(pens.line(pens.theme.faint, 1.0))
    names = "   ".join(f"{LETTERS[part]} {part}" for part in parts)
    painter.drawText(QPointF(_LEFT - 6.0, y), f"forces at the wheel:   {names}")


def _arrow(painter: QPainter, tail: QPointF, tip: QPointF, colour: str, pens: Pens) -> None:
    way = -1.0 if tip.y() < tail.y() else 1.0
    head = min(_HEAD, abs(tip.y() - tail.y()))
    painter.setPen(pens.line(colour, 1.6))
    painter.drawLine(QLineF(tail, QPointF(tip.x(), tip.y() - way * head)))
    painter.setPen(pens.line(colour, 1.0))
    painter.setBrush(fill(colour))
    base = tip.y() - way * head
    painter.drawPolygon(QPolygonF([tip, QPointF(tip.x() - 3.2, base), QPointF(tip.x() + 3.2, base)]))
