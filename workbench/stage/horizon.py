"""What the driver sees of pitch, roll and heave: the horizon and the road ahead in his windscreen.

The windscreen moves with the car, so in it the world moves: nose down lifts the horizon by the pitch angle,
a body that leans to the right tilts it up on the right.  The horizon is far away and heave leaves it where
it is; heave shows in the road nearby, whose edges spread flatter the lower the eye.

All is counted from the start of the run: a load that tilts the car, drawn as large as the motion, would hide
the motion.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from models.ride.channels import VIEW_DISTANCE
from workbench.stage.scene import Frame

__all__ = ["HALF_LANE", "View", "round_mark", "view_of"]

#: Half the width of the lane in whose middle the car drives, m: a common lane of 3.5 m.
HALF_LANE = 1.75
#: Steps of the marks beside the windscreen, in the unit of the reader.
_MARKS = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)

Direction = tuple[float, float]


@dataclass(frozen=True, slots=True)
class View:
    """Directions in the windscreen, rad right and up of straight ahead before the run, exaggerated.

    Attributes:
        centre: where the road ahead vanishes: the middle of the horizon.
        tilt: rise of the horizon per angle to the right.
        left_edge, right_edge: ways along which the edges of the lane come from the centre.
        near: ends, left and right, of a line across the lane at the distance
            :data:`models.ride.channels.VIEW_DISTANCE`.
    """

    centre: Direction
    tilt: float
    left_edge: Direction
    right_edge: Direction
    near: tuple[Direction, Direction]


def view_of(frame: Frame, eye: float, aside: float) -> View:
    """View from the driver's eye.

    Args:
        frame: where the car stands.
        eye: height of the eye above the road at design trim, m.
        aside: place of the driver left of the middle of the car, m.
    """
    roll, pitch = (frame.exaggeration * angle for angle in (frame.roll, frame.pitch))
    height = max(eye + frame.exaggeration * frame.seat_heave, 0.1 * eye)
    left, right = aside - HALF_LANE, aside + HALF_LANE

    def turned(x: float, z: float) -> Direction:
        return x * math.cos(roll) - z * math.sin(roll), x * math.sin(roll) + z * math.cos(roll)

    def seen(x: float, z: float) -> Direction:
        across, up = turned(x, z)
        return across, up + pitch

    return View(
        centre=(0.0, pitch),
        tilt=math.tan(roll),
        left_edge=turned(left, -height),
        right_edge=turned(right, -height),
        near=(
            seen(left / VIEW_DISTANCE, -height / VIEW_DISTANCE),
            seen(right / VIEW_DISTANCE, -height / VIEW_DISTANCE),
        ),
    )


def round_mark(most: float) -> float:
    """Largest round step up to ``most``, in whatever unit."""
    return max((mark for mark in _MARKS if mark <= most), default=_MARKS[0])
