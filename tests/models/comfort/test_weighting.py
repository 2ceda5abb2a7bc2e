from __future__ import annotations

import numpy as np
import pytest

from models.comfort.weighting import WEIGHTINGS, weighting


@pytest.mark.parametrize("name", WEIGHTINGS)
def test_nothing_at_zero_and_at_very_high_frequency(name: str) -> None:
    assert weighting(name, 0.0) == 0
    assert abs(complex(weighting(name, 1e6))) < 1e-5


def test_shape_is_kept_and_the_gain_of_minus_f_is_the_conjugate() -> None:
    frequency = np.array([[0.5, 1.0], [4.0, 20.0]])
    gain = weighting("Wk", frequency)
    assert gain.shape == (2, 2)
    np.testing.assert_allclose(weighting("Wk", -frequency), gain.conj(), rtol=1e-14)


def test_band_limits_are_three_decibels_down() -> None:
    """Wj has nothing else at its upper limit but the step, which is 1 there."""
    assert abs(complex(weighting("Wj", 100.0))) == pytest.approx(0.5**0.5, rel=2e-3)


@pytest.mark.parametrize("name", WEIGHTINGS)
def test_decay_is_that_of_the_slowest_pole(name: str) -> None:
    """Poles of the four pairs s²/w² + s/(Q w) + 1."""
    w = WEIGHTINGS[name]
    pairs = ((w.f1, 0.5**0.5), (w.f2, 0.5**0.5), (w.f4, w.q4), (w.f6, w.q6))
    poles = [np.roots([1.0, 2 * np.pi * f / q, (2 * np.pi * f) ** 2]) for f, q in pairs if np.isfinite(f)]
    assert w.decay == pytest.approx(-np.concatenate(poles).real.max(), rel=1e-12)


def test_unknown_weighting() -> None:
    with pytest.raises(KeyError):
        weighting("Wx", 1.0)
