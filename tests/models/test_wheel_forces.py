"""Forces at the wheel are those that the elements of the assembled car have there."""

from __future__ import annotations

import numpy as np
import pytest

from models.assembly import mechanics
from models.fields import replaced
from models.vehicle import (
    Axle,
    DigressiveDamper,
    FluidCoupling,
    Friction,
    GasSpring,
    Side,
    SolidAxle,
    Stop,
    TorsionCoupling,
    Vehicle,
)
from models.wheel_forces import interconnection_force, static_spring_force, wheel_damping, wheel_force

AXLE = Axle(
    wheels=SolidAxle(),
    spring=GasSpring(motion_ratio=0.8),
    damper=DigressiveDamper(motion_ratio=0.7),
    bump_stop=Stop(gap=0.05, rate=60e3, growth=2e6),
    rebound_stop=Stop(gap=0.04, rate=40e3),
    friction=Friction(force=80.0, width=0.02),
)
CAR = Vehicle(front=AXLE, left=Side(coupling=FluidCoupling(rear_area=0.003, resistance=1e8)))
TRAVEL = np.linspace(-0.1, 0.1, 41)


def test_wheel_force_is_that_of_springs_and_stops_with_both_wheels_moved_alike() -> None:
    car = mechanics(CAR)
    for name in ("spring", "stop"):
        assert any(element.name.endswith(name) and element.incidence[0] for element in car.elements)
    expected = np.zeros_like(TRAVEL)
    for element in car.elements:
        if element.name.startswith("front") and element.name.endswith(("spring", "stop")):
            b = element.incidence
            expected += b[0] * np.asarray(element.spring.force((b[0] + b[1]) * TRAVEL))  # type: ignore[union-attr]
    force = wheel_force(CAR.front, TRAVEL, static_spring_force(car, "front"))
    # Sums of a few products of doubles, of up to 2e4 N.
    assert force == pytest.approx(expected, rel=1e-12, abs=1e-9)


def test_the_static_force_of_the_spring_is_what_it_carries_at_trim() -> None:
    car = mechanics(replaced(CAR, ("left",), Side()))
    # Without other springs both front springs carry the sprung mass on that axle through their ratio.
    body = CAR.body
    load = body.mass * 9.80665 * (CAR.wheelbase - body.cg_to_front_axle) / CAR.wheelbase / 2
    assert static_spring_force(car, "front") == pytest.approx(load / 0.8, rel=1e-9)


def test_damping_at_the_wheel_has_the_square_of_the_ratio_and_the_friction() -> None:
    # Below the knee: 2000 · 0.7² · v in jounce, 3500 · 0.7² · v in rebound; friction 80 N past 0.02 m/s.
    assert wheel_damping(AXLE, [0.1]) == pytest.approx([2000 * 0.49 * 0.1 + 80], rel=1e-12)
    assert wheel_damping(AXLE, [-0.01, 0.0]) == pytest.approx([-3500 * 0.49 * 0.01 - 40, 0.0], rel=1e-12)
    assert wheel_damping(AXLE, [1.0]) == pytest.approx(
        [0.7 * 2000 * (0.1 + 0.3 * (0.7 - 0.1)) + 80], rel=1e-12
    )


@pytest.mark.parametrize("angles", [(0.0, 0.0), (0.3, -0.4)])
@pytest.mark.parametrize(("sense", "sign"), [("levelling", 1.0), ("pitch stiffening", -1.0)])
def test_a_bar_pushes_at_both_wheels_by_its_levers(
    sense: str, sign: float, angles: tuple[float, float]
) -> None:
    bar = TorsionCoupling.model_validate(
        {
            "bar_rate": 800.0,
            "front_lever_ratio": 2.0,
            "front_lever_angle": angles[0],
            "rear_lever_ratio": 3.0,
            "rear_lever_angle": angles[1],
            "sense": sense,
        }
    )
    car = mechanics(Vehicle(left=Side(coupling=bar)))
    preload = next(element.preload for element in car.elements if element.name == "left interconnection bar")
    front, rear = interconnection_force(car, "left", TRAVEL)

    def energy(front_travel: np.ndarray, rear_travel: np.ndarray) -> np.ndarray:
        """Work T0 D + k D^2 / 2 of the bar over its twist D, from the angles at which its levers stand."""
        lifts = ((2.0, angles[0], front_travel), (3.0, angles[1], rear_travel))
        turns = [np.arcsin(np.sin(a) + ratio * np.cos(a) * s) - a for ratio, a, s in lifts]
        twist = turns[0] + sign * turns[1]
        return np.asarray(preload * twist + 400.0 * twist**2)

    # Forces are the slopes of the energy, exact by a complex step.
    step = 1e-30
    front_slope = energy(TRAVEL + 1j * step, TRAVEL + 0j).imag / step
    rear_slope = energy(TRAVEL + 0j, TRAVEL + 1j * step).imag / step
    assert front == pytest.approx(front_slope - 2.0 * preload, rel=1e-9, abs=1e-9)
    assert rear == pytest.approx(rear_slope - sign * 3.0 * preload, rel=1e-9, abs=1e-9)


def test_fluid_pushes_by_its_areas_with_one_pressure() -> None:
    front, rear = interconnection_force(mechanics(CAR), "right", TRAVEL)
    assert rear == pytest.approx(front * 0.003 / 0.002, rel=1e-12)
    # Gas stiffens in jounce.
    assert front[-1] > -front[0] > 0
