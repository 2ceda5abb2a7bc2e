"""Moments of inertia: measured, or estimated from what an engineer knows early."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, ValidationError

from models.errors import input_error
from models.fields import Part, Quantity

__all__ = [
    "InertiaFromDynamicIndex",
    "InertiaFromGyration",
    "MeasuredInertia",
    "PitchInertia",
    "RollInertia",
    "converted",
    "is_estimated",
    "moment_of_inertia",
]


class MeasuredInertia(Part):
    """Moment of inertia known from a rig or from the build data."""

    kind: Literal["measured"] = "measured"
    value: Annotated[
        float,
        Quantity(
            "moment of inertia",
            "Moment of inertia",
            "Moment of inertia of the sprung mass about its own CG.",
            low=1.0,
            high=1e6,
            typical=(100.0, 8000.0),
        ),
    ] = 2900.0


class InertiaFromGyration(Part):
    """Moment of inertia estimated from a radius of gyration k: I = m k²."""

    kind: Literal["radius of gyration"] = "radius of gyration"
    radius: Annotated[
        float,
        Quantity(
            "length",
            "Radius of gyration",
            "Radius k at which the whole sprung mass would have the same inertia, I = m k².",
            low=0.05,
            high=10.0,
            typical=(0.3, 2.0),
        ),
    ] = 1.3


class InertiaFromDynamicIndex(Part):
    """Pitch inertia estimated from the dynamic index k²/(a b): I = index · m a b."""

    kind: Literal["dynamic index"] = "dynamic index"
    index: Annotated[
        float,
        Quantity(
            "ratio",
            "Dynamic index",
            "k²/(a b); at 1 the two axles move independently of each other.",
            low=0.05,
            high=5.0,
            typical=(0.6, 1.3),
        ),
    ] = 0.95


RollInertia = Annotated[MeasuredInertia | InertiaFromGyration, Field(discriminator="kind")]
PitchInertia = Annotated[
    MeasuredInertia | InertiaFromGyration | InertiaFromDynamicIndex, Field(discriminator="kind")
]


def moment_of_inertia(
    inertia: MeasuredInertia | InertiaFromGyration | InertiaFromDynamicIndex,
    mass: float,
    a: float,
    b: float,
) -> float:
    """Moment of inertia in kg·m².

    Args:
        inertia: how it is given.
        mass: sprung mass, kg.
        a, b: CG to front and to rear axle, m.
    """
    match inertia:
        case MeasuredInertia():
            return inertia.value
        case InertiaFromGyration():
            return mass * inertia.radius**2
        case InertiaFromDynamicIndex():
            return inertia.index * mass * a * b


def is_estimated(inertia: MeasuredInertia | InertiaFromGyration | InertiaFromDynamicIndex) -> bool:
    """Whether a report has to mark the inertia as estimated."""
    return not isinstance(inertia, MeasuredInertia)


def converted(
    inertia: MeasuredInertia | InertiaFromGyration | InertiaFromDynamicIndex,
    kind: Literal["measured", "radius of gyration", "dynamic index"],
    mass: float,
    a: float,
    b: float,
) -> MeasuredInertia | InertiaFromGyration | InertiaFromDynamicIndex:
    """Same moment of inertia, given in another way.

    Args:
        inertia: how it is given now.
        kind: how it shall be given.
        mass: sprung mass, kg.
        a, b: CG to front and to rear axle, m.

    Raises:
        InputError: the value that ``kind`` would need is outside its allowed range.
    """
    if kind == inertia.kind:
        return inertia
    value = moment_of_inertia(inertia, mass, a, b)
    try:
        match kind:
            case "measured":
                return MeasuredInertia(value=value)
            case "radius of gyration":
                return InertiaFromGyration(radius=(value / mass) ** 0.5)
            case "dynamic index":
                return InertiaFromDynamicIndex(index=value / (mass * a * b))
    except ValidationError as error:
        raise input_error(error) from error
