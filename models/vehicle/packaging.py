"""Where the car comes near to the ground, and how far its levers and links may turn."""

from __future__ import annotations

from math import radians
from typing import Annotated

from pydantic import Field, StringConstraints

from models.fields import Label, Part, Quantity

__all__ = ["ClearancePoint", "Packaging"]

_Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=40)]


class ClearancePoint(Part):
    """A point under the body that must keep clear of the ground."""

    name: Annotated[_Name, Label("Point", "What it is.")] = "point"
    x: Annotated[
        float,
        Quantity(
            "length",
            "Ahead of front axle",
            "Longitudinal place of the point; positive ahead of the front axle, negative behind it.",
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
            "Lateral place of the point; positive to the left.",
            low=-3.0,
            high=3.0,
            typical=(-0.8, 0.8),
        ),
    ] = 0.0
    height: Annotated[
        float,
        Quantity(
            "travel",
            "Height",
            "Height of the point above the ground at design trim.",
            low=0.0,
            high=3.0,
            typical=(0.1, 0.4),
        ),
    ] = 0.16
    required: Annotated[
        float,
        Quantity(
            "travel",
            "Required clearance",
            "Clearance that every load case and the run must leave under the point.",
            low=0.0,
            high=3.0,
            typical=(0.05, 0.25),
        ),
    ] = 0.1


class Packaging(Part):
    """Limits in space: points under the body, levers and links."""

    lever_angle_limit: Annotated[
        float,
        Quantity(
            "angle",
            "Lever angle limit",
            "Greatest angle of a bar's lever over the whole wheel travel: above or below the horizontal "
            "where the wheel lifts it, from where it stands at design trim where links turn it.",
            low=radians(5.0),
            high=radians(80.0),
            typical=(radians(20.0), radians(60.0)),
        ),
    ] = 45 * radians(1.0)  # the bits of "45 deg"
    link_angle_limit: Annotated[
        float,
        Quantity(
            "angle",
            "Least link angle",
            "Least angle between a drop link and its lever over the whole wheel travel; square is best, "
            "in line is the toggle.",
            low=0.0,
            high=radians(90.0),
            typical=(radians(30.0), radians(60.0)),
        ),
    ] = 40 * radians(1.0)
    points: Annotated[
        tuple[ClearancePoint, ...],
        Field(max_length=30),
        Label(
            "Clearance points",
            "Points under the body that must keep clear of the ground; those ahead of the front axle and "
            "behind the rear one give the approach and departure angles.",
        ),
    ] = (
        ClearancePoint(name="front lip", x=0.78, height=0.19, required=0.12),
        ClearancePoint(name="sump", x=-0.25, height=0.165, required=0.1),
        ClearancePoint(name="floor", x=-1.45, height=0.18, required=0.1),
        ClearancePoint(name="exhaust", x=-2.35, y=-0.3, height=0.17, required=0.1),
        ClearancePoint(name="rear lip", x=-3.75, height=0.26, required=0.14),
    )
