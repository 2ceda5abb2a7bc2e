"""How a flank of the body stands."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.stage.silhouette import Point

__all__ = ["Pose"]


@dataclass(frozen=True, slots=True)
class Pose:
    """Small rigid motion of one flank of the body, exaggerated.

    Attributes:
        lift: rise at the front axle, m.
        slope: rise per metre forward; positive is nose up.
        axis: height about which the flank turns, m.
    """

    lift: float
    slope: float
    axis: float

    def place(self, x: float, z: float) -> Point:
        """Where a point of the body at design trim has gone."""
        return Point(x - self.slope * (z - self.axis), z + self.lift + self.slope * x)
