"""Thinned curves keep their extremes and invent nothing."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from workbench.plots.decimate import decimated


@given(
    seed=st.integers(0, 2**32 - 1),
    points=st.integers(1, 5000),
    columns=st.integers(1, 700),
    window=st.tuples(st.floats(-0.2, 1.2), st.floats(0.01, 1.5)),
)
def test_extremes_and_ends_of_the_window_are_kept(
    seed: int, points: int, columns: int, window: tuple[float, float]
) -> None:
    x = np.linspace(0.0, 1.0, points)
    y = np.random.default_rng(seed).normal(size=points)
    low, high = window[0], window[0] + window[1]
    thin_x, thin_y = decimated(x, y, low, high, columns)
    assert set(zip(thin_x, thin_y, strict=True)) <= set(zip(x, y, strict=True))
    assert (np.diff(thin_x) > 0).all()
    seen = (x >= low) & (x <= high)
    if seen.any():
        assert thin_y.min() <= y[seen].min()
        assert thin_y.max() >= y[seen].max()
        assert thin_x[0] <= x[seen][0]
        assert thin_x[-1] >= x[seen][-1]


def test_long_curve_becomes_two_points_per_column() -> None:
    x = np.linspace(0.0, 60.0, 60_001)
    thin_x, _ = decimated(x, np.sin(40 * x), 0.0, 60.0, 400)
    assert len(thin_x) <= 2 * 400 + 152  # and the rest of the division, less than one group of 150, and ends


def test_short_curve_stays_as_it_is() -> None:
    x = np.linspace(0.0, 1.0, 500)
    assert decimated(x, x, 0.0, 1.0, 400)[0] is x
