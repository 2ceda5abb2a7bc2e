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
    carrying = np.array([element.carries_load for element in elements])
    way = b @ corner_map
    force = np.zeros(len(elements))
    for _ in range(_ROUNDS):
        laws = [_with_static(element, float(p)) for element, p in zip(elements, force, strict=True)]
        k = np.where(carrying, [element.stiffness(0.0) for element in laws], 0.0)
        k /= max(float(k.max()), np.finfo(float).tiny)  # only their shares count
        sunk = np.linalg.lstsq(way.T @ (k[:, None] * way), load, rcond=_SMALL)[0]
        before, force = force, k * (way @ sunk)
        # Only gas springs change their rate with their load; without them one round settles it.
        if np.allclose(force, before, rtol=1e-13, atol=0.0) or not any(
            _is_gas(element) for element in elements
        ):
            break
    result = [
        replace(_with_static(element, float(p)), preload=float(p))
        for element, p in zip(elements, force, strict=True)
    ]
    if occupant:
        result[-1] = replace(result[-1], preload=occupant * g)
    return tuple(result), b.T @ force


def _is_gas(element: ForceElement) -> bool:
    return isinstance(element.spring, Gas)


def _with_static(element: ForceElement, force: float) -> ForceElement:
    if isinstance(element.spring, Gas):
        return replace(element, spring=replace(element.spring, static=force))
    return element
