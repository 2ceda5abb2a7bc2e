"""Dampers of one corner.  Linear results use the mean of the jounce and rebound slopes at rest."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, field_validator
from pydantic_core import PydanticCustomError

from models.fields import Label, Part, Quantity
from models.vehicle.spring import check_order

__all__ = ["CornerDamper", "Damper", "DamperPoint", "DigressiveDamper", "TabulatedDamper"]

_Jounce = Annotated[
    float,
    Quantity(
        "damping",
        "Jounce coefficient",
        "Damper force per damper speed while the wheel moves up.",
        low=0.0,
        high=1e6,
        typical=(0.0, 5000.0),
    ),
]
_Rebound = Annotated[
    float,
    Quantity(
        "damping",
        "Rebound coefficient",
        "Damper force per damper speed while the wheel moves down.",
        low=0.0,
        high=1e6,
        typical=(0.0, 5000.0),
    ),
]
_MotionRatio = Annotated[
    float,
    Quantity(
        "ratio",
        "Damper motion ratio",
        "Damper deflection per wheel travel.",
        low=0.05,
        high=5.0,
        typical=(0.4, 1.2),
    ),
]


class Damper(Part):
    """Bilinear damper: one coefficient in jounce, one in rebound."""

    kind: Literal["bilinear"] = "bilinear"
    jounce: _Jounce = 1200.0
    rebound: _Rebound = 2200.0
    motion_ratio: _MotionRatio = 1.0


class DigressiveDamper(Part):
    """Damper whose valves blow off: past the knee speed the force grows with a smaller slope."""

    kind: Literal["digressive"] = "digressive"
    jounce: _Jounce = 2000.0
    rebound: _Rebound = 3500.0
    knee: Annotated[
        float,
        Quantity(
            "damper speed",
            "Knee speed",
            "Damper speed at which the valves open.",
            low=0.001,
            high=5.0,
            typical=(0.02, 0.5),
        ),
    ] = 0.1
    slope_share: Annotated[
        float,
        Quantity(
            "share",
            "Slope past the knee",
            "Slope past the knee as a share of the slope before it.",
            low=0.0,
            high=1.0,
            typical=(0.05, 0.6),
        ),
    ] = 0.3
    motion_ratio: _MotionRatio = 1.0


class DamperPoint(Part):
    """One point of a measured damper curve."""

    speed: Annotated[
        float,
        Quantity(
            "damper speed",
            "Damper speed",
            "Positive in jounce.",
            low=-20.0,
            high=20.0,
            typical=(-1.0, 1.0),
        ),
    ] = 0.0
    force: Annotated[
        float,
        Quantity(
            "force",
            "Force",
            "Damper force, positive in jounce.",
            low=-1e6,
            high=1e6,
            typical=(-3e3, 3e3),
        ),
    ] = 0.0


class TabulatedDamper(Part):
    """Measured damper curve; straight between its points and beyond them."""

    kind: Literal["table"] = "table"
    points: Annotated[
        tuple[DamperPoint, ...],
        Field(min_length=2, max_length=500),
        Label("Curve", "Force over damper speed, in order of speed, through rest without force."),
    ] = (
        DamperPoint(speed=-1.0, force=-1600.0),
        DamperPoint(speed=-0.1, force=-400.0),
        DamperPoint(speed=0.0, force=0.0),
        DamperPoint(speed=0.1, force=250.0),
        DamperPoint(speed=1.0, force=900.0),
    )
    motion_ratio: _MotionRatio = 1.0

    @field_validator("points")
    @classmethod
    def _in_order(cls, points: tuple[DamperPoint, ...]) -> tuple[DamperPoint, ...]:
        check_order("Damper speed", "m/s", [point.speed for point in points], strict=True)
        check_order("Force", "N", [point.force for point in points], strict=False)
        for point in points:
            # A damper that gives energy back would drive the car by itself.
            if point.force * point.speed < 0 or (point.speed == 0 and point.force != 0):
                raise PydanticCustomError(
                    "rule",
                    "Force: {force} N at {speed} m/s is outside the allowed range "
                    "(the sign of the speed, and 0 N at rest)",
                    {"force": f"{point.force:.6g}", "speed": f"{point.speed:.6g}"},
                )
        if not points[0].speed < 0 < points[-1].speed:
            raise PydanticCustomError(
                "rule",
                "Damper speed: {low} to {high} m/s is outside the allowed range (rebound, below 0 m/s, to "
                "jounce, above 0 m/s)",
                {"low": f"{points[0].speed:.6g}", "high": f"{points[-1].speed:.6g}"},
            )
        return points


CornerDamper = Annotated[Damper | DigressiveDamper | TabulatedDamper, Field(discriminator="kind")]
