"""Cycles beside the rainflow library: a count with the rule of three points, written out here."""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise

import numpy as np

from models.hardware.cycles import count_cycles
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER"]

CHAPTER = Chapter("rainflow", "rainflow", group="engine", needs=("rainflow",))


def three_points(turns: list[float]) -> dict[float, float]:
    """Cycles by range, after ASTM E1049-85, 5.4.4: a range no greater than that after it is a cycle.

    A whole cycle where the range lies inside the history, half of one where it holds the first point.
    """
    counts: dict[float, float] = defaultdict(float)
    kept: list[float] = []
    for turn in turns:
        kept.append(turn)
        while len(kept) >= 3:
            last, before = abs(kept[-1] - kept[-2]), abs(kept[-2] - kept[-3])
            if last < before:
                break
            if len(kept) == 3:
                counts[before] += 0.5
                del kept[0]
            else:
                counts[before] += 1.0
                del kept[-3:-1]
    for one, other in pairwise(kept):
        counts[abs(other - one)] += 0.5
    return counts


@CHAPTER.check(
    "Cycles of a random history",
    source="rainflow library, used by the program, beside the rule of three points of ASTM E1049-85 written "
    "out",
    status="computed apart",
    reason="histories of whole numbers are counted exactly",
)
def random_history() -> Numbers:
    """20 000 whole numbers between -50 and 50: cycles of each range, and their sum."""
    history = np.random.default_rng(5).integers(-50, 51, 20_000).astype(float)
    slopes = np.sign(np.diff(history))
    history = history[np.concatenate([[True], slopes != 0])]
    slopes = np.sign(np.diff(history))
    turns = history[np.concatenate([[True], slopes[1:] != slopes[:-1], [True]])]
    expected = three_points(turns.tolist())
    found = count_cycles(history)
    counts = np.bincount(found.range.astype(int), weights=found.count, minlength=101)
    theirs = np.array([expected[float(size)] for size in range(len(counts))])
    yield beside("cycles of each range", counts, theirs)
    yield beside("all cycles", counts.sum(), theirs.sum())
