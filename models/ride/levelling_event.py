"""A minute in the life of a levelling: a load is put in, the car is driven, the load is taken out."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from models.fields import Label, Part, Quantity
from models.roads import ROAD_CLASSES, RoughSurface

__all__ = ["LevellingEvent"]


def _time(label: str, meaning: str, low: float, typical: tuple[float, float]) -> Quantity:
    return Quantity("time", label, meaning, low=low, high=1800.0, typical=typical)


class LevellingEvent(Part):
    """When the load goes in and out, and where the car drives in between."""

    load_at: Annotated[float, _time("Load at", "When loading begins.", 0.0, (0.0, 20.0))] = 2.0
    loading_time: Annotated[
        float,
        _time("Loading time", "Time in which the load comes on, and later off, steadily.", 0.05, (0.5, 20.0)),
    ] = 3.0
    drive_from: Annotated[float, _time("Drive from", "When the car sets off.", 0.0, (0.0, 60.0))] = 30.0
    drive_to: Annotated[float, _time("Drive to", "When the car stands again.", 0.0, (0.0, 90.0))] = 45.0
    unload_at: Annotated[float, _time("Unload at", "When unloading begins.", 0.0, (0.0, 120.0))] = 48.0
    duration: Annotated[float, _time("Duration", "Length of the event.", 1.0, (10.0, 180.0))] = 85.0
    speed: Annotated[
        float,
        Quantity("speed", "Speed", "Speed of the drive between.", low=0.5, high=120.0, typical=(2.0, 50.0)),
    ] = 80 / 3.6
    road: Annotated[
        Literal["A", "B", "C", "D", "E", "F", "G", "H"],
        Label("Road class", "ISO 8608 class of the road that is driven, the middle of the class."),
    ] = "C"
    seed: Annotated[
        int, Field(ge=0, le=2**31 - 1), Label("Seed", "Number that picks one road out of all alike.")
    ] = 1

    @model_validator(mode="after")
    def _one_after_the_other(self) -> Self:
        order = (
            ("Drive from", self.drive_from, "end of loading", self.load_at + self.loading_time),
            ("Drive to", self.drive_to, "start of the drive", self.drive_from),
            ("Unload at", self.unload_at, "end of the drive", self.drive_to),
            ("Duration", self.duration, "end of unloading", self.unload_at + self.loading_time),
        )
        for name, value, before, at in order:
            if value < at - 1e-9:
                raise PydanticCustomError(
                    "rule",
                    "{name}: {value} s is outside the allowed range (the {before}, {at} s, or later)",
                    {"name": name, "value": f"{value:.6g}", "before": before, "at": f"{at:.6g}"},
                )
        return self

    @property
    def surface(self) -> RoughSurface:
        """Road of the drive."""
        return RoughSurface(roughness=ROAD_CLASSES[self.road])
