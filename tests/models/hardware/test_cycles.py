"""Counting cycles: what holds for any history."""

from __future__ import annotations

import numpy as np
import pytest

from models.hardware.cycles import count_cycles, together, turning_points


def test_turning_points_skip_plateaus_and_slopes() -> None:
    history = np.array([0.0, 0, 1, 2, 2, 2, 1, -1, -1, 3, 3])
    assert turning_points(history).tolist() == [0.0, 2.0, -1.0, 3.0]
    assert turning_points(np.ones(5)).tolist() == [1.0]


def test_a_still_history_has_no_cycles() -> None:
    found = count_cycles(np.full(100, 3.0), closed=True)
    assert len(found.range) == len(found.mean) == len(found.count) == 0
    assert found.above(np.array([0.0, 1.0])).tolist() == [0.0, 0.0]


def test_a_closed_history_has_whole_cycles_wherever_it_begins() -> None:
    """Half cycles come only in the pair of greatest and least value."""
    generator = np.random.default_rng(3)
    history = generator.standard_normal(400)
    spectra = []
    for shift in (0, 1, 57, 399):
        found = count_cycles(np.roll(history, shift), closed=True)
        halves = found.count == 0.5
        assert halves.sum() == 2
        assert found.range[halves] == pytest.approx(np.ptp(history))
        order = np.lexsort((found.mean, found.range))
        spectra.append(np.stack([found.range[order], found.mean[order], found.count[order]]))
    for other in spectra[1:]:
        assert np.array_equal(spectra[0], other)


def test_cycles_above_a_level() -> None:
    found = together([count_cycles(np.array([0.0, 4, 0, 2, 0])), count_cycles(np.array([1.0, 3, 1]))])
    levels = np.array([0.0, 2.0, 2.1, 4.0, 4.1])
    by_hand = [float(found.count[found.range >= level].sum()) for level in levels]
    assert found.above(levels).tolist() == by_hand == [3.0, 3.0, 1.0, 1.0, 0.0]


def test_scaling_and_weighing() -> None:
    found = count_cycles(np.array([0.0, 4, 1, 2, 0])).scaled(-2.0).weighed(10.0)
    again = count_cycles(-2.0 * np.array([0.0, 4, 1, 2, 0]))
    assert np.array_equal(found.range, again.range)
    assert np.array_equal(found.mean, again.mean)
    assert np.array_equal(found.count, 10 * again.count)
