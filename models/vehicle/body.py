"""The sprung mass and the place of the driver in it."""

from __future__ import annotations

from typing import Annotated

from models.fields import Label, Part, Quantity
from models.vehicle.inertia import InertiaFromGyration, MeasuredInertia, PitchInertia, RollInertia

__all__ = ["Body", "Occupant", "Seat"]


class Body(Part):
    """Sprung mass, its inertias and its centre of gravity (CG)."""

    mass: Annotated[
        float,
        Quantity(
            "mass",
            "Sprung mass",
            "Mass of body and load carried by the springs.",
            low=10.0,
            high=50e3,
            typical=(400.0, 3500.0),
        ),
    ] = 1700.0
    cg_to_front_axle: Annotated[
        float,
        Quantity(
            "length",
            "CG to front axle",
            "Distance a from the front axle back to the CG of the sprung mass.",
            low=0.05,
            high=10.0,
            typical=(0.8, 2.2),
        ),
    ] = 1.45
    cg_height: Annotated[
        float,
        Quantity(
            "length",
            "CG height",
            "Height of the CG of the sprung mass above the ground at design trim.",
            low=0.05,
            high=4.0,
            typical=(0.3, 1.2),
        ),
    ] = 0.55
    roll_inertia: Annotated[
        RollInertia, Label("Roll inertia", "Inertia about the x axis through the CG.")
    ] = InertiaFromGyration(radius=0.6)
    pitch_inertia: Annotated[
        PitchInertia, Label("Pitch inertia", "Inertia about the y axis through the CG.")
    ] = MeasuredInertia(value=2900.0)


class Occupant(Part):
    """Driver on the seat cushion, as one more degree of freedom; a mass of 0 leaves it out."""

    mass: Annotated[
        float,
        Quantity(
            "mass",
            "Occupant mass",
            "Mass that rests on the cushion (about three quarters of a person); 0 = no occupant.",
            low=0.0,
            high=300.0,
            typical=(0.0, 120.0),
        ),
    ] = 0.0
    cushion_rate: Annotated[
        float,
        Quantity(
            "rate",
            "Cushion rate",
            "Stiffness of the seat cushion under the occupant.",
            low=1e3,
            high=1e7,
            typical=(5e3, 200e3),
        ),
    ] = 50e3
    cushion_damping: Annotated[
        float,
        Quantity(
            "damping",
            "Cushion damping",
            "Damping coefficient of the seat cushion.",
            low=0.0,
            high=1e5,
            typical=(0.0, 3000.0),
        ),
    ] = 800.0


class Seat(Part):
    """Place of the driver's seat, measured from the CG (x, y) and from the ground (height)."""

    x: Annotated[
        float,
        Quantity(
            "length",
            "Seat ahead of CG",
            "Longitudinal place of the driver's hip point; positive ahead of the CG.",
            low=-10.0,
            high=10.0,
            typical=(-1.5, 1.5),
        ),
    ] = 0.1
    y: Annotated[
        float,
        Quantity(
            "length",
            "Seat left of centre",
            "Lateral place of the driver's hip point; positive to the left.",
            low=-3.0,
            high=3.0,
            typical=(-0.8, 0.8),
        ),
    ] = 0.37
    height: Annotated[
        float,
        Quantity(
            "length",
            "Seat height",
            "Height of the driver's hip point above the ground at design trim.",
            low=0.05,
            high=5.0,
            typical=(0.3, 1.0),
        ),
    ] = 0.55
    occupant: Annotated[Occupant, Label("Occupant", "Driver on the cushion, if he is to move on it.")] = (
        Occupant()
    )
