"""An axle: wheels, springs, dampers, stabiliser bar and tyres of the front or the rear."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from models.fields import Label, Part, Quantity
from models.linkage import Linkage
from models.vehicle.damper import CornerDamper, Damper
from models.vehicle.geometry import AxleGeometry
from models.vehicle.spring import CornerSpring, Spring
from models.vehicle.stop import Friction, Stop

__all__ = ["Axle", "IndependentWheels", "SolidAxle", "Stabiliser", "Tyre", "Wheels", "converted_wheels"]


class IndependentWheels(Part):
    """Two wheels that move without each other."""

    kind: Literal["independent"] = "independent"
    unsprung_mass: Annotated[
        float,
        Quantity(
            "mass",
            "Unsprung mass per wheel",
            "Mass that moves with one wheel.",
            low=0.1,
            high=3000.0,
            typical=(15.0, 90.0),
        ),
    ] = 45.0


class SolidAxle(Part):
    """A beam that joins both wheels."""

    kind: Literal["solid axle"] = "solid axle"
    mass: Annotated[
        float,
        Quantity(
            "mass",
            "Mass of the whole axle",
            "Mass of beam, hubs, wheels and what moves with them, both sides together.",
            low=0.2,
            high=6000.0,
            typical=(30.0, 250.0),
        ),
    ] = 110.0
    roll_inertia: Annotated[
        float,
        Quantity(
            "moment of inertia",
            "Axle roll inertia",
            "Inertia of the whole axle about its own longitudinal axis.",
            low=0.01,
            high=1e4,
            typical=(5.0, 100.0),
        ),
    ] = 35.0
    spring_spacing: Annotated[
        float,
        Quantity(
            "length",
            "Spring spacing",
            "Lateral distance between the left and right springs (and dampers) on the axle.",
            low=0.05,
            high=4.0,
            typical=(0.6, 1.4),
        ),
    ] = 1.0


Wheels = Annotated[IndependentWheels | SolidAxle, Field(discriminator="kind")]


class Stabiliser(Part):
    """A bar that joins left and right and twists in roll only; a rate of 0 means none fitted."""

    bar_rate: Annotated[
        float,
        Quantity(
            "torsional rate",
            "Stabiliser bar rate",
            "Torque per twist between the two lever ends; 0 = no bar.",
            low=0.0,
            high=1e6,
            typical=(0.0, 3000.0),
        ),
    ] = 0.0
    lever_ratio: Annotated[
        float,
        Quantity(
            "lever ratio",
            "Stabiliser lever ratio",
            "Lever angle per wheel travel; 1 / lever length for a lever at the wheel.",
            low=0.1,
            high=50.0,
            typical=(1.0, 8.0),
        ),
    ] = 3.5
    linkage: Annotated[
        Linkage,
        Label(
            "Stabiliser linkage",
            "Arm, links and lever from the wheel to the bar, whose end then turns as their geometry says; "
            "takes the place of the stabiliser lever ratio.",
        ),
    ] = None


class Tyre(Part):
    """Vertical stiffness and damping of one tyre."""

    rate: Annotated[
        float,
        Quantity(
            "rate",
            "Tyre rate",
            "Vertical stiffness of one tyre.",
            low=1e3,
            high=1e9,
            typical=(100e3, 400e3),
        ),
    ] = 200e3
    damping: Annotated[
        float,
        Quantity(
            "damping",
            "Tyre damping",
            "Vertical damping coefficient of one tyre.",
            low=0.0,
            high=1e5,
            typical=(0.0, 500.0),
        ),
    ] = 50.0
    radius: Annotated[
        float,
        Quantity(
            "length",
            "Loaded radius",
            "Height of the wheel centre above the ground at design load.",
            low=0.05,
            high=2.0,
            typical=(0.2, 0.5),
        ),
    ] = 0.31


class Axle(Part):
    """Front or rear axle; left and right are alike."""

    track: Annotated[
        float,
        Quantity(
            "length",
            "Track",
            "Lateral distance between the two tyre contact points.",
            low=0.2,
            high=5.0,
            typical=(1.0, 2.0),
        ),
    ] = 1.5
    wheels: Annotated[Wheels, Label("Wheels", "Independent wheels, or one solid axle.")] = IndependentWheels()
    spring: Annotated[CornerSpring, Label("Springs", "Corner spring, left and right alike.")] = Spring()
    damper: Annotated[CornerDamper, Label("Dampers", "Corner damper, left and right alike.")] = Damper()
    bump_stop: Annotated[Stop, Label("Bump stop", "Stop that ends the travel in jounce.")] = Stop()
    rebound_stop: Annotated[Stop, Label("Rebound stop", "Stop that ends the travel in rebound.")] = Stop()
    friction: Annotated[Friction, Label("Friction", "Dry friction of one corner.")] = Friction()
    stabiliser: Annotated[
        Stabiliser, Label("Stabiliser bar", "Bar between left and right that resists roll.")
    ] = Stabiliser()
    tyre: Annotated[Tyre, Label("Tyres", "Tyre, left and right alike.")] = Tyre()
    geometry: Annotated[
        AxleGeometry, Label("Geometry", "Roll centre, and support in braking and driving.")
    ] = AxleGeometry()


def converted_wheels(
    wheels: IndependentWheels | SolidAxle, kind: Literal["independent", "solid axle"], track: float
) -> IndependentWheels | SolidAxle:
    """Wheels of another kind with the same total mass.

    A new solid axle is the usual one scaled: its radius of gyration and spring spacing keep their share
    of a track of 1.5 m.

    Args:
        wheels: the present wheels.
        kind: the kind wanted.
        track: track of the axle, m.
    """
    if kind == wheels.kind:
        return wheels
    if isinstance(wheels, SolidAxle):
        return IndependentWheels(unsprung_mass=wheels.mass / 2)
    usual, scale = SolidAxle(), track / Axle.model_fields["track"].default
    mass = 2 * wheels.unsprung_mass
    inertia = usual.roll_inertia * (mass / usual.mass) * scale**2
    return SolidAxle(
        mass=mass,
        roll_inertia=min(max(inertia, 0.01), 1e4),  # the ends of its allowed range
        spring_spacing=min(max(usual.spring_spacing * scale, 0.05), track),
    )
