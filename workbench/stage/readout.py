"""Words and numbers on the stage: time, place, attitude of both cars, scale and exaggeration."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPolygonF

from models.units import KINDS, UnitChoice, factor
from workbench.stage.camera import Camera
from workbench.stage.pens import Pens, fill
from workbench.stage.scene import Bar, Frame
from workbench.stage.silhouette import Point

__all__ = ["attitude_text", "centred_note", "draw_key", "draw_labels", "draw_scale", "heave_text", "running"]

#: Smallest change worth a digit, SI; it fixes the decimals so that running numbers do not jump.
_RESOLUTION = {"angle": 1e-4, "travel": 1e-4, "time": 1e-3, "length": 1e-2}
_TWIST_RESOLUTION = 1e-3
_MARGIN = 12.0
_SWATCH = 22.0


def running(
    value: float, kind: str, units: UnitChoice, sign: bool = False, resolution: float | None = None
) -> str:
    """Number with its unit and a fixed number of decimals; ``value`` and ``resolution`` in SI."""
    unit = units[kind]
    size = factor(unit, KINDS[kind].si)
    shown = value / size
    places = max(round(-math.log10((resolution or _RESOLUTION[kind]) / size)), 0)
    text = f"{shown:{'+' if sign else ''}.{places}f}"
    if not any(digit in text for digit in "123456789"):
        text = text.lstrip("+-")
    return f"{text} {unit}".replace("-", "−")


def attitude_text(pitch: float, units: UnitChoice) -> str:
    """Pitch in words: "nose up 0.40 deg"; ``pitch`` in rad, positive nose down."""
    amount = running(abs(pitch), "angle", units)
    if amount == running(0.0, "angle", units):
        return f"level {amount}"
    return f"nose {'down' if pitch > 0 else 'up'} {amount}"


def heave_text(heave: float, units: UnitChoice) -> str:
    """Height of the CG in words: "body down 3.1 mm"; ``heave`` in m, positive up."""
    amount = running(abs(heave), "travel", units)
    if amount == running(0.0, "travel", units):
        return f"body {amount}"
    return f"body {'up' if heave > 0 else 'down'} {amount}"


def draw_key(
    painter: QPainter,
    candidate: Frame,
    baseline: Frame | None,
    pens: Pens,
    units: UnitChoice,
    fonts: tuple[QFont, QFont],
) -> None:
    """Upper left: time and distance, then each car's line and attitude."""
    small, large = fonts
    painter.setFont(large)
    painter.setPen(pens.line(pens.theme.ink, 1.0))
    y = _MARGIN + QFontMetricsF(large).ascent()
    time = running(candidate.time, "time", units)
    painter.drawText(QPointF(_MARGIN, y), time)
    x = _MARGIN + QFontMetricsF(large).horizontalAdvance("0" * (len(time) - 1)) + 16.0
    painter.setFont(small)
    painter.setPen(pens.line(pens.theme.faint, 1.0))
    painter.drawText(QPointF(x, y), f"front axle at {running(candidate.distance, 'length', units)}")
    rows = [("candidate", candidate, pens.theme.candidate, 3.0)]
    if baseline is not None:
        rows.append(("baseline", baseline, pens.theme.baseline, 1.2))
    metrics = QFontMetricsF(small)
    column = _MARGIN + _SWATCH + 8.0
    for name, frame, colour, width in rows:
        y += metrics.height() + 4.0
        painter.setPen(pens.line(colour, width))
        level = y - metrics.xHeight() / 2
        painter.drawLine(QPointF(_MARGIN + 1.0, level), QPointF(_MARGIN + _SWATCH, level))
        painter.setPen(pens.line(colour, 1.0))
        painter.drawText(QPointF(column, y), name)
        painter.setPen(pens.line(pens.theme.ink, 1.0))
        x = column + metrics.horizontalAdvance("candidate") + 12.0
        painter.drawText(QPointF(x, y), attitude_text(frame.pitch, units))
        y += metrics.height()
        painter.setPen(pens.line(pens.theme.faint, 1.0))
        painter.drawText(QPointF(x, y), heave_text(frame.heave, units))


