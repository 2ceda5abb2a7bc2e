"""Figures of the time run against vehicle speed: one run per speed, nonlinear where the run is.

How long each run is: the road from the start to where the rear wheels have left the event is driven at every
speed, as far as the run of the project gets, and the time behind it is that of the run of the project.  So at
its own speed it is that run itself; of a random road, which has no end, it is the same stretch at every
speed.  A sine sweep goes over time and is as long at each speed.  Where there is a manoeuvre, which goes over
time too, no run is shorter than that of the project.  No run is longer than 120 s, which at low speed can end
it before the road has been driven.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.fields import replaced
from models.judge.figure import Figure
from models.judge.figures import key_figures
from models.judge.random_surface import surface_values, weighted_values
from models.judge.run_rms import run_rms
from models.judge.speed_sweep import SPEEDS, Sweep
from models.manoeuvre import Straight
from models.ride.drive import drive, nonlinear_drive
from models.roads import MeasuredRoad, RandomRoad, SineSweep
from models.roads.reach import event_end
from models.run import Run

__all__ = [
    "EVENT_KEYS",
    "LONGEST",
    "event_figures",
    "event_speeds",
    "event_sweep",
    "event_values",
    "run_at",
    "sweep_of",
]

Array = NDArray[np.float64]

#: Key figures that are read from the time run.
EVENT_KEYS = (
    "peak_pitch",
    "peak_heave_acceleration",
    "event_vibration_dose",
    "event_crest_factor",
    "event_transient_value",
    "peak_travel_front",
    "peak_travel_rear",
    "jounce_margin_front",
    "jounce_margin_rear",
    "rebound_margin_front",
    "rebound_margin_rear",
    "minimum_tyre_load",
    "peak_roll",
    "peak_frame_torsion",
    "peak_frame_bending",
)

#: Length of the longest run, s.
LONGEST = 120.0

# Figures of the random road that a run on a road without shocks has as well.
_RMS_KEYS = (
    "rms_pitch",
    "rms_pitch_acceleration",
    "pitch_share",
    "rms_heave_acceleration",
    "rms_weighted_seat_acceleration",
    "rms_travel_front",
    "rms_travel_rear",
    "dynamic_tyre_load_front",
    "dynamic_tyre_load_rear",
    "rms_frame_torsion",
)

_COUNT = 30
_LEAST = 0.2


def event_speeds(own: float) -> Array:
    """(S,) m/s: 30 in even steps of the logarithm over the range of the sweep, and that of the run.

    Args:
        own: speed of the run, m/s.
    """
    return np.unique(np.append(np.geomspace(SPEEDS[0], SPEEDS[-1], _COUNT), own))


def run_at(run: Run, speed: float, wheelbase: float) -> Run:
    """The run at another speed, as long as the rule above has it.

    Args:
        run: of the project.
        speed: m/s.
        wheelbase: m.
    """
    if speed == run.speed:
        return run
    duration = run.duration
    if not isinstance(run.event, SineSweep):
        on_road = min(run.duration, (event_end(run.event) + wheelbase) / run.speed)
        duration += on_road * (run.speed / speed - 1)
    if not isinstance(run.manoeuvre, Straight):
        duration = max(duration, run.duration)
    duration = min(max(duration, _LEAST), LONGEST)
    return replaced(replaced(run, ("speed",), speed), ("duration",), duration)


def event_figures(analysis: Analysis) -> tuple[Figure, ...]:
    """Figures of the time run of an analysis; on a random or measured road with RMS values over the run."""
    known = {figure.key: figure for figure in key_figures(analysis)}
    found = [known[key] for key in EVENT_KEYS if key in known]
    if isinstance(analysis.run.event, RandomRoad | MeasuredRoad):
        rms = run_rms(analysis)
        values = surface_values(analysis, rms) | weighted_values(analysis, rms)
        found += [_over_run(known[key], float(values[key])) for key in _RMS_KEYS if key in values]
    return tuple(found)


def event_values(analysis: Analysis, speed: float) -> dict[str, float]:
    """Values by key of the figures of the time run at another speed, SI.

    Args:
        analysis: results at any speed; whether its time response is nonlinear decides what is run.
        speed: m/s.

    Raises:
        InputError: the run grew beyond all bounds.
    """
    return {figure.key: figure.value for figure in event_figures(_driven(analysis, speed))}


def event_sweep(analysis: Analysis, speeds: Iterable[float]) -> Sweep:
    """All at once; a program that shows the values as they come asks for them one by one."""
    return sweep_of({speed: event_values(analysis, speed) for speed in speeds})


def sweep_of(points: Mapping[float, Mapping[str, float]]) -> Sweep:
    """Sweep of the speeds that there are, at least one; NaN where a run gave no figures.

    Args:
        points: values by key, by speed in m/s.
    """
    speeds = sorted(points)
    keys = dict.fromkeys(key for speed in speeds for key in points[speed])
    nothing = float("nan")
    return Sweep(
        np.array(speeds),
        {key: np.array([points[speed].get(key, nothing) for speed in speeds]) for key in keys},
    )


def _driven(analysis: Analysis, speed: float) -> Analysis:
    """The analysis with the time response at another speed; nothing else of it is read."""
    run = run_at(analysis.run, speed, analysis.model.wheelbase)
    if run == analysis.run:
        return analysis
    vehicle, car, model = analysis.vehicle, analysis.car, analysis.model
    if analysis.nonlinear is None:
        return replace(analysis, run=run, time=drive(vehicle, car, model, run))
    driven = nonlinear_drive(vehicle, car, analysis.stand, model, run)
    return replace(analysis, run=run, time=driven.time, nonlinear=driven)


def _over_run(figure: Figure, value: float) -> Figure:
    said = figure.meaning.partition(": ")[2]
    return Figure(
        f"run_{figure.key}",
        f"{figure.label} of the run",
        value,
        figure.kind,
        f"Run: over the whole time run, about the trim of the load case: {said}",
        figure.better,
        figure.group,
    )
