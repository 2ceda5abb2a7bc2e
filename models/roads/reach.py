"""Where along the road an event ends, and how fine it is."""

from __future__ import annotations

from math import inf

from models.roads.events import Event, HalfSine, OneMinusCosine, Ramp, RandomRoad, SineSweep, Step, Washboard

__all__ = ["event_detail", "event_end"]


def event_end(event: Event) -> float:
    """Distance from the front axle at time zero to the end of the event, m.

    A random road has no end; a sine sweep lifts the wheels over time and has none along the road, so that it
    is 0.
    """
    match event:
        case RandomRoad():
            return inf
        case SineSweep():
            return 0.0
        case Step():
            return event.start
        case Washboard():
            return event.start + max(1, round(event.length / event.wavelength)) * event.wavelength
    return event.start + event.length


def event_detail(event: Event) -> float:
    """Length along the road of the finest feature of an event, m; 0 where it has features of all lengths."""
    match event:
        case Washboard():
            return event.wavelength
        case Ramp() | HalfSine() | OneMinusCosine():
            return event.length
    return 0.0
