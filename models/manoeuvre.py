"""What the driver does during the run: nothing, brake, accelerate, corner, or brake in a turn."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from models.fields import Part, Quantity

__all__ = ["Accelerate", "Brake", "BrakeInTurn", "Corner", "Manoeuvre", "Straight"]

_Start = Annotated[
    float,
    Quantity(
        "time", "Manoeuvre start", "When the manoeuvre begins.", low=0.0, high=120.0, typical=(0.0, 5.0)
    ),
]
_Onset = Annotated[
    float,
    Quantity(
        "time",
        "Onset",
        "Time in which the acceleration builds up, and later fades, as a half cosine.",
        low=0.01,
        high=30.0,
        typical=(0.1, 2.0),
    ),
]
_Hold = Annotated[
    float,
    Quantity(
        "time",
        "Hold",
        "Time for which the full acceleration is held.",
        low=0.0,
        high=120.0,
        typical=(0.0, 10.0),
    ),
]
_Along = Annotated[
    float,
    Quantity(
        "acceleration",
        "Longitudinal acceleration",
        "Size of the acceleration along the car.",
        low=0.0,
        high=20.0,
        typical=(0.0, 10.0),
    ),
]
_Across = Annotated[
    float,
    Quantity(
        "acceleration",
        "Lateral acceleration",
        "Acceleration across the car; positive to the left (a left turn).",
        low=-20.0,
        high=20.0,
        typical=(-8.0, 8.0),
    ),
]


class Straight(Part):
    """Steady speed, straight on."""

    kind: Literal["straight on"] = "straight on"


class Brake(Part):
    """Braking in a straight line."""

    kind: Literal["brake"] = "brake"
    longitudinal: _Along = 5.0
    start: _Start = 0.5
    onset: _Onset = 0.3
    hold: _Hold = 10.0


class Accelerate(Part):
    """Accelerating in a straight line."""

    kind: Literal["accelerate"] = "accelerate"
    longitudinal: _Along = 3.0
    start: _Start = 0.5
    onset: _Onset = 0.3
    hold: _Hold = 10.0


class Corner(Part):
    """Cornering; a hold longer than the run is a steady turn, a short one a lane-change-like pulse."""

    kind: Literal["corner"] = "corner"
    lateral: _Across = 4.0
    start: _Start = 0.5
    onset: _Onset = 0.5
    hold: _Hold = 10.0


class BrakeInTurn(Part):
    """Braking while cornering, both at the same time."""

    kind: Literal["brake in turn"] = "brake in turn"
    longitudinal: _Along = 4.0
    lateral: _Across = 4.0
    start: _Start = 0.5
    onset: _Onset = 0.5
    hold: _Hold = 10.0


Manoeuvre = Annotated[Straight | Brake | Accelerate | Corner | BrakeInTurn, Field(discriminator="kind")]
