"""One key figure."""

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
    """

    key: str
    label: str
    value: float
    kind: str
    meaning: str
    better: Better = "none"
