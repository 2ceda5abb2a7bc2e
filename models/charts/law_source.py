"""What charts of laws share: the car whose laws are drawn, and the curves of it and of the baseline."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from models.assembly import Mechanics, mechanics
from models.charts.chart import Array, Curve, Place, Role
from models.force_elements import ForceElement, force_elements
from models.statics import Statics, statics
from models.vehicle import Axle, GasSpring, LoadCase, Vehicle
from models.wheel_forces import static_spring_force

__all__ = [
    "LEAST_SPEED",
    "LEAST_TRAVEL",
    "NAMES",
    "AxleName",
    "LawSource",
    "Names",
    "SideName",
    "curves_of",
    "evenly",
    "round_travel",
]

AxleName = Literal["front", "rear"]
SideName = Literal["left", "right"]
Names = tuple[str, str]

NAMES: Names = ("Candidate", "Baseline")
#: The least that is shown either way, m and m/s.
LEAST_TRAVEL, LEAST_SPEED = 0.08, 1.0

_ROUND_TRAVEL = 0.02
_POINTS = 41  # as many as a table of a straight line is of use with


@dataclass(frozen=True)
class LawSource:
    """A car whose laws are drawn; its mechanics are made when a chart first needs them."""

    vehicle: Vehicle

    @cached_property
    def car(self) -> Mechanics:
        """The car at design trim."""
        return mechanics(self.vehicle)

    @cached_property
    def elements(self) -> tuple[ForceElement, ...]:
        """Its parts without their static forces, which laws that are no gas do not ask for."""
        return force_elements(self.vehicle)

    def stand(self, load: LoadCase) -> Statics | None:
        """How the car stands with a load; None if it does not."""
        stand = statics(mechanics(self.vehicle, load))
        return stand if stand.stable else None

    def axle(self, name: AxleName) -> Axle:
        """Front or rear axle."""
        return self.vehicle.front if name == "front" else self.vehicle.rear

    def static_force(self, name: AxleName) -> float:
        """Force of a spring of an axle at design trim, N; found only for gas, whose law depends on it."""
        is_gas = isinstance(self.axle(name).spring, GasSpring)
        return static_spring_force(self.car, name) if is_gas else 0.0

    def standing_travel(self, name: AxleName, load: LoadCase) -> float | None:
        """Mean wheel travel of an axle at which the car stands with a load, m; None if it does not."""
        stand = self.stand(load)
        first = 0 if name == "front" else 2
        return None if stand is None else float(stand.travel[first : first + 2].mean())


def curves_of(
    force: Callable[[LawSource], tuple[Array, ...]],
    candidate: LawSource,
    baseline: LawSource | None,
    x: Array,
    names: Names,
    places: tuple[tuple[str, Place], ...],
) -> tuple[Curve, ...]:
    """Curves of the candidate and, below them and where they differ, of the baseline.

    Args:
        force: (N,) values of a car, one array for each of ``places``.
        candidate, baseline: the cars.
        x: (N,) places of the values.
        names: of the candidate and the baseline variant.
        places: name of each curve and where it is.
    """
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


def evenly(low: float, high: float) -> Array:
    """(N,) places along a law that is straight, or straight on both sides of 0, and 0 among them."""
    return np.unique(np.append(np.linspace(low, high, _POINTS), 0.0))


def round_travel(wanted: float) -> float:
    """End of a travel axis that shows ``wanted``, m, in round steps so that it does not crawl."""
    return max(math.ceil(wanted / _ROUND_TRAVEL - 1e-9) * _ROUND_TRAVEL, LEAST_TRAVEL)
