"""How long a part should live, and how surely."""

from __future__ import annotations

from typing import Annotated

from models.fields import Part, Quantity

__all__ = ["LifeTarget"]


class LifeTarget(Part):
    """Distance that a share of the parts has to survive."""

    distance: Annotated[
        float,
        Quantity(
            "distance driven",
            "Target life",
            "Distance over the road mix that the part should last.",
            low=1.0,
            high=1e11,
            typical=(50e6, 500e6),
        ),
    ] = 300e6
    reliability: Annotated[
        float,
        Quantity(
            "share",
            "Reliability",
            "Share of the parts that should live as long.",
            low=0.01,
            high=0.99999,
            typical=(0.5, 0.999),
        ),
    ] = 0.99
