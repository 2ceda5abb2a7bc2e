"""Design trim: the static force of every element, so that the car stands level at s = 0.

Which part carries how much is settled as if the body had been let down onto its free springs: it sinks, rolls
and pitches by some β until the springs carry it, and then every spring has the force k b·(A β) of that way.
With that, separate springs carry their corner loads, and of a joined bar and a trim spring each carries
in proportion to its stiffness.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.constants import g

from models.force_elements import ForceElement
from models.laws import Gas

__all__ = ["preloaded"]

Array = NDArray[np.float64]

_ROUNDS = 60
_SMALL = 1e-12
# Of the forces: a change of their shares that is none.
_SETTLED = 1e-11


def preloaded(
    elements: tuple[ForceElement, ...],
    corner_map: Array,
    mass: float,
    occupant: float,
    seat: tuple[float, float],
) -> tuple[tuple[ForceElement, ...], Array]:
    """Elements with their static forces, and the (4,) suspension forces at the corners, N.

    A car whose springs cannot carry its weight level is preloaded as far as they can; its statics then find
    that it does not stand.

    Args:
        elements: as :func:`models.force_elements.force_elements` makes them.
        corner_map: (4, 3) body height at the corners from z, roll, pitch.
        mass: sprung mass, kg.
        occupant: mass on the cushion, kg, whose weight goes through the cushion to the body.
        seat: x, y of the seat from the CG, m.
    """
    b = np.array([element.incidence[:4] for element in elements])
    load = g * np.array([mass + occupant, occupant * seat[1], -occupant * seat[0]])
    force = _static_forces(elements, b @ corner_map, load)
    result = [
        replace(_with_static(element, float(p)), preload=float(p))
        for element, p in zip(elements, force, strict=True)
    ]
    if occupant:
        result[-1] = replace(result[-1], preload=occupant * g)
    return tuple(result), b.T @ force


def _static_forces(elements: tuple[ForceElement, ...], way: Array, load: Array) -> Array:
    """(elements,) forces that carry the load (3,); ``way`` (elements, 3) is deflection per body motion."""
    k = np.array([element.stiffness(0.0) if element.carries_load else 0.0 for element in elements])
    force = _shared(k, way, load)
    gases = [number for number, element in enumerate(elements) if isinstance(element.spring, Gas)]
    # Only gas springs change their rate with their load; without them one round settles it.
    for _ in range(_ROUNDS if gases else 0):
        for number in gases:
            k[number] = max(_with_static(elements[number], float(force[number])).stiffness(0.0), 0.0)
        before, force = force, _shared(k, way, load)
        if np.abs(force - before).max() <= _SETTLED * np.abs(force).max():
            break
    # Once more with what rounding left, or a car with very unequal springs would not stand level.
    return force + _shared(k, way, load - way.T @ force)


def _shared(k: Array, way: Array, load: Array) -> Array:
    """Force of each spring when the body has sunk onto them under the load."""
    k = k / max(float(k.max(initial=0.0)), np.finfo(float).tiny)  # only their shares count
    rate = way.T @ (k[:, None] * way)
    sunk = np.linalg.lstsq(rate, load, rcond=_SMALL)[0]
    force: Array = k * (way @ sunk)
    return force


def _with_static(element: ForceElement, force: float) -> ForceElement:
    if isinstance(element.spring, Gas):
        return replace(element, spring=replace(element.spring, static=force))
    return element
