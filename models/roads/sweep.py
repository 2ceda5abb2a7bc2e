"""Sine sweep of a rig of four posts, one under each wheel."""

from __future__ import annotations

from math import log, pi

import numpy as np
from numpy.typing import NDArray

from models.roads.events import SineSweep

__all__ = ["MODE_SIGNS", "sweep_heights"]

Array = NDArray[np.float64]

#: Sign of FL, FR, RL, RR in a positive mode: up, left side up, nose down, front left and rear right up.
MODE_SIGNS: dict[str, tuple[float, float, float, float]] = {
    "heave": (1.0, 1.0, 1.0, 1.0),
    "roll": (1.0, -1.0, 1.0, -1.0),
    "pitch": (-1.0, -1.0, 1.0, 1.0),
    "warp": (1.0, -1.0, -1.0, 1.0),
}


def sweep_heights(sweep: SineSweep, t: Array) -> Array:
    """(4, N) height of the posts FL, FR, RL, RR at the times ``t``, m.

    a(t) sin φ(t) with φ' = 2π f0 (f1/f0)^(t/T) and a = a0 (a1/a0)^(t/T).  The amplitude grows from zero over
    the first cycle of the start frequency and falls to zero over the last of the end frequency (at most half
    the time each), so that posts begin and end at rest.

    Args:
        sweep: mode, frequencies, amplitudes.
        t: (N,) s; before 0 and after the sweep the posts stand at zero.
    """
    share = np.clip(t / sweep.duration, 0.0, 1.0)
    height = _amplitude(sweep, share) * np.sin(_phase(sweep, share)) * _taper(sweep, t)
    heights: Array = np.array(MODE_SIGNS[sweep.mode])[:, None] * height
    return heights


def _amplitude(sweep: SineSweep, share: Array) -> Array:
    return sweep.start_amplitude * (sweep.end_amplitude / sweep.start_amplitude) ** share


def _phase(sweep: SineSweep, share: Array) -> Array:
    growth = log(sweep.end_frequency / sweep.start_frequency)
    # The integral of e^(growth·s) from 0; its limit without growth is s.
    cycles = np.expm1(growth * share) / growth if growth else share
    return 2 * pi * sweep.start_frequency * sweep.duration * cycles


def _taper(sweep: SineSweep, t: Array) -> Array:
    rise = min(1 / sweep.start_frequency, sweep.duration / 2)
    fall = min(1 / sweep.end_frequency, sweep.duration / 2)
    grown = np.sin(pi / 2 * np.clip(t / rise, 0.0, 1.0)) ** 2
    kept = np.sin(pi / 2 * np.clip((sweep.duration - t) / fall, 0.0, 1.0)) ** 2
    faded: Array = grown * kept
    return faded
