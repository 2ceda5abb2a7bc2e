"""Charts of the levelling over an event, and of its false actuations."""

from __future__ import annotations

import numpy as np

from models.charts.chart import Array, Axis, Chart, Curve, Mark, Place, Side
from models.ride.false_actuations import FalseActuations
from models.ride.levelling import LevellingRun

__all__ = ["actuations_chart", "current_chart", "height_chart", "levelling_charts", "wind_up_chart"]

_TIME = Axis("Time", "time")
# Line styles of the roads, smoothest first.
_ROADS: tuple[tuple[Place, Side], ...] = (("body", "right"), ("rear", ""), ("body", "left"), ("rear", "left"))


def levelling_charts(run: LevellingRun, name: str) -> tuple[Chart, ...]:
    """Height, wind-up and motor current; ``name`` is that of the variant."""
    return height_chart(run, name), wind_up_chart(run, name), current_chart(run, name)


def height_chart(run: LevellingRun, name: str) -> Chart:
    """Height of the axles, what the controller sees behind its low-pass, and the dead band."""
    band = run.levelling.dead_band
    curves = (
        # In the style of a curve of the car, so that the legend has no entry of theirs among the places.
        *_limits(run.t, band, "band", "front", "right"),
        Curve(name, "front", run.t, run.front, place="front", side="right"),
        Curve(name, "rear", run.t, run.rear, place="rear"),
        Curve(name, "seen", run.t, run.seen, place="body", side="left"),
    )
    return _over_time(
        run,
        "levelling-height",
        "Height of the axles · levelling",
        Axis("Height", "travel"),
        curves,
    )


def wind_up_chart(run: LevellingRun, name: str) -> Chart:
    """Wind-up of the trim springs within its limits."""
    axis = Axis("Wind-up", "angle", sign=f"lifts the {run.axle} +")
    curves = (*_limits(run.t, run.levelling.limit, "limit"), Curve(name, "", run.t, run.wind_up))
    return _over_time(run, "levelling-wind-up", "Wind-up of the trim springs · levelling", axis, curves)


def current_chart(run: LevellingRun, name: str) -> Chart:
    """Current of the motor, with the sign of its direction, so that it shows the state of the motor too."""
    axis = Axis("Motor current", "current", sign="winding up +, down −")
    curve = Curve(name, "", run.t, run.current * np.sign(run.motor))
    return _over_time(run, "levelling-current", "Motor current · levelling", axis, (curve,))


def actuations_chart(found: FalseActuations) -> Chart:
    """Actuations over the delay, a curve per road class; the delay that is set is marked.

    In decades: without a delay there are hundreds for every one with some; where a curve leaves the chart
    downwards there are none.
    """
    return Chart(
        key="levelling-false-actuations",
        title="False actuations over delay · levelling",
        x=Axis("Delay", "time"),
        y=Axis("Actuations", "event rate", log=True),
        curves=tuple(
            Curve(
                "actuations",
                f"class {name}",
                found.delays,
                counts / (60.0 * found.minutes),
                place=place,
                side=side,
            )
            for name, counts, (place, side) in zip(found.classes, found.counts, _styles(found), strict=True)
        ),
        marks=(Mark(found.delay, "set"),),
    )


def _styles(found: FalseActuations) -> tuple[tuple[Place, Side], ...]:
    return tuple(_ROADS[number % len(_ROADS)] for number in range(len(found.classes)))


def _limits(t: Array, limit: float, name: str, place: Place = "body", side: Side = "") -> tuple[Curve, ...]:
    ends = np.array([t[0], t[-1]])
    return tuple(
        Curve(name, label, ends, np.full(2, height), role="baseline", place=place, side=side)
        for label, height in (("upper", limit), ("lower", -limit))
    )


def _over_time(run: LevellingRun, key: str, title: str, y: Axis, curves: tuple[Curve, ...]) -> Chart:
    event = run.event
    marks = (
        Mark(event.load_at, "load"),
        Mark(event.drive_from, "drive"),
        Mark(event.drive_to, "stop"),
        Mark(event.unload_at, "unload"),
    )
    return Chart(key, title, _TIME, y, curves, marks)
