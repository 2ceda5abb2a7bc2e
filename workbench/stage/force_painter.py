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

__all__ = ["draw_arrows", "draw_force_scale"]

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
    parts: tuple[str, ...],
    newtons_per_pixel: float,
    y: float,
    pens: Pens,
    units: UnitChoice,
) -> None:
    """A round force as an arrow from the base line ``y`` upward, what it is, and the letters of the parts."""
    unit = units["force"]
    size = factor(unit, KINDS["force"].si)
    most = _SCALE_LENGTH * newtons_per_pixel / size
    power = 10.0 ** math.floor(math.log10(most))
    force = next(step * power for step in (5.0, 2.0, 1.0) if step * power <= most)
    length = force * size / newtons_per_pixel
    _arrow(painter, QPointF(_LEFT, y), QPointF(_LEFT, y - length), pens.theme.ink, pens)
    metrics = QFontMetricsF(painter.font())
    what = "change from rest" if kind == "change" else "whole"
    x = _LEFT + 10.0
    rows = [f"{force:g} {unit} at the wheel, {what}"]
    names = [f"{LETTERS[part]} {part}" for part in parts]
    rows += ["   ".join(names[start : start + 3]) for start in range(0, len(names), 3)]
    painter.setPen(pens.line(pens.theme.faint, 1.0))
    top = y - (len(rows) - 1) * metrics.height()
    for number, row in enumerate(rows):
        painter.drawText(QPointF(x, top + number * metrics.height()), row)


def _arrow(painter: QPainter, tail: QPointF, tip: QPointF, colour: str, pens: Pens) -> None:
    way = -1.0 if tip.y() < tail.y() else 1.0
    head = min(_HEAD, abs(tip.y() - tail.y()))
    painter.setPen(pens.line(colour, 1.6))
    painter.drawLine(QLineF(tail, QPointF(tip.x(), tip.y() - way * head)))
    painter.setPen(pens.line(colour, 1.0))
    painter.setBrush(fill(colour))
    base = tip.y() - way * head
    painter.drawPolygon(QPolygonF([tip, QPointF(tip.x() - 3.2, base), QPointF(tip.x() + 3.2, base)]))
