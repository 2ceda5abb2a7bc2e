"""In what a study judges the car: load case, road and speed."""

from __future__ import annotations

from models.fields import Part
from models.target import AtSpeed, InLoadCase, OnRoad

__all__ = ["Situation"]


class Situation(Part):
    """Load case, road and speed; what is not said is that of the project and its run."""

    load_case: InLoadCase = ""
    road_class: OnRoad = ""
    speed: AtSpeed = None

    @property
    def scope(self) -> tuple[str, str, float | None]:
        """The same as of a target."""
        return self.load_case, self.road_class, self.speed
