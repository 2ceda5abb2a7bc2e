"""Line weights and fills of the stage in the colours of a theme."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QPen

from workbench.theme import Theme

__all__ = ["Pens", "fill"]

_CENTRE_LINE = [10.0, 3.0, 1.5, 3.0]
_DASHES = [5.0, 4.0]


@dataclass(frozen=True, slots=True)
class Pens:
    """Pens for a drawing in metres.

    Attributes:
        theme: colours.
        scale: px/m, for marks whose size on the screen is fixed.
        ratio: device pixels per pixel.
        colour: of the car that is drawn.
    """

    theme: Theme
    scale: float
    ratio: float
    colour: str

    def line(self, colour: str, width: float) -> QPen:
        """Solid line of ``width`` px."""
        return _line(colour, width * self.ratio)

    def centre_line(self, colour: str, width: float) -> QPen:
        """Dash-dot line of a drawing's axes."""
        pen = QPen(self.line(colour, width))
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setDashPattern(_CENTRE_LINE)
        return pen

    def dashed(self, colour: str, width: float) -> QPen:
        """Dashed line of a level."""
        pen = QPen(self.line(colour, width))
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setDashPattern(_DASHES)
        return pen

    def soft(self, colour: str, share: float) -> str:
        """``share`` of a colour on paper; opaque, since Qt fills that four times faster than alpha."""
        return _mixed(colour, self.theme.paper, share)

    def pixels(self, size: float) -> float:
        """Metres that ``size`` px take."""
        return size / self.scale


@lru_cache(maxsize=256)
def _line(colour: str, width: float) -> QPen:
    """Round line, cosmetic: Qt strokes a path in metres twelve times slower with a pen in metres."""
    style, cap, join = Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin
    pen = QPen(QColor(colour), width, style, cap, join)
    pen.setCosmetic(True)
    return pen


@lru_cache(maxsize=256)
def fill(colour: str) -> QBrush:
    """Flat fill."""
    return QBrush(QColor(colour))


@lru_cache(maxsize=256)
def _mixed(colour: str, ground: str, share: float) -> str:
    over, under = QColor(colour), QColor(ground)
    channels = zip(
        (over.red(), over.green(), over.blue()), (under.red(), under.green(), under.blue()), strict=True
    )
    return QColor(*(round(share * a + (1 - share) * b) for a, b in channels)).name()
