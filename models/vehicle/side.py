"""What joins the front and rear wheels of one side, and what trims them."""

from __future__ import annotations

from typing import Annotated, Literal

from models.fields import Label, Part, Quantity

__all__ = ["Side", "TorsionCoupling", "TrimSpring"]


class TorsionCoupling(Part):
    """Longitudinal torsion bar with a lever at each end; a rate of 0 means none fitted."""

    bar_rate: Annotated[
        float,
        Quantity(
            "torsional rate",
            "Interconnection bar rate",
            "Torque per twist of the bar that joins the front and rear wheel of a side; 0 = no bar.",
            low=0.0,
            high=1e6,
            typical=(0.0, 3000.0),
            prominent=True,
        ),
    ] = 0.0
    front_lever_ratio: Annotated[
        float,
        Quantity(
            "lever ratio",
            "Front lever ratio",
            "Bar-end angle per front wheel travel; 1 / lever length for a lever at the wheel.",
            low=0.05,
            high=50.0,
            typical=(1.0, 6.0),
        ),
    ] = 1 / 0.35
    rear_lever_ratio: Annotated[
        float,
        Quantity(
            "lever ratio",
            "Rear lever ratio",
            "Bar-end angle per rear wheel travel; 1 / lever length for a lever at the wheel.",
            low=0.05,
            high=50.0,
            typical=(1.0, 6.0),
        ),
    ] = 1 / 0.35
    sense: Annotated[
        Literal["levelling", "pitch stiffening"],
        Label(
            "Sense",
            "Levelling: jounce at one end lifts the other end, so pitch is soft. "
            "Pitch stiffening: the opposite.",
        ),
    ] = "levelling"


class TrimSpring(Part):
    """Torsion spring between one wheel of the side and the body that holds the attitude; 0 = none."""

    axle: Annotated[Literal["front", "rear"], Label("At", "Axle whose wheel the trim spring holds.")] = "rear"
    bar_rate: Annotated[
        float,
        Quantity(
            "torsional rate",
            "Trim spring rate",
            "Torque per twist of the trim spring; 0 = none.",
            low=0.0,
            high=1e6,
            typical=(0.0, 1500.0),
        ),
    ] = 0.0
    lever_ratio: Annotated[
        float,
        Quantity(
            "lever ratio",
            "Trim lever ratio",
            "Twist of the trim spring per wheel travel.",
            low=0.05,
            high=50.0,
            typical=(1.0, 6.0),
        ),
    ] = 1 / 0.35


class Side(Part):
    """Left or right side of the car."""

    coupling: Annotated[
        TorsionCoupling, Label("Interconnection", "Torsion bar that joins front and rear wheel of the side.")
    ] = TorsionCoupling()
    trim: Annotated[TrimSpring, Label("Trim spring", "Soft spring that holds the attitude of the side.")] = (
        TrimSpring()
    )
