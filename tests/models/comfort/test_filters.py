from __future__ import annotations

import numpy as np
import pytest

from models.comfort.filters import filter_error, weighted
from models.comfort.weighting import WEIGHTINGS, weighting


@pytest.mark.parametrize("rate", [500, 1000, 2000])
@pytest.mark.parametrize("name", WEIGHTINGS)
def test_error_up_to_80_hz_is_as_documented(name: str, rate: int) -> None:
    assert filter_error(name, 1 / rate) < 5e-6


@pytest.mark.parametrize("frequency", [0.3, 1.0, 6.3, 31.5, 80.0])
def test_a_long_sine_comes_out_with_the_gain_and_phase_of_the_weighting(frequency: float) -> None:
    """At 1000 Hz, after 20 s, when the start has died out to e^-35; the end rings back by 1e-6."""
    t = np.arange(40_001) * 1e-3
    out = weighted("Wk", np.sin(2 * np.pi * frequency * t), 1e-3)
    gain = complex(weighting("Wk", frequency))
    expected = (gain * np.exp(2j * np.pi * frequency * t)).imag
    middle = slice(20_000, 35_000)
    np.testing.assert_allclose(out[middle], expected[middle], atol=2e-5 * abs(gain))


def test_rows_are_weighted_each_by_itself_and_a_late_pulse_does_not_come_round_to_the_start() -> None:
    """What goes before a pulse is a ripple at half the sampling rate, |W|/(π n) high n samples before."""
    records = np.zeros((2, 1000))
    records[0, 990] = records[1, 300] = 1.0
    out = weighted("Wd", records, 2e-3)
    np.testing.assert_allclose(out[1], weighted("Wd", records[1], 2e-3), atol=1e-15)
    assert np.abs(out[0, :500]).max() < abs(complex(weighting("Wd", 250.0))) / (np.pi * 490)


def test_scale_and_sum() -> None:
    a, b = np.random.default_rng(3).standard_normal((2, 777))
    together = weighted("We", 2 * a - b, 1e-3)
    apart = 2 * weighted("We", a, 1e-3) - weighted("We", b, 1e-3)
    np.testing.assert_allclose(together, apart, atol=1e-12)
