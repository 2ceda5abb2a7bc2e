"""Bump and rebound stops, and the friction of a corner."""

from __future__ import annotations

from typing import Annotated

from models.fields import Part, Quantity

__all__ = ["Friction", "Stop"]


class Stop(Part):
    """Progressive stop past a gap: force = rate · p + growth · p², p = travel past the gap; rate 0 = none."""

    gap: Annotated[
        float,
        Quantity(
            "travel",
            "Gap",
            "Wheel travel from design trim until the stop touches.",
            low=0.0,
            high=1.0,
            typical=(0.01, 0.15),
        ),
    ] = 0.06
    rate: Annotated[
        float,
        Quantity(
            "rate",
            "Stop rate",
            "Rate at the wheel at first touch; 0 and no growth = no stop.",
            low=0.0,
            high=1e7,
            typical=(0.0, 300e3),
        ),
    ] = 0.0
    growth: Annotated[
        float,
        Quantity(
            "rate growth",
            "Stop growth",
            "Coefficient of the square of the travel past the gap.",
            low=0.0,
            high=1e9,
            typical=(0.0, 10e6),
        ),
    ] = 0.0


class Friction(Part):
    """Coulomb friction of a corner, regularised: F · clip(v / width, -1, 1); a force of 0 = none."""

    force: Annotated[
        float,
        Quantity(
            "force",
            "Friction",
            "Dry friction of joints and struts, as force at the wheel.",
            low=0.0,
            high=1e5,
            typical=(0.0, 300.0),
        ),
    ] = 0.0
    width: Annotated[
        float,
        Quantity(
            "damper speed",
            "Friction width",
            "Wheel speed at which the full friction acts; below it the friction is in proportion to speed.",
            low=1e-4,
            high=1.0,
            typical=(0.002, 0.05),
        ),
    ] = 0.01
