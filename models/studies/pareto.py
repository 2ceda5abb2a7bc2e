"""Pareto search: cars none of which another one beats in all objectives (NSGA-II of the library pymoo)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.studies.asked import Wanted
from models.studies.read_once import read_once
from models.studies.result import StudyResult, passes
from models.study import Objective, ParetoSearch

__all__ = ["Front", "front", "non_dominated", "objective_values", "search", "search_size"]

Array = NDArray[np.float64]

# Violation of a limit by a car that has no figures.
_UNFIT = 1e9


@dataclass(frozen=True, eq=False)
class Front:
    """What is left to choose from.

    Attributes:
        rows: (F,) numbers of the cars of the front in the columns, by the first objective.
        objectives: (F, O) their objectives, SI.
        every: (N, O) objectives of all cars, NaN where there are none.
        fit: (N,) cars that meet the targets, where the search asks for that, and have all objectives.
    """

    rows: NDArray[np.intp]
    objectives: Array
    every: Array
    fit: NDArray[np.bool_]


def search_size(study: ParetoSearch) -> int:
    """How many cars are computed."""
    return study.population * study.generations


def search(
    study: ParetoSearch,
    metrics: tuple[str, ...],
    wanted: tuple[Wanted, ...],
    evaluate: Callable[[Array], Array],
) -> None:
    """Breed generations; all that comes of it is what ``evaluate`` has been asked.

    Args:
        study: parameters, objectives and size of the search.
        metrics: (K,) keys of the figures.
        wanted: targets that a fit car meets.
        evaluate: figures (n, S, K) of rows (n, P).
    """
    # Only a search needs it, and it takes a third of a second to load.
    from pymoo.algorithms.moo.nsga2 import NSGA2
    from pymoo.core.evaluator import Evaluator
    from pymoo.core.problem import Problem
    from pymoo.problems.static import StaticProblem

    low = np.array([parameter.low for parameter in study.parameters])
    high = np.array([parameter.high for parameter in study.parameters])
    limits = wanted if study.within_targets else ()
    signs = np.array([1.0 if one.aim == "lower" else -1.0 for one in study.objectives])
    problem = Problem(
        n_var=len(low),
        n_obj=len(signs),
        n_ieq_constr=1 + 2 * len(limits),
        xl=np.zeros(len(low)),
        xu=np.ones(len(low)),
    )
    breeder = NSGA2(pop_size=study.population)
    breeder.setup(problem, termination=("n_gen", study.generations), seed=study.seed, verbose=False)
    for _ in range(study.generations):
        asked = breeder.ask()
        if asked is None or not len(asked):  # every child that could be bred is there already
            return
        values = evaluate(np.clip(low + asked.get("X") * (high - low), low, high))
        objectives = signs * objective_values(study.objectives, metrics, values)
        static = StaticProblem(problem, F=_finite(objectives), G=_violations(objectives, values, limits))
        Evaluator().eval(static, asked)
        breeder.tell(infills=asked)


def objective_values(objectives: tuple[Objective, ...], metrics: tuple[str, ...], values: Array) -> Array:
    """(N, O) objectives of cars with figures (N, S, K), SI: the worst situation, or the mean of all."""
    columns = []
    for one in objectives:
        each = values[:, :, metrics.index(one.metric)]
        if one.over == "mean":
            columns.append(each.mean(axis=1))
        else:
            columns.append(each.max(axis=1) if one.aim == "lower" else each.min(axis=1))
    return np.column_stack(columns)


def front(result: StudyResult, wanted: tuple[Wanted, ...] | None = None) -> Front:
    """The front of a result, as far as it has come, within targets (by default those of its time)."""
    return _front(result) if wanted is None else _front_within(result, wanted)


@read_once
def _front(result: StudyResult) -> Front:
    return _front_within(result, result.asked.wanted)


def _front_within(result: StudyResult, wanted: tuple[Wanted, ...]) -> Front:
    asked, study = result.asked, result.asked.study
    assert isinstance(study, ParetoSearch)
    every = objective_values(study.objectives, asked.metrics, result.columns.values)
    fit = np.isfinite(every).all(axis=1) & result.columns.computed
    if study.within_targets:
        fit &= passes(result.columns.values, wanted).all(axis=1)
    signs = np.array([1.0 if one.aim == "lower" else -1.0 for one in study.objectives])
    candidates = np.flatnonzero(fit)
    rows = candidates[non_dominated(every[candidates] * signs)]
    rows = rows[np.argsort(every[rows, 0], kind="stable")]
    return Front(rows, every[rows], every, fit)


def non_dominated(costs: Array) -> NDArray[np.intp]:
    """Numbers of the rows of (N, O) costs that no other row is nowhere above and somewhere below; of equal
    rows the first."""
    left = np.lexsort(costs.T[::-1])  # a row can only be beaten by one that stands before it
    kept: list[int] = []
    while left.size:
        best = left[0]
        kept.append(int(best))
        left = left[(costs[left] < costs[best]).any(axis=1)]
    return np.array(kept, dtype=np.intp)


def _finite(objectives: Array) -> Array:
    """Objectives for the breeder; those of unfit cars do not matter beside their violation."""
    return np.asarray(np.where(np.isfinite(objectives).all(axis=1, keepdims=True), objectives, 0.0))


def _violations(objectives: Array, values: Array, limits: tuple[Wanted, ...]) -> Array:
    """(N, 1 + 2 T) above 0 where a car has no objectives, or misses a target: by what share of the limit."""
    found = np.zeros((len(values), 1 + 2 * len(limits)))
    found[:, 0] = np.where(np.isfinite(objectives).all(axis=1), -1.0, _UNFIT)
    for number, one in enumerate(limits):
        value = values[:, one.situation, one.metric]
        for column, limit, sign in ((1, one.target.high, 1.0), (2, one.target.low, -1.0)):
            if limit is not None:
                found[:, column + 2 * number] = sign * (value - limit) / (abs(limit) or 1.0)
    return np.asarray(np.clip(np.nan_to_num(found, nan=_UNFIT), -_UNFIT, _UNFIT))
