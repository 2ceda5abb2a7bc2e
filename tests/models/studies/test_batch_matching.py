"""The compiled assignment against scipy's."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from models.studies.batch_matching import assigned


@given(st.integers(0, 8), st.integers(0, 4), st.integers(0, 2**32 - 1), st.booleans())
def test_least_cost_is_that_of_scipy(rows: int, more: int, seed: int, ties: bool) -> None:
    cost = np.random.default_rng(seed).uniform(-1.0, 1.0, (rows, rows + more))
    if ties:
        cost = np.round(cost)
    found = assigned(cost)
    assert len(set(found.tolist())) == rows
    theirs = cost[linear_sum_assignment(cost)].sum()
    assert cost[np.arange(rows), found].sum() == pytest.approx(theirs, abs=1e-12)  # sums of up to eight ones
    if not ties and rows:
        assert np.array_equal(found, linear_sum_assignment(cost)[1])
