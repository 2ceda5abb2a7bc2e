"""The road of a run as a drawing needs it: sampled once, read off as a window that scrolls."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.roads import Event, RandomRoad, RoughSurface, SineSweep, Washboard, road_heights

__all__ = ["RoadStrip", "event_extent", "road_strip"]

Array = NDArray[np.float64]

#: Road kept behind the first and ahead of the last place of the front axle, m.
_MARGIN = 40.0
_SPACING, _MOST_POINTS = 0.02, 100_000
#: The camera follows the mean road over this distance, and only what of it exceeds the still band, m.
_MEAN_LENGTH, _STILL_BAND = 16.0, 0.10


@dataclass(frozen=True, eq=False)
class RoadStrip:
    """Road heights over the whole run.

    Attributes:
        start, spacing: distance of the first sample and between samples, m.
        heights: (2, N) left and right track, m.
        mean: (N,) moving mean of both, m.
    """

    start: float
    spacing: float
    heights: Array
    mean: Array

    def window(self, first: float, last: float) -> tuple[Array, Array]:
        """(n,) distances and (2, n) heights from ``first`` to ``last``, m."""
        begin = max(int((first - self.start) / self.spacing), 0)
        end = max(int((last - self.start) / self.spacing) + 2, begin)
        heights = self.heights[:, begin:end]
        return self.start + self.spacing * np.arange(begin, begin + heights.shape[1]), heights

    def camera_height(self, distance: float, exaggeration: float) -> float:
        """Drawn height that the camera rises by when a road leaves its level for long, m."""
        height = exaggeration * self.level(distance)
        return height - min(max(height, -_STILL_BAND), _STILL_BAND)

    def level(self, distance: float) -> float:
        """Mean height of the road about a place, true size, m."""
        index = min(max(round((distance - self.start) / self.spacing), 0), len(self.mean) - 1)
        return float(self.mean[index])


def road_strip(analysis: Analysis) -> RoadStrip:
    """Road of the run of an analysis; computed once per road."""
    run = analysis.run
    track = sum(analysis.model.track) / 2
    return _strip(run.event, run.surface, run.speed * run.duration, track, run.model == "half car")


def event_extent(event: Event) -> tuple[float, float] | None:
    """Where an event begins and ends on the road, m; None where it has no place there."""
    if isinstance(event, (RandomRoad, SineSweep)):
        return None
    if isinstance(event, Washboard):
        waves = max(1, round(event.length / event.wavelength))
        return event.start, event.start + waves * event.wavelength
    return event.start, event.start + getattr(event, "length", 0.0)


@lru_cache(maxsize=4)
def _strip(event: Event, surface: RoughSurface, distance: float, track: float, mean_only: bool) -> RoadStrip:
    length = distance + 2 * _MARGIN
    spacing = max(_SPACING, length / _MOST_POINTS)
    place: Array = -_MARGIN + spacing * np.arange(int(length / spacing) + 1, dtype=np.float64)
    heights = road_heights(event, surface, place, track)
    if mean_only:  # a half car drives on the mean of both tracks
        heights = np.broadcast_to(heights.mean(axis=0), heights.shape)
    return RoadStrip(-_MARGIN, spacing, heights, _moving_mean(heights.mean(axis=0), spacing))


def _moving_mean(height: Array, spacing: float) -> Array:
    half = round(_MEAN_LENGTH / 2 / spacing)
    padded = np.pad(height, (half + 1, half), mode="edge")
    total = np.cumsum(padded)
    mean: Array = (total[2 * half + 1 :] - total[: -2 * half - 1]) / (2 * half + 1)
    return mean
