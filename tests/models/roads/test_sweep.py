"""Sine sweep of four posts."""

import numpy as np
import pytest

from models.roads import RoughSurface, SineSweep, road_heights, wheel_heights
from models.roads.sweep import MODE_SIGNS, sweep_heights

T = np.linspace(0, 20, 200_001)


def posts(sweep: SineSweep) -> np.ndarray:
    return wheel_heights(sweep, RoughSurface(), 30.0, 2.9, 1.5, T)


def crossings(height: np.ndarray) -> np.ndarray:
    """Times at which the height rises through zero, s."""
    rising = np.flatnonzero((height[:-1] < 0) & (height[1:] >= 0))
    share = -height[rising] / (height[rising + 1] - height[rising])
    return T[rising] + share * (T[1] - T[0])


def test_frequency_runs_from_start_to_end_in_equal_ratios() -> None:
    sweep = SineSweep(start_frequency=0.5, end_frequency=8.0, duration=20.0)
    times = crossings(posts(sweep)[0])
    measured, middle = 1 / np.diff(times), (times[1:] + times[:-1]) / 2
    wanted = 0.5 * 16 ** (middle / 20)
    # Over one period the mean of an exponential exceeds its middle by (ln16/20 · T)²/24, 0.3 % at 0.5 Hz.
    np.testing.assert_allclose(measured, wanted, rtol=4e-3)
    assert measured[0] < 0.75  # the first whole period begins at 1.7 s
    assert measured[-1] > 7.8


def test_amplitude_runs_from_start_to_end() -> None:
    sweep = SineSweep(
        start_frequency=2.0, end_frequency=8.0, start_amplitude=0.04, end_amplitude=0.01, duration=20.0
    )
    height = posts(sweep)[0]
    for time, wanted in ((5.0, 0.04 * 0.25**0.25), (10.0, 0.02), (15.0, 0.04 * 0.25**0.75)):
        near = np.abs(T - time) < 0.3
        assert np.abs(height[near]).max() == pytest.approx(wanted, rel=0.03)  # it moves 2 % in 0.3 s


def test_a_steady_sine_where_start_and_end_are_alike() -> None:
    sweep = SineSweep(
        start_frequency=3.0, end_frequency=3.0, start_amplitude=0.01, end_amplitude=0.01, duration=20.0
    )
    inside = (T > 1) & (T < 19)
    np.testing.assert_allclose(posts(sweep)[0][inside], 0.01 * np.sin(6 * np.pi * T[inside]), atol=1e-12)


@pytest.mark.parametrize("mode", MODE_SIGNS)
def test_modes_lift_the_wheels_that_their_names_say(mode: str) -> None:
    heights = posts(SineSweep.model_validate({"mode": mode}))
    for row, sign in zip(heights, MODE_SIGNS[mode], strict=True):
        np.testing.assert_array_equal(row, sign * sweep_heights(SineSweep(), T)[0])


def test_the_modes_are_independent_of_each_other() -> None:
    signs = np.array(list(MODE_SIGNS.values()))
    np.testing.assert_array_equal(signs @ signs.T, 4 * np.eye(4))


def test_posts_begin_and_end_at_rest() -> None:
    sweep = SineSweep(duration=5.0)
    heights = posts(sweep)
    assert not heights[:, T >= 5.0].any()
    assert np.abs(heights[:, :2]).max() < 1e-9
    assert np.abs(np.diff(heights)).max() <= 0.02 * 2 * np.pi * 20 * 1e-4


def test_the_road_of_a_rig_is_flat() -> None:
    assert not road_heights(SineSweep(), RoughSurface(), np.linspace(0, 50, 100), 1.5).any()
