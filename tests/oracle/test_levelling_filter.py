"""The low-pass of the levelling beside python-control and scipy."""

from __future__ import annotations

import control
import numpy as np
import pytest
from scipy.signal import lsim, lti

from models.ride.levelling_control import low_passed


def test_low_pass_steps_like_python_control() -> None:
    """Response to a step of a first-order lag; both are exact for a held signal, so only rounding is left."""
    t = np.arange(0.0, 8.0, 0.005)
    _, expected = control.step_response(control.tf([1.0], [1.3, 1.0]), T=t)
    found = low_passed(np.ones_like(t), 0.0, 1.3, 0.005)
    assert found == pytest.approx(expected, abs=1e-12)


def test_low_pass_of_any_signal_is_that_of_scipy() -> None:
    """lsim also takes the signal as straight between samples."""
    t = np.arange(0.0, 5.0, 0.005)
    signal = np.sin(5 * t**1.5) - 0.3 * (t > 2)
    _, expected, _ = lsim(lti([1.0], [0.4, 1.0]), signal, t, interp=True)
    assert low_passed(signal, 0.0, 0.4, 0.005) == pytest.approx(expected, abs=1e-12)
