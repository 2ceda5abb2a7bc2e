"""The parts in steel behind the rates of a car: one description per place, for both sides.

They change no result of the ride until they are applied (:mod:`models.hardware.apply`).
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from models.fields import Label, Part
from models.hardware.coil import CoilSpring
from models.hardware.gas_spring import GasStrut
from models.hardware.leaf import MultiLeafSpring, ParabolicLeafSpring
from models.hardware.lever import LeverArm
from models.hardware.life_target import LifeTarget
from models.hardware.motor import LevellerMotor
from models.hardware.stabiliser_bar import StabiliserBar
from models.hardware.torsion_bar import TorsionBar
from models.hardware.trim_tolerances import TrimTolerances

__all__ = ["BarSpring", "Hardware", "InterconnectionBar", "SpringPart", "TrimBar"]

_Bar = Annotated[TorsionBar, Label("Bar", "The torsion bar.")]


class BarSpring(Part):
    """Torsion bar with a lever as the spring of a corner."""

    kind: Literal["torsion bar"] = "torsion bar"
    bar: _Bar = TorsionBar()
    lever: Annotated[LeverArm, Label("Lever", "Lever between bar and wheel.")] = LeverArm()


class InterconnectionBar(Part):
    """Longitudinal bar of a side with a lever at each end."""

    bar: _Bar = TorsionBar(body_length=2.0)
    front_lever: Annotated[LeverArm, Label("Front lever", "Lever at the front wheel.")] = LeverArm()
    rear_lever: Annotated[LeverArm, Label("Rear lever", "Lever at the rear wheel.")] = LeverArm()


class TrimBar(Part):
    """Bar between a wheel and the motor (or the body) that holds the attitude."""

    bar: _Bar = TorsionBar(diameter=0.02, head_diameter=0.026, body_length=1.6)
    lever: Annotated[LeverArm, Label("Lever", "Lever at the wheel.")] = LeverArm()
    motor: Annotated[
        LevellerMotor | None, Label("Motor", "Motor and gear that wind the bars of both sides.")
    ] = None


#: What a corner spring may be made as.
SpringPart = CoilSpring | BarSpring | MultiLeafSpring | ParabolicLeafSpring | GasStrut


class Hardware(Part):
    """Parts of a car; a place without a part is not described."""

    front_spring: Annotated[
        SpringPart | None, Field(discriminator="kind"), Label("Front springs", "Left and right alike.")
    ] = None
    rear_spring: Annotated[
        SpringPart | None, Field(discriminator="kind"), Label("Rear springs", "Left and right alike.")
    ] = None
    interconnection: Annotated[
        InterconnectionBar | None,
        Label("Interconnection bars", "Longitudinal bars, left and right alike."),
    ] = None
    trim: Annotated[TrimBar | None, Label("Trim bars", "Left and right alike.")] = None
    front_stabiliser: Annotated[
        StabiliserBar | None, Label("Front stabiliser bar", "Bar across the car at the front axle.")
    ] = None
    rear_stabiliser: Annotated[
        StabiliserBar | None, Label("Rear stabiliser bar", "Bar across the car at the rear axle.")
    ] = None
    life_target: Annotated[
        LifeTarget, Label("Life", "How long the parts should live over the road mix, and how surely.")
    ] = LifeTarget()
    trim_tolerances: Annotated[
        TrimTolerances, Label("Tolerances at trim", "How far parts as built may differ from those as drawn.")
    ] = TrimTolerances()
