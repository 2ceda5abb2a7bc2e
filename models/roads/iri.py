"""International Roughness Index of a measured profile (ASTM E1926).

The golden car, a quarter car of fixed ratios, drives over the profile at 80 km/h.  The index is the mean of
the rectified rate of its suspension travel per distance, in m/km.  The profile is first smoothed by a moving
average over 250 mm, and the car starts with the mean slope of the first 11 m.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import expm

from models.errors import InputError

__all__ = ["LONGEST_STEP", "SHORTEST_ROAD", "golden_car", "iri", "rectified_slope"]

Array = NDArray[np.float64]

#: Spring, tyre (1/s²) and damper (1/s) over the sprung mass, unsprung over sprung mass, speed (m/s).
SPRING, TYRE, DAMPER, UNSPRUNG, SPEED = 63.3, 653.0, 6.0, 0.15, 80 / 3.6
#: Base of the moving average and of the mean slope at the start, m.
AVERAGE_BASE, START_BASE = 0.25, 11.0
#: Largest distance of two points, m: the tyre's base has at least one.
LONGEST_STEP = 0.3
#: Length below which there is no index, m.
SHORTEST_ROAD = 20.0


def golden_car(step: float) -> tuple[Array, Array]:
    """Transition of one step: state (4, 4) and input (4,), for a slope that is constant over the step.

    The state is (z_s', ż_s', z_u', ż_u'), the primes being d/dx; E1926 calls the two ST and PR.

    Args:
        step: distance of two points, m.
    """
    matrix = np.array(
        [
            [0, 1, 0, 0],
            [-SPRING, -DAMPER, SPRING, DAMPER],
            [0, 0, 0, 1],
            [SPRING / UNSPRUNG, DAMPER / UNSPRUNG, -(SPRING + TYRE) / UNSPRUNG, -DAMPER / UNSPRUNG],
        ]
    )
    transition = expm(matrix * step / SPEED)
    forced = np.linalg.solve(matrix, (transition - np.eye(4)) @ np.array([0, 0, 0, TYRE / UNSPRUNG]))
    return transition, forced


def iri(heights: Array, step: float) -> Array:
    """Index of each profile, m/km, in the shape of ``heights`` without its last axis.

    Args:
        heights: (..., N) profiles, m.
        step: distance of two points, m.

    Raises:
        InputError: the points stand too far apart, or the road is too short.
    """
    return 1e3 * np.asarray(rectified_slope(heights, step).mean(axis=-1))


def rectified_slope(heights: Array, step: float, *, averaged: bool = True) -> Array:
    """(..., M) rectified rate of suspension travel per distance, one value per step of the profile.

    Args:
        heights: (..., N) profiles, m.
        step: distance of two points, m.
        averaged: smooth by the moving average of 250 mm first, as the standard does.

    Raises:
        InputError: the points stand too far apart, or the road is too short.
    """
    length = (heights.shape[-1] - 1) * step
    if step > LONGEST_STEP:
        reason = f"points {step * 1e3:.0f} mm apart are outside the allowed range (up to 300 mm)"
        raise InputError.of("IRI", step, reason)
    if length < SHORTEST_ROAD:
        reason = f"a road of {length:.1f} m is outside the allowed range (at least {SHORTEST_ROAD:.0f} m)"
        raise InputError.of("IRI", length, reason)
    width = max(1, round(AVERAGE_BASE / step)) if averaged else 1
    # The slope of the averaged profile is the slope over the base.
    slope = (heights[..., width:] - heights[..., :-width]) / (width * step)
    first = round(START_BASE / step)
    start = (heights[..., first] - heights[..., 0]) / (first * step)
    return np.abs(_travel_slope(slope, start, step))


def _travel_slope(slope: Array, start: Array, step: float) -> Array:
    """z_s' - z_u' after each step, as the sum of the car's two vibrations.

    In its eigenvectors the recursion falls apart into first-order ones, which are exact and quick filters.
    """
    from scipy.signal import lfilter  # a third of a second to import: only when a road is judged

    transition, forced = golden_car(step)
    values, vectors = np.linalg.eig(transition)
    inward = np.linalg.inv(vectors)
    outward = vectors[0] - vectors[2]
    total = np.zeros(slope.shape)
    for number in np.flatnonzero(values.imag > 0):  # each stands for itself and its conjugate
        value = values[number]
        begin = (inward[number, 0] + inward[number, 2]) * np.asarray(start)
        motion, _ = lfilter([inward[number] @ forced], [1.0, -value], slope, zi=(value * begin)[..., None])
        total += 2 * (outward[number] * motion).real
    return total
