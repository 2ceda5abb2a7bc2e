"""Global sensitivity: Sobol indices after Saltelli et al. (2010), by scipy."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.studies.read_once import read_once
from models.studies.result import StudyResult
from models.study import GlobalSensitivity

__all__ = ["SobolShares", "sobol_rows", "sobol_shares"]

Array = NDArray[np.float64]

# Draws of the samples from themselves of which the spread of the indices is taken.
_RESAMPLED = 100
_LEAST_SAMPLES = 8


@dataclass(frozen=True, eq=False)
class SobolShares:
    """Sobol indices of figures over parameters, both uniform over their range.

    Attributes:
        first: (P, S, K) share of the variance by a parameter alone; NaN where a figure is not finite or does
            not vary.
        total: (P, S, K) share with all interactions in which it takes part.
        first_error, total_error: (P, S, K) standard errors by drawing the samples again from themselves.
        samples: how many were used: the greatest power of two of those without a refused car.
    """

    first: Array
    total: Array
    first_error: Array
    total_error: Array
    samples: int


def sobol_rows(study: GlobalSensitivity) -> Array:
    """(samples (P + 2), P): of each sample the points A, B, and A with one number after the other of B."""
    count = len(study.parameters)
    low = np.array([parameter.low for parameter in study.parameters])
    high = np.array([parameter.high for parameter in study.parameters])
    from scipy.stats import qmc  # loads in a third of a second: only when wanted

    sampler = qmc.Sobol(2 * count, rng=np.random.default_rng(study.seed))
    both = sampler.random_base2(study.samples.bit_length() - 1)
    a, b = both[:, :count], both[:, count:]
    mixed = np.repeat(a[:, None], count, axis=1)
    for number in range(count):
        mixed[:, number, number] = b[:, number]
    places = np.concatenate([a[:, None], b[:, None], mixed], axis=1).reshape(-1, count)
    return np.asarray(np.clip(low + places * (high - low), low, high))


@read_once
def sobol_shares(result: StudyResult) -> SobolShares:
    """Indices of a result, as far as it has come."""
    study = result.asked.study
    assert isinstance(study, GlobalSensitivity)
    count, shape = len(study.parameters), result.columns.values.shape[1:]
    whole = len(result.columns.state) // (count + 2)
    cars = result.columns.values[: whole * (count + 2)].reshape(whole, count + 2, -1)
    usable = result.columns.computed[: whole * (count + 2)].reshape(whole, -1).all(axis=1)
    samples = 1 << (int(usable.sum()).bit_length() - 1) if usable.any() else 0
    found = np.full((4, count, cars.shape[2]), np.nan)
    if samples >= _LEAST_SAMPLES:
        cars = cars[usable][:samples]
        known = np.asarray(np.isfinite(cars).all(axis=(0, 1)))
        known[known] = np.ptp(cars[:, :, known], axis=(0, 1)) > 0
        found[:2, :, known] = _indices(cars[:, :, known])
        found[2:, :, known] = _errors(cars[:, :, known], study.seed)
    first, total, first_error, total_error = found.reshape(4, count, *shape)
    return SobolShares(first, total, first_error, total_error, samples)


def _indices(cars: Array) -> Array:
    """(2, P, M) first and total indices of the figures (samples, P + 2, M)."""
    by_point = np.moveaxis(cars, 0, -1)  # (P + 2, M, samples)
    from scipy.stats import sobol_indices

    found = sobol_indices(
        func={"f_A": by_point[0], "f_B": by_point[1], "f_AB": by_point[2:]}, n=cars.shape[0]
    )
    shape = cars.shape[2], cars.shape[1] - 2
    return np.stack([found.first_order.reshape(shape).T, found.total_order.reshape(shape).T])


def _errors(cars: Array, seed: int) -> Array:
    random = np.random.default_rng(seed)
    draws = [_indices(cars[random.integers(0, len(cars), len(cars))]) for _ in range(_RESAMPLED)]
    return np.asarray(np.std(draws, axis=0, ddof=1))
