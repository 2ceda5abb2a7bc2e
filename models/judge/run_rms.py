"""RMS values of channels over a time run, behind the same filters as those of the random road."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.comfort.filters import weighted
from models.comfort.measures import rms as rms_of_record
from models.judge.random_surface import RATE, Rms

__all__ = ["run_rms"]

Array = NDArray[np.float64]


def run_rms(analysis: Analysis) -> Rms:
    """RMS values over the whole time response, from its start to its end.

    They are about the trim of the load case, a lasting change such as that behind a step included, while
    those of the spectra begin at 0.1 Hz.
    """
    t = analysis.time.t
    step = float(t[-1] - t[0]) / (len(t) - 1)

    def rms(channel: str, behind: str) -> Array:
        history = analysis.time.channel(channel)
        if behind == RATE:
            history = np.gradient(history, step)
        elif behind:
            history = weighted(behind, history, step)
        return np.asarray(rms_of_record(history, step))

    return rms
