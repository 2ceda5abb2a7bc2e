"""Ticks: round, few, and labelled as one would write them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.charts.ticks import log_ticks, round_ticks


def test_round_ticks() -> None:
    assert [tick.text for tick in round_ticks(-1.5, 1.0, 5)] == ["−1.5", "−1.0", "−0.5", "0.0", "0.5", "1.0"]
    assert [tick.text for tick in round_ticks(0.0, 4000.0, 4)] == ["0", "1000", "2000", "3000", "4000"]
    assert [tick.place for tick in round_ticks(0.0, 0.05, 5)] == pytest.approx(
        [0, 0.01, 0.02, 0.03, 0.04, 0.05]
    )


def test_decades_are_written_plainly_near_one_and_as_powers_far_out() -> None:
    ticks = log_ticks(-5.0, 5.0, 10)
    assert [tick.text for tick in ticks] == [
        "10⁻⁵", "10⁻⁴", "0.001", "0.01", "0.1", "1", "10", "100", "1000", "10000", "10⁵",
    ]  # fmt: skip


def test_two_and_five_are_labelled_where_few_decades_show() -> None:
    ticks = log_ticks(-1.0, 0.0, 6)
    texts = {tick.text: tick.place for tick in ticks if tick.text}
    assert set(texts) == {"0.1", "0.2", "0.5", "1"}
    assert texts["0.2"] == pytest.approx(math.log10(0.2))
    assert len(ticks) == 10


def test_part_of_a_decade_has_round_steps() -> None:
    ticks = log_ticks(math.log10(1.0), math.log10(1.4), 4)
    assert [tick.text for tick in ticks] == ["1.0", "1.1", "1.2", "1.3", "1.4"]
    assert [10**tick.place for tick in ticks] == pytest.approx([1.0, 1.1, 1.2, 1.3, 1.4])


@given(st.floats(-1e6, 1e6), st.floats(1e-3, 1e6), st.integers(3, 12))
def test_ticks_lie_inside_and_are_few(low: float, span: float, count: int) -> None:
    ticks = round_ticks(low, low + span, count)
    assert 1 <= len(ticks) <= count + 1
    slack = 1e-5 * span  # a tick that rounding puts just outside the end is kept
    assert all(low - slack <= tick.place <= low + span + slack for tick in ticks)


def test_no_ticks_without_a_range() -> None:
    assert round_ticks(1.0, 1.0, 5) == []
    assert log_ticks(0.0, math.inf, 5) == []
