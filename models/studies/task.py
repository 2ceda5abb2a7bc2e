"""The unit of work: a picklable pure function of some rows of parameters."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.fields import Path
from models.studies.asked import Asked, Situated
from models.vehicle import Vehicle

__all__ = ["Answer", "CarTask", "Task", "car_task", "seconds_of"]

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Answer:
    """What came of n rows.

    Attributes:
        values: (n, S, K) figures in each situation, SI; NaN of a refused row.
        refused: reason by number of the row.
    """

    values: Array
    refused: dict[int, str]


#: Answers (n, P) rows; the same rows have the same answer, to the bit, in whatever company they come.
Task = Callable[[Array], Answer]


@dataclass(frozen=True, eq=False, repr=False)  # a cluster names work by its text
class CarTask:
    """Judges a car once per row in each situation; a car that one of them refuses has no figures at all."""

    car: Vehicle
    paths: tuple[Path, ...]
    situations: tuple[Situated, ...]
    metrics: tuple[str, ...]

    def __call__(self, rows: Array) -> Answer:
        from models.studies.batch import judge_batch  # loads the compiler, which takes a while

        values = np.empty((len(rows), len(self.situations), len(self.metrics)))
        refused: dict[int, str] = {}
        for number, one in enumerate(self.situations):
            found = judge_batch(self.car, one.run, one.load, self.paths, rows, self.metrics, threads=1)
            values[:, number] = found.values
            refused = found.refused | refused
        values[list(refused)] = np.nan
        return Answer(values, refused)


def car_task(asked: Asked) -> CarTask:
    """The task of a study."""
    return CarTask(asked.car, asked.paths, asked.situations, asked.metrics)


def seconds_of(task: Task, rows: Array) -> float:
    """How long a task takes over (n, P) rows where this is called, s."""
    task(rows[:1])  # loads what is compiled
    began = time.perf_counter()
    task(rows)  # a whole piece of work: a few cars alone would take longer each
    return time.perf_counter() - began