def draw_scale(
    painter: QPainter, camera: Camera, exaggeration: float, width: float, pens: Pens, units: UnitChoice
) -> None:
    """Upper right: which way is forward, the scale bar and the exaggeration."""
    metrics = QFontMetricsF(painter.font())
    right, y = width - _MARGIN, _MARGIN + metrics.ascent()
    painter.setPen(pens.line(pens.theme.ink, 1.2))
    painter.setBrush(fill(pens.theme.ink))
    level = y - metrics.xHeight() / 2
    tip = QPointF(right, level)
    painter.drawLine(QPointF(right - 34.0, level), tip)
    painter.drawPolygon(QPolygonF([tip, QPointF(right - 8, level - 3), QPointF(right - 8, level + 3)]))
    _right_text(painter, right - 40.0, y, "front")
    unit = units["length"]
    length, pixels = _bar_length(camera, factor(unit, "m"))
    y += metrics.height() + 8.0
    level = y - metrics.xHeight() / 2
    painter.setPen(pens.line(pens.theme.ink, 1.2))
    painter.drawLine(QPointF(right - pixels, level), QPointF(right, level))
    for x in (right - pixels, right):
        painter.drawLine(QPointF(x, level - 4.0), QPointF(x, level + 4.0))
    _right_text(painter, right - pixels - 8.0, y, f"{length:g} {unit}")
    if exaggeration != 1.0:
        painter.setPen(pens.line(pens.theme.mark, 1.0))
        _right_text(painter, right, y + metrics.height() + 4.0, f"vertical ×{exaggeration:g}")


def draw_labels(
    painter: QPainter, frame: Frame, camera: Camera, rise: float, pens: Pens, units: UnitChoice
) -> None:
    """Twist beside the interconnection bar, and the name of the trim spring."""
    painter.setPen(pens.line(pens.theme.candidate, 1.0))
    metrics = QFontMetricsF(painter.font())
    if frame.bar is not None:
        place = _above_bar(frame.bar, frame, camera, rise)
        text = running(frame.bar.twist, "angle", units, sign=True, resolution=_TWIST_RESOLUTION)
        width = metrics.horizontalAdvance(text)
        clear = camera.point(frame.cg).x() + 9.0  # of the mark of the CG, in a small picture
        box = QRectF(max(place.x() - width / 2 - 3.0, clear), place.y() - 22.0, width + 6.0, 13.0)
        painter.fillRect(box, fill(pens.soft(pens.theme.candidate, 0.08)))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, text)
    for wheel in (frame.near.front, frame.near.rear):
        if wheel.trim:
            spot = camera.point(wheel.pivot)
            painter.drawText(QPointF(spot.x() - 10.0, spot.y() + camera.scale * rise - 12.0), "trim")


def _above_bar(bar: Bar, frame: Frame, camera: Camera, rise: float) -> QPointF:
    """A place over the bar, halfway from the mark of the CG to the front lever."""
    front, rear = bar.front.root, bar.rear.root
    x = (frame.cg.x + front.x) / 2
    z = front.z + (rear.z - front.z) * (x - front.x) / (rear.x - front.x)
    return camera.point(Point(x, z - rise))


def _bar_length(camera: Camera, metre: float) -> tuple[float, float]:
    """Round length up to 130 px in the reader's unit, and its pixels."""
    wanted = 130.0 / (camera.scale * metre)
    power = 10.0 ** math.floor(math.log10(wanted))
    length = next(n * power for n in (5.0, 2.0, 1.0) if n * power <= wanted)
    return length, length * metre * camera.scale


def _right_text(painter: QPainter, right: float, y: float, text: str) -> None:
    width = QFontMetricsF(painter.font()).horizontalAdvance(text)
    painter.drawText(QPointF(right - width, y), text)


def centred_note(painter: QPainter, size: tuple[float, float], text: str, pens: Pens) -> None:
    """Sentence in the middle of an empty stage."""
    painter.setPen(pens.line(pens.theme.faint, 1.0))
    painter.drawText(QRectF(0.0, 0.0, *size), Qt.AlignmentFlag.AlignCenter, text)
