"""What the wheels meet: road events as the user describes them.

``start`` is counted along the road from where the front axle stands at time zero.  The road is flat
and at height zero up to there, so that every run begins at rest.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from models.fields import Label, Part, Quantity

__all__ = ["Event", "HalfSine", "OneMinusCosine", "Ramp", "RandomRoad", "Step", "Washboard"]

_Start = Annotated[
    float,
    Quantity(
        "length",
        "Start",
        "Distance from the front axle at time zero to where the event begins.",
        low=0.0,
        high=1000.0,
        typical=(0.0, 20.0),
    ),
]
_Side = Annotated[
    Literal["both sides", "left", "right"],
    Label("Side", "Which wheels meet the event; the others roll flat."),
]
_Height = Annotated[
    float,
    Quantity(
        "travel",
        "Height",
        "Height of the event above the road; negative for a hollow.",
        low=-1.0,
        high=1.0,
        typical=(-0.1, 0.15),
    ),
]
_Length = Annotated[
    float,
    Quantity(
        "length",
        "Length",
        "Length of the event along the road.",
        low=0.01,
        high=1000.0,
        typical=(0.2, 20.0),
    ),
]


class Step(Part):
    """Step up or down; the road stays at the new height."""

    kind: Literal["step"] = "step"
    height: _Height = 0.03
    start: _Start = 5.0
    side: _Side = "both sides"


class Ramp(Part):
    """Straight ramp to a new height, which the road then keeps."""

    kind: Literal["ramp"] = "ramp"
    height: _Height = 0.1
    length: _Length = 3.0
    start: _Start = 5.0
    side: _Side = "both sides"


class HalfSine(Part):
    """Half a sine wave: a bump with a sharp foot, or a pothole if its height is negative."""

    kind: Literal["half-sine bump"] = "half-sine bump"
    height: _Height = 0.05
    length: _Length = 0.5
    start: _Start = 5.0
    side: _Side = "both sides"


class OneMinusCosine(Part):
    """Smooth bump h/2 (1 - cos), or a hollow if its height is negative."""

    kind: Literal["1-cos bump"] = "1-cos bump"
    height: _Height = 0.08
    length: _Length = 5.0
    start: _Start = 5.0
    side: _Side = "both sides"


class Washboard(Part):
    """Sine waves, begun and ended at height zero."""

    kind: Literal["washboard"] = "washboard"
    amplitude: Annotated[
        float,
        Quantity(
            "travel",
            "Amplitude",
            "Half the height from trough to crest.",
            low=0.0,
            high=1.0,
            typical=(0.0, 0.05),
        ),
    ] = 0.015
    wavelength: Annotated[
        float,
        Quantity(
            "length",
            "Wavelength",
            "Distance from crest to crest.",
            low=0.02,
            high=500.0,
            typical=(0.3, 30.0),
        ),
    ] = 5.0
    length: Annotated[
        float,
        Quantity(
            "length",
            "Length",
            "Length of the washboard, rounded to whole waves (one at least).",
            low=0.02,
            high=20e3,
            typical=(5.0, 200.0),
        ),
    ] = 50.0
    start: _Start = 5.0
    side: _Side = "both sides"


class RandomRoad(Part):
    """Stretch of the random surface of the run; the same seed is the same road at every speed."""

    kind: Literal["random road"] = "random road"
    seed: Annotated[
        int,
        Field(ge=0, le=2**31 - 1),
        Label("Seed", "Number that picks one road out of all alike, 0 or above."),
    ] = 1


Event = Annotated[
    Step | Ramp | HalfSine | OneMinusCosine | Washboard | RandomRoad, Field(discriminator="kind")
]
