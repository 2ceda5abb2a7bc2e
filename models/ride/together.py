"""Elements that move as one, put together, so that the compiled run looks up fewer of them.

Spring, damper, stops and friction of a corner mostly have one deflection, or deflections in a fixed ratio.
An element of deflection r δ pushes along δ with r F(r δ): its laws stretched by r, at which forces, works and
losses are those of the elements apart, but for rounding.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.ride.laws import LawTable
from models.ride.nonlinear_model import ForceElement, Friction, Stop

__all__ = ["together"]

Array = NDArray[np.float64]


@dataclass(slots=True)
class _Parts:
    """What acts along one deflection."""

    spring: LawTable | None = None
    damper: LawTable | None = None
    jounce_stop: Stop | None = None
    rebound_stop: Stop | None = None
    friction: Friction | None = None

    def take(self, element: ForceElement, ratio: float) -> bool:
        """Take an element over, if there is room for all of it; ``ratio`` is its deflection per ours."""
        if not (
            _fit(self.spring, element.spring)
            and _fit(self.damper, element.damper)
            and not (self.jounce_stop and element.jounce_stop)
            and not (self.rebound_stop and element.rebound_stop)
            and not (self.friction and element.friction)
        ):
            return False
        self.spring = _sum(self.spring, element.spring, ratio)
        self.damper = _sum(self.damper, element.damper, ratio)
        if element.jounce_stop:
            self.jounce_stop = _stop(element.jounce_stop, ratio)
        if element.rebound_stop:
            self.rebound_stop = _stop(element.rebound_stop, ratio)
        if element.friction:
            self.friction = Friction(ratio * element.friction.force, element.friction.width / ratio)
        return True


def together(elements: Iterable[ForceElement]) -> tuple[ForceElement, ...]:
    """Fewer elements with the same forces on the coordinates at every motion; linkages stay alone."""
    alone = []
    found: dict[tuple[float, ...], list[_Parts]] = {}
    for element in elements:
        if element.links:
            alone.append(element)
            continue
        row = element.incidence.tolist()
        size = abs(next((part for part in row if part), 0.0))
        if not size:  # nothing moves it, and it pushes nothing
            continue
        parts = found.setdefault(tuple(part / size for part in row), [])
        if not any(part.take(element, size) for part in parts):
            parts.append(_Parts())
            parts[-1].take(element, size)
    joined = [
        ForceElement(
            "",
            np.array(way),
            spring=part.spring,
            damper=part.damper,
            jounce_stop=part.jounce_stop,
            rebound_stop=part.rebound_stop,
            friction=part.friction,
        )
        for way, parts in found.items()
        for part in parts
    ]
    return (*joined, *alone)


def _is_hinge(law: LawTable) -> bool:
    """Whether it is two straight lines that meet at 0, as :func:`models.ride.laws.two_slope_law` has them."""
    return law.endless and law.x0 == -1.0 and law.dx == 1.0 and len(law.values) == 3


def _fit(ours: LawTable | None, theirs: LawTable | None) -> bool:
    return ours is None or theirs is None or (_is_hinge(ours) and _is_hinge(theirs))


def _sum(ours: LawTable | None, theirs: LawTable | None, ratio: float) -> LawTable | None:
    if theirs is None:
        return ours
    law = theirs if ratio == 1.0 else _stretched(theirs, ratio)
    return law if ours is None else LawTable(law.x0, law.dx, ours.values + law.values, endless=True)


def _stretched(law: LawTable, ratio: float) -> LawTable:
    if _is_hinge(law):
        at_rest = law.values[1]
        values = ratio * at_rest + ratio**2 * (law.values - at_rest)
        return LawTable(law.x0, law.dx, values, endless=True)
    return LawTable(law.x0 / ratio, law.dx / ratio, ratio * law.values, law.endless)


def _stop(stop: Stop, ratio: float) -> Stop:
    """With the way past the gap r p the force r (k r p + c r² p²)."""
    if ratio == 1.0:
        return stop
    return Stop(stop.gap / ratio, ratio**2 * stop.rate, ratio**3 * stop.progression)
