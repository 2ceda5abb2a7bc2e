"""Limits of axes: round, no tighter than the curves, and still while the curves stay inside."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from models.charts import Axis
from models.charts.limits import grown, y_limits
from models.units import METRIC

FORCE = Axis("Force", "force")
PSD = Axis("Spectrum", "force", form="psd", log=True)
# Hundredths: a curve that leaves by less than the rounding of a double moves nothing.
numbers = st.integers(-(10**8), 10**8).map(lambda number: number / 100)


def test_round_limits() -> None:
    assert y_limits(FORCE, -71.0, 93.0, METRIC) == (-100.0, 100.0)
    assert y_limits(FORCE, 0.0, 8.1, METRIC) == (0.0, 10.0)


def test_curve_at_rest_is_a_line_in_the_middle_not_magnified_rounding() -> None:
    assert y_limits(FORCE, -1e-9, 1e-9, METRIC) == (-1.0, 1.0)
    assert y_limits(FORCE, 500.0, 500.0, METRIC) == (499.0, 501.0)


def test_log_limits_are_1_2_5_and_end_five_decades_below_the_peak_of_a_spectrum() -> None:
    low, high = y_limits(PSD, -12.0, math.log10(3.0), METRIC)
    assert high == math.log10(5)
    assert math.isclose(10**low, 2e-5)


@given(st.tuples(numbers, numbers).map(sorted))
def test_limits_hold_the_curves_and_waste_at_most_two_fifths(ends: list[float]) -> None:
    low, high = y_limits(FORCE, *ends, METRIC)
    slack = 1e-9 * max(abs(low), abs(high))  # multiples of the step round by some 1e-16 of their size
    assert low <= ends[0] + slack
    assert high >= ends[1] - slack
    span = ends[1] - ends[0]
    if span > 1:  # a step is at most 2.5 eighths of the span, and each end moves by less than a step
        assert high - low <= span * (1 + 2 * 2.5 / 8) + slack


@given(st.tuples(numbers, numbers).map(sorted), st.tuples(numbers, numbers).map(sorted))
def test_axis_grows_only_where_a_curve_leaves(first: list[float], second: list[float]) -> None:
    present = y_limits(FORCE, *first, METRIC)
    after = grown(present, y_limits(FORCE, *second, METRIC), *second)
    slack = 1e-9 * max(map(abs, present))  # multiples of the step round by some 1e-16 of their size
    assert after[0] == present[0] or second[0] < present[0]
    assert after[1] == present[1] or second[1] > present[1]
    assert after[0] < present[0] or second[0] >= present[0] - slack
    assert after[1] > present[1] or second[1] <= present[1] + slack
