"""Weighting of a time history.

The record is weighted in the frequency domain, where the gain is that of the standard itself, with
neither the warping of a bilinear digital filter nor the droop of a hold.  What remains of error is the tail
of the free response that is cut off: at 500 to 2000 samples a second and up to 80 Hz less than 5e-6 of the
peak gain, in amplitude and phase (:func:`filter_error`).  A bilinear filter is 18 % off at 80 Hz with 500.
"""

from __future__ import annotations

from functools import lru_cache
from math import ceil, log, pi

import numpy as np
import scipy.fft
from numpy.typing import NDArray

from models.comfort.weighting import WEIGHTINGS, weighting

__all__ = ["filter_error", "weighted"]

Array = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]

# Share of the free response that is left where the padded record ends and wraps round to its beginning.
_LEFT = 1e-6


def weighted(name: str, acceleration: Array, step: float) -> Array:
    """Weighted time history, of the same length.

    Before and after the record all counts as being at rest.  A record with an offset begins with a jump for
    the filter, as it would in an instrument that is switched on.  The record is taken as free of anything
    above half its sampling rate.

    Args:
        name: key of :data:`models.comfort.weighting.WEIGHTINGS`.
        acceleration: (..., N) samples at equal steps.
        step: s.
    """
    count = acceleration.shape[-1]
    padded = _padded_length(name, count, step)
    spectrum = scipy.fft.rfft(acceleration, padded) * _gain(name, padded, step)
    history: Array = scipy.fft.irfft(spectrum, padded)[..., :count]
    return history


def filter_error(name: str, step: float, highest: float = 80.0) -> float:
    """Largest error of :func:`weighted` up to ``highest`` Hz, as share of the peak gain of the weighting.

    The response to a single sample in the middle of a record of zeros is transformed at frequencies that are
    not those of the padded record, and compared in amplitude and phase.

    Args:
        name: key of :data:`models.comfort.weighting.WEIGHTINGS`.
        step: s; ``highest`` has to be below half the sampling rate.
    """
    half = ceil(_settling(name) / step)
    impulse = np.zeros(2 * half + 1)
    impulse[half] = 1.0
    answer = weighted(name, impulse, step)
    time = step * (np.arange(len(impulse)) - half)
    frequency = np.geomspace(highest / 1e4, highest, 60)
    found = np.exp(-2j * pi * frequency[:, None] * time) @ answer
    wanted = weighting(name, frequency)
    return float(np.abs(found - wanted).max() / np.abs(wanted).max())


def _settling(name: str) -> float:
    """Time after which the free response is gone, s."""
    return log(1 / _LEFT) / WEIGHTINGS[name].decay


def _padded_length(name: str, count: int, step: float) -> int:
    return int(scipy.fft.next_fast_len(count + ceil(_settling(name) / step), real=True))


@lru_cache(maxsize=16)
def _gain(name: str, padded: int, step: float) -> ComplexArray:
    """Gain at the frequencies of a record; the same for each edit of a run."""
    gain = weighting(name, scipy.fft.rfftfreq(padded, step))
    gain.flags.writeable = False
    return gain
