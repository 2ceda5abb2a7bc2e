"""Road heights under the wheels."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.roads import (
    Event,
    HalfSine,
    OneMinusCosine,
    Ramp,
    RandomRoad,
    RoughSurface,
    Step,
    Washboard,
    road_heights,
    wheel_heights,
)

SURFACE = RoughSurface()


def along(event: Event, *distance: float) -> np.ndarray:
    """Height of the left track at some distances."""
    return road_heights(event, SURFACE, np.array(distance), 1.5)[0]


def test_step() -> None:
    np.testing.assert_array_equal(along(Step(height=0.03, start=5), 0, 5, 5.001, 90), [0, 0, 0.03, 0.03])


def test_ramp() -> None:
    ramp = Ramp(height=0.1, length=2, start=5)
    np.testing.assert_allclose(along(ramp, 4, 5, 5.5, 7, 90), [0, 0, 0.025, 0.1, 0.1], atol=1e-17)


def test_half_sine() -> None:
    bump = HalfSine(height=-0.06, length=1.2, start=5)
    np.testing.assert_allclose(along(bump, 5, 5.2, 5.6, 6.2, 7), [0, -0.03, -0.06, 0, 0], atol=1e-16)


def test_one_minus_cosine() -> None:
    bump = OneMinusCosine(height=0.08, length=4, start=5)
    np.testing.assert_allclose(along(bump, 5, 6, 7, 9, 10), [0, 0.04, 0.08, 0, 0], atol=1e-16)


def test_washboard_has_whole_waves() -> None:
    washboard = Washboard(amplitude=0.02, wavelength=2, length=7, start=5)  # 3.5 waves, rounded to 4
    np.testing.assert_allclose(along(washboard, 5, 5.5, 11.5, 12.5), [0, 0.02, 0.02, -0.02], atol=1e-15)
    np.testing.assert_array_equal(along(washboard, 13.0, 13.5), [0, 0])


def test_washboard_shorter_than_a_wave_has_one() -> None:
    washboard = Washboard(amplitude=0.02, wavelength=10, length=1, start=0)
    np.testing.assert_allclose(along(washboard, 2.5, 7.5, 12.5), [0.02, -0.02, 0], atol=1e-15)


@pytest.mark.parametrize("kind", [Step, Ramp, HalfSine, OneMinusCosine, Washboard])
def test_one_side_leaves_the_other_flat(kind: type) -> None:
    distance = np.linspace(-3, 30, 500)
    both = road_heights(kind(), SURFACE, distance, 1.5)
    left = road_heights(kind(side="left"), SURFACE, distance, 1.5)
    right = road_heights(kind(side="right"), SURFACE, distance, 1.5)
    np.testing.assert_array_equal(both, left + right)
    assert not left[1].any()
    assert not right[0].any()
    assert both.any()


events = st.one_of(
    st.builds(
        kind,
        height=st.floats(-1, 1),
        start=st.floats(0, 50),
        **({} if kind is Step else {"length": st.floats(0.01, 1000)}),
    )
    for kind in (Step, Ramp, HalfSine, OneMinusCosine)
)


@given(event=events, speed=st.floats(0.5, 120))
def test_an_event_at_any_speed_is_finite_bounded_and_begins_at_rest(event: Event, speed: float) -> None:
    heights = wheel_heights(event, SURFACE, speed, 2.9, 1.5, np.linspace(0, 4, 801))
    assert not heights[:, 0].any()
    # sin and cos stay within 1 to the last bit but one
    assert np.abs(heights).max() <= abs(event.height) * (1 + 1e-15)


@pytest.mark.parametrize("event", [OneMinusCosine(side="left"), RandomRoad(seed=4)])
def test_rear_wheels_follow_in_the_tracks_of_the_front(event: Event) -> None:
    wheelbase, step, speed = 3.0, 1e-3, 20.0  # 150 steps from axle to axle
    heights = wheel_heights(event, SURFACE, speed, wheelbase, 1.5, np.arange(2000) * step)
    # the distances differ by round-off, 1e-13 m at a slope below 1
    np.testing.assert_allclose(heights[2:, 150:], heights[:2, :-150], atol=1e-12)
    assert not heights[2:, :150].any()
    assert heights[2].any()


def test_random_road_is_the_same_at_every_speed() -> None:
    t = np.linspace(0, 4, 401)
    slow = wheel_heights(RandomRoad(), SURFACE, 10.0, 2.9, 1.5, t)
    fast = wheel_heights(RandomRoad(), SURFACE, 20.0, 2.9, 1.5, t / 2)
    np.testing.assert_array_equal(slow, fast)
