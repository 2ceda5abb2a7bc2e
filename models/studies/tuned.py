"""Tuned start: the car that comes nearest to wished figures."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from models.studies.asked import Wanted
from models.studies.result import StudyResult
from models.study import TunedStart

__all__ = ["Tuned", "misses", "tune", "tuned", "tuned_size"]

Array = NDArray[np.float64]

# From how many of the best starts on it is tuned, and how many steps each may take.
_BEST, _STEPS = 3, 30
# Half of the difference of a slope, as a share of the range of a parameter: a hundred-thousandth leaves ten
# digits of a curvature and five of rounding.
_SLOPE = 1e-5
# A sum of squared misses below this is a hit: a millionth of the wished values.
_HIT = 1e-12


@dataclass(frozen=True, eq=False)
class Tuned:
    """The best car that was found.

    Attributes:
        row: its number in the columns; -1 where no car has all figures.
        values: (W,) wished figures that it has, SI.
        missed: (W,) by what share of the limit each wish is missed; 0 where it is met.
    """

    row: int
    values: Array
    missed: Array


def tuned_size(study: TunedStart) -> int:
    """How many cars are computed at most."""
    best = min(_BEST, study.starts)
    return study.starts + best * (_STEPS + 1) * (1 + 2 * len(study.parameters))


def tune(study: TunedStart, wanted: tuple[Wanted, ...], evaluate: Callable[[Array], Array]) -> None:
    """Try cars all over the range, and tune the best of them by least squares.

    Args:
        study: parameters and their ranges.
        wanted: (W,) wishes.
        evaluate: figures (n, S, K) of rows (n, P).
    """
    low = np.array([parameter.low for parameter in study.parameters])
    high = np.array([parameter.high for parameter in study.parameters])

    def missed(places: Array) -> Array:
        """(n, W) of places (n, P) between 0 and 1."""
        return misses(wanted, evaluate(np.clip(low + places * (high - low), low, high)))

    from scipy.stats import qmc  # loads in a third of a second: only when wanted

    sampler = qmc.Sobol(len(low), rng=np.random.default_rng(study.seed))
    starts = sampler.random_base2((study.starts - 1).bit_length())[: study.starts]
    squares = (missed(starts) ** 2).sum(axis=1)
    for start in np.argsort(squares, kind="stable")[:_BEST]:
        if np.isfinite(squares[start]) and _tuned_from(starts[start], missed) < _HIT:
            return


def misses(wanted: tuple[Wanted, ...], values: Array) -> Array:
    """(n, W) by what share of the limit cars with figures (n, S, K) are outside of each wish.

    Above the greatest value it is positive, below the least negative; of a car without figures infinite.
    """
    found = np.empty((len(values), len(wanted)))
    for column, one in enumerate(wanted):
        value = values[:, one.situation, one.metric]
        low, high = one.target.low, one.target.high
        over = np.zeros(len(values)) if high is None else np.maximum(value - high, 0) / (abs(high) or 1.0)
        under = np.zeros(len(values)) if low is None else np.maximum(low - value, 0) / (abs(low) or 1.0)
        found[:, column] = np.where(np.isnan(value), np.inf, over - under)
    return found


def tuned(result: StudyResult) -> Tuned:
    """The best car of a result, as far as it has come."""
    asked = result.asked
    missed = misses(asked.wanted, result.columns.values)
    squares = (missed**2).sum(axis=1)
    if not np.isfinite(squares).any():
        nothing = np.full(len(asked.wanted), np.nan)
        return Tuned(-1, nothing, nothing)
    row = int(np.argmin(squares))
    values = [result.columns.values[row, one.situation, one.metric] for one in asked.wanted]
    return Tuned(row, np.array(values), missed[row])


def _tuned_from(start: Array, missed: Callable[[Array], Array]) -> float:
    """Sum of squared misses at the end of a tuning."""
    slopes: dict[bytes, Array] = {}

    def at(place: Array) -> Array:
        """Misses, with those of the neighbours in one go, as the slopes will be wanted in most cases."""
        steps = _SLOPE * np.eye(len(place))
        near = np.clip(np.concatenate([place + steps, place - steps]), 0.0, 1.0)
        found = missed(np.vstack([place, near]))
        ups, downs = np.split(found[1:], 2)
        width = np.diagonal(near[: len(place)] - near[len(place) :])
        slopes.clear()
        with np.errstate(invalid="ignore"):
            slopes[place.tobytes()] = np.nan_to_num((ups - downs) / width[:, None], posinf=0.0, neginf=0.0).T
        return np.asarray(found[0])

    def slope_at(place: Array) -> Array:
        if place.tobytes() not in slopes:
            at(place)
        return slopes[place.tobytes()]

    found = least_squares(
        at, start, slope_at, bounds=(0.0, 1.0), max_nfev=_STEPS, xtol=1e-12, ftol=1e-12, gtol=1e-12
    )
    return float(2 * found.cost)
