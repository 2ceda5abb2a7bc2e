"""IRI: what it does not depend on, and what it refuses."""

import numpy as np
import pytest

from models.errors import InputError
from models.roads import RoughSurface
from models.roads.iri import iri
from models.roads.synthesis import random_heights

X = np.arange(4001) * 0.05
ROAD = random_heights(RoughSurface(), 2, X, 1.5)


def test_each_track_has_its_own_index() -> None:
    both = iri(ROAD, 0.05)
    np.testing.assert_allclose(both, [iri(row, 0.05) for row in ROAD], rtol=1e-12)
    assert both[0] != both[1]


def test_height_and_a_steady_slope_do_not_count() -> None:
    # The start has the mean slope of the first 11 m, so that a slope excites nothing at all.
    np.testing.assert_allclose(iri(ROAD + 3.0 + 0.02 * X, 0.05), iri(ROAD, 0.05), rtol=1e-3)
    assert iri(0.02 * X, 0.05) == pytest.approx(0.0, abs=1e-9)


def test_index_grows_in_proportion_to_the_heights() -> None:
    np.testing.assert_allclose(iri(2.5 * ROAD, 0.05), 2.5 * iri(ROAD, 0.05), rtol=1e-12)


def test_index_hardly_depends_on_the_step() -> None:
    # Twice the step takes the mean of the slopes, of which the tyre feels nothing.
    np.testing.assert_allclose(iri(ROAD[:, ::2], 0.1), iri(ROAD, 0.05), rtol=0.03)


@pytest.mark.parametrize(
    ("points", "step", "reason"),
    [
        (201, 0.05, r"a road of 10.0 m is outside the allowed range \(at least 20 m\)"),
        (500, 0.5, "500 mm apart"),
    ],
)
def test_too_short_and_too_coarse_are_refused(points: int, step: float, reason: str) -> None:
    with pytest.raises(InputError, match=reason):
        iri(np.zeros(points), step)
