"""Charts of the laws of springs, stops, dampers and interconnections, at the wheel."""

from __future__ import annotations

from typing import Literal

import numpy as np

from models.charts.chart import Array, Axis, Chart, Mark, Place
from models.charts.law_source import (
    LEAST_SPEED,
    LEAST_TRAVEL,
    NAMES,
    AxleName,
    LawSource,
    Names,
    SideName,
    curves_of,
    evenly,
    round_travel,
)
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    DigressiveDamper,
    LoadCase,
    Stop,
    TabulatedDamper,
    TabulatedSpring,
)
from models.wheel_forces import forces_at_wheels, interconnection_force, wheel_damping, wheel_force

__all__ = ["damping_chart", "interconnection_chart", "restriction_chart", "wheel_force_chart"]

Part = Literal["all", "jounce", "rebound"]

_POINTS = 121
# What is shown past the contact of a stop, m.
_PAST_STOP = 0.03
# Widths of the friction that are shown where it is looked at closely.
_WIDTHS = 5.0

_TRAVEL = Axis("Wheel travel", "travel", sign="jounce +")
_SPEED = Axis("Wheel speed", "damper speed", sign="jounce +")
_FORCE = Axis("Wheel force change", "force")
_DAMPING = Axis("Wheel damping force", "force")
_COUPLING = Axis("Wheel force change", "force")
_BOTH: tuple[tuple[str, Place], ...] = (("front", "front"), ("rear", "rear"))


def wheel_force_chart(
    axle: AxleName,
    candidate: LawSource,
    baseline: LawSource | None = None,
    load: LoadCase = AS_DESIGNED,
    part: Part = "all",
    names: Names = NAMES,
) -> Chart:
    """Springs and stops of an axle in one curve, with the contacts of the stops and the load case marked.

    Args:
        axle: front or rear.
        candidate, baseline: cars to draw; the baseline is left out where its curve is the same.
        load: load case whose standing travel is marked; the car as designed has no mark.
        part: all of the travel, or what lies in jounce or in rebound only.
        names: of the candidate and the baseline variant.
    """
    sources = [source for source in (candidate, baseline) if source is not None]
    stand = candidate.standing_travel(axle, load) if part == "all" and load != AS_DESIGNED else None
    low, high = _travel_span([source.axle(axle) for source in sources], stand or 0.0)
    span = (0.0 if part == "jounce" else low, 0.0 if part == "rebound" else high)
    kinks = [kink for source in sources for kink in _travel_kinks(source.axle(axle))]
    x = _places(span, kinks)

    def force(source: LawSource) -> tuple[Array, ...]:
        return (wheel_force(source.axle(axle), x, source.static_force(axle)),)

    marks = [mark for mark in _stop_marks(candidate.axle(axle)) if span[0] <= mark.x <= span[1]]
    if stand is not None:
        marks.append(Mark(stand, load.name))
    title = f"{axle.capitalize()} springs and stops"
    curves = curves_of(force, candidate, baseline, x, names, (("", "body"),))
    return Chart(f"law-{axle}-force-{part}", title, _TRAVEL, _FORCE, curves, tuple(marks))


def damping_chart(
    axle: AxleName,
    candidate: LawSource,
    baseline: LawSource | None = None,
    closely: bool = False,
    names: Names = NAMES,
) -> Chart:
    """Damper with the friction added; ``closely`` shows only the speeds at which friction sets in."""
    sources = [source for source in (candidate, baseline) if source is not None]
    axles = [source.axle(axle) for source in sources]
    widths = [a.friction.width for a in axles if a.friction.force]
    end = _WIDTHS * max(widths) if closely and widths else max(_damper_end(a) for a in axles)
    x = _places((-end, end), [kink for a in axles for kink in _damper_kinks(a)])

    def force(source: LawSource) -> tuple[Array, ...]:
        return (wheel_damping(source.axle(axle), x),)

    title = f"{axle.capitalize()} dampers and friction"
    curves = curves_of(force, candidate, baseline, x, names, (("", "body"),))
    return Chart(f"law-{axle}-damping-{'closely' if closely else 'all'}", title, _SPEED, _DAMPING, curves)


