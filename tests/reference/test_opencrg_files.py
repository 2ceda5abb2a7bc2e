"""Files of the public OpenCRG repository (asam-ev/OpenCRG); they are not copied into the project.

The figures of the cobbles were computed from the file apart from the program.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from models.roads.measured import track_heights
from models.roads.opencrg import read_opencrg, tracks
from models.roads.prepare import prepared
from tests.manual import near

FOLDER = Path(__file__).parents[3] / "shared" / "reference" / "roads"
pytestmark = pytest.mark.skipif(not FOLDER.is_dir(), reason=f"the files are not at {FOLDER}")


def test_cobbles_of_the_binary_file() -> None:
    grid = read_opencrg(FOLDER / "belgian_block.crg")
    assert grid.z.shape == (1001, 341)
    assert np.isnan(grid.z).sum() == 22228
    assert grid.heading is not None
    found = [np.nanmin(grid.z), np.nanmax(grid.z), np.nanmean(grid.z), grid.heading[1], grid.heading[-1]]
    expected = np.array([2.035486, 2.183033, 2.113465, 2.652798, 2.305325])
    # Half of the last digit, and 1e-7 of the number, which is what single precision keeps.
    allowed = 5e-7 + 1e-7 * expected
    near("least, greatest, mean height, m; heading at both ends, rad", found, expected, within=allowed)
    near("heights of the middle at both ends, m", grid.z[[0, -1], 170], [2.131593, 2.138111], within=5.1e-7)
    assert grid.v[170] == pytest.approx(0.0, abs=1e-12)
    np.testing.assert_allclose(grid.u[[0, -1]], [730, 740])


def test_wheels_on_the_cobbles() -> None:
    road = prepared(tracks(read_opencrg(FOLDER / "belgian_block.crg"), 1.5, "cobbles"), "straight line")
    heights = 1e3 * track_heights(road)
    # Stated to the µm, which is also what the road keeps.
    near("RMS of both tracks, mm", heights.std(axis=1), [24.191, 22.745], within=1e-3)
    near("peak to peak of both tracks, mm", np.ptp(heights, axis=1), [100.339, 89.802], within=2e-3)
    middle = prepared(tracks(read_opencrg(FOLDER / "belgian_block.crg"), 1e-9, "cobbles"), "straight line")
    near("RMS of the middle, mm", 1e3 * track_heights(middle)[0].std(), 24.503, within=1e-3)
    near("peak to peak of the middle, mm", 1e3 * np.ptp(track_heights(middle)[0]), 95.757, within=2e-3)


@pytest.mark.parametrize(
    ("name", "gaps"), [("handmade_straight", 3), ("handmade_sloped", 0), ("handmade_curved_minimalist", 0)]
)
def test_text_files_made_by_hand(name: str, gaps: int) -> None:
    grid = read_opencrg(FOLDER / f"{name}.crg")
    assert grid.z.shape == (23, 7)
    assert np.isnan(grid.z).sum() == gaps
    np.testing.assert_allclose(grid.u, np.arange(23))
    np.testing.assert_allclose(grid.v[[0, 3, -1]], [-1.5, 0, 1.5])
    np.testing.assert_allclose(grid.z[15, 3:], [0, -0.0111111, -0.0222222, -0.0333333])
    assert grid.z[16, 0] == pytest.approx(0.0111111)


def test_slope_of_the_hill_adds_up() -> None:
    grid = read_opencrg(FOLDER / "handmade_sloped.crg")
    road = tracks(grid, 2.0, "hill")
    assert grid.slope is not None
    # 1 m apart, and the first slope has no stretch before it.
    np.testing.assert_allclose(road.left, grid.z[:, 4] + np.concatenate([[0], np.cumsum(grid.slope[1:])]))
    assert road.left[-1] == pytest.approx(1.21)  # 2 (0.011 + ... + 0.099) + 2 · 0.110
