"""In what a study judges the car: load case, road and speed."""

from __future__ import annotations

from typing import Annotated

from pydantic import StringConstraints

from models.fields import Label, Part, Quantity
from models.target import RoadClass

__all__ = ["Situation"]


class Situation(Part):
    """Load case, road and speed; what is not said is that of the project and its run."""

    load_case: Annotated[
        Annotated[str, StringConstraints(max_length=80)],
        Label("Load case", "Load case; empty: that of the project."),
    ] = ""
    road_class: Annotated[RoadClass, Label("Road class", "ISO 8608; empty: surface of the run.")] = ""
    speed: (
        Annotated[
            float,
            Quantity(
                "speed", "Speed", "Speed; none: that of the run.", low=0.5, high=120.0, typical=(2.0, 50.0)
            ),
        ]
        | None
    ) = None

    @property
    def scope(self) -> tuple[str, str, float | None]:
        """The same as of a target."""
        return self.load_case, self.road_class, self.speed
