"""The element table of a car: every elastic and damping part with its incidence and its laws."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from models.laws import Bilinear, Cubic, Digressive, Gas, Law, Linear, Progressive, Table
from models.levers import AnyLever, lever
from models.vehicle import (
    Axle,
    CornerDamper,
    CornerSpring,
    Damper,
    DigressiveDamper,
    FluidCoupling,
    Friction,
    GasSpring,
    ProgressiveSpring,
    Side,
    SolidAxle,
    Spring,
    Stabiliser,
    Stop,
    TabulatedDamper,
    TabulatedSpring,
    TorsionCoupling,
    Vehicle,
)

__all__ = ["ForceElement", "damper_law", "force_elements", "spring_law", "stop_law"]


@dataclass(frozen=True, slots=True)
class ForceElement:
    """One part that pushes back.

    Attributes:
        name: place and part in words ("front left spring").
        incidence: deflection per wheel travel FL, FR, RL, RR (m/m, rad/m or m³/m), then per cushion
            deflection; at design trim.
        spring: change of force over deflection, from design trim; None for a mere damper.
        damper: force over deflection rate.
        friction: full dry friction force and the rate at which it is reached.
        preload: force at design trim.
        levers: those that turn it, with the incidence as their ratio; without one, a wheel moves it in
            proportion.
    """

    name: str
    incidence: tuple[float, ...]
    spring: Law | None = None
    damper: Law | None = None
    friction: tuple[float, float] | None = None
    preload: float = 0.0
    levers: tuple[AnyLever, ...] = ()

    def force(self, deflection: float) -> float:
        """Force at rest at a deflection, static share included."""
        return self.preload + (float(self.spring.force(deflection)) if self.spring else 0.0)

    def stiffness(self, deflection: float) -> float:
        """Slope of the spring force at a deflection."""
        return float(self.spring.slope(deflection)) if self.spring else 0.0

    @property
    def damping(self) -> float:
        """Mean slope of the damper force at rest."""
        return float(self.damper.slope(0.0)) if self.damper else 0.0

    @property
    def carries_load(self) -> bool:
        """Whether trim gives the element a share of the static load; a stop in its gap has none."""
        return self.spring is not None and not isinstance(self.spring, Progressive)


def force_elements(vehicle: Vehicle) -> tuple[ForceElement, ...]:
    """All elements of a car, not yet preloaded; parts that are not fitted are elements without effect."""
    elements: list[ForceElement] = []
    for name, axle, first in (("front", vehicle.front, 0), ("rear", vehicle.rear, 2)):
        elements += _corner_elements(name, axle, first)
        elements.append(_stabiliser(f"{name} stabiliser bar", axle.stabiliser, first))
    for name, side, first in zip(("left", "right"), vehicle.sides, (0, 1), strict=True):
        elements += _side_elements(name, side, first)
    diagonal = vehicle.diagonal
    if _is_there(diagonal.bar_rate):
        front, rear = diagonal.front_lever_ratio, diagonal.rear_lever_ratio
        elements.append(
            ForceElement("diagonal coupling", (front, -front, -rear, rear), Linear(diagonal.bar_rate))
        )
    occupant = vehicle.seat.occupant
    if _is_there(occupant.mass):
        elements.append(
            ForceElement(
                "seat cushion",
                (0.0, 0.0, 0.0, 0.0, 1.0),
                Linear(occupant.cushion_rate),
                Linear(occupant.cushion_damping),
            )
        )
    return tuple(elements)


def spring_law(spring: CornerSpring, static: float = 0.0) -> Law:
    """Law of a corner spring; ``static`` is its force at design trim, N, on which a gas spring depends."""
    match spring:
        case Spring():
            return Linear(spring.rate)
        case ProgressiveSpring():
            return Cubic(spring.rate, spring.growth)
        case TabulatedSpring():
            return Table.through_zero(
                [point.deflection for point in spring.points], [point.force for point in spring.points]
            )
        case GasSpring():
            return Gas(spring.area, spring.volume, spring.exponent, static)


def damper_law(damper: CornerDamper) -> Law:
    """Law of a corner damper."""
    match damper:
        case Damper():
            return Bilinear(damper.jounce, damper.rebound)
        case DigressiveDamper():
            return Digressive(damper.jounce, damper.rebound, damper.knee, damper.slope_share)
        case TabulatedDamper():
            # A curve measured on both sides of rest need not hold the point of rest itself.
            points = {point.speed: point.force for point in damper.points} | {0.0: 0.0}
            speeds = sorted(points)
            return Table(tuple(speeds), tuple(points[speed] for speed in speeds))


def stop_law(stop: Stop, sign: float) -> Law:
    """Law of a stop over wheel travel; ``sign`` is 1 for the bump stop, -1 for the rebound stop."""
    return Progressive(stop.gap, stop.rate, stop.growth, sign)


def _corner_elements(name: str, axle: Axle, first: int) -> Iterable[ForceElement]:
    """Springs, dampers, stops and friction of an axle.

    On a solid axle the ends move the springs through the beam: a spring at half-spacing y_s deflects by
    (1/2 + y_s/t) of the travel at its own end and (1/2 - y_s/t) of that at the other.
    """
    spacing = axle.wheels.spring_spacing if isinstance(axle.wheels, SolidAxle) else axle.track
    near = 0.5 + spacing / (2 * axle.track)
    for side, own, other in (("left", first, first + 1), ("right", first + 1, first)):
        share = {own: near, other: 1.0 - near}
        spring, damper = axle.spring, axle.damper
        yield ForceElement(
            f"{name} {side} spring", _incidence(share, spring.motion_ratio), spring_law(spring)
        )
        yield ForceElement(
            f"{name} {side} damper", _incidence(share, damper.motion_ratio), damper=damper_law(damper)
        )
        yield from _end_elements(f"{name} {side}", axle, _incidence({own: 1.0}))


def _end_elements(place: str, axle: Axle, incidence: tuple[float, ...]) -> Iterable[ForceElement]:
    for name, stop, sign in (("bump stop", axle.bump_stop, 1.0), ("rebound stop", axle.rebound_stop, -1.0)):
        if _is_fitted(stop):
            yield ForceElement(f"{place} {name}", incidence, stop_law(stop, sign))
    if _is_there(axle.friction.force):
        yield ForceElement(f"{place} friction", incidence, friction=_full(axle.friction))


def _stabiliser(name: str, bar: Stabiliser, first: int) -> ForceElement:
    """A bar whose ends turn in proportion to travel, or as their linkages do."""
    if bar.linkage is None:
        ratio = bar.lever_ratio
        return ForceElement(name, _incidence({first: ratio, first + 1: -ratio}), Linear(bar.bar_rate))
    ends = (lever(first + side, 0.0, 0.0, bar.linkage, sign) for side, sign in ((0, 1.0), (1, -1.0)))
    return _levered(name, bar.bar_rate, *ends)


def _side_elements(name: str, side: Side, first: int) -> Iterable[ForceElement]:
    match side.coupling:
        case TorsionCoupling() as bar:
            sign = 1.0 if bar.sense == "levelling" else -1.0
            yield _levered(
                f"{name} interconnection bar",
                bar.bar_rate,
                lever(first, bar.front_lever_ratio, bar.front_lever_angle, bar.front_linkage),
                lever(first + 2, bar.rear_lever_ratio, bar.rear_lever_angle, bar.rear_linkage, sign),
            )
        case FluidCoupling() as fluid:
            yield ForceElement(
                f"{name} fluid interconnection",
                _incidence({first: fluid.front_area, first + 2: fluid.rear_area}),
                Gas(1.0, fluid.volume, fluid.exponent, 0.0),
                Linear(fluid.resistance),
            )
    trim = side.trim
    wheel = first if trim.axle == "front" else first + 2
    held = lever(wheel, trim.lever_ratio, trim.lever_angle, trim.linkage)
    yield _levered(f"{name} trim spring", trim.bar_rate, held)


def _levered(name: str, bar_rate: float, *levers: AnyLever) -> ForceElement:
    """Bar with levers at its ends; one that is not fitted needs no levers of its own."""
    incidence = _incidence({end.wheel: end.ratio for end in levers})
    return ForceElement(name, incidence, Linear(bar_rate), levers=levers if _is_there(bar_rate) else ())


def _is_fitted(stop: Stop) -> bool:
    return _is_there(stop.rate) or _is_there(stop.growth)


def _is_there(value: float) -> bool:
    """Whether a number is not 0.  Of many cars at once (:mod:`models.studies`) all have a part, or none."""
    return bool(value.any()) if isinstance(value, np.ndarray) else value != 0


def _full(friction: Friction) -> tuple[float, float]:
    return friction.force, friction.width


def _incidence(parts: dict[int, float], ratio: float = 1.0) -> tuple[float, ...]:
    return tuple(ratio * parts.get(corner, 0.0) for corner in range(4))
