"""Where and in which direction the driver feels the car, and from which channels that follows.

The body of the model is rigid and its CG moves straight up and down.  So a point at the height h over the CG
has, to first order, the fore-aft acceleration θ̈ h and the lateral acceleration -φ̈ h; both are motion of
the point, without the part of gravity that an accelerometer tilted with the body would show besides.  The
model does not yaw, so there is no rz.

Weightings and factors k are those of ISO 2631-1:1997, 8.2 (from memory), for the comfort of a seated person.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis

__all__ = ["AXES", "HEIGHTS", "Axis", "AxisMotion", "seat_axes"]

Array = NDArray[np.float64]
Height = TypeVar("Height", float, NDArray[np.float64])
Place = Literal["seat", "back", "feet", "head"]
Direction = Literal["x", "y", "z", "rx", "ry"]

#: Height of a place over the driver's hip point, m.  Round figures for a person of middle size in a car
#: seat, from memory: the support of the back, the heels, and the head, at the level of the eyes.
HEIGHTS: Mapping[Place, float] = {"seat": 0.0, "back": 0.3, "feet": -0.25, "head": 0.65}


@dataclass(frozen=True, slots=True)
class Axis:
    """A direction at a place.

    Attributes:
        place, direction: x fore-aft, y lateral, z vertical; rx about x (roll), ry about y (pitch).
        weighting: key of :data:`models.comfort.weighting.WEIGHTINGS`.
        k: multiplying factor in a total value; m/rad for a rotation.
    """

    place: Place
    direction: Direction
    weighting: str
    k: float

    @property
    def key(self) -> str:
        """Place and direction: "seat z"."""
        return f"{self.place} {self.direction}"

    @property
    def channel(self) -> str:
        """Key of the channel that it is in proportion to."""
        if self.direction == "z":
            return "floor_acceleration" if self.place == "feet" else "seat_acceleration"
        return "pitch_acceleration" if self.direction in ("x", "ry") else "roll_acceleration"

    def scale(self, hip_over_cg: Height) -> Height | float:
        """Its acceleration per that of the channel.

        Args:
            hip_over_cg: height of the driver's hip point over the CG, m; of one car or of many.
        """
        height = hip_over_cg + HEIGHTS[self.place]
        return {"x": height, "y": -height}.get(self.direction, 1.0)


#: Axes of the standard that a ride model has, and the head, for which the standard has no factor.
AXES: tuple[Axis, ...] = (
    Axis("seat", "x", "Wd", 1.0),
    Axis("seat", "y", "Wd", 1.0),
    Axis("seat", "z", "Wk", 1.0),
    Axis("seat", "rx", "We", 0.63),
    Axis("seat", "ry", "We", 0.4),
    Axis("back", "x", "Wc", 0.8),
    Axis("back", "y", "Wd", 0.5),
    Axis("back", "z", "Wd", 0.4),
    Axis("feet", "x", "Wk", 0.25),
    Axis("feet", "y", "Wk", 0.25),
    Axis("feet", "z", "Wk", 0.4),
    Axis("head", "x", "Wd", 1.0),
    Axis("head", "y", "Wd", 1.0),
)


@dataclass(frozen=True, eq=False)
class AxisMotion:
    """Motion along one axis in one analysis, not weighted; m/s² or rad/s².

    Attributes:
        axis: where and which way.
        analysis: the results it is read from.
    """

    axis: Axis
    analysis: Analysis

    @property
    def scale(self) -> float:
        """Acceleration per that of the channel of the axis."""
        return self.axis.scale(hip_over_cg(self.analysis))

    @property
    def psd(self) -> Array:
        """(F,) spectrum on the random road, unit squared per Hz, at ``analysis.ride.frequency``."""
        return self.scale**2 * self.analysis.ride.channel(self.axis.channel)

    @property
    def history(self) -> Array:
        """(N,) acceleration over the event, at ``analysis.time.t``."""
        return self.scale * self.analysis.time.channel(self.axis.channel)


def hip_over_cg(analysis: Analysis) -> float:
    """Height of the driver's hip point over the CG of the load case, m."""
    return analysis.vehicle.seat.height - analysis.car.cg_height


def seat_axes(analysis: Analysis) -> dict[str, AxisMotion]:
    """Motion along each of :data:`AXES`, by its key."""
    return {axis.key: AxisMotion(axis, analysis) for axis in AXES}
