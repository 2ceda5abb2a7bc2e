"""The roads of a car's life: what share of the distance is driven on which road, and how fast."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import NDArray
from pydantic import StringConstraints

from models.fields import Label, Part, Quantity
from models.roads.events import Event, RandomRoad
from models.roads.surface import Roughness, RoughSurface, Waviness

__all__ = ["MOST_SHARES", "RoadShare", "mix_shares"]

#: Roads of one mix; each may hold a whole measured road.
MOST_SHARES = 20

_Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=80)]


class RoadShare(Part):
    """One road of the mix.

    The road is the random surface of its roughness and waviness, or an event: then the distance of the share
    is made up of that event driven again and again.
    """

    name: Annotated[_Name, Label("Road", "What kind of road it is.")] = "country road"
    share: Annotated[
        float,
        Quantity(
            "share",
            "Share",
            "Share of the distance driven; the shares of a mix count in proportion to their sum.",
            low=0.0,
            high=1.0,
            typical=(0.0, 1.0),
        ),
    ] = 1.0
    speed: Annotated[
        float,
        Quantity("speed", "Speed", "Speed on this road.", low=0.5, high=120.0, typical=(2.0, 50.0)),
    ] = 80 / 3.6
    roughness: Roughness = RoughSurface().roughness
    waviness: Waviness = RoughSurface().waviness
    event: Annotated[
        Event, Label("Road event", "What is driven over; a random road is that of the surface.", hidden=True)
    ] = RandomRoad()

    @property
    def surface(self) -> RoughSurface:
        """Random surface of this road."""
        return RoughSurface(roughness=self.roughness, waviness=self.waviness)


def mix_shares(mix: tuple[RoadShare, ...]) -> NDArray[np.float64]:
    """(len(mix),) shares of the distance that add up to 1, in proportion to those stated."""
    stated = np.array([road.share for road in mix])
    return stated / stated.sum() if mix else stated
