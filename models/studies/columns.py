"""What a study has computed so far, as columns: a row per car, in the order in which cars are asked for."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["COMPUTED", "MISSING", "REFUSED", "Columns"]

Array = NDArray[np.float64]

#: States of a row.
MISSING, COMPUTED, REFUSED = 0, 1, 2


@dataclass(frozen=True, eq=False)
class Columns:
    """Rows of a study.

    Attributes:
        rows: (N, P) parameters, SI.
        values: (N, S, K) figures, SI; NaN where a row is missing or refused.
        state: (N,) :data:`MISSING`, :data:`COMPUTED` or :data:`REFUSED`.
        reasons: why a row is refused, by its number.
    """

    rows: Array
    values: Array
    state: NDArray[np.uint8]
    reasons: dict[int, str]

    @classmethod
    def empty(cls, parameters: int, situations: int, metrics: int) -> Columns:
        """No rows."""
        return cls(
            np.empty((0, parameters)),
            np.empty((0, situations, metrics)),
            np.empty(0, dtype=np.uint8),
            {},
        )

    @property
    def done(self) -> int:
        """How many rows are computed or refused."""
        return int(np.count_nonzero(self.state != MISSING))

    @property
    def refused(self) -> int:
        """How many cars were refused."""
        return int(np.count_nonzero(self.state == REFUSED))

    @property
    def computed(self) -> NDArray[np.bool_]:
        """(N,) rows that have figures."""
        return np.asarray(self.state == COMPUTED)

    def with_missing(self, rows: Array) -> Columns:
        """These columns with rows (n, P) at the end that have to be computed."""
        shape = (len(rows), *self.values.shape[1:])
        return Columns(
            np.concatenate([self.rows, rows]),
            np.concatenate([self.values, np.full(shape, np.nan)]),
            np.concatenate([self.state, np.full(len(rows), MISSING, dtype=np.uint8)]),
            self.reasons,
        )

    def copy(self) -> Columns:
        """Columns of their own."""
        return Columns(self.rows.copy(), self.values.copy(), self.state.copy(), dict(self.reasons))
