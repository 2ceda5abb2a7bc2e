"""Classes of road roughness and coherence of two tracks."""

import numpy as np
import pytest

from models.roads import ROAD_CLASSES, RoughSurface, coherence, displacement_psd, road_class

# ISO 8608:1995/2016, annex C, from memory: class, Gd(n0) lower, geometric mean, upper limit in 1e-6 m³.
CLASSES = (
    ("A", None, 16, 32),
    ("B", 32, 64, 128),
    ("C", 128, 256, 512),
    ("D", 512, 1024, 2048),
    ("E", 2048, 4096, 8192),
    ("F", 8192, 16384, 32768),
    ("G", 32768, 65536, 131072),
    ("H", 131072, 262144, None),
)


@pytest.mark.parametrize(("letter", "lower", "mean", "upper"), CLASSES)
def test_classes(letter: str, lower: int | None, mean: int, upper: int | None) -> None:
    assert ROAD_CLASSES[letter] == pytest.approx(mean * 1e-6, rel=1e-12)
    assert road_class(mean * 1e-6) == letter
    if lower is not None:
        assert road_class(lower * 1.001e-6) == letter
    if upper is not None:
        assert road_class(upper * 0.999e-6) == letter


# The standard prints the velocity spectrum of the mean of each class, 1e-6 m, to 0.1 (from memory).
@pytest.mark.parametrize(
    ("letter", "printed"), [("A", 6.3), ("B", 25.3), ("C", 101.1), ("D", 404.3), ("E", 1617.0)]
)
def test_velocity_spectrum_is_flat_for_waviness_two(letter: str, printed: float) -> None:
    n = np.array([0.02, 0.1, 3.0])
    velocity = (2 * np.pi * n) ** 2 * displacement_psd(RoughSurface(roughness=ROAD_CLASSES[letter]), n)
    np.testing.assert_allclose(velocity * 1e6, printed, atol=0.05)


# Isotropic surface, C. J. Dodds and J. D. Robson, J. Sound Vib. 31 (1973) 175-183 (formula from memory);
# values computed apart from this program by the cosine integral of the surface spectrum, six digits.
@pytest.mark.parametrize(
    ("waviness", "n", "expected"),
    [
        (2.0, 0.02, 0.959173),
        (2.0, 0.05, 0.841470),
        (2.0, 0.1, 0.626419),
        (2.0, 0.2, 0.307057),
        (2.0, 0.5, 0.026276),
        (1.5, 0.1, 0.525064),
        (2.5, 0.1, 0.701411),
        (3.0, 0.1, 0.756908),
    ],
)
def test_coherence_of_tracks_1_5_m_apart(waviness: float, n: float, expected: float) -> None:
    # half a unit of the last digit given
    assert coherence(RoughSurface(waviness=waviness), n, 1.5) == pytest.approx(expected, abs=5.1e-7)
