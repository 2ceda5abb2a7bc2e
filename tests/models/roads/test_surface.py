"""Spectrum, coherence and class of a random surface."""

import numpy as np
import pytest
from scipy.integrate import quad

from models.errors import InputError
from models.fields import replaced
from models.roads import ROAD_CLASSES, RoughSurface, coherence, displacement_psd, road_class

SURFACE = RoughSurface()


def test_spectrum_falls_by_the_waviness() -> None:
    n = np.array([0.1, 0.2, 1.0])
    psd = displacement_psd(RoughSurface(roughness=64e-6, waviness=3.0), n)
    np.testing.assert_allclose(psd, [64e-6, 8e-6, 64e-9], rtol=1e-14)


def test_coherence_is_one_for_long_waves_and_zero_for_short_ones() -> None:
    shared = coherence(SURFACE, np.array([0.0, 1e-6, 1e3]), 1.5)
    np.testing.assert_allclose(shared, [1.0, 1.0, 0.0], atol=1e-8)


@pytest.mark.parametrize("waviness", [1.1, 2.0, 3.3, 4.0])
def test_coherence_falls_steadily_and_stays_within_its_limits(waviness: float) -> None:
    shared = coherence(RoughSurface(waviness=waviness), np.geomspace(1e-5, 1e2, 400), 1.5)
    assert np.all((shared >= 0) & (shared <= 1))
    assert np.all(np.diff(shared) <= 0)


@pytest.mark.parametrize("n", [0.05, 0.2])
def test_coherence_is_the_slice_of_an_isotropic_surface(n: float) -> None:
    """Isotropy means: the spectrum over both wavenumbers depends on their magnitude only.

    For w = 2 it is proportional to (n² + m²)^(-3/2); the cross spectrum at the distance t is its cosine
    integral over the lateral wavenumber m.  quad gives 1e-9 here.
    """
    track = 1.5
    density = lambda m: (n * n + m * m) ** -1.5  # noqa: E731
    cross = quad(density, 0, np.inf, weight="cos", wvar=2 * np.pi * track)[0]
    auto = quad(density, 0, np.inf)[0]
    assert coherence(SURFACE, n, track) == pytest.approx(cross / auto, rel=1e-6)


def test_coherence_of_the_usual_road_joins_that_of_its_neighbours() -> None:
    """At a waviness of 2 another Bessel function of the library is called."""
    n = np.geomspace(1e-3, 3.0, 50)
    beside = [coherence(RoughSurface(waviness=2.0 + change), n, 1.5) for change in (-1e-6, 1e-6)]
    # Straight over so short a way but for the square of 1e-6.
    np.testing.assert_allclose(coherence(SURFACE, n, 1.5), np.mean(beside, axis=0), rtol=1e-9)


def test_coherence_of_many_tracks() -> None:
    n, tracks = np.array([0.05, 0.4, 2.0]), np.array([1.2, 1.6])
    together = coherence(SURFACE, n, tracks[:, None])
    for row, track in zip(together, tracks, strict=True):
        assert np.array_equal(row, coherence(SURFACE, n, float(track)))


def test_class_of_a_roughness() -> None:
    for letter, mean in ROAD_CLASSES.items():
        assert road_class(mean) == letter
    assert road_class(127e-6) == "B"
    assert road_class(128e-6) == "C"
    assert road_class(0.9) == "H"


def test_roughness_is_refused_outside_its_range() -> None:
    with pytest.raises(InputError, match=r"Roughness: .* is outside the allowed range .*cm³"):
        replaced(SURFACE, ("roughness",), 2.0)
