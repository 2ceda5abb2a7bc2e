"""Springs of one corner.  Their static force is set by trim; a law tells how the force changes from there."""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Literal

from pydantic import Field, field_validator
from pydantic_core import PydanticCustomError

from models.fields import Label, Part, Quantity

__all__ = [
    "GAS_AREA",
    "GAS_EXPONENT",
    "GAS_VOLUME",
    "CornerSpring",
    "GasSpring",
    "ProgressiveSpring",
    "Spring",
    "SpringPoint",
    "TabulatedSpring",
]

_Rate = Annotated[
    float,
    Quantity(
        "rate",
        "Spring rate",
        "Force per deflection at the spring itself; wheel rate = spring rate · (motion ratio)².",
        low=0.0,
        high=2e6,
        typical=(0.0, 60e3),
        prominent=True,
    ),
]
_MotionRatio = Annotated[
    float,
    Quantity(
        "ratio",
        "Motion ratio",
        "Spring deflection per wheel travel (at the axle end, with a solid axle).",
        low=0.05,
        high=5.0,
        typical=(0.4, 1.2),
    ),
]


class Spring(Part):
    """Linear spring."""

    kind: Literal["linear"] = "linear"
    rate: _Rate = 26e3
    motion_ratio: _MotionRatio = 1.0


class ProgressiveSpring(Part):
    """Spring that stiffens both ways: force change = rate · δ + growth · δ³."""

    kind: Literal["progressive"] = "progressive"
    rate: _Rate = 24e3
    growth: Annotated[
        float,
        Quantity(
            "cubic rate",
            "Cubic growth",
            "Coefficient of δ³ in the force: the rate grows by 3 · growth · δ².",
            low=0.0,
            high=1e9,
            typical=(0.0, 5e6),
        ),
    ] = 1e6
    motion_ratio: _MotionRatio = 1.0


class SpringPoint(Part):
    """One point of a measured spring curve."""

    deflection: Annotated[
        float,
        Quantity(
            "travel",
            "Deflection",
            "Spring deflection from design trim, positive in jounce.",
            low=-1.0,
            high=1.0,
            typical=(-0.1, 0.1),
        ),
    ] = 0.0
    force: Annotated[
        float,
        Quantity(
            "force",
            "Force",
            "Spring force; only differences between points count, since trim sets the static force.",
            low=-1e6,
            high=1e6,
            typical=(-5e3, 5e3),
        ),
    ] = 0.0


class TabulatedSpring(Part):
    """Measured spring curve; straight between its points and beyond them."""

    kind: Literal["table"] = "table"
    points: Annotated[
        tuple[SpringPoint, ...],
        Field(min_length=2, max_length=500),
        Label("Curve", "Force over deflection, in order of deflection; the force must not fall."),
    ] = (
        SpringPoint(deflection=-0.08, force=-2000.0),
        SpringPoint(deflection=0.04, force=1000.0),
        SpringPoint(deflection=0.08, force=2300.0),
    )
    motion_ratio: _MotionRatio = 1.0

    @field_validator("points")
    @classmethod
    def _in_order(cls, points: tuple[SpringPoint, ...]) -> tuple[SpringPoint, ...]:
        check_order("Deflection", "mm", [1e3 * point.deflection for point in points], strict=True)
        check_order("Force", "N", [point.force for point in points], strict=False)
        return points


# The gas spring as hardware has the same ranges, so that the car takes what it gives.
GAS_AREA = Quantity(
    "area",
    "Effective area",
    "Volume displaced per deflection of the spring.",
    low=1e-5,
    high=0.2,
    typical=(5e-4, 0.02),
)
GAS_VOLUME = Quantity(
    "volume",
    "Gas volume",
    "Gas volume at design trim.",
    low=1e-6,
    high=0.5,
    typical=(2e-4, 0.01),
)
GAS_EXPONENT = Quantity(
    "ratio",
    "Polytropic exponent",
    "n of p V^n = constant: 1 is slow (isothermal), 1.4 is fast (adiabatic, air or nitrogen).",
    low=1.0,
    high=1.7,
    typical=(1.0, 1.4),
)


class GasSpring(Part):
    """Closed gas volume: p = p0 (V0 / V)^n, with p0 from the static force that trim sets."""

    kind: Literal["gas"] = "gas"
    area: Annotated[float, GAS_AREA] = 0.008
    volume: Annotated[float, GAS_VOLUME] = 0.0018
    exponent: Annotated[float, GAS_EXPONENT] = 1.3
    motion_ratio: _MotionRatio = 1.0


CornerSpring = Annotated[
    Spring | ProgressiveSpring | TabulatedSpring | GasSpring, Field(discriminator="kind")
]


def check_order(name: str, unit: str, values: list[float], *, strict: bool) -> None:
    """Refuse a column whose values do not increase (``strict``) or fall (otherwise)."""
    for number, (before, after) in enumerate(pairwise(values), start=2):
        if after < before or (strict and after == before):
            raise PydanticCustomError(
                "rule",
                "{name}: {value} {unit} in row {row} is outside the allowed range ({rule} {before} {unit})",
                {
                    "name": name,
                    "value": f"{after:.6g}",
                    "unit": unit,
                    "row": number,
                    "rule": "more than" if strict else "at least",
                    "before": f"{before:.6g}",
                },
            )
