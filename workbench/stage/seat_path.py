"""The path of the seat point over the road, for the trace behind the cars."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.ride.channels import channel_index
from workbench.stage.scene import at_rest, road_speed
from workbench.stage.silhouette import Silhouette

__all__ = ["SECONDS", "SeatPath", "seat_path"]

Array = NDArray[np.float64]

#: The trace reaches back this far.
SECONDS = 3.0
#: Samples from point to point of a car that stands on posts.
_STANDING = 4


@dataclass(frozen=True, eq=False)
class SeatPath:
    """Motion of the seat point over a run.

    Attributes:
        t: (N,) s.
        rise: (N,) from design trim, m, true size.
        pitch: (N,) from design trim, rad, true size.
        speed: m/s.
        x, z: the seat point at design trim, m ahead of the front axle and above the ground.
        axis: height about which the body turns in the drawing, m.
    """

    t: Array
    rise: Array
    pitch: Array
    speed: float
    x: float
    z: float
    axis: float

    def until(self, time: float, exaggeration: float, reach: float, spacing: float) -> tuple[Array, Array]:
        """Path up to ``time``, as x from the front axle as it stands then and height, m.

        Args:
            time: s.
            exaggeration: factor on rise and pitch.
            reach: how far back the picture reaches, m.
            spacing: least distance between points along the road, m.
        """
        step = float(self.t[1] - self.t[0])
        back = min(SECONDS, reach / self.speed) if self.speed else SECONDS
        first = max(int((time - back - self.t[0]) / step), 0)
        last = min(max(int((time - self.t[0]) / step), 0), len(self.t) - 1)
        stride = max(int(spacing / (self.speed * step)), 1) if self.speed else _STANDING
        # Counted from the start of the run, so that the same samples are kept from frame to frame.
        kept = np.unique(np.append(np.arange(-(-first // stride) * stride, last + 1, stride), last))
        shift = exaggeration * self.pitch[kept] * (self.z - self.axis)
        x = self.x + shift + self.speed * (self.t[kept] - time)
        return x, self.z + exaggeration * self.rise[kept]


def seat_path(analysis: Analysis, body: Silhouette) -> SeatPath:
    """Path of the driver's hip point."""
    rest, y = at_rest(analysis), analysis.time.y
    heave, roll, pitch = (
        y[channel_index(key)] + start
        for key, start in (("heave", rest.heave), ("roll", rest.roll), ("pitch", rest.pitch))
    )
    ahead, left = analysis.car.seat
    return SeatPath(
        t=analysis.time.t,
        rise=heave + left * roll - ahead * pitch,
        pitch=pitch,
        speed=road_speed(analysis),
        x=body.hip.x,
        z=body.hip.z,
        axis=analysis.vehicle.body.cg_height,
    )
