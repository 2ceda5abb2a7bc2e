"""Load cases: named lists of masses that come on top of the car at design trim."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, StringConstraints

from models.fields import Label, Part, Quantity

__all__ = ["AS_DESIGNED", "Load", "LoadCase"]

_Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=80)]


class Load(Part):
    """One mass at one place."""

    name: Annotated[_Name, Label("Load", "What it is.")] = "load"
    mass: Annotated[
        float,
        Quantity(
            "mass",
            "Mass",
            "Mass on top of the car at design trim; negative for what is missing (fuel, a passenger).",
            low=-2000.0,
            high=10e3,
            typical=(-100.0, 400.0),
        ),
    ] = 75.0
    x: Annotated[
        float,
        Quantity(
            "length",
            "Ahead of front axle",
            "Longitudinal place of the mass; positive ahead of the front axle, negative behind it.",
            low=-20.0,
            high=10.0,
            typical=(-4.5, 1.0),
        ),
    ] = -1.4
    y: Annotated[
        float,
        Quantity(
            "length",
            "Left of centre",
            "Lateral place of the mass; positive to the left.",
            low=-3.0,
            high=3.0,
            typical=(-0.8, 0.8),
        ),
    ] = 0.0
    z: Annotated[
        float,
        Quantity(
            "length",
            "Height",
            "Height of the mass above the ground at design trim.",
            low=0.0,
            high=5.0,
            typical=(0.2, 1.5),
        ),
    ] = 0.6


class LoadCase(Part):
    """What the car carries."""

    name: Annotated[_Name, Label("Load case", "Name of the load case.")] = "load case"
    loads: Annotated[
        tuple[Load, ...],
        Field(max_length=50),
        Label("Loads", "Masses on top of the car at design trim."),
    ] = ()


#: The car as its data describe it, at design trim.
AS_DESIGNED = LoadCase(name="as designed")
