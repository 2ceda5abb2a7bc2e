"""Fitted class of a profile."""

from __future__ import annotations

import numpy as np
import pytest

from models.errors import InputError
from models.roads import RoughSurface, displacement_psd
from models.roads.fit import BAND, fit_surface, spectrum, third_octaves
from models.roads.synthesis import random_heights

STEP = 0.05
X = np.arange(16_000) * STEP
SEEDS = range(40)


@pytest.mark.parametrize("waviness", [1.6, 2.0, 2.5, 3.0])
def test_a_made_road_gives_back_what_it_was_made_of(waviness: float) -> None:
    """Over 40 roads of 800 m: no bias beyond chance, and intervals that hold as often as they say."""
    surface = RoughSurface(roughness=64e-6, waviness=waviness)
    fits = [fit_surface(random_heights(surface, seed, X, 1.5)[0], STEP) for seed in SEEDS]
    levels = np.log([fit.roughness / 64e-6 for fit in fits])
    waves = np.array([fit.waviness for fit in fits])
    # Leakage of the window adds up to 3 % at w = 3; the mean of 40 scatters by 1 % beside it.
    assert abs(levels.mean()) < 0.06
    assert abs(waves.mean() - waviness) < 0.02
    assert levels.std() < 0.1
    held = [
        fit.roughness_interval[0] < 64e-6 < fit.roughness_interval[1]
        and fit.waviness_interval[0] < waviness < fit.waviness_interval[1]
        for fit in fits
    ]
    # 95 % each: both at once at least 90 % of 40, with chance 36 +- 2.
    assert sum(held) >= 31
    assert {fit.letter for fit in fits} == {"B"}


def test_interval_is_no_wider_than_the_scatter_calls_for() -> None:
    fits = [fit_surface(random_heights(RoughSurface(), seed, X, 1.5)[0], STEP) for seed in SEEDS]
    scatter = np.std([fit.waviness for fit in fits])
    half = np.mean([fit.waviness_interval[1] - fit.waviness_interval[0] for fit in fits]) / 2
    # 1.96 of a normal law, somewhat more for the few bands; a scatter of 40 is known to 11 %.
    assert 1.6 < half / scatter < 3.0


def test_spectrum_has_the_power_of_the_profile() -> None:
    heights = 0.01 * np.sin(2 * np.pi * 0.5 * X)
    n, psd = spectrum(heights, STEP)
    assert np.trapezoid(psd, n) == pytest.approx(0.01**2 / 2, rel=1e-3)
    assert n[np.argmax(psd)] == pytest.approx(0.5, abs=n[0])


def test_spectrum_of_a_made_road_is_that_of_its_class() -> None:
    surface = RoughSurface()
    bands = [third_octaves(random_heights(surface, seed, X, 1.5)[0], STEP) for seed in SEEDS]
    ratio = np.mean([each.psd for each in bands], axis=0) / displacement_psd(surface, bands[0].n)
    # 40 roads leave 1/sqrt(20 ν) of scatter, 6 % in the lowest band; curvature in a band adds 2 %.
    np.testing.assert_allclose(ratio, 1.0, atol=0.2)


def test_degrees_of_freedom_are_those_of_the_scatter() -> None:
    bands = [third_octaves(random_heights(RoughSurface(), seed, X, 1.5)[0], STEP) for seed in range(120)]
    psd = np.array([each.psd for each in bands])
    found = 2 * psd.mean(axis=0) ** 2 / psd.var(axis=0)
    # A variance of 120 is known to 13 %, three times that here; bands with many lines are the surest test.
    np.testing.assert_allclose(found, bands[0].freedom, rtol=0.45)


def test_band_is_what_the_road_shows_of_that_of_the_standard() -> None:
    long = fit_surface(random_heights(RoughSurface(), 1, X, 1.5)[0], STEP)
    assert BAND[0] < long.band[0] < 0.02
    assert 2.0 < long.band[1] < BAND[1]
    assert not long.extrapolated
    short = fit_surface(random_heights(RoughSurface(), 1, X[:400], 1.5)[0], STEP)
    assert short.band[0] > 0.1
    assert short.extrapolated
    assert short.roughness_interval[1] > 3 * short.roughness_interval[0]


def test_two_tracks_are_fitted_by_the_mean_of_their_spectra() -> None:
    both = random_heights(RoughSurface(), 6, X, 1.5)
    mean = third_octaves(both, STEP).psd
    np.testing.assert_allclose(
        mean, (third_octaves(both[0], STEP).psd + third_octaves(both[1], STEP).psd) / 2
    )


def test_fit_as_a_surface_draws_the_fitted_line() -> None:
    fit = fit_surface(random_heights(RoughSurface(), 1, X, 1.5)[0], STEP)
    n = np.array([0.02, 0.1, 2.0])
    np.testing.assert_allclose(displacement_psd(fit.surface(), n), fit.psd(n), rtol=1e-12)


@pytest.mark.parametrize(
    ("heights", "step", "reason"),
    [
        (np.zeros(2000), STEP, "flat within the band"),
        (np.ones(10), 0.1, "needs a longer road or closer points"),
        (np.ones(2000), STEP, "flat within the band"),
        (np.ones(500), 8.0, "needs a longer road or closer points"),
    ],
)
def test_what_cannot_be_fitted_is_refused(heights: np.ndarray, step: float, reason: str) -> None:
    with pytest.raises(InputError, match=reason):
        fit_surface(heights, step)
