"""A car that has every kind of part, so that every kind of figure can be asked for."""

from __future__ import annotations

from functools import lru_cache

from models.fields import replaced
from models.hardware import (
    BarSpring,
    CoilSpring,
    GasStrut,
    Hardware,
    InterconnectionBar,
    LevellerMotor,
    MultiLeafSpring,
    ParabolicLeafSpring,
    StabiliserBar,
    TrimBar,
)
from models.linkage import RockerPushrod
from models.vehicle import (
    Levelling,
    Side,
    Stabiliser,
    TorsionCoupling,
    TrimSpring,
    Vehicle,
)

__all__ = ["sample_car", "sample_hardware"]


@lru_cache(maxsize=1)
def sample_car() -> Vehicle:
    """Joined bars with a linkage, trim springs that a motor winds, and stabiliser bars."""
    side = Side(
        coupling=TorsionCoupling(front_linkage=RockerPushrod()),
        trim=TrimSpring(bar_rate=1000.0),
    )
    car = Vehicle(left=side, levelling=Levelling(speed=0.02))
    for axle in ("front", "rear"):
        car = replaced(car, (axle, "stabiliser"), Stabiliser(bar_rate=500.0))
    return car


def sample_hardware() -> tuple[Hardware, ...]:
    """Parts in steel of every kind, with springs of a kind or two in each."""
    bars = Hardware(
        front_spring=CoilSpring(),
        rear_spring=BarSpring(),
        interconnection=InterconnectionBar(),
        trim=TrimBar(motor=LevellerMotor()),
        front_stabiliser=StabiliserBar(),
    )
    leaves = Hardware(front_spring=MultiLeafSpring(), rear_spring=ParabolicLeafSpring())
    return bars, leaves, Hardware(front_spring=GasStrut())
