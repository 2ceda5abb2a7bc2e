"""What two curves over speed say: by how much the candidate is better, and at which speeds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.judge.event_sweep import LONGEST, run_at
from models.judge.figure import Figure
from models.judge.speed_sweep import SPEEDS, Sweep
from models.roads import RandomRoad, SineSweep
from models.units import KINDS, UnitChoice, format_value

__all__ = ["Swept", "better_spans", "runs_words", "sweep_words"]

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Swept:
    """What a panel draws: sweeps of candidate and baseline, their names, and the speed of the run, m/s."""

    candidate: Sweep
    baseline: Sweep | None
    names: tuple[str, str]
    speed: float


def sweep_words(figure: Figure, swept: Swept, units: UnitChoice) -> str:
    """Both at the speed of the run, the candidate at its worst, and the speeds at which it is better."""
    other = swept.baseline
    values, others = swept.candidate.values[figure.key], None
    there = np.isfinite(values)
    if other is not None:
        there &= np.isfinite(other.values[figure.key])
        others = other.values[figure.key][there]
    if not there.any():
        return "No value at any speed."
    speeds, values = swept.candidate.speeds[there], values[there]
    unit, si = units[figure.kind], KINDS[figure.kind].si
    ending = "" if unit == "1" else f" {unit}"

    def at(speed: float) -> str:
        return f"{format_value(speed, units['speed'], 'm/s')} {units['speed']}"

    def said(value: float) -> str:
        return format_value(value, unit, si).replace("-", "−")

    words = ""
    if speeds[0] <= swept.speed <= speeds[-1]:
        own = float(np.interp(swept.speed, speeds, values))
        words = f"At {at(swept.speed)} {said(own)}"
        if others is not None:
            reference = float(np.interp(swept.speed, speeds, others))
            share = f" ({own / reference - 1:+.0%})".replace("%", " %") if reference else ""
            words += f" against {said(reference)}{ending}{share.replace('-', '−')}; "
        else:
            words += f"{ending}; "
    least = figure.better == "higher"
    place = int(np.argmin(values) if least else np.argmax(values))
    worst = f"{said(float(values[place]))}{ending} at {at(float(speeds[place]))}"
    words += f"{'least' if least else 'most'} {worst}."
    words = words[0].upper() + words[1:]
    if others is not None and figure.better != "none":
        gain = (others - values) * (-1.0 if least else 1.0)
        words += f" {_better(better_spans(speeds, gain), speeds, units)}"
    return words


def runs_words(candidate: Analysis, done: int, of: int) -> str:
    """What the time runs over the speeds are, and how many there are so far."""
    run, laws = candidate.run, "linear" if candidate.nonlinear is None else "nonlinear"
    words = f"From a time run per speed over the {run.event.kind}, {laws}"
    if isinstance(run.event, SineSweep):
        words += ", which lasts as long at each: the speed changes nothing."
    elif isinstance(run.event, RandomRoad):
        words += ", the same stretch at each."
    else:
        words += ": the same road, and behind it as long as in the run."
    if run_at(run, float(SPEEDS[0]), candidate.model.wheelbase).duration >= LONGEST:
        words += f" A run ends after {LONGEST:g} s."
    return words if done == of else f"{words} So far {done} of {of} speeds."


def better_spans(speeds: Array, gain: Array) -> list[tuple[float, float]]:
    """Spans of speed (from, to) in which the gain is above 0, between crossings of straight pieces.

    Args:
        speeds: (S,) m/s, rising.
        gain: (S,) by how much the candidate is better.
    """
    sign = gain > 0
    turns = np.flatnonzero(sign[1:] != sign[:-1])
    share = gain[turns] / (gain[turns] - gain[turns + 1])
    edges = list(speeds[turns] + share * (speeds[turns + 1] - speeds[turns]))
    if sign[0]:
        edges.insert(0, speeds[0])
    if sign[-1]:
        edges.append(speeds[-1])
    return [(float(low), float(high)) for low, high in zip(edges[::2], edges[1::2], strict=True)]


def _better(spans: list[tuple[float, float]], speeds: Array, units: UnitChoice) -> str:
    if not spans:
        return "The candidate is better at no speed."
    if spans == [(float(speeds[0]), float(speeds[-1]))]:
        return "The candidate is better at all speeds."
    unit = units["speed"]
    low_high = [[format_value(end, unit, "m/s", 3) for end in span] for span in spans]
    return f"The candidate is better at {', '.join(' – '.join(ends) for ends in low_high)} {unit}."
