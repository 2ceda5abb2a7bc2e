"""The random road has the spectrum, the coherence and the start that it should have."""

import numpy as np
import pytest
from scipy.signal import csd, welch

from models.roads import RoughSurface, coherence, displacement_psd
from models.roads.synthesis import SAMPLE_DISTANCE, random_heights

SURFACE = RoughSurface(roughness=256e-6, waviness=2.0)
TRACK = 1.5


@pytest.fixture(scope="module")
def road() -> np.ndarray:
    """Left and right track of 6.5 km, several blocks."""
    return random_heights(SURFACE, 7, np.arange(260_000) * SAMPLE_DISTANCE, TRACK)


@pytest.mark.parametrize("waviness", [1.5, 2.0, 3.0])
def test_spectrum_is_that_of_the_surface(waviness: float) -> None:
    """Mean ratio of estimated to given spectrum over 0.05 to 2 cycles/m.

    6.5 km in pieces of 204.8 m with half overlap are some 60 independent estimates of each of 400 lines:
    a standard error of 1/√(60·400) = 0.7 %.  Allowed: 3 %, which also holds the leakage of the Hann
    window along a slope of n^-3.
    """
    surface = RoughSurface(roughness=256e-6, waviness=waviness)
    left, _ = random_heights(surface, 3, np.arange(260_000) * SAMPLE_DISTANCE, TRACK)
    n, psd = welch(left, 1 / SAMPLE_DISTANCE, nperseg=8192, detrend="linear")
    band = (n >= 0.05) & (n <= 2)
    assert np.mean(psd[band] / displacement_psd(surface, n[band])) == pytest.approx(1, abs=0.03)


def test_roughness_is_recovered_at_the_reference_wavenumber(road: np.ndarray) -> None:
    """Fit of Gd(n0) over an octave about 0.1 cycles/m.

    14 lines of 60 independent estimates in each of two tracks that are half coherent: a standard error
    of about 1/√(14·60·1.5) = 3 %.  Allowed: three of them.
    """
    n, psd = welch(road, 1 / SAMPLE_DISTANCE, nperseg=8192, detrend="linear")
    band = (n >= 0.07) & (n <= 0.14)
    at_reference = psd[:, band] * (n[band] / 0.1) ** 2
    assert at_reference.mean() == pytest.approx(256e-6, rel=0.09)


def test_tracks_cohere_as_an_isotropic_surface(road: np.ndarray) -> None:
    """Cross over auto spectrum in bands; scatter as above, at most 1/√(60·40) = 2 %, three of it allowed."""
    n, cross = csd(*road, 1 / SAMPLE_DISTANCE, nperseg=8192, detrend="linear")
    for low, high in ((0.05, 0.25), (0.25, 0.5), (0.5, 2.0)):
        band = (n >= low) & (n < high)
        psd = displacement_psd(SURFACE, n[band])
        measured = np.mean(cross.real[band] / psd)
        assert measured == pytest.approx(coherence(SURFACE, n[band], TRACK).mean(), abs=0.06)


def test_joints_of_the_blocks_do_not_show(road: np.ndarray) -> None:
    """Variance of the slope over 1 m is the same in the overlap of blocks as elsewhere.

    An overlap of 102.4 m holds about 100 independent slopes, and there are 8 of them and two tracks:
    a standard error of √(2/1600) = 3.5 % of the variance; three of it allowed.
    """
    slope = road[:, 40:] - road[:, :-40]
    place = np.arange(slope.shape[1]) * SAMPLE_DISTANCE
    stride = 819.2 - 102.4
    joint = (place > stride) & (place % stride < 102.4)
    assert slope[:, joint].var() == pytest.approx(slope[:, ~joint].var(), rel=0.105)
    assert np.abs(np.diff(road, axis=1)).max() < 6 * np.diff(road, axis=1).std()


def test_road_does_not_repeat(road: np.ndarray) -> None:
    """Blocks have random streams of their own; 700 independent slopes scatter by 0.04 about zero."""
    slope = np.diff(road[0, ::40])
    block = 819  # m
    for later in range(1, 6):
        assert abs(np.corrcoef(slope[:block], slope[later * block : (later + 1) * block])[0, 1]) < 0.15


def test_road_is_the_same_however_far_one_drives() -> None:
    short = np.linspace(0, 300, 1000)
    long = np.append(short, 3000.0)
    np.testing.assert_array_equal(
        random_heights(SURFACE, 1, short, TRACK), random_heights(SURFACE, 1, long, TRACK)[:, :-1]
    )


def test_seed_picks_the_road() -> None:
    distance = np.linspace(0, 50, 200)
    one, again, other = (random_heights(SURFACE, seed, distance, TRACK) for seed in (1, 1, 2))
    np.testing.assert_array_equal(one, again)
    assert np.abs(one - other).max() > 1e-3


def test_roughness_scales_the_same_road() -> None:
    distance = np.linspace(0, 50, 200)
    rough = RoughSurface(roughness=4 * SURFACE.roughness)
    np.testing.assert_allclose(
        random_heights(rough, 1, distance, TRACK), 2 * random_heights(SURFACE, 1, distance, TRACK), rtol=1e-13
    )


def test_road_is_flat_up_to_zero_and_begins_without_a_kink() -> None:
    behind = random_heights(SURFACE, 1, np.linspace(-5, 0, 50), TRACK)
    assert not behind.any()
    first = random_heights(SURFACE, 1, np.array([0.01]), TRACK)
    assert np.abs(first).max() < 1e-6  # the fade-in takes (π/2 · 0.01/5)² = 1e-5 of some mm
