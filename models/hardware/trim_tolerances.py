"""How far parts may be off as built, for the height at which the car then stands."""

from __future__ import annotations

from math import radians
from typing import Annotated, Literal

from models.fields import Label, Part, Quantity

__all__ = ["TrimTolerances"]


class TrimTolerances(Part):
    """Tolerances (±) of the parts that carry the car, each left and right on its own."""

    height_limit: Annotated[
        float,
        Quantity(
            "travel",
            "Allowed height error",
            "How far any corner may stand from its nominal height; the yield is the share of cars within.",
            low=0.0,
            high=0.5,
            typical=(0.002, 0.03),
        ),
    ] = 0.01
    distribution: Annotated[
        Literal["normal", "uniform"],
        Label(
            "Distribution",
            "Normal: the tolerance is three standard deviations. Uniform: every value within it alike.",
        ),
    ] = "normal"
    bar_diameter: Annotated[
        float,
        Quantity(
            "travel",
            "Bar diameter ±",
            "Tolerance of the diameter of each bar; its rate and its torque at design trim go with d⁴.",
            low=0.0,
            high=0.005,
            typical=(0.0, 0.0003),
        ),
    ] = 0.05e-3
    nominal_diameter: Annotated[
        float,
        Quantity(
            "travel",
            "Nominal bar diameter",
            "Diameter of bars whose size is not described; rate change = (1 + Δd/d)⁴ - 1 ≈ 4 Δd/d.",
            low=0.001,
            high=0.2,
            typical=(0.01, 0.05),
        ),
    ] = 0.025
    clocking: Annotated[
        float,
        Quantity(
            "angle",
            "Bar clocking ±",
            "Tolerance of the angle between the two ends of each bar; torque change = bar rate · angle.",
            low=0.0,
            high=radians(20.0),
            typical=(0.0, radians(2.0)),
        ),
    ] = radians(0.5)
    lever_length: Annotated[
        float,
        Quantity(
            "travel",
            "Lever length ±",
            "Tolerance of the length of each lever of the bars; wheel force = torque / length.",
            low=0.0,
            high=0.02,
            typical=(0.0, 0.002),
        ),
    ] = 0.5e-3
    spring_rate: Annotated[
        float,
        Quantity(
            "share",
            "Spring rate ±",
            "Tolerance of the force of each corner spring over its deflection from free length, and of the "
            "charge of each gas volume.",
            low=0.0,
            high=0.3,
            typical=(0.0, 0.08),
        ),
    ] = 0.03
    free_length: Annotated[
        float,
        Quantity(
            "travel",
            "Spring free length ±",
            "Tolerance of the free length of each corner spring, its seats included; force change = rate · "
            "length.",
            low=0.0,
            high=0.05,
            typical=(0.0, 0.006),
        ),
    ] = 0.002
    body_mass: Annotated[
        float,
        Quantity(
            "mass",
            "Sprung mass ±",
            "Tolerance of the sprung mass at its centre of gravity.",
            low=0.0,
            high=1000.0,
            typical=(0.0, 60.0),
        ),
    ] = 20.0
    cg_place: Annotated[
        float,
        Quantity(
            "length",
            "CG place ±",
            "Tolerance of the place of the centre of gravity, fore and aft as well as left and right.",
            low=0.0,
            high=0.5,
            typical=(0.0, 0.03),
        ),
    ] = 0.01
    tyre_rate: Annotated[
        float,
        Quantity(
            "share",
            "Tyre rate ±",
            "Tolerance of the vertical stiffness of each tyre, whose free radius stays.",
            low=0.0,
            high=0.3,
            typical=(0.0, 0.15),
        ),
    ] = 0.06
