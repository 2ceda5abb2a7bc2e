"""Measured heights made fit to drive on."""

import numpy as np
import pytest

from models.errors import InputError
from models.roads.measured import track_heights
from models.roads.prepare import RawRoad, natural_step, prepared
from models.roads.samples import MOST_POINTS

X = np.arange(101) * 0.1
WAVE = 0.01 * np.sin(2 * np.pi * X / 5)


def raw(distance: np.ndarray, left: np.ndarray, right: np.ndarray | None = None) -> RawRoad:
    return RawRoad("yard.csv", distance, left, left if right is None else right)


def test_even_heights_are_kept_as_they_are() -> None:
    road = prepared(raw(X, WAVE, -WAVE), "nothing")
    assert road.step == 0.1
    # Kept to the nearest µm.
    np.testing.assert_allclose(track_heights(road), [WAVE, -WAVE], atol=0.51e-6)
    assert road.name == "yard.csv"
    assert road.note == "step of 100 mm as measured; nothing taken off each track"


def test_mean_and_straight_line_are_taken_off_each_track() -> None:
    tilted = WAVE + 2.0 + 0.03 * X
    mean, line = (track_heights(prepared(raw(X, tilted, WAVE), kind)) for kind in ("mean", "straight line"))
    np.testing.assert_allclose(mean.mean(axis=1), 0, atol=1e-6)
    assert np.polyfit(X, mean[0], 1)[0] == pytest.approx(0.03, rel=0.05)
    expected = tilted - np.polyval(np.polyfit(X, tilted, 1), X)
    np.testing.assert_allclose(line[0], expected, atol=0.51e-6)


def test_uneven_distances_are_read_off_at_equal_steps() -> None:
    uneven = np.sort(np.random.default_rng(3).uniform(0, 10, 400))
    road = prepared(raw(uneven, 0.02 * uneven), "nothing", step=0.05)
    place = uneven[0] + 0.05 * np.arange(track_heights(road).shape[1])
    np.testing.assert_allclose(track_heights(road)[0], 0.02 * place, atol=0.51e-6)
    assert road.note.startswith("step of 50 mm, from about")


def test_a_longer_step_takes_means_so_that_short_waves_do_not_turn_into_long_ones() -> None:
    fine = np.arange(10_001) * 0.01
    road = prepared(raw(fine, 0.01 * np.sin(2 * np.pi * fine / 0.1)), "nothing", step=0.1)
    # Points read off would be all alike, at whatever phase; the mean over a whole wave is zero.
    inner = track_heights(road)[0][1:-1]
    assert np.abs(inner).max() < 2e-6
    assert "means over the step" in road.note


def test_gaps_are_closed_by_straight_lines_and_stated() -> None:
    heights = 0.01 * X
    heights[20:26] = np.nan
    heights[:2] = np.nan
    road = prepared(raw(X, heights), "nothing")
    expected = 0.01 * X
    expected[:2] = expected[2]
    np.testing.assert_allclose(track_heights(road)[0], expected, atol=0.51e-6)
    assert "gaps closed by straight lines, the longest 0.7 m" in road.note


def test_a_long_road_gets_a_step_that_fits() -> None:
    distance = np.arange(50_001) * 0.05
    road = prepared(raw(distance, np.sin(distance)))
    assert road.step == natural_step(raw(distance, distance)) == 0.1251
    assert track_heights(road).shape[1] <= MOST_POINTS


@pytest.mark.parametrize(
    ("distance", "heights", "step", "reason"),
    [
        ([0, 1, 1], [0, 0, 0], None, "point 3 stands at 1 m, not ahead of the point before it at 1 m"),
        ([0, 2, 1], [0, 0, 0], None, "distances have to increase"),
        ([0], [0], None, "1 points are no road"),
        ([0, 1, 2], [np.nan, 3, np.nan], None, "left track has 1 heights; it needs at least 2"),
        ([0, 1, 2], [0, 1, 0], 1e-6, r"makes 2000001 points \(allowed: 2 to 20000\)"),
        ([0, 1, 2], [0, 1, 0], 9.0, "makes 1 points"),
        ([0, 1, 2], [0, 1, 0], 0.0, "makes 0 points"),
        ([0, 1, 2], [0, 1e9, 0], 1.0, "height 2"),
    ],
)
def test_what_is_no_road_is_refused(
    distance: list[float], heights: list[float], step: float | None, reason: str
) -> None:
    with pytest.raises(InputError, match=reason):
        prepared(raw(np.array(distance, float), np.array(heights, float)), "nothing", step)
