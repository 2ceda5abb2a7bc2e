"""The low-pass of the levelling beside scipy; beside python-control: models.verification."""

from __future__ import annotations

import numpy as np
from scipy.signal import lsim, lti

from models.ride.levelling_control import low_passed
from tests.manual import near


def test_low_pass_of_any_signal_is_that_of_scipy() -> None:
    """lsim also takes the signal as straight between samples: only rounding is left."""
    t = np.arange(0.0, 5.0, 0.005)
    signal = np.sin(5 * t**1.5) - 0.3 * (t > 2)
    _, expected, _ = lsim(lti([1.0], [0.4, 1.0]), signal, t, interp=True)
    near("signal", low_passed(signal, 0.0, 0.4, 0.005), expected, within=1e-12)
