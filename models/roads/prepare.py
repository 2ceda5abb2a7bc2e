"""Makes a measured road fit to drive on: gaps closed, equal steps, slope taken off; says what it did."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from pydantic import ValidationError

from models.errors import InputError, input_error
from models.roads.events import MeasuredRoad
from models.roads.samples import MOST_POINTS, samples_of

__all__ = ["DETRENDS", "Detrend", "RawRoad", "natural_step", "prepared"]

Array = NDArray[np.float64]
Detrend = Literal["nothing", "mean", "straight line"]

#: What may be taken off the heights.
DETRENDS: tuple[Detrend, ...] = ("straight line", "mean", "nothing")

_FINEST_STEP, _COARSEST_STEP = 0.001, 5.0
_NAME_LENGTH = 80


@dataclass(frozen=True, eq=False)
class RawRoad:
    """Heights as they stand in a file.

    Attributes:
        name: of the file.
        distance: (N,) m, may be unequal.
        left, right: (N,) m, NaN where nothing was measured.
        remarks: what a reader has to know about them.
    """

    name: str
    distance: Array
    left: Array
    right: Array
    remarks: tuple[str, ...] = ()


def natural_step(raw: RawRoad) -> float:
    """Step that keeps what was measured, as far as the points allowed suffice, m; rounded to 0.1 mm."""
    distance = raw.distance
    least = (distance[-1] - distance[0]) / (MOST_POINTS - 1)
    step = max(float(np.median(np.diff(distance))), least, _FINEST_STEP)
    return float(min(ceil(step * 1e4 - 1e-6) / 1e4, _COARSEST_STEP))


def prepared(raw: RawRoad, detrend: Detrend = "straight line", step: float | None = None) -> MeasuredRoad:
    """Road at equal steps; its ``note`` says what was done.

    A gap is closed by a straight line.  Heights at the new steps are read off between the neighbours, and
    where the new step is longer than the old one they are means over the new step, lest short waves turn
    into long ones.

    Args:
        raw: the road as read.
        detrend: what to take off each track.
        step: distance of two heights, m; :func:`natural_step` by default.

    Raises:
        InputError: distances do not increase, nothing was measured, or the road has too many points.
    """
    _check_distance(raw.distance)
    step = natural_step(raw) if step is None else step
    old = float(np.median(np.diff(raw.distance)))
    length = float(raw.distance[-1] - raw.distance[0])
    points = int(length / step * (1 + 1e-12) + 1e-6) + 1 if step > 0 else 0
    if not 2 <= points <= MOST_POINTS:
        reason = f"a step of {step:g} m makes {points} points (allowed: 2 to {MOST_POINTS})"
        raise InputError.of("step", step, reason)
    place = raw.distance[0] + step * np.arange(points)
    gaps, tracks = [], []
    for side, heights in (("left", raw.left), ("right", raw.right)):
        whole, gap = _closed(raw.distance, heights, side)
        gaps.append(gap)
        tracks.append(_without(place, _at(place, raw.distance, whole, step, old), detrend))
    note = _note(raw, old, step, detrend, max(gaps))
    try:
        return MeasuredRoad(
            name=raw.name[:_NAME_LENGTH],
            note=note[:400],
            step=step,
            left=samples_of(tracks[0]),
            right=samples_of(tracks[1]),
        )
    except ValidationError as error:
        raise input_error(error) from error


def _check_distance(distance: Array) -> None:
    if len(distance) < 2:
        raise InputError.of(
            "distance", len(distance), f"{len(distance)} points are no road; it needs at least 2"
        )
    wrong = np.flatnonzero(~(np.diff(distance) > 0))
    if len(wrong):
        at = int(wrong[0])
        raise InputError.of(
            "distance",
            distance[at + 1],
            f"point {at + 2} stands at {distance[at + 1]:g} m, not ahead of the point before it at "
            f"{distance[at]:g} m; distances have to increase",
        )


def _closed(distance: Array, heights: Array, side: str) -> tuple[Array, float]:
    """Heights without gaps, and the length of the longest one, m."""
    there = np.flatnonzero(np.isfinite(heights))
    if len(there) < 2:
        raise InputError.of(
            side, len(there), f"the {side} track has {len(there)} heights; it needs at least 2"
        )
    ends = np.unique(np.concatenate([[0], there, [len(heights) - 1]]))
    across = np.diff(distance[ends])[np.diff(ends) > 1]
    cut = max(there[0] > 0 and distance[there[0]] - distance[0], distance[-1] - distance[there[-1]])
    longest = max(float(across.max(initial=0.0)), float(cut))
    return np.interp(distance, distance[there], heights[there]), longest


def _at(place: Array, distance: Array, heights: Array, step: float, old: float) -> Array:
    if step <= 1.5 * old:
        return np.interp(place, distance, heights)
    # Mean over a step, shorter at both ends so that it stays about its place: the difference of the integral
    # of the straight pieces, which is exact at the points where it is taken.
    half = np.minimum(step / 2, np.minimum(place - distance[0], distance[-1] - place))
    half = np.maximum(half, 1e-3 * old)
    low = np.clip(place - half, distance[0], distance[-1])
    high = np.clip(place + half, distance[0], distance[-1])
    fine = np.unique(np.concatenate([distance, low, high]))
    values = np.interp(fine, distance, heights)
    area = np.concatenate([[0.0], np.cumsum(np.diff(fine) * (values[1:] + values[:-1]) / 2)])
    means: Array = (np.interp(high, fine, area) - np.interp(low, fine, area)) / (high - low)
    return means


def _without(place: Array, heights: Array, detrend: Detrend) -> Array:
    if detrend == "nothing":
        return heights
    if detrend == "mean":
        return np.asarray(heights - heights.mean())
    along = place - place.mean()
    slope = (along @ heights) / (along @ along)
    return np.asarray(heights - heights.mean() - slope * along)


def _note(raw: RawRoad, old: float, step: float, detrend: Detrend, gap: float) -> str:
    kept = abs(step - old) < 1e-9 * step and np.ptp(np.diff(raw.distance)) < 1e-6 * step
    words = [f"step of {step * 1e3:g} mm" + (" as measured" if kept else f", from about {old * 1e3:.3g} mm")]
    if step > 1.5 * old:
        words.append("means over the step")
    words.append(f"{detrend} taken off each track")
    if gap > 0:
        words.append(f"gaps closed by straight lines, the longest {gap:.3g} m")
    return "; ".join([*words, *raw.remarks])
