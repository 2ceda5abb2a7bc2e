"""Columns of numbers with what a reader has to know of them; each format is written from this."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from models.charts.chart import Axis
from models.program import PROGRAM
from models.units import UnitChoice

__all__ = ["About", "Column", "Recording"]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class About:
    """Where numbers come from.

    Attributes:
        project, variant: names.
        load_case: what the car carries.
        driven: the run in words.
        inputs: SHA-256 of everything that the numbers depend on, see :func:`models.exports.inputs.digest`.
    """

    project: str
    variant: str
    load_case: str
    driven: str
    inputs: str

    @property
    def lines(self) -> tuple[tuple[str, str], ...]:
        """Names and texts, one line each."""
        fields = (
            ("project", self.project),
            ("variant", self.variant),
            ("load case", self.load_case),
            ("run", self.driven),
            ("program", PROGRAM),
            ("inputs sha256", self.inputs),
        )
        return tuple((name, " ".join(text.split())) for name, text in fields)


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """One column.

    Attributes:
        key: stable name for programs.
        axis: name for a reader, and unit.
        values: (N,) SI.
    """

    key: str
    axis: Axis
    values: Array

    def thinned(self, each: int) -> Column:
        """With the first of each so many values."""
        return replace(self, values=self.values[::each])

    def shown(self, units: UnitChoice) -> Array:
        """(N,) in the unit of display."""
        scale = self.axis.display(units)[0]
        return self.values if scale == 1.0 else self.values / scale

    def unit(self, units: UnitChoice) -> str:
        """Unit of display; empty for a pure number."""
        unit = self.axis.display(units)[1]
        return "" if unit == "1" else unit

    def head(self, units: UnitChoice, of: str = "") -> str:
        """Name, whose it is, and unit: "Pitch angle, softer (deg)"."""
        name, unit = ", ".join(filter(None, (self.axis.label, of))), self.unit(units)
        return f"{name} ({unit})" if unit else name


@dataclass(frozen=True, slots=True, eq=False)
class Recording:
    """What one file holds.

    Attributes:
        title: what it is, in words.
        about: where it comes from.
        columns: of one length; the first is what the others are over.
    """

    title: str
    about: About
    columns: tuple[Column, ...]

    @property
    def over_time(self) -> bool:
        """Whether these are histories."""
        return self.columns[0].axis.kind == "time"
