"""Lives of the parts of candidate and baseline, side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from models.hardware import Hardware
from models.judge.fatigue import Life
from models.judge.figure import Figure
from models.judge.road_loads import RoadLoads
from models.judge.steel_life import (
    FatiguePart,
    fatigue_parts,
    left_out,
    steel_life_figures,
    steel_lives,
)
from models.vehicle import Vehicle

__all__ = ["Driven", "Lives", "PartLife", "part_lives"]

#: Loads of the mix, the car that drove, and its parts.
Driven = tuple[Sequence[RoadLoads], Vehicle, Hardware]


@dataclass(frozen=True, slots=True, eq=False)
class PartLife:
    """Life of one part on one side.

    Attributes:
        part: which.
        life: of the candidate.
        baseline: that of the same part of the baseline, where it has one.
        figures: of the candidate, by key.
    """

    part: FatiguePart
    life: Life
    baseline: Life | None
    figures: dict[str, Figure]

    @property
    def key(self) -> tuple[str, str]:
        """Place and side."""
        return self.part.place, self.part.side


@dataclass(frozen=True, slots=True, eq=False)
class Lives:
    """All parts, and sentences on those that get no life."""

    parts: tuple[PartLife, ...]
    left_out: tuple[str, ...]


def part_lives(candidate: Driven, baseline: Driven | None = None) -> Lives:
    """Lives of the candidate's parts, and of the same parts of the baseline."""
    others = {} if baseline is None else {(part.place, part.side): life for part, life in _lives(baseline)}
    return Lives(
        tuple(
            PartLife(
                part,
                life,
                others.get((part.place, part.side)),
                {figure.key: figure for figure in steel_life_figures(part, life)},
            )
            for part, life in _lives(candidate)
        ),
        left_out(*candidate[1:]),
    )


def _lives(driven: Driven) -> list[tuple[FatiguePart, Life]]:
    return list(zip(fatigue_parts(*driven[1:]), steel_lives(*driven), strict=True))
