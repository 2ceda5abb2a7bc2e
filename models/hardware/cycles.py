"""Cycles of a history, counted by rainflow (ASTM E1049-85, 5.4.4)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import rainflow
from numpy.typing import NDArray

__all__ = ["Cycles", "count_cycles", "together", "turning_points"]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Cycles:
    """C cycles in the unit of the history.

    Attributes:
        range: (C,) greatest minus least value, above 0.
        mean: (C,) half their sum.
        count: (C,) 1 for a whole cycle, 0.5 for half of one; any number after weighing.
    """

    range: Array
    mean: Array
    count: Array

    def scaled(self, factor: float) -> Cycles:
        """Cycles of the history times a factor."""
        return Cycles(abs(factor) * self.range, factor * self.mean, self.count)

    def weighed(self, weight: float) -> Cycles:
        """Each cycle ``weight`` times."""
        return Cycles(self.range, self.mean, weight * self.count)

    def above(self, levels: Array) -> Array:
        """(L,) how many cycles have a range of ``levels`` (L,) or more."""
        order = np.argsort(self.range)
        from_here: Array = np.append(np.cumsum(self.count[order][::-1])[::-1], 0.0)
        counted: Array = from_here[np.searchsorted(self.range[order], levels)]
        return counted


def turning_points(history: Array) -> Array:
    """(P,) first and last value of a history (N,) and those between at which it turns."""
    moving = np.concatenate([[True], np.diff(history) != 0])
    values: Array = history[moving]
    if len(values) < 3:
        return values
    rising = np.diff(values) > 0
    turns = np.concatenate([[True], rising[:-1] != rising[1:], [True]])
    points: Array = values[turns]
    return points


def count_cycles(history: Array, closed: bool = False) -> Cycles:
    """Cycles of a history.

    Args:
        history: (N,) finite values.
        closed: the history repeats itself: it is counted from its largest value around to it again, so that
            no half cycles are left but those of the two largest values.
    """
    points = turning_points(history)
    if closed and len(points):
        start = int(np.abs(points).argmax())
        points = turning_points(np.concatenate([points[start:], points[: start + 1]]))
    # A list of plain numbers: the library asks for them one by one.
    counted = np.array([cycle[:3] for cycle in rainflow.extract_cycles(points.tolist())]).reshape(-1, 3)
    counted = counted[counted[:, 0] > 0]
    return Cycles(counted[:, 0].copy(), counted[:, 1].copy(), counted[:, 2].copy())


def together(parts: Sequence[Cycles]) -> Cycles:
    """All cycles of several histories."""
    if not parts:
        return Cycles(np.zeros(0), np.zeros(0), np.zeros(0))
    return Cycles(
        np.concatenate([part.range for part in parts]),
        np.concatenate([part.mean for part in parts]),
        np.concatenate([part.count for part in parts]),
    )
