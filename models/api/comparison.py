"""Variants against the baseline with units."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pint

from models.errors import InputError
from models.judge.comparison import Comparison as Compared
from models.judge.difference import Difference
from models.judge.scorecard import Cell, Row
from models.judge.targets import Verdict
from models.units import quantity

__all__ = ["Comparison"]


class Comparison:
    """Figures of several variants, their changes against the baseline, and how they meet their targets.

    A figure is named by its key; of one with targets in several situations, the row of the project's own run
    is meant.  All rows, those of single situations too, are in ``data.scorecard.rows``.

    Attributes:
        data: the same in SI.
    """

    def __init__(self, data: Compared) -> None:
        self.data = data
        rows: dict[str, Row] = {}
        for row in data.scorecard.rows:
            rows.setdefault(row.figure.key, row)
        self._rows = rows

    @property
    def names(self) -> tuple[str, ...]:
        """Variants in the order of the project, the baseline among them."""
        return self.data.scorecard.variants

    @property
    def baseline(self) -> str:
        """Name of the variant that the others are held against."""
        return self.data.baseline

    @property
    def keys(self) -> tuple[str, ...]:
        """Keys of the figures, those of the road mix and of common practice with them."""
        return tuple(self._rows)

    @property
    def differences(self) -> Mapping[str, tuple[Difference, ...]]:
        """Parameters in which each variant differs from the baseline, by its name."""
        return self.data.differences

    def values(self, key: str) -> dict[str, pint.Quantity[Any]]:
        """Figure of each variant by name; NaN where it has none.

        Raises:
            InputError: there is no figure of that key.
        """
        row = self._row(key)
        return {name: quantity(cell.value, row.figure.kind) for name, cell in self._cells(row).items()}

    def changes(self, key: str) -> dict[str, pint.Quantity[Any]]:
        """Figure of each variant less that of the baseline; arguments and errors as of :meth:`values`."""
        row = self._row(key)
        return {name: quantity(cell.change, row.figure.kind) for name, cell in self._cells(row).items()}

    def verdicts(self, key: str) -> dict[str, Verdict | None]:
        """How each variant meets the target, margin in SI; None without target or value; errors as before."""
        return {name: cell.verdict for name, cell in self._cells(self._row(key)).items()}

    def _row(self, key: str) -> Row:
        if key not in self._rows:
            raise InputError.of(
                "figure", key, f"there is no figure '{key}' (there are: {', '.join(self._rows)})"
            )
        return self._rows[key]

    def _cells(self, row: Row) -> dict[str, Cell]:
        return dict(zip(self.names, row.cells, strict=True))

    def __repr__(self) -> str:
        return f"<Comparison of {', '.join(self.names)}; baseline {self.baseline}>"
