"""What a road is like: its profile, spectrum, class and roughness index."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError
from models.roads.events import Event, MeasuredRoad, RandomRoad, SineSweep, Washboard
from models.roads.fit import SurfaceFit, ThirdOctaves, fit_surface, third_octaves
from models.roads.iri import iri
from models.roads.measured import track_heights
from models.roads.profile import road_heights
from models.roads.surface import RoughSurface
from models.roads.sweep import sweep_heights
from models.roads.synthesis import FADE_LENGTH

__all__ = ["RoadReport", "road_course", "road_report"]

Array = NDArray[np.float64]

#: Stretch of a random road that is judged, m, and distance of its points.
_STRETCH, _STEP = 1000.0, 0.05
#: Points of the profile of a single event, and flat road shown behind it, m.
_POINTS, _BEHIND = 4000, 5.0
_PER_WAVE = 20
_WHOLE_SPECTRUM = (0.0, np.inf)


@dataclass(frozen=True, eq=False)
class RoadReport:
    """A road, judged.

    Attributes:
        kind: of the event.
        place: (N,) m along the road; s for a sine sweep.
        heights: (2, N) left and right track, m; (4, N) wheels for a sine sweep.
        over_time: whether ``place`` is a time.
        octaves: spectrum of each track in third octaves; empty where a spectrum means nothing.
        fit: class that fits; None where there is none.
        no_fit: why there is no fit.
        iri: (2,) index of each track as a plain ratio (1e-3 is 1 m/km); None where there is none.
        no_iri: why there is no index.
    """

    kind: str
    place: Array
    heights: Array
    over_time: bool = False
    octaves: tuple[ThirdOctaves, ...] = ()
    fit: SurfaceFit | None = None
    no_fit: str = ""
    iri: Array | None = None
    no_iri: str = ""

    @property
    def rms(self) -> Array:
        """RMS of the height of each row about its mean, m."""
        return np.asarray(self.heights.std(axis=1))

    @property
    def length(self) -> float:
        """Length of what is judged, m (s for a sine sweep)."""
        return float(self.place[-1] - self.place[0])


def road_report(event: Event, surface: RoughSurface, track: float) -> RoadReport:
    """Judge a road.

    A random road is judged over 1 km of it, a measured one as it was measured, an event from time zero of the
    run to 5 m behind it.  Only the first two have a class; those and a washboard have an index.

    Args:
        event: what stands on the road.
        surface: of a random road.
        track: distance of the two wheels, m.
    """
    place, heights = road_course(event, surface, track)
    match event:
        case SineSweep():
            reason = "a rig moves the wheels over time; there is no road"
            return RoadReport(event.kind, place, heights, over_time=True, no_fit=reason, no_iri=reason)
        case MeasuredRoad():
            return _judged(event.kind, place, heights, event.step)
        case RandomRoad():
            return _judged(event.kind, place, heights, _STEP)
    step = float(place[-1]) / (_POINTS - 1)
    found, reason = _index(heights, step) if isinstance(event, Washboard) else (None, "")
    single = "a single event has no class"
    return RoadReport(event.kind, place, heights, no_fit=single, iri=found, no_iri=reason or single)


def road_course(event: Event, surface: RoughSurface, track: float) -> tuple[Array, Array]:
    """What is judged of a road.

    Args:
        event: what stands on the road.
        surface: of a random road.
        track: distance of the two wheels, m.

    Returns:
        (N,) places along the road, m (s for a sine sweep), and the heights of each row there, m: (2, N) of
        the tracks, (4, N) of the posts of a sine sweep.
    """
    match event:
        case SineSweep():
            waves = event.duration * max(event.start_frequency, event.end_frequency)
            t = np.linspace(0.0, event.duration, max(_POINTS, ceil(_PER_WAVE * waves)))
            return t, sweep_heights(event, t)
        case MeasuredRoad():
            heights = track_heights(event)
            return event.step * np.arange(heights.shape[1], dtype=np.float64), heights
        case RandomRoad():
            # Behind the stretch over which the road fades in.
            place = FADE_LENGTH + _STEP * np.arange(int(_STRETCH / _STEP) + 1, dtype=np.float64)
        case _:
            place = np.linspace(0.0, event.start + getattr(event, "length", 0.0) + _BEHIND, _POINTS)
    return place, road_heights(event, surface, place, track)


def _judged(kind: str, place: Array, heights: Array, step: float) -> RoadReport:
    octaves: tuple[ThirdOctaves, ...] = ()
    fit, no_fit = None, ""
    try:
        octaves = tuple(third_octaves(row, step, _WHOLE_SPECTRUM) for row in heights)
        fit = fit_surface(heights, step)
    except InputError as error:
        no_fit = error.problems[0].reason
    found, no_iri = _index(heights, step)
    return RoadReport(kind, place, heights, octaves=octaves, fit=fit, no_fit=no_fit, iri=found, no_iri=no_iri)


def _index(heights: Array, step: float) -> tuple[Array | None, str]:
    try:
        return iri(heights, step) / 1e3, ""
    except InputError as error:
        return None, error.problems[0].reason
