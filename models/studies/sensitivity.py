"""Sensitivities at the car as it is: slopes of all figures over all parameters."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.studies.asked import Asked, Place
from models.studies.result import StudyResult
from models.study import Sensitivity

__all__ = ["Sensitivities", "sensitivities", "sensitivity_rows"]

Array = NDArray[np.float64]

# Steps to a side at which a number is tried, and weights of its figures and of those of the car as it is in
# the slope: central differences, and where one side is out of range, those of three points of the same order.
_CENTRAL = (-1.0, 1.0), (-0.5, 0.5, 0.0)
_FORWARD = (1.0, 2.0), (2.0, -0.5, -1.5)
_BACKWARD = (-1.0, -2.0), (-2.0, 0.5, 1.5)


@dataclass(frozen=True, eq=False)
class Sensitivities:
    """Slopes of figures over parameters.

    Attributes:
        nominal: (S, K) figures of the car as it is, SI.
        absolute: (P, S, K) ∂m/∂p, SI; NaN where a car of the difference was refused.
        normalised: (P, S, K) ∂ln m/∂ln p: per cent of the figure per per cent of the parameter; NaN where the
            parameter or the figure is 0 or infinite.
    """

    nominal: Array
    absolute: Array
    normalised: Array


def sensitivity_rows(asked: Asked, study: Sensitivity) -> Array:
    """(1 + 2 P, P): the car as it is, then two cars per parameter."""
    rows = np.tile(asked.nominal, (1 + 2 * len(asked.places), 1))
    for number, place in enumerate(asked.places):
        size = _size(place, study.step)
        for row, step in enumerate(_scheme(place, size)[0], 1 + 2 * number):
            rows[row, number] += step * size
    return rows


def sensitivities(result: StudyResult) -> Sensitivities:
    """Slopes of a result; NaN where it has not come to yet."""
    asked, study = result.asked, result.asked.study
    assert isinstance(study, Sensitivity)
    values = np.full((1 + 2 * len(asked.places), *result.columns.values.shape[1:]), np.nan)
    values[: len(result.columns.values)] = result.columns.values
    nominal, sides = values[0], values[1:].reshape(len(asked.places), 2, *values.shape[1:])
    with np.errstate(invalid="ignore", divide="ignore"):
        slopes = np.stack(
            [
                _slope(place, study.step, pair, nominal)
                for place, pair in zip(asked.places, sides, strict=True)
            ]
        )
        share = slopes * asked.nominal[:, None, None] / nominal
    slopes[~np.isfinite(slopes)] = np.nan
    share[~np.isfinite(share) | (asked.nominal == 0)[:, None, None]] = np.nan
    return Sensitivities(nominal, slopes, share)


def _size(place: Place, step: float) -> float:
    """Size of a step: a share of the value, or of its usual range where that is 0."""
    low, high = place.quantity.typical
    return step * (abs(place.value) or high - low)


def _scheme(place: Place, size: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    if place.value - size < place.quantity.low:
        return _FORWARD
    return _BACKWARD if place.value + size > place.quantity.high else _CENTRAL


def _slope(place: Place, step: float, pair: Array, nominal: Array) -> Array:
    """(S, K) from the figures of two cars (2, S, K) and those of the car as it is."""
    size = _size(place, step)
    first, second, own = _scheme(place, size)[1]
    return np.asarray((first * pair[0] + second * pair[1] + own * nominal) / size)
