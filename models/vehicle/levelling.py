"""The levelling system: a motor that winds the trim springs of both sides, slow enough to ignore bumps."""

from __future__ import annotations

import math
from typing import Annotated

from models.fields import Part, Quantity

__all__ = ["Levelling"]


class Levelling(Part):
    """Motor, gear and controller of the levelling; a winding speed of 0 means none fitted."""

    speed: Annotated[
        float,
        Quantity(
            "angular velocity",
            "Winding speed",
            "Speed at which the motor winds the trim bars; 0 = no levelling.",
            low=0.0,
            high=10.0,
            typical=(0.0, 0.2),
        ),
    ] = 0.0
    limit: Annotated[
        float,
        Quantity(
            "angle",
            "Winding limit",
            "Greatest wind-up either way from design trim; stops end it there.",
            low=0.001,
            high=3.0,
            typical=(0.1, 1.0),
        ),
    ] = math.radians(30)
    filter_time: Annotated[
        float,
        Quantity(
            "time",
            "Filter time",
            "Time constant of the low-pass through which the controller sees the height.",
            low=0.0,
            high=60.0,
            typical=(0.1, 5.0),
        ),
    ] = 1.0
    dead_band: Annotated[
        float,
        Quantity(
            "travel",
            "Dead band",
            "Height error that the controller leaves alone.",
            low=0.0,
            high=0.2,
            typical=(0.002, 0.03),
        ),
    ] = 0.008
    delay: Annotated[
        float,
        Quantity(
            "time",
            "Delay",
            "How long the error must stay outside the dead band on the same side before the motor runs.",
            low=0.0,
            high=120.0,
            typical=(0.5, 15.0),
        ),
    ] = 6.0
    torque_per_current: Annotated[
        float,
        Quantity(
            "torque per current",
            "Torque per current",
            "Torque on the trim bars per motor current, gear and its losses included.",
            low=0.01,
            high=1e4,
            typical=(5.0, 200.0),
        ),
    ] = 40.0
    idle_current: Annotated[
        float,
        Quantity(
            "current",
            "Idle current",
            "Current of the running motor without load.",
            low=0.0,
            high=200.0,
            typical=(0.2, 10.0),
        ),
    ] = 2.0
    voltage: Annotated[
        float,
        Quantity(
            "voltage",
            "Supply voltage",
            "Voltage of the board net.",
            low=1.0,
            high=1000.0,
            typical=(6.0, 60.0),
        ),
    ] = 12.0
