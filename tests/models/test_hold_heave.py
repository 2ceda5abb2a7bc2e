from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.assembly import assemble
from models.fields import replaced
from models.hold_heave import with_heave_held
from models.ride.rates import rates
from models.vehicle import (
    Axle,
    GasSpring,
    ProgressiveSpring,
    Side,
    SolidAxle,
    Spring,
    TorsionCoupling,
    Vehicle,
)

BAR = ("left", "coupling", "bar_rate")


def car(front: float = 3.0, rear: float = 2.2, sense: str = "levelling") -> Vehicle:
    coupling = TorsionCoupling(bar_rate=300.0, front_lever_ratio=front, rear_lever_ratio=rear, sense=sense)
    return Vehicle(
        front=Axle(spring=Spring(rate=40e3, motion_ratio=0.8)),
        rear=Axle(spring=ProgressiveSpring(rate=30e3), wheels=SolidAxle()),
        left=Side(coupling=coupling),
    )


@given(
    rate=st.floats(0.0, 1000.0),  # so that no spring is used up
    front=st.floats(1.5, 4.0),
    rear=st.floats(1.5, 4.0),
    sense=st.sampled_from(["levelling", "pitch stiffening"]),
)
def test_heave_stays_and_pitch_changes(rate: float, front: float, rear: float, sense: str) -> None:
    """Rates of the body over heave: K_zz and K_zθ, to rounding."""
    before = car(front, rear, sense)
    after = with_heave_held(before, replaced(before, BAR, rate))
    was, now = (rates(assemble(vehicle)).body_rates for vehicle in (before, after))
    np.testing.assert_allclose(now[0], was[0], rtol=0, atol=1e-9 * was[0, 0])
    if sense == "levelling" and rate > 310.0:
        assert now[2, 2] < was[2, 2]


def test_a_right_side_of_its_own_takes_part_by_its_own_change() -> None:
    before = car().model_copy(update={"right": Side()})
    after = with_heave_held(before, replaced(before, BAR, 900.0))
    was, now = (rates(assemble(vehicle)).body_rates for vehicle in (before, after))
    np.testing.assert_allclose(now[0, [0, 2]], was[0, [0, 2]], rtol=1e-12)


def test_a_spring_gives_way_down_to_nothing() -> None:
    before = car()
    after = with_heave_held(before, replaced(before, BAR, 20e3))
    assert after.front.spring.rate == after.rear.spring.rate == 0.0
    assert after.left.coupling.bar_rate == 20e3


def test_springs_without_a_rate_stay() -> None:
    before = replaced(car(), ("front", "spring"), GasSpring())
    after = with_heave_held(before, replaced(before, BAR, 400.0))
    assert after.front == before.front
    change = 100.0 * 2.2 * (3.0 + 2.2)
    assert after.rear.spring.rate == pytest.approx(30e3 - change, rel=1e-12)
