"""The lever on a bar end, as it is made; and the lever ratio that the ride model uses."""

from __future__ import annotations

from math import cos, radians
from typing import Annotated

from models.fields import Part, Quantity

__all__ = ["LeverArm", "lever_ratio"]

_STEEP = radians(60.0)


class LeverArm(Part):
    """Lever on a bar end; its end rises and falls with the wheel."""

    length: Annotated[
        float,
        Quantity(
            "dimension",
            "Lever length",
            "Distance from the axis of the bar to the joint at the lever's end.",
            low=0.01,
            high=5.0,
            typical=(0.15, 0.6),
        ),
    ] = 0.36
    angle: Annotated[
        float,
        Quantity(
            "angle",
            "Lever angle",
            "Angle of the lever above the horizontal at design trim; above 0 its end is higher than its "
            "pivot.",
            low=-_STEEP,
            high=_STEEP,
            typical=(radians(-30.0), radians(30.0)),
        ),
    ] = 0.0
    motion_ratio: Annotated[
        float,
        Quantity(
            "ratio",
            "Lever motion ratio",
            "Rise of the lever's end per wheel travel; 1 for a lever at the wheel.",
            low=0.05,
            high=5.0,
            typical=(0.4, 1.0),
        ),
    ] = 1.0


def lever_ratio(lever: LeverArm) -> float:
    """Turn of the bar end per wheel travel at design trim, motion ratio / (length · cos angle), rad/m."""
    return lever.motion_ratio / (lever.length * cos(lever.angle))
