"""Figures of the chains of rockers and links of a car: what a chain does over its travel."""

from __future__ import annotations

from math import asin

import numpy as np

from models.judge.figure import Figure
from models.linkage import Chain, TravelTable, travel_table
from models.vehicle import TorsionCoupling, Vehicle

__all__ = ["chain_figures", "chains"]


def chains(vehicle: Vehicle) -> dict[str, Chain]:
    """The chains of a car by their place in words ("Front linkage"); sides that are alike count once."""
    sides = zip(("left", "right"), vehicle.sides, strict=True) if vehicle.right else [("", vehicle.left)]
    found: dict[str, Chain | None] = {}
    for name, side in sides:
        if isinstance(side.coupling, TorsionCoupling):
            found[_words(name, "front linkage")] = side.coupling.front_linkage
            found[_words(name, "rear linkage")] = side.coupling.rear_linkage
        found[_words(name, "trim linkage")] = side.trim.linkage
    for name, axle in (("front", vehicle.front), ("rear", vehicle.rear)):
        found[_words(name, "stabiliser linkage")] = axle.stabiliser.linkage
    return {place: chain for place, chain in found.items() if chain is not None}


def _words(*parts: str) -> str:
    return " ".join(part for part in parts if part).capitalize()


def chain_figures(chain: Chain) -> tuple[Figure, ...]:
    """What an engineer asks of a chain, over its whole travel."""
    table = travel_table(chain)
    return (*_of_bar(table), *_of_stages(table), *_of_links(table))


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
