"""Chains of rockers and links from a wheel to a bar, as the user describes them.

Axes follow ISO 8855: x forward, y left, z up, from the wheel centre (of the axle) at design trim; the left
side is described, the right side is its mirror image.  Points are where they are at design trim; the lengths
of the links follow from them.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

import numpy as np
from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from models.errors import InputError
from models.fields import Label, Part, Quantity
from models.linkage.solve import Body
from models.linkage.travel import travel_table
from models.linkage.vectors import Array

__all__ = [
    "LINKAGES",
    "Arm",
    "Axis",
    "BarLever",
    "Chain",
    "DirectLever",
    "Linkage",
    "Point",
    "Rocker",
    "RockerPushrod",
    "TrailingArmBellCrank",
    "WishboneDropLink",
]


def _place(label: str, way: str) -> Quantity:
    return Quantity(
        "travel",
        label,
        f"Distance {way} of the wheel centre at design trim.",
        low=-5.0,
        high=5.0,
        typical=(-0.6, 0.6),
    )


def _share(label: str, way: str) -> Quantity:
    return Quantity(
        "ratio",
        label,
        f"Share of the direction of the axis that goes {way}; only the proportions of the three count.",
        low=-1.0,
        high=1.0,
        typical=(-1.0, 1.0),
    )


class Point(Part):
    """A joint of the left side, at design trim."""

    x: Annotated[float, _place("Forward", "forward")] = 0.0
    y: Annotated[float, _place("Outward", "outward (to the left)")] = 0.0
    z: Annotated[float, _place("Up", "above the height")] = 0.0

    @property
    def place(self) -> Array:
        """(3, 1) x, y, z, m."""
        return np.array([[self.x], [self.y], [self.z]])


class Axis(Part):
    """An axis on the body of the car: a point of it and its direction."""

    x: Annotated[float, _place("Forward", "forward")] = 0.0
    y: Annotated[float, _place("Outward", "outward (to the left)")] = 0.0
    z: Annotated[float, _place("Up", "above the height")] = 0.0
    along: Annotated[float, _share("Direction forward", "forward")] = 1.0
    across: Annotated[float, _share("Direction outward", "outward")] = 0.0
    upward: Annotated[float, _share("Direction up", "up")] = 0.0

    @property
    def place(self) -> Array:
        """(3, 1) x, y, z of the point, m."""
        return np.array([[self.x], [self.y], [self.z]])

    @property
    def direction(self) -> Array:
        """(3, 1) direction of length 1."""
        way = np.array([[self.along], [self.across], [self.upward]])
        return np.asarray(way / np.sqrt((way**2).sum()))

    @model_validator(mode="after")
    def _has_a_direction(self) -> Self:
        if max(abs(self.along), abs(self.across), abs(self.upward)) < 1e-3:
            raise PydanticCustomError(
                "rule", "Direction: one of its three shares must be at least 0.001; an axis needs a direction"
            )
        return self


class Arm(Part):
    """What carries the wheel: its joint at the wheel goes up and down with it."""

    axis: Annotated[Axis, Label("Arm pivot", "Axis on which the wheel's arm turns.")]
    wheel: Annotated[
        Point, Label("Wheel joint", "Point of the arm that goes up and down with the wheel.")
    ] = Point()
    link: Annotated[Point, Label("Link on the arm", "Where the first link is fixed to the arm.")]

    def body(self) -> Body:
        """The arm as the solver takes it."""
        return Body(self.axis.place, self.axis.direction, self.wheel.place, self.link.place)


class Rocker(Part):
    """A rocker or bell crank between two links."""

    axis: Annotated[Axis, Label("Pivot", "Axis on which the rocker turns.")]
    inlet: Annotated[Point, Label("Link from the wheel", "Where the link from the arm turns the rocker.")]
    outlet: Annotated[Point, Label("Link to the bar", "Where the link to the lever is fixed.")]

    def body(self) -> Body:
        """The rocker as the solver takes it."""
        return Body(self.axis.place, self.axis.direction, self.inlet.place, self.outlet.place)


class BarLever(Part):
    """The lever on the bar, which turns about the axis of the bar."""

    axis: Annotated[Axis, Label("Bar", "Axis of the bar.")]
    link: Annotated[Point, Label("Link on the lever", "Where the last link turns the lever.")]

    def body(self) -> Body:
        """The lever as the solver takes it."""
        return Body(self.axis.place, self.axis.direction, self.link.place, self.link.place)


def _range(label: str, way: str) -> Quantity:
    return Quantity(
        "travel",
        label,
        f"{way} travel of the wheel from design trim that the linkage must allow; beyond it the bar turns on "
        "in proportion.",
        low=0.01,
        high=1.0,
        typical=(0.05, 0.2),
    )


class Chain(Part):
    """Base of the chains: what the wheel's arm turns in the end is the bar."""

    jounce: Annotated[float, _range("Jounce travel", "Jounce")] = 0.12
    rebound: Annotated[float, _range("Rebound travel", "Rebound")] = 0.12

    def bodies(self) -> tuple[Body, ...]:
        """From the wheel's arm to the bar."""
        raise NotImplementedError

    def names(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Names of the bodies, and of the links between them, in words."""
        raise NotImplementedError

    @model_validator(mode="after")
    def _can_be_assembled(self) -> Self:
        try:
            travel_table(self)
        except InputError as error:
            reason = error.problems[0].reason.replace("{", "(").replace("}", ")")
            raise PydanticCustomError("rule", reason) from error
        return self


class DirectLever(Chain):
    """The bar is the pivot of the wheel's arm, which is its lever."""

    kind: Literal["direct lever"] = "direct lever"
    axis: Annotated[Axis, Label("Bar", "Axis of the bar, on which the wheel's arm turns.")] = Axis(y=-0.36)
    wheel: Annotated[
        Point, Label("Wheel joint", "Point of the arm that goes up and down with the wheel.")
    ] = Point()

    def bodies(self) -> tuple[Body, ...]:
        return (Body(self.axis.place, self.axis.direction, self.wheel.place, self.wheel.place),)

    def names(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        return ("lever",), ()


class WishboneDropLink(Chain):
    """A drop link from a wishbone turns the lever on the bar."""

    kind: Literal["wishbone and drop link"] = "wishbone and drop link"
    arm: Annotated[Arm, Label("Wishbone", "Arm on a mainly longitudinal axis.")] = Arm(
        axis=Axis(y=-0.42, z=-0.08), wheel=Point(y=-0.06, z=-0.1), link=Point(y=-0.2, z=-0.09)
    )
    lever: Annotated[BarLever, Label("Lever", "Lever on the bar.")] = BarLever(
        axis=Axis(y=-0.42, z=0.11), link=Point(y=-0.2, z=0.11)
    )

    def bodies(self) -> tuple[Body, ...]:
        return self.arm.body(), self.lever.body()

    def names(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        return ("wishbone", "lever"), ("drop link",)


class TrailingArmBellCrank(Chain):
    """A link from a trailing arm turns a bell crank, and a second link from that the lever on the bar."""

    kind: Literal["trailing arm and bell crank"] = "trailing arm and bell crank"
    arm: Annotated[Arm, Label("Trailing arm", "Arm on a mainly lateral axis ahead of the wheel.")] = Arm(
        axis=Axis(x=0.45, y=-0.12, along=0.0, across=1.0), link=Point(x=0.45, y=-0.12, z=0.14)
    )
    crank: Annotated[Rocker, Label("Bell crank", "Turns the pull along the car into one across.")] = Rocker(
        axis=Axis(x=0.75, y=-0.24, z=0.14, along=0.0, upward=1.0),
        inlet=Point(x=0.75, y=-0.12, z=0.14),
        outlet=Point(x=0.63, y=-0.24, z=0.14),
    )
    lever: Annotated[BarLever, Label("Lever", "Lever on the bar.")] = BarLever(
        axis=Axis(x=0.63, y=-0.5, z=0.028), link=Point(x=0.63, y=-0.5, z=0.14)
    )

    def bodies(self) -> tuple[Body, ...]:
        return self.arm.body(), self.crank.body(), self.lever.body()

    def names(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        return ("trailing arm", "bell crank", "lever"), ("front link", "cross link")


class RockerPushrod(Chain):
    """A pushrod from a wishbone turns a rocker, and a link from that the lever on the bar."""

    kind: Literal["rocker with pushrod"] = "rocker with pushrod"
    arm: Annotated[Arm, Label("Wishbone", "Arm on a mainly longitudinal axis.")] = Arm(
        axis=Axis(y=-0.42, z=-0.08), wheel=Point(y=-0.06, z=-0.1), link=Point(y=-0.14, z=-0.09)
    )
    rocker: Annotated[Rocker, Label("Rocker", "Turned by the pushrod.")] = Rocker(
        axis=Axis(y=-0.53, z=0.2), inlet=Point(y=-0.42, z=0.28), outlet=Point(y=-0.63, z=0.2)
    )
    lever: Annotated[BarLever, Label("Lever", "Lever on the bar.")] = BarLever(
        axis=Axis(y=-0.47, z=0.02), link=Point(y=-0.63, z=0.02)
    )

    def bodies(self) -> tuple[Body, ...]:
        return self.arm.body(), self.rocker.body(), self.lever.body()

    def names(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        return ("wishbone", "rocker", "lever"), ("pushrod", "drop link")


LINKAGES = (DirectLever, WishboneDropLink, TrailingArmBellCrank, RockerPushrod)

#: A chain in place of a lever of given ratio and angle; a file holds it only where there is one.
Linkage = Annotated[
    DirectLever | WishboneDropLink | TrailingArmBellCrank | RockerPushrod | None,
    Field(discriminator="kind", exclude_if=lambda chain: chain is None),
]
