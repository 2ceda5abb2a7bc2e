"""From metres of the stage to pixels of the widget."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF
from PySide6.QtGui import QTransform

from workbench.stage.silhouette import Point, Silhouette

__all__ = ["Camera", "fitted"]

#: Strip under the road for distances, scale and names, px.
FOOT = 46.0
#: Room kept above the roof and below the road for motion, m.
_ABOVE, _BELOW = 0.42, 0.34
#: The car takes no more than this share of the width.
_WIDEST = 0.50
#: Upper left corner that the words take, px.
_WORDS = 256.0


@dataclass(frozen=True, slots=True)
class Camera:
    """Uniform scale, so that circles stay circles.

    Attributes:
        scale: px/m.
        x, y: pixel of the front axle on the ground.
    """

    scale: float
    x: float
    y: float

    def point(self, place: Point) -> QPointF:
        """Pixel of a place."""
        return QPointF(self.x + self.scale * place.x, self.y - self.scale * place.z)

    def transform(self, rise: float) -> QTransform:
        """Metres to pixels, the camera standing ``rise`` metres higher than at rest."""
        return QTransform(self.scale, 0.0, 0.0, -self.scale, self.x, self.y + self.scale * rise)


def fitted(width: float, height: float, bodies: tuple[Silhouette, ...]) -> Camera:
    """Camera that shows the bodies whole, with room to move, the cars near the middle, clear of the words."""
    roof = max(body.roof for body in bodies)
    nose, tail = max(body.nose for body in bodies), min(body.tail for body in bodies)
    free = max(height - FOOT, 1.0)
    scale = min(free / (roof + _ABOVE + _BELOW), _WIDEST * width / (nose - tail))
    middle = max(0.53 * width, _WORDS + scale * (nose - tail) / 2)
    return Camera(scale, x=middle - scale * (nose + tail) / 2, y=height - FOOT - scale * _BELOW)
