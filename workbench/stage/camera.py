"""From metres of the stage to pixels of the picture."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from PySide6.QtCore import QPointF
from PySide6.QtGui import QTransform

from workbench.stage.silhouette import Point, Silhouette

__all__ = ["Camera", "distance_behind", "fitted"]

#: Strip under the road for distances, scale and names, px.
FOOT = 46.0
#: Room kept above the roof and below the road for motion, m.
ABOVE, _BELOW = 0.42, 0.34
#: A car alone takes no more than this share of the width.
_WIDEST = 0.50
#: Upper left corner that the words take, px.
_WORDS = 256.0
#: Margin left and right of two cars one behind the other, px, and what their axes stand out, m.
_MARGIN, _AXIS = 14.0, 0.30
#: Gap between two cars one behind the other, at least, m, and the step to which the distance is rounded up.
_GAP, _GAP_STEP = 0.9, 0.5


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

    def behind(self, distance: float) -> Camera:
        """The same picture as a car sees it that drives ``distance`` metres behind."""
        return replace(self, x=self.x - self.scale * distance)


def distance_behind(leader: Silhouette, follower: Silhouette) -> float:
    """Round distance between front axles at which a car keeps clear of the one before it, m."""
    least = follower.nose - leader.tail + _GAP
    return math.ceil(least / _GAP_STEP) * _GAP_STEP


def fitted(
    width: float, height: float, bodies: tuple[Silhouette, ...], behind: float = 0.0, right: float = 0.0
) -> Camera:
    """Camera that shows the bodies whole, with room to move.

    Args:
        width, height: of the picture, px.
        bodies: the cars, the one that drives ahead first.
        behind: how far behind the others the last one drives, m; 0 for cars over each other, which stand
            near the middle, clear of the words.
        right: strip on the right to keep clear, px.
    """
    roof = max(body.roof for body in bodies)
    free = max(height - FOOT, 1.0)
    highest = free / (roof + ABOVE + _BELOW)
    if behind:
        nose, tail = bodies[0].nose + _AXIS, bodies[-1].tail - behind - _AXIS
        room = width - right - 2 * _MARGIN
        scale = min(highest, room / (nose - tail))
        middle = _MARGIN + room / 2
    else:
        nose, tail = max(body.nose for body in bodies), min(body.tail for body in bodies)
        scale = min(highest, _WIDEST * width / (nose - tail))
        half = scale * (nose - tail) / 2
        middle = max(min(0.53 * width, width - right - half - scale * _AXIS), _WORDS + half)
    return Camera(scale, x=middle - scale * (nose + tail) / 2, y=height - FOOT - scale * _BELOW)
