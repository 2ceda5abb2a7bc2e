"""Road height under the wheels, from an event and the distance along the road.

Heights are those of the distances asked for; between them a response takes the road as straight.  A
step is therefore one time sample wide, and a bump shorter than the distance between two samples may
be missed: the time step has to suit the event and the speed.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from models.roads.events import (
    Event,
    HalfSine,
    MeasuredRoad,
    OneMinusCosine,
    Ramp,
    RandomRoad,
    SineSweep,
    Step,
    Washboard,
)
from models.roads.measured import measured_heights
from models.roads.surface import RoughSurface
from models.roads.sweep import sweep_heights
from models.roads.synthesis import random_heights

__all__ = ["road_heights", "wheel_heights"]

Array = NDArray[np.float64]


def road_heights(event: Event, surface: RoughSurface, distance: Array, track: float) -> Array:
    """(2, N) height of the left and the right track, m; zero up to the start of the event.

    Args:
        event: what stands on the road.
        surface: random surface; used by :class:`RandomRoad` only.
        distance: (N,) m along the road from the front axle at time zero.
        track: distance of the two tracks, m.
    """
    if isinstance(event, RandomRoad):
        return random_heights(surface, event.seed, distance, track)
    if isinstance(event, MeasuredRoad):
        return measured_heights(event, distance)
    if isinstance(event, SineSweep):  # it lifts the wheels, and leaves the road between them flat
        return np.zeros((2, len(distance)))
    height = _shape(event, distance - event.start)
    left, right = event.side != "right", event.side != "left"
    return np.stack([left * height, right * height])


def wheel_heights(
    event: Event,
    surface: RoughSurface,
    speed: float,
    wheelbase: float,
    track: float,
    t: Array,
) -> Array:
    """(4, N) height of the road under FL, FR, RL, RR, m.

    The front wheels stand at V t and the rear ones at V t - wheelbase, in the same two tracks: where
    front and rear track of the car differ, ``track`` is their mean.  A sine sweep lifts all wheels at once.

    Args:
        event: what stands on the road.
        surface: random surface.
        speed: V, m/s.
        wheelbase: m.
        track: distance of left and right wheels, m.
        t: (N,) time, s.
    """
    if isinstance(event, SineSweep):
        return sweep_heights(event, np.asarray(t, dtype=np.float64))
    front = speed * np.asarray(t, dtype=np.float64)
    both = road_heights(event, surface, np.concatenate([front, front - wheelbase]), track)
    # (track, axle, N) -> axle first: FL, FR, RL, RR
    return both.reshape(2, 2, -1).transpose(1, 0, 2).reshape(4, -1)


def _shape(event: Step | Ramp | HalfSine | OneMinusCosine | Washboard, x: Array) -> Array:
    """Height at the distance x from the start of the event, m."""
    match event:
        case Step():
            return np.where(x > 0, event.height, 0.0)
        case Ramp():
            return event.height * np.clip(x / event.length, 0.0, 1.0)
        case HalfSine():
            return event.height * np.sin(np.pi * np.clip(x / event.length, 0.0, 1.0))
        case OneMinusCosine():
            return event.height / 2 * (1 - np.cos(2 * np.pi * np.clip(x / event.length, 0.0, 1.0)))
        case Washboard():
            waves = max(1, round(event.length / event.wavelength))
            inside = (x > 0) & (x < waves * event.wavelength)
            return np.where(inside, event.amplitude * np.sin(2 * np.pi * x / event.wavelength), 0.0)
