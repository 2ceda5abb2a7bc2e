"""Sweeps and maps: cars on a line or on a grid of parameters."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.studies.asked import Wanted
from models.studies.result import StudyResult, passes
from models.study import Parameter, ParameterMap, Sweep

__all__ = ["MapGrid", "map_grid", "map_rows", "sweep_rows"]

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class MapGrid:
    """A map.

    Attributes:
        x, y: (X,) and (Y,) values of the parameters, SI.
        values: (Y, X, S, K) figures, SI; NaN where a car is missing or refused.
        feasible: (Y, X) whether all targets are met.
        known: (Y, X) whether the car has been computed or refused.
    """

    x: Array
    y: Array
    values: Array
    feasible: NDArray[np.bool_]
    known: NDArray[np.bool_]


def sweep_rows(study: Sweep) -> Array:
    """(N, 1) values of the parameter."""
    spaced = np.geomspace if study.spacing == "even ratio" else np.linspace
    low, high = study.parameter.low, study.parameter.high
    # The ends as they were said: rounding must not push one out of its range.
    return np.asarray(np.clip(spaced(low, high, study.points), low, high)[:, None])


def map_rows(study: ParameterMap) -> Array:
    """(Y X, 2) values of both parameters, x changing fastest."""
    x, y = _axis(study.x, study.x_points), _axis(study.y, study.y_points)
    return np.column_stack([np.tile(x, len(y)), np.repeat(y, len(x))])


def map_grid(result: StudyResult, wanted: tuple[Wanted, ...] | None = None) -> MapGrid:
    """The map of a result, whole or in part, judged by targets (by default those of its time)."""
    study = result.asked.study
    assert isinstance(study, ParameterMap)
    shape = study.y_points, study.x_points
    values = np.full((shape[0] * shape[1], *result.columns.values.shape[1:]), np.nan)
    values[: len(result.columns.values)] = result.columns.values
    known = np.zeros(len(values), dtype=bool)
    known[: len(result.columns.state)] = result.columns.state > 0
    met = passes(values, result.asked.wanted if wanted is None else wanted).all(axis=1)
    computed = np.zeros(len(values), dtype=bool)
    computed[: len(result.columns.state)] = result.columns.computed
    return MapGrid(
        _axis(study.x, study.x_points),
        _axis(study.y, study.y_points),
        values.reshape(*shape, *values.shape[1:]),
        (met & computed).reshape(shape),
        known.reshape(shape),
    )


def _axis(parameter: Parameter, points: int) -> Array:
    return np.asarray(np.linspace(parameter.low, parameter.high, points))
