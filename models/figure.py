"""One figure of a result: a number with its unit and meaning."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["Better", "Figure"]

Better = Literal["lower", "higher", "none"]


@dataclass(frozen=True, slots=True)
class Figure:
    """One number with its unit and meaning.

    Attributes:
        key: stable name in files and on the command line.
        label: name for a reader.
        value: SI.
        kind: key in :data:`models.units.KINDS`.
        meaning: one line, words and formula.
        better: which way is better as a rule; "none" where that depends on the car.
        group: group that it is read in; empty for a figure that stands alone.
    """

    key: str
    label: str
    value: float
    kind: str
    meaning: str
    better: Better = "none"
    group: str = ""

    def explained(self, unit: str) -> str:
        """Name with the unit that it is shown in, words and formula, and which way is better."""
        name = self.label if unit == "1" else f"{self.label}, {unit}"
        better = "" if self.better == "none" else f"\n{self.better.capitalize()} is better as a rule."
        return f"{name}\n{self.meaning}{better}"
