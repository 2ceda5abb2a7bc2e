"""Where along the road an event ends."""

from __future__ import annotations

from math import inf

from models.roads.events import Event, RandomRoad, SineSweep, Step, Washboard

__all__ = ["event_end"]


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
