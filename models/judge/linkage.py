"""Figures of the chains of rockers and links of a car: what a chain does over its travel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import asin

import numpy as np
from numpy.typing import NDArray

from models.assembly import Mechanics
from models.fields import Path, follow
from models.judge.figure import Figure
from models.levers import ChainLever
from models.linkage import Chain, TravelTable, travel_table
from models.vehicle import Side, TorsionCoupling, Vehicle

__all__ = ["FREE", "BarLoad", "ChainPlace", "bar_load", "chain_figures", "chain_places", "chains"]

Array = NDArray[np.float64]

# In the SI unit of any of the figures far below what can be measured; sums that cancel leave less.
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class ChainPlace:
    """A place at which a chain may turn a bar.

    Attributes:
        name: in words ("Front linkage").
        bar: what is turned, in words ("Interconnection, front end").
        element: the bar in the element table.
        path: of the chain in the vehicle.
        wheel: 0 to 3 for FL, FR, RL, RR: the one that moves the chain.
    """

    name: str
    bar: str
    element: str
    path: Path
    wheel: int


def chain_places(vehicle: Vehicle) -> tuple[ChainPlace, ...]:
    """Where a car may have chains; sides that are alike count once."""
    sides = [("left", vehicle.left)] + ([("right", vehicle.right)] if vehicle.right else [])
    found: list[ChainPlace] = []
    for first, (side, part) in enumerate(sides):
        found += _of_side(side, side if vehicle.right else "", part, first)
    for axle, first in (("front", 0), ("rear", 2)):
        bar = f"{axle} stabiliser bar"
        path = (axle, "stabiliser", "linkage")
        found.append(ChainPlace(_words(f"{axle} stabiliser linkage"), _words(bar), bar, path, first))
    return tuple(found)


def _of_side(side: str, said: str, part: Side, first: int) -> Iterator[ChainPlace]:
    if isinstance(part.coupling, TorsionCoupling):
        for end, wheel in (("front", first), ("rear", first + 2)):
            yield ChainPlace(
                _words(said, f"{end} linkage"),
                _words(said, f"interconnection, {end} end"),
                f"{side} interconnection bar",
                (side, "coupling", f"{end}_linkage"),
                wheel,
            )
    yield ChainPlace(
        _words(said, "trim linkage"),
        _words(said, "trim spring"),
        f"{side} trim spring",
        (side, "trim", "linkage"),
        first if part.trim.axle == "front" else first + 2,
    )


def chains(vehicle: Vehicle) -> dict[str, Chain]:
    """The chains of a car by the name of their place; sides that are alike count once."""
    found = {place.name: follow(vehicle, place.path) for place in chain_places(vehicle)}
    return {name: chain for name, chain in found.items() if chain is not None}


def _words(*parts: str) -> str:
    return " ".join(part for part in parts if part).capitalize()


@dataclass(frozen=True, slots=True)
class BarLoad:
    """What a bar does at the end that a chain turns.

    Attributes:
        torque: at design trim, N·m, positive where it resists jounce.
        rate: of the bar, N·m/rad; 0 without a bar.
    """

    torque: float = 0.0
    rate: float = 0.0

    def over(self, table: TravelTable) -> Array:
        """(n,) torque over the travel of this wheel, N·m, while the other end of the bar stays at rest."""
        return self.torque + self.rate * table.angle


#: No bar, or none whose torque is known.
FREE = BarLoad()


def bar_load(car: Mechanics, place: ChainPlace) -> BarLoad:
    """Load of the bar at a place, with the share of the weight that trim gives it."""
    element = next((one for one in car.elements if one.name == place.element), None)
    if element is None or not element.levers:
        return FREE
    turning = next((one for one in element.levers if one.wheel == place.wheel), None)
    sign = turning.sign if isinstance(turning, ChainLever) else 1.0
    return BarLoad(sign * element.preload, element.stiffness(0.0))


def chain_figures(chain: Chain, load: BarLoad = FREE) -> tuple[Figure, ...]:
    """What an engineer asks of a chain, over its whole travel; with a load also of the bar that it turns."""
    table = travel_table(chain)
    loaded = () if load == FREE else _of_load(table, load)
    figures = (*_of_bar(table), *loaded, *_of_stages(table), *_of_links(table))
    return tuple(replace(one, value=0.0) if abs(one.value) < _ROUNDING else one for one in figures)


def _of_load(table: TravelTable, load: BarLoad) -> tuple[Figure, ...]:
    _, ratio, slope = table.at_trim
    return (
        Figure(
            "torque",
            "Bar torque at design trim",
            load.torque,
            "torque",
            "Share T of the weight that the bar carries at design trim; positive resists jounce.",
        ),
        Figure(
            "rate_of_bar",
            "Wheel rate of the bar",
            load.rate * ratio**2,
            "rate",
            "k g'²(0): of the bar's own rate k, the other wheels at rest.",
        ),
        Figure(
            "rate_of_curvature",
            "Wheel rate of torque and curvature",
            load.torque * slope,
            "rate",
            "T g''(0): what the torque T at design trim adds, as the ratio grows in jounce.",
        ),
    )


def _of_bar(table: TravelTable) -> tuple[Figure, ...]:
    _, ratio, slope = table.at_trim
    return (
        Figure(
            "lever_ratio",
            "Lever ratio at design trim",
            ratio,
            "lever ratio",
            "Bar-end angle per wheel travel, g'(0); also the force at the wheel per torque of the bar.",
        ),
        Figure(
            "lever_ratio_jounce",
            "Lever ratio in full jounce",
            float(table.ratio[-1]),
            "lever ratio",
            "g' at the end of the jounce travel.",
        ),
        Figure(
            "lever_ratio_rebound",
            "Lever ratio in full rebound",
            float(table.ratio[0]),
            "lever ratio",
            "g' at the end of the rebound travel.",
        ),
        Figure(
            "rate_per_torque",
            "Rate per torque at design trim",
            slope,
            "lever ratio growth",
            "g''(0): what a torque T in the bar adds to the wheel rate, T g''; the bar itself gives k g'².",
        ),
        Figure(
            "bar_angle_jounce",
            "Bar angle in full jounce",
            float(table.angle[-1]),
            "angle",
            "Turn of the bar end from design trim, g.",
        ),
        Figure(
            "bar_angle_rebound",
            "Bar angle in full rebound",
            float(table.angle[0]),
            "angle",
            "Turn of the bar end from design trim, g.",
        ),
    )


def _of_stages(table: TravelTable) -> tuple[Figure, ...]:
    found = []
    for number, name in enumerate(table.bodies):
        turn = table.body_angle[number]
        label = name.capitalize()
        found.append(
            Figure(
                f"swing_{number}",
                f"{label} swing",
                float(np.ptp(turn)),
                "angle",
                "Angle between its ends of travel about its own axis; A cos α + B sin α = C of its stage.",
            )
        )
        if number:
            least = float(table.transmission[number].min())
            found.append(
                Figure(
                    f"transmission_{number}",
                    f"Least transmission angle at the {name}",
                    asin(min(least, 1.0)),
                    "angle",
                    f"Between the {table.links[number - 1]} and the arm that it turns, asin |d·r_α| / (L r), "
                    "least over the travel; 90 deg is best, 0 the toggle.",
                    "higher",
                )
            )
        found.append(
            Figure(
                f"margin_{number}",
                f"Toggle margin of the {name}",
                float(table.margin[number].min()),
                "share",
                "1 - |C| / √(A² + B²) of its stage, least over the travel; 0 at the toggle.",
                "higher",
            )
        )
    return tuple(found)


def _of_links(table: TravelTable) -> tuple[Figure, ...]:
    return tuple(
        Figure(
            f"link_force_{number}",
            f"Largest force of the {name}",
            float(force[np.abs(force).argmax()]),
            "force per torque",
            "Per torque of the bar over the travel, compression positive; by moments f = -T L / (d·r_α).",
        )
        for number, (name, force) in enumerate(zip(table.links, table.link_force, strict=True))
    )