def interconnection_chart(
    side: SideName, candidate: LawSource, baseline: LawSource | None = None, names: Names = NAMES
) -> Chart:
    """What the interconnection does at the front and rear wheel while both move alike."""
    x = np.linspace(-LEAST_TRAVEL, LEAST_TRAVEL, _POINTS)

    def force(source: LawSource) -> tuple[Array, ...]:
        return tuple(interconnection_force(source.car, side, x))

    curves = curves_of(force, candidate, baseline, x, names, _BOTH)
    travel = Axis("Heave travel", "travel", sign="jounce +")
    title = f"{side.capitalize()} interconnection"
    return Chart(f"law-{side}-interconnection", title, travel, _COUPLING, curves)


def restriction_chart(
    side: SideName, candidate: LawSource, baseline: LawSource | None = None, names: Names = NAMES
) -> Chart:
    """What the restriction of the fluid line does at the front and rear wheel while both move alike."""
    x = evenly(-LEAST_SPEED, LEAST_SPEED)
    wheels = (0, 2) if side == "left" else (1, 3)
    motion = [1.0 if wheel in wheels else 0.0 for wheel in range(4)]

    def force(source: LawSource) -> tuple[Array, ...]:
        line = [e for e in source.elements if e.name == f"{side} fluid interconnection"]
        forces = forces_at_wheels(line, motion, x, "damper")
        return forces[wheels[0]], forces[wheels[1]]

    curves = curves_of(force, candidate, baseline, x, names, _BOTH)
    speed = Axis("Heave speed", "damper speed", sign="jounce +")
    return Chart(f"law-{side}-restriction", f"{side.capitalize()} line restriction", speed, _DAMPING, curves)


def _places(span: tuple[float, float], kinks: list[float]) -> Array:
    """(N,) places along a span with the kinks of the law among them."""
    inside = [kink for kink in kinks if span[0] < kink < span[1]]
    return np.unique(np.concatenate([np.linspace(*span, _POINTS), inside]))


def _is_fitted(stop: Stop) -> bool:
    return stop.rate > 0 or stop.growth > 0


def _travel_span(axles: list[Axle], stand: float) -> tuple[float, float]:
    """Rebound and jounce to be shown: past the stops, in round steps so that axes do not crawl."""

    def end(stops: list[Stop], stand: float) -> float:
        wanted = [stop.gap + _PAST_STOP for stop in stops if _is_fitted(stop)]
        return round_travel(max([stand, *wanted]))

    return -end([a.rebound_stop for a in axles], -stand), end([a.bump_stop for a in axles], stand)


def _travel_kinks(axle: Axle) -> list[float]:
    points = axle.spring.points if isinstance(axle.spring, TabulatedSpring) else ()
    return [
        axle.bump_stop.gap,
        -axle.rebound_stop.gap,
        *(point.deflection / axle.spring.motion_ratio for point in points),
    ]


def _stop_marks(axle: Axle) -> list[Mark]:
    stops = ((axle.rebound_stop, -1.0, "rebound stop"), (axle.bump_stop, 1.0, "bump stop"))
    return [Mark(sign * stop.gap, name) for stop, sign, name in stops if _is_fitted(stop)]


def _damper_end(axle: Axle) -> float:
    if not isinstance(axle.damper, TabulatedDamper):
        return LEAST_SPEED
    points = axle.damper.points
    return max(-points[0].speed, points[-1].speed) / axle.damper.motion_ratio


def _damper_kinks(axle: Axle) -> list[float]:
    speeds = [0.0]
    if isinstance(axle.damper, TabulatedDamper):
        speeds += [point.speed for point in axle.damper.points]
    elif isinstance(axle.damper, DigressiveDamper):
        speeds += [-axle.damper.knee, axle.damper.knee]
    width, ratio = axle.friction.width, axle.damper.motion_ratio
    return [-width, width, *(speed / ratio for speed in speeds)]
