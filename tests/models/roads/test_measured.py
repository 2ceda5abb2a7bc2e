"""Measured roads as data and along the distance."""

import numpy as np
import pytest
from pydantic import ValidationError

from models.roads import MeasuredRoad, RoughSurface, road_heights, wheel_heights
from models.roads.samples import MOST_POINTS, heights_of, samples_of

SURFACE = RoughSurface()
ROAD = MeasuredRoad(step=0.5, left="10 20 -30 40", right="5 5 5 5", start=5.0, blend=0.0)


def along(road: MeasuredRoad, *distance: float) -> np.ndarray:
    return road_heights(road, SURFACE, np.array(distance), 1.5)


def test_text_of_heights_is_in_mm_to_the_micrometre() -> None:
    text = samples_of([0.0, -0.0000004, 0.0123456, -2.0, 1e-6])
    assert text == "0 0 12.346 -2000 0.001"
    np.testing.assert_array_equal(heights_of(text), np.array([0.0, 0.0, 12.346, -2000.0, 0.001]) / 1e3)


def test_same_heights_have_the_same_text_however_they_were_written() -> None:
    road = MeasuredRoad(left=" 1.50\n-0.0  1e1", right="1 2 3")
    assert road.left == "1.5 0 10"
    assert road == MeasuredRoad(left="1.5 0 10", right="1 2 3")


def test_between_its_points_the_road_is_straight_and_outside_it_is_flat() -> None:
    left, right = along(ROAD, 0, 4.99, 5.25, 5.5, 6.25, 6.51)
    np.testing.assert_allclose(left, [0, 0, 0.015, 0.02, 0.005, 0], atol=1e-15)
    np.testing.assert_allclose(right, [0, 0, 0.005, 0.005, 0.005, 0], atol=1e-15)


def test_blend_rises_and_falls_by_sine_square() -> None:
    road = MeasuredRoad(step=1.0, left="9 9 9 9 9", right="9 9 9 9 9", start=0.0, blend=1.0)
    np.testing.assert_allclose(
        along(road, 0, 0.5, 1, 3, 3.5, 4)[0], [0, 4.5e-3, 9e-3, 9e-3, 4.5e-3, 0], atol=1e-16
    )


def test_a_blend_longer_than_half_the_road_meets_in_the_middle() -> None:
    road = MeasuredRoad(step=1.0, left="9 9 9", right="9 9 9", start=0.0, blend=50.0)
    np.testing.assert_allclose(along(road, 0.5, 1, 1.5)[0], [4.5e-3, 9e-3, 4.5e-3], atol=1e-16)


def test_passes_go_forward_and_back_without_a_step() -> None:
    road = ROAD.model_copy(update={"passes": 3})
    assert road.length == 4.5
    np.testing.assert_allclose(
        along(road, 6.25, 6.5, 6.75, 8.0, 8.25, 9.25)[0], [0.005, 0.04, 0.005, 0.01, 0.015, 0.005], atol=1e-15
    )


def test_rear_wheels_follow_in_the_tracks_of_the_front() -> None:
    heights = wheel_heights(ROAD, SURFACE, 10.0, 0.5, 1.5, np.arange(200) * 5e-3)
    np.testing.assert_allclose(heights[2:, 10:], heights[:2, :-10], atol=1e-12)
    assert heights[2].any()


@pytest.mark.parametrize(
    ("fields", "reason"),
    [
        ({"left": "0 one 2"}, "height 2, 'one', is no number"),
        ({"left": "0 nan"}, "height 2, 'nan', is no number"),
        ({"left": "0 1e6"}, r"allowed range \(-100000 to 100000 mm\)"),
        ({"left": "0"}, r"1 heights are outside the allowed range \(2 to 20000 points\)"),
        ({"left": "0 " * (MOST_POINTS + 1)}, "20001 heights are outside"),
        ({"left": "0 1 2", "right": "0 1"}, "2 heights stand beside 3"),
        ({"step": "0 m"}, "Step: 0 m is outside the allowed range"),
        ({"passes": 0}, "passes"),
    ],
)
def test_what_is_no_road_is_refused(fields: dict[str, object], reason: str) -> None:
    with pytest.raises(ValidationError, match=reason):
        MeasuredRoad.model_validate(fields)
