"""Heights of a measured road along the distance."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from models.roads.events import MeasuredRoad
from models.roads.samples import heights_of

__all__ = ["measured_heights", "track_heights"]

Array = NDArray[np.float64]


def track_heights(road: MeasuredRoad) -> Array:
    """(2, N) heights of the left and the right track at the steps of the road, m."""
    return np.stack([heights_of(road.left), heights_of(road.right)])


def measured_heights(road: MeasuredRoad, distance: Array) -> Array:
    """(2, N) height of the left and the right track, m; zero before the road and behind it.

    Between two of its heights the road is straight.  It is blended in and out by sin² over ``road.blend``, at
    most half the length each.

    Args:
        road: heights and how they are driven.
        distance: (N,) m.
    """
    heights = track_heights(road)
    once = (heights.shape[1] - 1) * road.step
    x = distance - road.start
    # Forward and back in turn: a triangle over the distance.
    there = np.mod(x, 2 * once)
    place = np.minimum(there, 2 * once - there)
    to_end = np.minimum(x, road.length - x)
    share = _blended(to_end, min(road.blend, road.length / 2))
    steps = road.step * np.arange(heights.shape[1])
    return np.stack([share * np.interp(place, steps, row) for row in heights])


def _blended(to_end: Array, over: float) -> Array:
    if over <= 0:
        return (to_end > 0).astype(np.float64)
    share: Array = np.sin(np.pi / 2 * np.clip(to_end / over, 0.0, 1.0)) ** 2
    return share
