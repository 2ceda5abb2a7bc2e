"""Figures of the levelling over an event, and of its false actuations."""

from __future__ import annotations

from math import inf, nan

import numpy as np

from models.judge.figure import Figure
from models.ride.levelling import LevellingRun

__all__ = ["levelling_figures", "time_to_level"]


def levelling_figures(run: LevellingRun) -> tuple[Figure, ...]:
    """Figures of an event, loading first."""
    event = run.event
    loaded, unloaded = run.sample(event.drive_from), len(run.t) - 1
    return (
        Figure(
            "level_time_loaded",
            "Time to level, loaded",
            time_to_level(run, event.load_at, event.drive_from),
            "time",
            "From the start of loading until the motor stops with the trimmed axle inside the dead band; "
            "– where it is not level before the drive.",
            "lower",
        ),
        Figure(
            "level_error_loaded",
            "Height error, loaded",
            float(run.height[loaded]),
            "travel",
            "Height of the trimmed axle over design trim when the drive begins, up positive.",
        ),
        Figure(
            "level_wind_up",
            "Wind-up, loaded",
            float(run.wind_up[loaded]),
            "angle",
            "Wind-up of the trim springs when the drive begins.",
        ),
        Figure(
            "level_limit_left",
            "Winding left to the limit",
            run.levelling.limit - float(np.abs(run.wind_up).max()),
            "angle",
            "Winding limit less the greatest wind-up of the event; 0 where the motor met its stop.",
            "higher",
        ),
        Figure(
            "level_time_unloaded",
            "Time to level, unloaded",
            time_to_level(run, event.unload_at, inf),
            "time",
            "From the start of unloading until the motor stops with the trimmed axle inside the dead band.",
            "lower",
        ),
        Figure(
            "level_error_unloaded",
            "Height error, unloaded",
            float(run.height[unloaded]),
            "travel",
            "Height of the trimmed axle over design trim at the end, up positive.",
        ),
        *_motor_figures(run),
    )


def _motor_figures(run: LevellingRun) -> tuple[Figure, ...]:
    event = run.event
    driving = (run.starts > event.drive_from) & (run.starts < event.drive_to)
    running = run.motor != 0
    return (
        Figure(
            "level_actuations",
            "Actuations",
            float(run.actuations),
            "ratio",
            "Starts of the motor; two are enough to level a load and its taking out.",
            "lower",
        ),
        Figure(
            "level_actuations_driving",
            "Actuations while driving",
            float(np.count_nonzero(driving)),
            "ratio",
            "Starts of the motor between the start and the end of the drive.",
            "lower",
        ),
        Figure(
            "level_running_time",
            "Running time",
            run.running_time,
            "time",
            "Time for which the motor runs.",
            "lower",
        ),
        Figure(
            "level_energy",
            "Energy drawn",
            float(run.energy[-1]),
            "energy",
            "∫ supply voltage · motor current dt over the event.",
            "lower",
        ),
        Figure(
            "level_peak_torque",
            "Peak torque",
            float(np.abs(run.torque[running]).max(initial=0.0)),
            "torque",
            "Greatest torque of both trim springs on the gear while the motor runs, static share included.",
            "lower",
        ),
        Figure(
            "level_peak_current",
            "Peak current",
            float(run.current.max()),
            "current",
            "Greatest motor current: idle current + torque / torque per current.",
            "lower",
        ),
    )


def time_to_level(run: LevellingRun, since: float, until: float) -> float:
    """Time from ``since`` to the last stop of the motor before ``until``, s.

    0 where the axle never leaves the dead band; NaN where it is outside at the end, or the motor still runs.
    """
    end = min(run.sample(until) if until < inf else len(run.t) - 1, len(run.t) - 1)
    if abs(run.seen[end]) > run.levelling.dead_band or run.motor[end] != 0:
        return nan
    stops = run.stops[(run.stops > since) & (run.stops <= run.t[end])]
    return float(stops[-1] - since) if stops.size else 0.0
