"""Linkage tables against the cubic interpolation of scipy and their own derivative."""

import numpy as np
import pytest
from scipy.interpolate import CubicHermiteSpline

from models.errors import InputError
from models.ride.linkage_table import LinkageTable

S = np.linspace(-0.1, 0.12, 12)
TABLE = LinkageTable(S[0], S[1] - S[0], np.sin(4 * S), 4 * np.cos(4 * S))


def test_inside_it_is_the_hermite_cubic() -> None:
    spline = CubicHermiteSpline(S, TABLE.deflections, TABLE.ratios)
    s = np.linspace(-0.1, 0.12, 301)
    np.testing.assert_allclose(TABLE.deflection(s), spline(s), atol=1e-14)
    np.testing.assert_allclose(TABLE.ratio(s), spline(s, 1), atol=1e-12)


def test_beyond_the_grid_it_goes_on_straight() -> None:
    for end, out in ((-0.1, -0.3), (0.12, 0.5)):
        assert TABLE.ratio(out) == pytest.approx(4 * np.cos(4 * end))
        assert TABLE.deflection(out) == pytest.approx(np.sin(4 * end) + 4 * np.cos(4 * end) * (out - end))
        assert TABLE.left_by(np.array([out]))
    assert not TABLE.left_by(S[1:-1])


def test_refuses_unequal_lengths_and_infinite_numbers() -> None:
    with pytest.raises(InputError):
        LinkageTable(0.0, 0.1, np.zeros(3), np.zeros(2))
    with pytest.raises(InputError):
        LinkageTable(0.0, 0.1, np.array([0.0, np.inf]), np.zeros(2))
    with pytest.raises(InputError):
        LinkageTable(0.0, 0.0, np.zeros(2), np.zeros(2))
