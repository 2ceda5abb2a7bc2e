"""IRI beside published tables and closed forms."""

from __future__ import annotations

import numpy as np
import pytest

from models.roads import ROAD_CLASSES, RoughSurface
from models.roads.iri import golden_car, iri, rectified_slope
from models.roads.synthesis import SAMPLE_DISTANCE, random_heights

# State transition matrices of World Bank Technical Paper 46 and ASTM E1926, as several public roughness
# routines quote them alike; the primary tables were not opened.
ST250 = [
    [0.9966071, 0.01091514, -0.002083274, 0.0003190145],
    [-0.5563044, 0.9438768, -0.8324718, 0.05064701],
    [0.02153176, 0.002126763, 0.7508714, 0.008221888],
    [3.335013, 0.3376467, -39.12762, 0.4347564],
]
PR250 = [0.005476107, 1.388776, 0.2275968, 35.79262]
ST100 = [
    [0.9994014, 0.004442351, 0.0002188854, 5.72179e-5],
    [-0.2570548, 0.975036, 0.007966216, 0.02458427],
    [0.003960378, 0.0003814527, 0.9548048, 0.004055587],
    [1.687312, 0.1638951, -19.34264, 0.7948701],
]
PR100 = [0.0003793992, 0.2490886, 0.04123478, 17.65532]


def test_transition_of_250_mm_is_the_published_one() -> None:
    transition, forced = golden_car(0.25)
    # The tables have seven digits; their own arithmetic was of single precision.
    np.testing.assert_allclose(transition, ST250, rtol=1e-6)
    np.testing.assert_allclose(forced, PR250, rtol=2e-5)


def test_transition_of_100_mm_is_the_published_one() -> None:
    transition, forced = golden_car(0.1)
    np.testing.assert_allclose(transition, ST100, rtol=2e-6)
    # Its first number is the difference of nearly equal ones; single precision leaves it three digits.
    assert forced[0] == pytest.approx(PR100[0], rel=1e-3)
    np.testing.assert_allclose(forced[1:], PR100[1:], rtol=2e-5)


def test_recursion_is_that_of_the_standard_step_by_step() -> None:
    step, heights = 0.1, random_heights(RoughSurface(), 3, np.arange(600) * 0.1, 1.5)[0]
    transition, forced = golden_car(step)
    slope = (heights[2:] - heights[:-2]) / 0.2  # base 250 mm: the two steps nearest to it
    start = (heights[110] - heights[0]) / 11.0
    state, expected = np.array([start, 0, start, 0]), []
    for value in slope:
        state = transition @ state + forced * value
        expected.append(abs(state[0] - state[2]))
    np.testing.assert_allclose(rectified_slope(heights, step), expected, rtol=1e-9, atol=1e-12)


# Slope out per slope in: |z_s - z_u| / |z| of the golden car at 80 km/h, from its own equations of motion.
def gain(wavelength: np.ndarray, averaged: bool) -> np.ndarray:
    s = 2j * np.pi * (80 / 3.6) / wavelength
    k2, k1, c, mu = 63.3, 653.0, 6.0, 0.15
    sprung, coupling = s**2 + c * s + k2, c * s + k2
    unsprung = mu * s**2 + c * s + k2 + k1
    z_u = k1 * sprung / (unsprung * sprung - coupling**2)
    smooth = np.sinc(0.25 / wavelength) if averaged else 1.0
    return np.abs((coupling / sprung - 1) * z_u * smooth)


@pytest.mark.parametrize(
    ("amplitude", "wavelength", "plain", "averaged"),
    [(0.010, 15.0, 4.0728, 4.0710), (0.001, 2.4, 2.7733, 2.7241), (0.005, 5.0, 4.6787, 4.6594)],
)
def test_sinusoids(amplitude: float, wavelength: float, plain: float, averaged: float) -> None:
    """IRI of a sine is 1000 · (4 A/λ) · gain; the values were computed apart from the program."""
    np.testing.assert_allclose(
        4e3 * amplitude / wavelength * gain(np.array(wavelength), False), plain, rtol=1e-4
    )
    np.testing.assert_allclose(
        4e3 * amplitude / wavelength * gain(np.array(wavelength), True), averaged, rtol=1e-4
    )
    step = 0.01  # the slope of a step holds for the step: at λ/240 that costs less than 1e-4
    x = np.arange(int(60 * wavelength / step) + 1) * step
    heights = amplitude * np.sin(2 * np.pi * x / wavelength)
    settled = -round(30 * wavelength / step)  # whole waves, once the slowest vibration has died away
    found = 1e3 * rectified_slope(heights, step, averaged=False)[settled:].mean()
    assert found == pytest.approx(plain, rel=5e-4)
    found = 1e3 * rectified_slope(heights, step)[settled:].mean()
    assert found == pytest.approx(averaged, rel=5e-4)


@pytest.mark.parametrize(
    ("wavelength", "expected"),
    [
        (100.0, 0.0316), (50.0, 0.1366), (30.0, 0.4548), (20.0, 1.2337), (15.0, 1.5266), (10.0, 1.2584),
        (5.0, 1.1649), (3.0, 1.4367), (2.4, 1.6345), (2.0, 1.4944), (1.5, 0.7479), (1.25, 0.4477),
        (1.0, 0.2459), (0.5, 0.0373),
    ],
)  # fmt: skip
def test_gain_over_the_wavelength(wavelength: float, expected: float) -> None:
    """The table was computed apart from the program, to four digits after the point."""
    step = 0.01
    x = np.arange(int(20 * max(wavelength, 15.0) / step) + 1) * step
    heights = 1e-3 * np.sin(2 * np.pi * x / wavelength)
    waves = int(10 * max(wavelength, 15.0) / wavelength)  # whole ones, once the car has settled
    last = rectified_slope(heights, step)[-round(waves * wavelength / step) :]
    assert last.mean() * wavelength / 4e-3 == pytest.approx(expected, rel=2e-3, abs=1e-4)


def test_rough_roads_of_waviness_2() -> None:
    """IRI = 2.21 sqrt(C), C = Gd(Ω0)·1e6 (Kropáč and Múčka; Johannesson and Rychlik 2012), from memory.

    That is without the moving average, with which it is 0.54315 sqrt(Gd(n0)·1e6), computed apart.
    """
    roughness = ROAD_CLASSES["B"]
    distance = np.arange(int(8000 / SAMPLE_DISTANCE)) * SAMPLE_DISTANCE
    heights = random_heights(RoughSurface(roughness=roughness), 5, distance, 1.6)
    plain = 1e3 * rectified_slope(heights, SAMPLE_DISTANCE, averaged=False).mean()
    angular = roughness * (2 * np.pi * 0.1) ** 2 / (2 * np.pi) * 1e6
    # Mean of |x| over 16 km: the suspension remembers some 20 m, so about 800 pieces of 76 % scatter: 3 %.
    assert plain == pytest.approx(2.21 * np.sqrt(angular), rel=0.05)
    assert iri(heights, SAMPLE_DISTANCE).mean() == pytest.approx(0.54315 * np.sqrt(roughness * 1e6), rel=0.05)
