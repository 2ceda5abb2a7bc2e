"""One variant of a batch by the ordinary way: what the batch must equal, and what it falls back to."""

from __future__ import annotations

from functools import lru_cache

from models.analysis import analyse
from models.errors import InputError
from models.judge.figures import key_figures
from models.roads import OneMinusCosine
from models.run import Run
from models.vehicle import AS_DESIGNED, LoadCase, Vehicle

__all__ = ["judged_alone", "metric_keys"]

#: Figures of the drive over the event, which a batch leaves out.
_OF_THE_EVENT = ("peak_", "event_", "jounce_margin_", "rebound_margin_", "minimum_tyre_load")


@lru_cache(maxsize=16)
def metric_keys(run: Run) -> tuple[str, ...]:
    """Keys of the figures that a batch can give for the model of a run, in the order of the key figures."""
    return tuple(judged_alone(Vehicle(), run, AS_DESIGNED))


def judged_alone(vehicle: Vehicle, run: Run, load: LoadCase) -> dict[str, float]:
    """Key figures of one car by their keys, without those of the event.

    Raises:
        InputError: the load leaves no mass in the body, or the car does not stand.
    """
    short = run.model_copy(update={"event": OneMinusCosine(), "duration": 0.2, "laws": "linear"})
    analysis = analyse(vehicle, short, load)
    if not analysis.stand.stable:
        raise InputError.of(load.name, "", f"the car does not stand: {analysis.stand.reason}")
    figures = key_figures(analysis)
    return {one.key: one.value for one in figures if not one.key.startswith(_OF_THE_EVENT)}
