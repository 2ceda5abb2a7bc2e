"""Charts of the laws of springs, stops, dampers and interconnections, at the wheel."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from models.assembly import Mechanics, mechanics
from models.charts.chart import Array, Axis, Chart, Curve, Mark, Place, Role
from models.statics import statics
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    DigressiveDamper,
    GasSpring,
    LoadCase,
    Stop,
    TabulatedDamper,
    TabulatedSpring,
    Vehicle,
)
from models.wheel_forces import interconnection_force, static_spring_force, wheel_damping, wheel_force

__all__ = ["LawSource", "damping_chart", "interconnection_chart", "wheel_force_chart"]

AxleName = Literal["front", "rear"]
SideName = Literal["left", "right"]
Part = Literal["all", "jounce", "rebound"]
Names = tuple[str, str]

_NAMES: Names = ("Candidate", "Baseline")
_POINTS = 121
# What is shown beside the kinks of a law, and the least that is shown either way.
_PAST_STOP, _ROUND_TRAVEL, _LEAST_TRAVEL, _LEAST_SPEED = 0.03, 0.02, 0.08, 1.0
# Widths of the friction that are shown where it is looked at closely.
_WIDTHS = 5.0

_TRAVEL = Axis("Wheel travel", "travel", sign="jounce +")
_SPEED = Axis("Wheel speed", "damper speed", sign="jounce +")
_FORCE = Axis("Wheel force change", "force")
_DAMPING = Axis("Wheel damping force", "force")
_COUPLING = Axis("Wheel force change", "force")


@dataclass(frozen=True)
class LawSource:
    """A car whose laws are drawn; its mechanics are made when a chart first needs them."""

    vehicle: Vehicle

    @cached_property
    def car(self) -> Mechanics:
        """The car at design trim."""
        return mechanics(self.vehicle)

    def axle(self, name: AxleName) -> Axle:
        """Front or rear axle."""
        return self.vehicle.front if name == "front" else self.vehicle.rear

    def static_force(self, name: AxleName) -> float:
        """Force of a spring of an axle at design trim, N; found only for gas, whose law depends on it."""
        is_gas = isinstance(self.axle(name).spring, GasSpring)
        return static_spring_force(self.car, name) if is_gas else 0.0

    def standing_travel(self, name: AxleName, load: LoadCase) -> float | None:
        """Mean wheel travel of an axle at which the car stands with a load, m; None if it does not."""
        stand = statics(mechanics(self.vehicle, load))
        first = 0 if name == "front" else 2
        return float(stand.travel[first : first + 2].mean()) if stand.stable else None


def wheel_force_chart(
    axle: AxleName,
    candidate: LawSource,
    baseline: LawSource | None = None,
    load: LoadCase = AS_DESIGNED,
    part: Part = "all",
    names: Names = _NAMES,
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
    curves = _curves(force, candidate, baseline, x, names, (("", "body"),))
    return Chart(f"law-{axle}-force-{part}", title, _TRAVEL, _FORCE, curves, tuple(marks))


def damping_chart(
    axle: AxleName,
    candidate: LawSource,
    baseline: LawSource | None = None,
    closely: bool = False,
    names: Names = _NAMES,
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
    curves = _curves(force, candidate, baseline, x, names, (("", "body"),))
    return Chart(f"law-{axle}-damping-{'closely' if closely else 'all'}", title, _SPEED, _DAMPING, curves)


def interconnection_chart(
    side: SideName, candidate: LawSource, baseline: LawSource | None = None, names: Names = _NAMES
) -> Chart:
    """What the interconnection does at the front and rear wheel while both move alike."""
    x = np.linspace(-_LEAST_TRAVEL, _LEAST_TRAVEL, _POINTS)

    def force(source: LawSource) -> tuple[Array, ...]:
        return tuple(interconnection_force(source.car, side, x))

    places: tuple[tuple[str, Place], ...] = (("front", "front"), ("rear", "rear"))
    curves = _curves(force, candidate, baseline, x, names, places)
    travel = Axis("Heave travel", "travel", sign="jounce +")
    title = f"{side.capitalize()} interconnection"
    return Chart(f"law-{side}-interconnection", title, travel, _COUPLING, curves)


def _curves(
    force: Callable[[LawSource], tuple[Array, ...]],
    candidate: LawSource,
    baseline: LawSource | None,
    x: Array,
    names: Names,
    places: tuple[tuple[str, Place], ...],
) -> tuple[Curve, ...]:
    mine = force(candidate)
    others = () if baseline is None else force(baseline)
    if others and all(np.allclose(m, o, rtol=1e-9, atol=1e-6) for m, o in zip(mine, others, strict=True)):
        others = ()
    drawn: list[tuple[tuple[Array, ...], Role, str]] = [(others, "baseline", names[1])] if others else []
    drawn.append((mine, "candidate", names[0]))
    return tuple(
        Curve(name, label, x, y, role, place)
        for forces, role, name in drawn
        for y, (label, place) in zip(forces, places, strict=True)
    )


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
        steps = math.ceil(max([stand, *wanted]) / _ROUND_TRAVEL - 1e-9)
        return max(steps * _ROUND_TRAVEL, _LEAST_TRAVEL)

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
        return _LEAST_SPEED
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
