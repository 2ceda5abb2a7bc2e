"""What two curves over speed say: by how much the candidate is better, and at which speeds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.judge.figure import Figure
from models.judge.speed_sweep import Sweep
from models.units import KINDS, UnitChoice, format_value

__all__ = ["Swept", "better_spans", "sweep_words"]

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
    sweep, other = swept.candidate, swept.baseline
    values = sweep.values[figure.key]
    unit, si = units[figure.kind], KINDS[figure.kind].si
    ending = "" if unit == "1" else f" {unit}"

    def at(speed: float) -> str:
        return f"{format_value(speed, units['speed'], 'm/s')} {units['speed']}"

    def said(value: float) -> str:
        return format_value(value, unit, si).replace("-", "−")

    words = ""
    if sweep.speeds[0] <= swept.speed <= sweep.speeds[-1]:
        own = float(np.interp(swept.speed, sweep.speeds, values))
        words = f"At {at(swept.speed)} {said(own)}"
        if other is not None:
            reference = float(np.interp(swept.speed, sweep.speeds, other.values[figure.key]))
            share = f" ({own / reference - 1:+.0%})".replace("%", " %") if reference else ""
            words += f" against {said(reference)}{ending}{share.replace('-', '−')}; "
        else:
            words += f"{ending}; "
    least = figure.better == "higher"
    place = int(np.argmin(values) if least else np.argmax(values))
    worst = f"{said(float(values[place]))}{ending} at {at(float(sweep.speeds[place]))}"
    words += f"{'least' if least else 'most'} {worst}."
    words = words[0].upper() + words[1:]
    if other is not None and figure.better != "none":
        gain = (other.values[figure.key] - values) * (-1.0 if least else 1.0)
        words += f" {_better(better_spans(sweep.speeds, gain), sweep.speeds, units)}"
    return words


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
