"""Words and numbers on the stage: time, place, attitude of both cars, scale and exaggeration."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPolygonF

from models.units import KINDS, UnitChoice, factor
from workbench.stage.camera import Camera
from workbench.stage.pens import Pens, fill
from workbench.stage.running_gear import Fluid, Link, Wheel
from workbench.stage.scene import Frame
from workbench.stage.silhouette import Point

__all__ = [
    "attitude_text",
    "centred_note",
    "contact_boxes",
    "draw_clock",
    "draw_heading",
    "draw_key",
    "draw_labels",
    "draw_scale",
    "heave_text",
    "rest_text",
    "running",
]

#: Smallest change worth a digit, SI; it fixes the decimals so that running numbers do not jump.
_RESOLUTION = {"angle": 1e-4, "travel": 1e-4, "time": 1e-3, "length": 1e-2}
_TWIST_RESOLUTION, _VOLUME_RESOLUTION = 1e-3, 1e-6
_MARGIN = 12.0
_SWATCH, _COLUMN_GAP = 22.0, 12.0


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


def rest_text(heave: float, pitch: float, units: UnitChoice) -> str:
    """How a car stands in its load case before the run; empty at design trim."""
    level = attitude_text(pitch, units)
    height = running(abs(heave), "travel", units)
    words = [] if level.startswith("level") else [level]
    if height != running(0.0, "travel", units):
        words.append(f"{height} {'high' if heave > 0 else 'low'}")
    return f"stands {', '.join(words)}" if words else ""


def draw_clock(
    painter: QPainter, frame: Frame, pens: Pens, units: UnitChoice, fonts: tuple[QFont, QFont], stacked: bool
) -> float:
    """Upper left: time and distance, beside or over each other; gives the last base line, px."""
    small, large = fonts
    painter.setFont(large)
    painter.setPen(pens.line(pens.theme.ink, 1.0))
    y = _MARGIN + QFontMetricsF(large).ascent()
    time = running(frame.time, "time", units)
    painter.drawText(QPointF(_MARGIN, y), time)
    x = _MARGIN + QFontMetricsF(large).horizontalAdvance("0" * (len(time) - 1)) + 16.0
    painter.setFont(small)
    painter.setPen(pens.line(pens.theme.faint, 1.0))
    place = f"front axle at {running(frame.distance, 'length', units)}"
    if stacked:
        x, y = _MARGIN, y + QFontMetricsF(small).height() + 3.0
    painter.drawText(QPointF(x, y), place)
    return y


def draw_key(
    painter: QPainter, cars: Sequence[tuple[str, Frame, str, float]], y: float, pens: Pens, units: UnitChoice
) -> float:
    """Under the clock: each car's line and attitude; gives the last base line, px.

    Args:
        painter: draws in pixels.
        cars: name, frame, colour and width of the line.
        y: base line of the clock.
        pens, units: how.
    """
    metrics = QFontMetricsF(painter.font())
    column = _MARGIN + _SWATCH + 8.0
    for name, frame, colour, width in cars:
        y += metrics.height() + 4.0
        painter.setPen(pens.line(colour, width))
        level = y - metrics.xHeight() / 2
        painter.drawLine(QPointF(_MARGIN + 1.0, level), QPointF(_MARGIN + _SWATCH, level))
        painter.setPen(pens.line(colour, 1.0))
        painter.drawText(QPointF(column, y), name)
        painter.setPen(pens.line(pens.theme.ink, 1.0))
        x = column + metrics.horizontalAdvance("candidate") + 12.0
        painter.drawText(QPointF(x, y), attitude_text(frame.pitch, units))
        painter.setPen(pens.line(pens.theme.faint, 1.0))
        y += metrics.height()
        painter.drawText(QPointF(x, y), heave_text(frame.heave, units))
        rest = rest_text(frame.rest.heave, frame.rest.pitch, units)
        if rest:
            y += metrics.height()
            painter.drawText(QPointF(column, y), rest)
    return y


def draw_heading(
    painter: QPainter, name: str, frame: Frame, box: QRectF, pens: Pens, units: UnitChoice
) -> None:
    """Over a car: its name and attitude, then how it moved and stands; ends at the foot of ``box``."""
    metrics = QFontMetricsF(painter.font())
    rest = rest_text(frame.rest.heave, frame.rest.pitch, units)
    second = [heave_text(frame.heave, units), rest] if rest else [heave_text(frame.heave, units)]
    # As wide as it can get, so that the words stand still while the numbers run.
    reach = metrics.horizontalAdvance(f"body down 00.0 mm{rest}") + _COLUMN_GAP
    rows = len(second) if reach > box.width() else 1
    y = max(box.bottom() - rows * metrics.height(), metrics.ascent() + 2.0)  # not above the picture
    painter.setPen(pens.line(pens.colour, 1.0))
    painter.drawText(QPointF(box.left(), y), name)
    painter.setPen(pens.line(pens.theme.ink, 1.0))
    x = box.left() + metrics.horizontalAdvance(name) + _COLUMN_GAP
    painter.drawText(QPointF(x, y), attitude_text(frame.pitch, units))
    painter.setPen(pens.line(pens.theme.faint, 1.0))
    x = box.left()
    for text in second:
        if rows > 1 or text is second[0]:
            y += metrics.height()
        painter.drawText(QPointF(x, y), text)
        if rows == 1:
            x += metrics.horizontalAdvance("body down 00.0 mm") + _COLUMN_GAP


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
) -> list[QRectF]:
    """What the interconnection does, the name of the trim spring, and what the wheels touch.

    Gives the places of the words on the car, px.
    """
    words: list[QRectF] = []
    painter.setPen(pens.line(pens.colour, 1.0))
    metrics = QFontMetricsF(painter.font())
    if frame.link is not None:
        text, place = _link_label(frame.link, frame, units)
        spot = camera.point(Point(place.x, place.z - rise))
        width = metrics.horizontalAdvance(text)
        clear = camera.point(frame.cg).x() + 9.0  # of the mark of the CG, in a small picture
        left = spot.x() - width / 2 - 3.0
        box = QRectF(max(left, clear), spot.y() - 22.0, width + 6.0, 13.0)
        painter.fillRect(box, fill(pens.soft(pens.colour, 0.08)))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, text)
        words.append(box)
    for wheel in (frame.near.front, frame.near.rear):
        if wheel.trim:
            spot = camera.point(wheel.pivot)
            foot = QPointF(spot.x() - 10.0, spot.y() + camera.scale * rise - 12.0)
            painter.drawText(foot, "trim")
            words.append(metrics.tightBoundingRect("trim").translated(foot))
    for flank, side in ((frame.near, ""), (frame.far, "left ")):
        for wheel in (flank.front, flank.rear):
            if wheel.contact and not (side and _alike(wheel, frame)):
                _contact(painter, wheel, side, camera, rise, pens)
    return words


def _link_label(link: Link, frame: Frame, units: UnitChoice) -> tuple[str, Point]:
    """Twist over the bar, halfway from the mark of the CG to the front lever, or volume over the line."""
    if isinstance(link, Fluid):
        text = running(link.displaced, "volume", units, sign=True, resolution=_VOLUME_RESOLUTION)
        return text, Point((frame.cg.x + link.front.x) / 2, (link.front.z + link.accumulator.z) / 2)
    front, rear = link.front.root, link.rear.root
    x = (frame.cg.x + front.x) / 2
    z = front.z + (rear.z - front.z) * (x - front.x) / (rear.x - front.x)
    return running(link.twist, "angle", units, sign=True, resolution=_TWIST_RESOLUTION), Point(x, z)


def _alike(wheel: Wheel, frame: Frame) -> bool:
    """Whether the near wheel of the same axle has the same contact, so that one word does for both."""
    near = frame.near.front if wheel.outward > 0 else frame.near.rear
    return near.contact == wheel.contact


def _contact(painter: QPainter, wheel: Wheel, side: str, camera: Camera, rise: float, pens: Pens) -> None:
    """Under the wheel what it touches; at a stop the two halves that meet, over or under the hub."""
    mark, scale = pens.theme.mark, camera.scale
    hub = camera.point(Point(wheel.centre.x, wheel.centre.z - rise))
    ground = camera.point(Point(wheel.centre.x, wheel.road - rise)).y()
    painter.setPen(pens.line(mark, 2.4))
    painter.setBrush(fill(mark))
    if wheel.contact == "off the road":
        half = 0.42 * wheel.radius * scale
        bottom = hub.y() + wheel.depth * scale
        for y in (bottom + 1.0, ground):
            painter.drawLine(QPointF(hub.x() - half, y), QPointF(hub.x() + half, y))
    else:
        sign = -1.0 if wheel.contact == "bump stop" else 1.0
        y = hub.y() + sign * 0.82 * wheel.radius * scale
        painter.setPen(Qt.PenStyle.NoPen)
        for way in (-1.0, 1.0):
            base = y + way * 7.0
            painter.drawPolygon(
                QPolygonF([QPointF(hub.x(), y), QPointF(hub.x() - 5.0, base), QPointF(hub.x() + 5.0, base)])
            )
    painter.setPen(pens.line(mark, 1.0))
    row = 28.0 if side else 15.0
    text = f"{side}{wheel.contact}"
    painter.drawText(
        QRectF(hub.x() - 80.0, ground + row - 12.0, 160.0, 14.0), Qt.AlignmentFlag.AlignCenter, text
    )


def contact_boxes(frame: Frame, camera: Camera, rise: float) -> list[QRectF]:
    """Room under the wheels that words about what they touch may take, px."""
    boxes = []
    for near, far in ((frame.near.front, frame.far.front), (frame.near.rear, frame.far.rear)):
        if near.contact or far.contact:
            place = camera.point(Point(near.centre.x, near.road - rise))
            boxes.append(QRectF(place.x() - 40.0, place.y() + 3.0, 80.0, 27.0 if far.contact else 14.0))
    return boxes


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
