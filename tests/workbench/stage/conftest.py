"""Runs to show on the stage."""

from __future__ import annotations

import pytest

from models.analysis import Analysis, analyse
from models.roads import OneMinusCosine
from models.run import Run
from models.vehicle import Axle, Side, Spring, TorsionCoupling, TrimSpring, Vehicle

RUN = Run(event=OneMinusCosine(), duration=1.0)
UNSPRUNG = Axle(spring=Spring(rate=0.0))


@pytest.fixture(scope="session")
def joined() -> Analysis:
    """Car on levelling bars and trim springs alone, over a bump."""
    side = Side(
        coupling=TorsionCoupling(bar_rate=1100.0, front_lever_ratio=2.5, rear_lever_ratio=3.0),
        trim=TrimSpring(bar_rate=250.0),
    )
    return analyse(Vehicle(front=UNSPRUNG, rear=UNSPRUNG, left=side), RUN)


@pytest.fixture(scope="session")
def separate() -> Analysis:
    """Car on four separate springs, over the same bump."""
    return analyse(Vehicle(), RUN)
