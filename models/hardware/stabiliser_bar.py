"""A stabiliser bar as it is drawn: its centre line, its bushes and its end links.

Axes after ISO 8855: x ahead of the axle, y to the left of the middle plane, z above the wheel centres, at
design trim.  The left half is described; the right one is its mirror image.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Self

import numpy as np
from numpy.typing import NDArray
from pydantic import Field, ValidationInfo, field_validator, model_validator
from pydantic_core import PydanticCustomError

from models.errors import InputError
from models.fields import Label, Part, Quantity
from models.hardware.centre_line import CentreLine, centre_line, mirrored, split_at
from models.hardware.materials import CHROME_VANADIUM, Material

__all__ = ["BarBush", "BendPoint", "EndLink", "StabiliserBar", "bar_line", "lever_length", "link_direction"]

Array = NDArray[np.float64]

# A lever shorter than this winds no bar, m.
_SHORTEST_LEVER = 5e-3


def _place(label: str, meaning: str, low: float = -3.0) -> Quantity:
    return Quantity("dimension", label, meaning, low=low, high=3.0, typical=(max(low, -0.6), 0.6))


class BendPoint(Part):
    """A corner of the centre line, where its straight lines would meet."""

    x: Annotated[float, _place("x", "Ahead of the axle.")] = 0.0
    y: Annotated[float, _place("y", "To the left of the middle plane.", low=0.0)] = 0.0
    z: Annotated[float, _place("z", "Above the wheel centres.")] = 0.0
    radius: Annotated[
        float,
        Quantity(
            "dimension",
            "Bend radius",
            "Radius of the centre line in this bend; of no use at the end of the bar.",
            low=0.0,
            high=2.0,
            typical=(0.02, 0.15),
        ),
    ] = 0.05


class BarBush(Part):
    """One of two bushes in which the bar turns on the body."""

    position: Annotated[
        float,
        Quantity(
            "dimension",
            "Bush offset",
            "Lateral distance of the bush from the middle plane.",
            low=0.01,
            high=2.0,
            typical=(0.1, 0.6),
        ),
    ] = 0.33
    radial_rate: Annotated[
        float,
        Quantity(
            "rate",
            "Bush radial rate",
            "Force per deflection across the bar, bracket included.",
            low=1e4,
            high=1e12,
            typical=(1e6, 20e6),
        ),
    ] = 5e6
    axial_rate: Annotated[
        float,
        Quantity(
            "rate",
            "Bush axial rate",
            "Force per deflection along the bar, or of its collars; holds the bar from moving sideways.",
            low=1e3,
            high=1e12,
            typical=(1e5, 5e6),
        ),
    ] = 1e6
    torsional_rate: Annotated[
        float,
        Quantity(
            "torsional rate",
            "Bush torsional rate",
            "Torque per turn of the bar in a bush bonded to it; 0 = the bar slips.",
            low=0.0,
            high=1e5,
            typical=(0.0, 200.0),
        ),
    ] = 0.0


class EndLink(Part):
    """Link from the end of the bar to the wheel carrier or an arm; it turns freely at both ends."""

    x: Annotated[float, _place("x", "Far joint, ahead of the axle.")] = 0.02
    y: Annotated[float, _place("y", "Far joint, to the left of the middle plane.", low=0.0)] = 0.55
    z: Annotated[float, _place("z", "Far joint, above the wheel centres.")] = 0.25
    ratio: Annotated[
        float,
        Quantity(
            "ratio",
            "Link ratio",
            "Vertical travel of the far joint per wheel travel; 1 on the wheel carrier or strut.",
            low=0.05,
            high=2.0,
            typical=(0.4, 1.0),
        ),
    ] = 1.0
    rate: Annotated[
        float,
        Quantity(
            "rate",
            "Link rate",
            "Force per change of length of the link with both its joints.",
            low=1e4,
            high=1e12,
            typical=(5e5, 20e6),
        ),
    ] = 5e6


_DRAWN = (
    BendPoint(x=-0.24, y=0.0, z=0.0),
    BendPoint(x=-0.24, y=0.44, z=0.0),
    BendPoint(x=0.02, y=0.53, z=0.0),
)


class StabiliserBar(Part):
    """Bar of one round section; by default that of a plain saloon."""

    points: Annotated[
        tuple[BendPoint, ...],
        Field(min_length=2, max_length=20),
        Label("Centre line", "Corners of the left half, from the middle plane to the end at the link."),
    ] = _DRAWN
    diameter: Annotated[
        float,
        Quantity(
            "dimension",
            "Diameter",
            "Outside diameter of the bar.",
            low=0.003,
            high=0.2,
            typical=(0.012, 0.035),
            prominent=True,
        ),
    ] = 0.020
    bore: Annotated[
        float,
        Quantity(
            "dimension",
            "Bore",
            "Inside diameter of a tube; 0 = a full bar.",
            low=0.0,
            high=0.19,
            typical=(0.0, 0.03),
        ),
    ] = 0.0
    material: Annotated[Material, Label("Material", "What it is made of, with its limits.")] = CHROME_VANADIUM
    bush: Annotated[BarBush, Label("Bushes", "Bush on the body, left and right alike.")] = BarBush()
    link: Annotated[EndLink, Label("End links", "Link at the end of the bar, left and right alike.")] = (
        EndLink()
    )

    @field_validator("points")
    @classmethod
    def _no_two_at_one_place(cls, points: tuple[BendPoint, ...]) -> tuple[BendPoint, ...]:
        for number, (before, after) in enumerate(pairwise(points), 2):
            if (before.x, before.y, before.z) == (after.x, after.y, after.z):
                raise PydanticCustomError(
                    "rule", "point {number} stands where the point before it stands", {"number": number}
                )
        return points

    @field_validator("bore")
    @classmethod
    def _leaves_a_wall(cls, bore: float, info: ValidationInfo) -> float:
        diameter: float | None = info.data.get("diameter")
        if diameter is not None and not bore <= 0.98 * diameter:
            raise PydanticCustomError(
                "rule",
                "Bore: {bore} mm leaves no wall (0 to 98 % of the diameter of {diameter} mm)",
                {"bore": f"{1e3 * bore:.4g}", "diameter": f"{1e3 * diameter:.4g}"},
            )
        return bore

    @field_validator("bush")
    @classmethod
    def _inside_the_end(cls, bush: BarBush, info: ValidationInfo) -> BarBush:
        points: tuple[BendPoint, ...] | None = info.data.get("points")
        if points and not bush.position < points[-1].y:
            raise PydanticCustomError(
                "rule",
                "Bush offset: {offset} mm is not on the bar (below {end} mm, where the bar ends)",
                {"offset": f"{1e3 * bush.position:.4g}", "end": f"{1e3 * points[-1].y:.4g}"},
            )
        return bush

    @model_validator(mode="after")
    def _can_be_made(self) -> Self:
        try:
            line, bush = bar_line(self)
            lever_length(line, bush)
            link_direction(self, line)
        except InputError as error:
            raise PydanticCustomError("rule", "{reason}", {"reason": str(error)}) from None
        return self


def bar_line(bar: StabiliserBar) -> tuple[CentreLine, int]:
    """Centre line of the whole bar, and the number of the node at the left bush.

    Raises:
        InputError: the bends do not fit between the points.
    """
    points = np.array([[point.x, point.y, point.z] for point in bar.points])
    radii = [point.radius for point in bar.points]
    if points[0, 1] > 0:  # straight through the middle plane
        points = np.vstack([points[0] * [1.0, 0.0, 1.0], points])
        radii = [0.0, *radii]
    half, bush = split_at(centre_line(points, radii), 1, bar.bush.position)
    return mirrored(half), len(half.nodes) - 1 + bush


def lever_length(line: CentreLine, bush: int) -> float:
    """Distance of the bar's end ahead of, or behind, its bushes, m.

    Raises:
        InputError: it is too short to wind the bar.
    """
    lever = abs(float(line.nodes[-1, 0] - line.nodes[bush, 0]))
    if lever < _SHORTEST_LEVER:
        raise InputError.of(
            "stabiliser bar",
            f"{1e3 * lever:.3g} mm",
            f"the lever has to reach {1e3 * _SHORTEST_LEVER:.0f} mm or more ahead of or behind the bushes",
        )
    return lever


def link_direction(bar: StabiliserBar, line: CentreLine) -> Array:
    """(3,) unit vector from the left end of the bar to the far joint of its link.

    Raises:
        InputError: the link has no length, or lies flat.
    """
    reach = np.array([bar.link.x, bar.link.y, bar.link.z]) - line.nodes[-1]
    length = float(np.linalg.norm(reach))
    if length < _SHORTEST_LEVER:
        raise InputError.of("end link", f"{1e3 * length:.3g} mm", "its two joints stand at one place")
    direction: Array = reach / length
    if abs(direction[2]) < 0.1:
        raise InputError.of("end link", "flat", "a link that lies flat does not move the bar")
    return direction
