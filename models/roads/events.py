"""What the wheels meet: road events as the user describes them.

``start`` is counted along the road from where the front axle stands at time zero.  The road is flat
and at height zero up to there, so that every run begins at rest.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints, ValidationInfo, field_validator
from pydantic_core import PydanticCustomError

from models.fields import Label, Part, Quantity
from models.roads.samples import Samples, heights_of

__all__ = [
    "Event",
    "HalfSine",
    "MeasuredRoad",
    "OneMinusCosine",
    "Ramp",
    "RandomRoad",
    "SineSweep",
    "Step",
    "Washboard",
]

_Text = Annotated[str, StringConstraints(strip_whitespace=True, max_length=400)]

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


class MeasuredRoad(Part):
    """Heights of two tracks that were measured, at equal steps, as an import has prepared them.

    The file keeps the heights themselves, so that nothing is lost when the file they came from moves.  The
    road is blended in over its first metres and out over its last, from and to height zero.
    """

    kind: Literal["measured road"] = "measured road"
    name: Annotated[_Text, Label("Road", "What was measured, or the file of it.")] = "flat, none imported"
    note: Annotated[_Text, Label("Prepared", "What the import has done to the heights.")] = ""
    step: Annotated[
        float,
        Quantity(
            "length",
            "Step",
            "Distance between two heights; another one stretches the road.",
            low=0.001,
            high=5.0,
            typical=(0.01, 0.3),
        ),
    ] = 0.1
    passes: Annotated[
        int,
        Field(ge=1, le=1000),
        Label(
            "Passes",
            "How often it is driven, 1 to 1000; every second time backwards, so that ends meet.",
        ),
    ] = 1
    blend: Annotated[
        float,
        Quantity(
            "length",
            "Blended over",
            "Distance over which the road rises from height zero at its start, and falls back at its end.",
            low=0.0,
            high=50.0,
            typical=(0.0, 5.0),
        ),
    ] = 1.0
    start: _Start = 5.0
    left: Annotated[Samples, Label("Left track", "Heights in mm.", hidden=True)] = "0 0"
    right: Annotated[Samples, Label("Right track", "Heights in mm.", hidden=True)] = "0 0"

    @field_validator("right")
    @classmethod
    def _as_many_as_left(cls, right: str, info: ValidationInfo) -> str:
        left: str | None = info.data.get("left")
        if left is not None and len(heights_of(left)) != len(heights_of(right)):
            raise PydanticCustomError(
                "rule",
                "{right} heights stand beside {left} of the left track; both need as many",
                {"right": len(heights_of(right)), "left": len(heights_of(left))},
            )
        return right

    @property
    def length(self) -> float:
        """Length of all passes, m."""
        return self.passes * (len(heights_of(self.left)) - 1) * self.step


class SineSweep(Part):
    """Sine under all wheels at once, as on a rig of four posts: over time, not along the road.

    Frequency and amplitude run from their start to their end values in equal ratios per second.
    """

    kind: Literal["sine sweep"] = "sine sweep"
    mode: Annotated[
        Literal["heave", "roll", "pitch", "warp"],
        Label(
            "Mode",
            "Wheels that rise together: all; left against right; rear against front; one diagonal against "
            "the other.",
        ),
    ] = "heave"
    start_frequency: Annotated[
        float,
        Quantity("frequency", "Start frequency", "At the start.", low=0.05, high=100.0, typical=(0.2, 5.0)),
    ] = 0.5
    end_frequency: Annotated[
        float,
        Quantity("frequency", "End frequency", "At the end.", low=0.05, high=100.0, typical=(5.0, 30.0)),
    ] = 20.0
    start_amplitude: Annotated[
        float,
        Quantity(
            "travel",
            "Start amplitude",
            "Rise of each wheel at the start frequency.",
            low=1e-5,
            high=0.5,
            typical=(0.001, 0.05),
        ),
    ] = 0.02
    end_amplitude: Annotated[
        float,
        Quantity(
            "travel",
            "End amplitude",
            "Rise of each wheel at the end frequency; less by the ratio of the frequencies keeps the wheel "
            "speed.",
            low=1e-5,
            high=0.5,
            typical=(0.0001, 0.02),
        ),
    ] = 0.0005
    duration: Annotated[
        float,
        Quantity(
            "time",
            "Sweep time",
            "From start to end frequency; the run has to last as long to see all of it.",
            low=0.5,
            high=120.0,
            typical=(2.0, 60.0),
        ),
    ] = 20.0


Event = Annotated[
    Step | Ramp | HalfSine | OneMinusCosine | Washboard | RandomRoad | MeasuredRoad | SineSweep,
    Field(discriminator="kind"),
]
