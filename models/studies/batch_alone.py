"""One variant of a batch by the ordinary way: what the batch must equal, and what it falls back to."""

from __future__ import annotations

from functools import lru_cache

from models.analysis import analyse
from models.errors import InputError
from models.judge.event_sweep import EVENT_KEYS
from models.judge.figure import Figure
from models.judge.figures import key_figures
from models.roads import OneMinusCosine
from models.run import Run
from models.vehicle import AS_DESIGNED, LoadCase, Vehicle

__all__ = ["figures_alone", "judged_alone", "metric_keys"]


@lru_cache(maxsize=16)
def metric_keys(run: Run) -> tuple[str, ...]:
    """Keys of the figures that a batch can give for the model of a run, in the order of the key figures."""
    return tuple(figure.key for figure in figures_alone(Vehicle(), run, AS_DESIGNED, compiled=False))


def judged_alone(vehicle: Vehicle, run: Run, load: LoadCase) -> dict[str, float]:
    """Key figures of one car by their keys, without those of the event; raises as :func:`figures_alone`."""
    return {figure.key: figure.value for figure in figures_alone(vehicle, run, load)}


def figures_alone(vehicle: Vehicle, run: Run, load: LoadCase, *, compiled: bool = True) -> tuple[Figure, ...]:
    """Key figures of one car without those of the event.

    Raises:
        InputError: the load leaves no mass in the body, or the car does not stand.
    """
    short = run.model_copy(update={"event": OneMinusCosine(), "duration": 0.2, "laws": "linear"})
    analysis = analyse(vehicle, short, load, compiled=compiled)
    if not analysis.stand.stable:
        raise InputError.of(load.name, "", f"the car does not stand: {analysis.stand.reason}")
    return tuple(figure for figure in key_figures(analysis) if figure.key not in EVENT_KEYS)
