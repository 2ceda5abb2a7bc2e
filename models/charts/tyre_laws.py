"""Charts of the tyres: vertical force with the static loads, and damping."""

from __future__ import annotations

import numpy as np

from models.charts.chart import Array, Axis, Chart, Mark
from models.charts.law_source import LEAST_SPEED, NAMES, AxleName, LawSource, Names, curves_of, evenly
from models.vehicle import AS_DESIGNED, LoadCase

__all__ = ["tyre_damping_chart", "tyre_force_chart"]

# What is shown off the ground and past the static deflection, as shares of it, and the steps of both, m.
_OFF_GROUND, _PRESSED, _STEP = 0.5, 2.0, 0.01
# Of their mean: static loads of left and right that differ by less are marked as one, at the mean.
_ALIKE = 0.03

_DEFLECTION = Axis("Tyre deflection", "travel", sign="pressed +")
_SPEED = Axis("Deflection speed", "damper speed", sign="pressed +")
_FORCE = Axis("Vertical tyre force", "force")
_DAMPING = Axis("Damping force", "force")


def tyre_force_chart(
    axle: AxleName,
    candidate: LawSource,
    baseline: LawSource | None = None,
    load: LoadCase = AS_DESIGNED,
    names: Names = NAMES,
) -> Chart:
    """Vertical force of one tyre over its deflection from where it just touches the ground.

    A tyre does not pull: off the ground its force is 0.  The static load of the load case is marked, of the
    left and the right tyre where they differ, and not at all where the car does not stand.
    """
    marks = _static_marks(axle, candidate, load)
    furthest = max((mark.x for mark in marks), default=0.0)
    low, high = (max(np.ceil(share * furthest / _STEP) * _STEP, _STEP) for share in (_OFF_GROUND, _PRESSED))
    x = evenly(-low, high)

    def force(source: LawSource) -> tuple[Array, ...]:
        return (np.maximum(source.axle(axle).tyre.rate * x, 0.0),)

    curves = curves_of(force, candidate, baseline, x, names, (("", "body"),))
    return Chart(f"law-{axle}-tyre-force", f"{axle.capitalize()} tyres", _DEFLECTION, _FORCE, curves, marks)


def tyre_damping_chart(
    axle: AxleName, candidate: LawSource, baseline: LawSource | None = None, names: Names = NAMES
) -> Chart:
    """Damping force of one tyre on the ground over the speed of its deflection."""
    x = evenly(-LEAST_SPEED, LEAST_SPEED)

    def force(source: LawSource) -> tuple[Array, ...]:
        return (source.axle(axle).tyre.damping * x,)

    curves = curves_of(force, candidate, baseline, x, names, (("", "body"),))
    title = f"{axle.capitalize()} tyre damping"
    return Chart(f"law-{axle}-tyre-damping", title, _SPEED, _DAMPING, curves)


def _static_marks(axle: AxleName, source: LawSource, load: LoadCase) -> tuple[Mark, ...]:
    stand = source.stand(load)
    if stand is None:
        return ()
    first = 0 if axle == "front" else 2
    left, right = (stand.tyre_force[first : first + 2] / source.axle(axle).tyre.rate).tolist()
    mean = (left + right) / 2
    if abs(left - right) <= _ALIKE * mean:
        return (Mark(mean, load.name),)
    return Mark(left, f"{load.name}, left"), Mark(right, f"{load.name}, right")
