"""Cars of many parameter sets judged: figures of each, or why it has none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from models.analysis import analyse
from models.errors import InputError
from models.fields import Path, replaced
from models.judge.event_sweep import EVENT_KEYS
from models.judge.figure import Figure
from models.judge.figures import key_figures
from models.run import Run
from models.vehicle import LoadCase, Vehicle

__all__ = ["Judged", "judged", "study_figures", "study_run"]

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Judged:
    """Figures of N cars.

    Attributes:
        keys: of the figures.
        values: (N, K), SI; NaN of a refused car.
        refused: reason by number of the car.
    """

    keys: tuple[str, ...]
    values: Array
    refused: dict[int, str] = field(default_factory=dict)


def study_run(run: Run) -> Run:
    """All of a run that figures of a study depend on: surface, speed, model and the held manoeuvre."""
    return Run(
        speed=run.speed,
        surface=run.surface,
        manoeuvre=run.manoeuvre,
        model=run.model,
        laws="linear",
        duration=0.2,
    )


@lru_cache(maxsize=16)
def study_figures(model: str) -> dict[str, Figure]:
    """Figures of a study by key: all key figures but those of the event.  Their values mean nothing."""
    run = study_run(Run.model_validate({"model": model}))
    figures = key_figures(analyse(Vehicle(), run, compiled=False))
    return {figure.key: figure for figure in figures if figure.key not in EVENT_KEYS}


def judged(
    vehicle: Vehicle,
    run: Run,
    load: LoadCase,
    paths: Sequence[Path],
    values: Array,
    metrics: Sequence[str],
) -> Judged:
    """Judge a car once per row of parameters.

    Args:
        vehicle: car whose numbers are exchanged.
        run: of it :func:`study_run` is taken.
        load: what the car carries.
        paths: (P,) numbers of the car.
        values: (N, P) SI.
        metrics: keys of :func:`study_figures`.
    """
    run = study_run(run)
    found = np.full((len(values), len(metrics)), np.nan)
    refused = {}
    for number, row in enumerate(values.tolist()):
        try:
            found[number] = _figures(_car(vehicle, paths, row), run, load, metrics)
        except (InputError, ArithmeticError, np.linalg.LinAlgError) as error:
            refused[number] = str(error)
    return Judged(tuple(metrics), found, refused)


def _car(vehicle: Vehicle, paths: Sequence[Path], row: Sequence[float]) -> Vehicle:
    for path, value in zip(paths, row, strict=True):
        vehicle = replaced(vehicle, path, value)
    return vehicle


def _figures(vehicle: Vehicle, run: Run, load: LoadCase, metrics: Sequence[str]) -> list[float]:
    analysis = analyse(vehicle, run, load)
    if not analysis.stand.stable:
        raise InputError.of("load case", load.name, f"the car does not stand: {analysis.stand.reason}")
    values = {figure.key: figure.value for figure in key_figures(analysis)}
    return [values[key] for key in metrics]
