"""The counting example of ASTM E1049-85, Fig. 6."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from models.hardware.cycles import count_cycles
from models.hardware.fatigue import damage
from models.hardware.sn_curve import SNCurve

HISTORY = np.array([-2.0, 1, -3, 5, -1, 3, -4, 4, -2])
# Counts by range (seen: unit test of the rainflow package, which names the standard; the sequence is seen in
# the manual of an R package, rdrr.io/github/addisonklinke/rainflow).
RANGES = {3.0: 0.5, 4.0: 1.5, 6.0: 0.5, 8.0: 1.0, 9.0: 0.5}
# Range, mean, count in the order of counting (by an own three-point count of the same sequence).
CYCLES = [
    (3, -0.5, 0.5),
    (4, -1.0, 0.5),
    (4, 1.0, 1.0),
    (8, 1.0, 0.5),
    (9, 0.5, 0.5),
    (8, 0.0, 0.5),
    (6, 1.0, 0.5),
]


def test_counts_of_the_standard() -> None:
    found = count_cycles(HISTORY)
    assert list(zip(found.range, found.mean, found.count, strict=True)) == CYCLES
    counts: Counter[float] = Counter()
    for size, count in zip(found.range.tolist(), found.count.tolist(), strict=True):
        counts[size] += count
    assert counts == RANGES


@pytest.mark.parametrize(("slope", "total"), [(3.0, 1094.0), (5.0, 67838.0)])
def test_damage_of_the_standards_example(slope: float, total: float) -> None:
    """Σ n ΔS^m by hand; with one cycle of the knee as unit of damage it is the Miner sum."""
    knee, cycles = 50e6, 1e5
    line = SNCurve(amplitude=knee, cycles=cycles, slope=slope, below="same slope", mean_rule="none")
    unit = 1e6
    expected = total * (unit / 2 / knee) ** slope / cycles
    assert damage(line, count_cycles(HISTORY * unit)) == pytest.approx(expected, rel=1e-12)


def test_points_between_the_turns_change_nothing() -> None:
    dense = np.interp(np.linspace(0, 8, 81), np.arange(9), HISTORY).repeat(2)
    found = count_cycles(dense)
    assert list(zip(found.range, found.mean, found.count, strict=True)) == CYCLES
