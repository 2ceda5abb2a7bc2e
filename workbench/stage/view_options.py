"""What the stage shows beside the candidate; choices of the user."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

__all__ = ["ARRANGEMENTS", "FORCES", "Arrangement", "Forces", "ViewOptions"]

Arrangement = Literal["overlaid", "behind"]
Forces = Literal["none", "change", "whole"]

ARRANGEMENTS: tuple[Arrangement, ...] = ("overlaid", "behind")
FORCES: tuple[Forces, ...] = ("none", "change", "whole")


@dataclass(frozen=True, slots=True)
class ViewOptions:
    """Choices of the view.

    Attributes:
        ghost: whether the baseline is there at all.
        arrangement: the baseline over the candidate as an outline, or behind it in full.
        horizon: whether the view through both windscreens is shown.
        trace: whether the path of the seat point is drawn.
        forces: arrows of the forces: none, their change from rest, or whole.
        room: whether travel to the stops and ground clearance are shown.
    """

    ghost: bool = True
    arrangement: Arrangement = "overlaid"
    horizon: bool = True
    trace: bool = False
    forces: Forces = "none"
    room: bool = False

    def words(self) -> list[str]:
        """The choices as words for a settings file."""
        parts = (
            self.arrangement,
            "ghost" if self.ghost else "",
            "horizon" if self.horizon else "",
            "trace" if self.trace else "",
            f"forces {self.forces}",
            "room" if self.room else "",
        )
        return [word for word in parts if word]

    @staticmethod
    def from_words(words: Iterable[str]) -> ViewOptions:
        """What :meth:`words` wrote; what is unknown counts as the default."""
        known = set(words)
        usual = ViewOptions()
        return ViewOptions(
            ghost="ghost" in known,
            arrangement=next((name for name in ARRANGEMENTS if name in known), usual.arrangement),
            horizon="horizon" in known,
            trace="trace" in known,
            forces=next((name for name in FORCES if f"forces {name}" in known), usual.forces),
            room="room" in known,
        )
