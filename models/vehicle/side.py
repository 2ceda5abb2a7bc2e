"""What joins the front and rear wheels of one side, and what trims them."""

from __future__ import annotations

from math import radians
from typing import Annotated, Literal

from pydantic import Field

from models.fields import Label, Part, Quantity
from models.linkage import Linkage

__all__ = ["DiagonalCoupling", "FluidCoupling", "Side", "TorsionCoupling", "TrimSpring"]

_STEEP = radians(60.0)


def _lever_angle(label: str) -> Quantity:
    return Quantity(
        "angle",
        label,
        "Angle of the lever above the horizontal at design trim; above 0 its end at the wheel is higher than "
        "its pivot, and the torque of the bar adds to the wheel rate.",
        low=-_STEEP,
        high=_STEEP,
        typical=(radians(-30.0), radians(30.0)),
    )


def _linkage(label: str, replaces: str) -> Label:
    return Label(
        label,
        "Arm, rockers and links from the wheel to the bar, which then turns as their geometry says; takes "
        f"the place of {replaces}.",
    )


class TorsionCoupling(Part):
    """Longitudinal torsion bar with a lever at each end; a rate of 0 means none fitted."""

    kind: Literal["torsion bar"] = "torsion bar"
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
            "Bar-end angle per front wheel travel at design trim; 1 / lever length for a level lever at the "
            "wheel.",
            low=0.05,
            high=50.0,
            typical=(1.0, 6.0),
        ),
    ] = 2.5
    front_lever_angle: Annotated[float, _lever_angle("Front lever angle")] = 0.0
    front_linkage: Annotated[Linkage, _linkage("Front linkage", "front lever ratio and angle")] = None
    rear_lever_ratio: Annotated[
        float,
        Quantity(
            "lever ratio",
            "Rear lever ratio",
            "Bar-end angle per rear wheel travel at design trim; 1 / lever length for a level lever at the "
            "wheel.",
            low=0.05,
            high=50.0,
            typical=(1.0, 6.0),
        ),
    ] = 2.5
    rear_lever_angle: Annotated[float, _lever_angle("Rear lever angle")] = 0.0
    rear_linkage: Annotated[Linkage, _linkage("Rear linkage", "rear lever ratio and angle")] = None
    sense: Annotated[
        Literal["levelling", "pitch stiffening"],
        Label(
            "Sense",
            "Levelling: jounce at one end lifts the other end, so pitch is soft. "
            "Pitch stiffening: the opposite.",
        ),
    ] = "levelling"


class FluidCoupling(Part):
    """Fluid that both wheels of a side displace into one gas accumulator: p = p0 (V0 / V)^n.

    The static pressure p0 is set by trim; the line's restriction damps the flow.
    """

    kind: Literal["fluid and gas"] = "fluid and gas"
    front_area: Annotated[
        float,
        Quantity(
            "area",
            "Front area",
            "Volume displaced per front wheel travel.",
            low=1e-5,
            high=0.1,
            typical=(3e-4, 0.01),
        ),
    ] = 0.002
    rear_area: Annotated[
        float,
        Quantity(
            "area",
            "Rear area",
            "Volume displaced per rear wheel travel.",
            low=1e-5,
            high=0.1,
            typical=(3e-4, 0.01),
        ),
    ] = 0.002
    volume: Annotated[
        float,
        Quantity(
            "volume",
            "Gas volume",
            "Gas volume of the accumulator at design trim.",
            low=1e-6,
            high=0.1,
            typical=(2e-4, 0.01),
        ),
    ] = 0.0025
    exponent: Annotated[
        float,
        Quantity(
            "ratio",
            "Polytropic exponent",
            "n of p V^n = constant: 1 is slow (isothermal), 1.4 is fast (adiabatic).",
            low=1.0,
            high=1.7,
            typical=(1.0, 1.4),
        ),
    ] = 1.3
    resistance: Annotated[
        float,
        Quantity(
            "flow resistance",
            "Line resistance",
            "Pressure lost in the line per flow into the accumulator.",
            low=0.0,
            high=1e12,
            typical=(0.0, 2e9),
        ),
    ] = 0.0


Coupling = Annotated[TorsionCoupling | FluidCoupling, Field(discriminator="kind")]


class DiagonalCoupling(Part):
    """Coupling of the diagonals, which acts in warp; a rate of 0 means none fitted.

    Jounce at FL and RR winds it one way, jounce at FR and RL the other.
    """

    bar_rate: Annotated[
        float,
        Quantity(
            "torsional rate",
            "Diagonal bar rate",
            "Torque per twist of the warp coupling; 0 = none.",
            low=0.0,
            high=1e6,
            typical=(0.0, 2000.0),
        ),
    ] = 0.0
    front_lever_ratio: Annotated[
        float,
        Quantity(
            "lever ratio",
            "Front lever ratio",
            "Twist of the coupling per front wheel travel.",
            low=0.05,
            high=50.0,
            typical=(1.0, 6.0),
        ),
    ] = 2.5
    rear_lever_ratio: Annotated[
        float,
        Quantity(
            "lever ratio",
            "Rear lever ratio",
            "Twist of the coupling per rear wheel travel.",
            low=0.05,
            high=50.0,
            typical=(1.0, 6.0),
        ),
    ] = 2.5


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
            "Twist of the trim spring per wheel travel at design trim.",
            low=0.05,
            high=50.0,
            typical=(1.0, 6.0),
        ),
    ] = 2.5
    lever_angle: Annotated[float, _lever_angle("Trim lever angle")] = 0.0
    linkage: Annotated[Linkage, _linkage("Trim linkage", "trim lever ratio and angle")] = None


class Side(Part):
    """Left or right side of the car."""

    coupling: Annotated[
        Coupling, Label("Interconnection", "What joins the front and rear wheel of the side.")
    ] = TorsionCoupling()
    trim: Annotated[TrimSpring, Label("Trim spring", "Soft spring that holds the attitude of the side.")] = (
        TrimSpring()
    )
