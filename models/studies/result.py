"""What came of a study: what was asked, and the columns of its cars."""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError
from models.studies.asked import Asked, Wanted
from models.studies.columns import Columns
from models.vehicle import Vehicle

__all__ = ["Refusal", "StudyResult", "passes"]

Array = NDArray[np.float64]


_NUMBER = re.compile(r"[-−+]?\d[\d.,]*(e[-+]?\d+)?")


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why some cars were refused.

    Attributes:
        cars: how many.
        reason: of the first of them.
        only: whether all have just this reason, and not one with other values.
    """

    cars: int
    reason: str
    only: bool

    @property
    def words(self) -> str:
        """For a reader."""
        return f"{self.cars:,} ×{'' if self.only else ' such as'} {self.reason}"


@dataclass(frozen=True, eq=False)
class StudyResult:
    """A study, whole or in part; it holds its inputs, so that it can be read without the project.

    Attributes:
        asked: what was asked, of which car, in which situations.
        columns: rows of parameters and their figures.
        total: rows in all; of a search that is not finished the most that there may be.
        finished: whether the study came to its end.
        problem: why it did not, beside a cancellation; empty otherwise.
    """

    asked: Asked
    columns: Columns
    total: int
    finished: bool
    problem: str = ""

    def car(self, row: int) -> Vehicle:
        """The car of a row, for a variant of its own."""
        return self.asked.car_of(self.columns.rows[row])

    def metric(self, key: str) -> int:
        """Number of a figure; raises :class:`InputError` where the study has not computed it."""
        if key not in self.asked.metrics:
            raise InputError.of("figure", key, f"the study has not computed '{key}'")
        return self.asked.metrics.index(key)

    def refusals(self) -> tuple[Refusal, ...]:
        """Why cars were refused, the most frequent first; reasons that differ only in values are one."""
        alike: dict[str, list[str]] = {}
        for reason in self.columns.reasons.values():
            alike.setdefault(_NUMBER.sub("", reason), []).append(" ".join(reason.split()))
        kinds = (Refusal(len(own), own[0], len(set(own)) == 1) for own in alike.values())
        return tuple(sorted(kinds, key=lambda kind: -kind.cars))


def passes(values: Array, wanted: tuple[Wanted, ...]) -> NDArray[np.bool_]:
    """(N, T) whether cars with figures (N, S, K) meet each target; a car without figures meets none."""
    found = np.ones((len(values), len(wanted)), dtype=bool)
    for column, one in enumerate(wanted):
        value = values[:, one.situation, one.metric]
        found[:, column] = ~np.isnan(value)
        if one.target.low is not None:
            found[:, column] &= value >= one.target.low
        if one.target.high is not None:
            found[:, column] &= value <= one.target.high
    return found
