"""Charts of the seat cushion under the occupant: force and damping."""

from __future__ import annotations

import numpy as np

from models.charts.chart import Array, Axis, Chart, Mark
from models.charts.law_source import LEAST_SPEED, NAMES, LawSource, Names, curves_of, evenly, round_travel
from models.force_elements import ForceElement

__all__ = ["cushion_damping_chart", "cushion_force_chart"]

_DEFLECTION = Axis("Cushion deflection", "travel", sign="pressed +")
_SPEED = Axis("Cushion speed", "damper speed", sign="pressed +")
_FORCE = Axis("Cushion force", "force")
_DAMPING = Axis("Damping force", "force")
# Of the deflection under the occupant's weight.
_PRESSED = 2.0


def cushion_force_chart(
    candidate: LawSource, baseline: LawSource | None = None, names: Names = NAMES
) -> Chart:
    """Force of the cushion over its deflection from empty, with the occupant's weight marked."""
    weight = _at_rest(candidate)
    x = evenly(0.0, round_travel(_PRESSED * (weight or 0.0)))

    def force(source: LawSource) -> tuple[Array, ...]:
        cushion = _cushion(source)
        return (cushion.spring.force(x) if cushion and cushion.spring else np.zeros_like(x),)

    marks = () if weight is None else (Mark(weight, "occupant"),)
    curves = curves_of(force, candidate, _seated(baseline), x, names, (("", "body"),))
    return Chart("law-cushion-force", "Seat cushion", _DEFLECTION, _FORCE, curves, marks)


def cushion_damping_chart(
    candidate: LawSource, baseline: LawSource | None = None, names: Names = NAMES
) -> Chart:
    """Damping force of the cushion over the speed of its deflection."""
    x = evenly(-LEAST_SPEED, LEAST_SPEED)

    def force(source: LawSource) -> tuple[Array, ...]:
        cushion = _cushion(source)
        return (cushion.damper.force(x) if cushion and cushion.damper else np.zeros_like(x),)

    curves = curves_of(force, candidate, _seated(baseline), x, names, (("", "body"),))
    return Chart("law-cushion-damping", "Seat cushion damping", _SPEED, _DAMPING, curves)


def _cushion(source: LawSource) -> ForceElement | None:
    return next((element for element in source.elements if element.name == "seat cushion"), None)


def _seated(source: LawSource | None) -> LawSource | None:
    """A car with an occupant; without one there is no cushion to compare with."""
    return source if source is not None and _cushion(source) else None


def _at_rest(source: LawSource) -> float | None:
    """Deflection under the weight of the occupant, m; the law is straight, so from empty as from there."""
    cushion = _cushion(source)
    if cushion is None:
        return None
    weight = next(element.preload for element in source.car.elements if element.name == cushion.name)
    return weight / cushion.stiffness(0.0)
