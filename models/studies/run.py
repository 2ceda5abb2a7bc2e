"""Running a study: whole, in part, or on from where it was left."""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import BrokenExecutor, wait
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError
from models.studies.asked import Asked
from models.studies.grids import map_rows, sweep_rows
from models.studies.ledger import CHUNK, LOOK_UP, Ledger, Progress, Stopped, WorkersLost
from models.studies.pareto import search, search_size
from models.studies.result import StudyResult
from models.studies.sensitivity import sensitivity_rows
from models.studies.sobol import sobol_rows
from models.studies.task import Task, car_task, seconds_of
from models.studies.tolerances import tolerance_rows
from models.studies.tuned import tune, tuned_size
from models.studies.workers import Workers, this_thread
from models.study import (
    GlobalSensitivity,
    ParameterMap,
    ParetoSearch,
    Sensitivity,
    Sweep,
    ToleranceDraw,
    TunedStart,
)

__all__ = ["Cost", "Watch", "cost", "run_study", "study_size"]

Array = NDArray[np.float64]

# Pause between parts in times of what telling the last one took, and at most in times of the usual pause.
_REST, _LONGEST = 9.0, 12.0


@dataclass(frozen=True, slots=True)
class Watch:
    """How to follow a study; all are called in the thread that runs it.

    Attributes:
        progress: told after each piece of work.
        part: given what has come, at most each ``every`` seconds, more seldom where that takes long.
        cancelled: the study ends within a tenth of a second when it says so.
        every: s.
    """

    progress: Callable[[Progress], None] = lambda progress: None
    part: Callable[[StudyResult], None] = lambda result: None
    cancelled: Callable[[], bool] = lambda: False
    every: float = 0.5


@dataclass(frozen=True, slots=True)
class Cost:
    """What a study will take.

    Attributes:
        cars: rows to be computed, of a search at most.
        judgements: cars times situations.
        seconds: estimate of the time by one piece of work done now; without the start of the workers.
    """

    cars: int
    judgements: int
    seconds: float


def study_size(asked: Asked) -> int:
    """How many cars a study computes; a search at most."""
    match asked.study:
        case Sweep() as study:
            return study.points
        case ParameterMap() as study:
            return study.x_points * study.y_points
        case Sensitivity():
            return 1 + 2 * len(asked.places)
        case ToleranceDraw() as study:
            return study.draws + min(study.exact_draws, study.draws) * len(asked.places)
        case ParetoSearch() as study:
            return search_size(study)
        case TunedStart() as study:
            return tuned_size(study)
        case GlobalSensitivity() as study:
            return study.samples * (len(asked.places) + 2)


def cost(asked: Asked, workers: Workers, cancelled: Callable[[], bool] = lambda: False) -> Cost:
    """Estimate before the start, by one piece of work that the workers do now.

    Args:
        asked: the study.
        workers: would compute it.
        cancelled: asked all the time; the estimate ends at once when it says so.

    Raises:
        Stopped: it was cancelled.
    """
    cars = study_size(asked)
    rows = np.tile(asked.nominal, (min(CHUNK, cars), 1))
    each = _timed(workers, car_task(asked), rows, cancelled) / len(rows)
    busy = min(workers.at_once, -(-cars // CHUNK))  # a small study has not enough pieces for all workers
    return Cost(cars, cars * len(asked.situations), each * cars / busy)


def _timed(workers: Workers, task: Task, rows: Array, cancelled: Callable[[], bool]) -> float:
    """Seconds of a piece of work; where the workers are lost, of this thread."""
    try:
        future = workers.submit(seconds_of, task, rows)
        while not wait([future], timeout=LOOK_UP).done:
            if cancelled():
                future.cancel()
                raise Stopped
        return future.result()
    except BrokenExecutor:
        workers.renew()
        return seconds_of(task, rows)


def run_study(
    asked: Asked,
    workers: Workers | None = None,
    *,
    earlier: StudyResult | None = None,
    watch: Watch | None = None,
    task: Task | None = None,
) -> StudyResult:
    """Answer a study.

    The same study has the same answer to the bit, whatever the workers and however often it was left and gone
    on with; on machines of other kinds the last bits may differ.

    Args:
        asked: from :func:`models.studies.asked.ask`.
        workers: compute it; this thread by default.  They are left open.
        earlier: result of an earlier run; what it holds is not computed again.
        watch: progress, parts and cancellation.
        task: answers rows; judges the car by default.

    Returns:
        the whole result, or where the study was cancelled or the workers were lost, what had come until then.

    Raises:
        InputError: ``earlier`` is of other inputs.
    """
    if earlier is not None and earlier.asked.inputs != asked.inputs:
        raise InputError.of(
            "study", asked.study.name, "the result to go on from is of another car, run or definition"
        )
    watch, total = watch or Watch(), study_size(asked)
    told = _Telling(asked, total, watch)
    ledger = Ledger(
        task or car_task(asked),
        workers or this_thread(),
        (len(asked.places), len(asked.situations), len(asked.metrics)),
        total=total,
        earlier=None if earlier is None else earlier.columns,
        cancelled=watch.cancelled,
        told=told,
    )
    finished, problem = False, ""
    try:
        _explore(asked, ledger)
        finished, total = True, len(ledger.columns.rows)
    except Stopped:
        pass
    except WorkersLost as error:
        problem = str(error)
    return StudyResult(asked, ledger.columns.copy(), total, finished, problem)


class _Telling:
    """Passes on how far a ledger is."""

    def __init__(self, asked: Asked, total: int, watch: Watch) -> None:
        self._asked, self._total, self._watch = asked, total, watch
        self._last, self._pause = time.monotonic(), watch.every

    def __call__(self, ledger: Ledger) -> None:
        self._watch.progress(ledger.progress)
        if time.monotonic() - self._last >= self._pause:
            began = time.monotonic()
            self._watch.part(StudyResult(self._asked, ledger.columns.copy(), self._total, False))
            # What takes long, such as writing much to disk, is done seldom: the workers wait for it.
            self._last = time.monotonic()
            every = self._watch.every
            self._pause = max(every, min(_REST * (self._last - began), _LONGEST * every))


def _explore(asked: Asked, evaluate: Callable[[Array], Array]) -> None:
    """Ask for the rows of a study, of a search for one generation after the other."""
    match asked.study:
        case Sweep() as study:
            evaluate(sweep_rows(study))
        case ParameterMap() as study:
            evaluate(map_rows(study))
        case Sensitivity() as study:
            evaluate(sensitivity_rows(asked, study))
        case ToleranceDraw() as study:
            evaluate(tolerance_rows(asked, study))
        case ParetoSearch() as study:
            search(study, asked.metrics, asked.wanted, evaluate)
        case TunedStart() as study:
            tune(study, asked.wanted, evaluate)
        case GlobalSensitivity() as study:
            evaluate(sobol_rows(study))
