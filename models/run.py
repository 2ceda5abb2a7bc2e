"""What is driven: over which event and surface, how fast, for how long."""

from __future__ import annotations

from typing import Annotated, Literal

from models.fields import Label, Part, Quantity
from models.manoeuvre import Manoeuvre, Straight
from models.roads import Event, OneMinusCosine, RoughSurface

__all__ = ["Run"]


class Run(Part):
    """One drive, the same for every variant."""

    speed: Annotated[
        float,
        Quantity(
            "speed",
            "Speed",
            "Vehicle speed; the rear wheels meet the road wheelbase / speed later than the front.",
            low=0.5,
            high=120.0,
            typical=(2.0, 50.0),
        ),
    ] = 80 / 3.6
    event: Annotated[Event, Label("Road event", "Road of the time response.")] = OneMinusCosine()
    manoeuvre: Annotated[
        Manoeuvre,
        Label(
            "Manoeuvre",
            "What the driver does. In a turn the weight of the leaning body turns it further about the roll "
            "axis; straight on, and in modes and spectra, the car rolls about its CG without that.",
        ),
    ] = Straight()
    surface: Annotated[
        RoughSurface, Label("Random surface", "Road of the spectra and of the RMS values (ISO 8608).")
    ] = RoughSurface()
    duration: Annotated[
        float,
        Quantity(
            "time",
            "Duration",
            "Length of the time response.",
            low=0.2,
            high=120.0,
            typical=(1.0, 20.0),
        ),
    ] = 4.0
    laws: Annotated[
        Literal["nonlinear", "linear"],
        Label(
            "Time response",
            "Nonlinear: stops, friction, the curves of springs and dampers, wheels that leave the road. "
            "Linear: small motion about the trim of the load case.",
        ),
    ] = "nonlinear"
    model: Annotated[
        Literal["full car", "half car", "half car in roll", "quarter car front", "quarter car rear"],
        Label(
            "Model",
            "Full car of seven degrees of freedom, half car in pitch or roll of four, one corner of two.",
        ),
    ] = "full car"
