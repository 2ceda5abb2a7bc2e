"""Design trim: the car stands level, whatever its springs, and who carries how much."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import g

from models.assembly import Mechanics, mechanics
from models.fields import replaced
from models.statics import statics
from models.vehicle import (
    Axle,
    Body,
    FluidCoupling,
    GasSpring,
    Occupant,
    Seat,
    Side,
    Spring,
    TorsionCoupling,
    TrimSpring,
    Vehicle,
)
from tests.cars import EVERYTHING, real_vehicles


def preloads(car: Mechanics) -> dict[str, float]:
    return {element.name: element.preload for element in car.elements}


def unbalance_at_design_trim(car: Mechanics) -> np.ndarray:
    """Weight, element forces and tyre forces on each degree of freedom, straight from the element table."""
    force = np.zeros(len(car.dof))
    for element, row in zip(car.elements, car.incidence, strict=True):
        push = element.preload + (float(element.spring.force(0.0)) if element.spring else 0.0)
        force -= car.deflections.T @ row * push
    return force + car.weight + car.wheels.T @ car.tyre_load


@pytest.mark.invariant
@given(real_vehicles)
def test_the_car_is_in_balance_at_design_trim(vehicle: Vehicle) -> None:
    """Rounding of forces that may hold each other: of the largest preload at its lever."""
    car = mechanics(vehicle)
    largest = max(
        float(np.abs(row * element.preload).max())
        for element, row in zip(car.elements, car.incidence, strict=True)
    )
    assert np.abs(unbalance_at_design_trim(car)).max() <= 1e-11 * (largest + np.abs(car.weight).max())


@given(real_vehicles)
def test_the_car_stands_level_and_at_no_travel(vehicle: Vehicle) -> None:
    car = mechanics(vehicle)
    stand = statics(car)
    if stand.stable:
        assert np.abs(stand.q).max() < 1e-9
    else:
        assert car.tyre_load.min() < 0 or "gas would have to pull" in stand.reason or softest(car) <= 1e-6


def softest(car: Mechanics) -> float:
    """Least stiffness of the body on its springs, tyres held, as part of the greatest, from differences.

    A preloaded bar may turn its levers further than its rate turns them back.
    """
    steps = np.eye(3) * 1e-6
    change = [(body_force(car, -step) - body_force(car, step)) / 2e-6 for step in steps]
    scale = 1 / np.sqrt(np.diag(car.body_mass))
    rates = np.linalg.eigvalsh(scale[:, None] * np.array(change) * scale)
    return float(rates[0] / rates[-1])


def body_force(car: Mechanics, body: np.ndarray) -> np.ndarray:
    """(3,) what the suspension pushes the body with; the occupant goes with the body."""
    rigid = car.deflections[:4, :3]
    x = np.zeros(len(car.deflections))
    x[:4] = rigid @ body
    moved = car.moved(x)
    forces = [
        e.preload + (float(e.spring.force(x)) if e.spring else 0.0)
        for e, x in zip(car.elements, moved.deflection, strict=True)
    ]
    return -rigid.T @ (moved.incidence.T @ np.array(forces))[:4]


def test_corner_loads_of_a_car_on_separate_springs() -> None:
    """Hand statics: the front carries m g b/L, halved between left and right, and each wheel its own mass."""
    vehicle = Vehicle()
    body, length = vehicle.body, vehicle.wheelbase
    front = body.mass * g * (length - body.cg_to_front_axle) / length / 2
    rear = body.mass * g * body.cg_to_front_axle / length / 2
    car = mechanics(vehicle)
    assert preloads(car)["front left spring"] == pytest.approx(front, rel=1e-12)
    assert preloads(car)["rear right spring"] == pytest.approx(rear, rel=1e-12)
    assert car.tyre_load == pytest.approx([front + 45 * g] * 2 + [rear + 45 * g] * 2, rel=1e-12)


def test_force_of_a_spring_is_the_corner_load_over_its_motion_ratio() -> None:
    axle = Axle(spring=Spring(rate=50e3, motion_ratio=0.7))
    car = mechanics(Vehicle(front=axle))
    assert preloads(car)["front left spring"] == pytest.approx((car.tyre_load[0] - 45 * g) / 0.7, rel=1e-12)


def test_occupant_weighs_on_cushion_and_corners() -> None:
    """Hand statics: moments about rear axle and centre line."""
    seat = Seat(x=0.2, y=0.35, occupant=Occupant(mass=60.0))
    vehicle = Vehicle(seat=seat)
    car = mechanics(vehicle)
    without = mechanics(Vehicle())
    gained = car.tyre_load - without.tyre_load
    b = vehicle.wheelbase - vehicle.body.cg_to_front_axle
    assert gained.sum() == pytest.approx(60 * g, rel=1e-9)
    assert gained[:2].sum() * vehicle.wheelbase == pytest.approx(60 * g * (b + 0.2), rel=1e-9)
    assert (gained[0] + gained[2] - gained[1] - gained[3]) * 0.75 == pytest.approx(60 * g * 0.35, rel=1e-9)
    assert preloads(car)["seat cushion"] == pytest.approx(60 * g, rel=1e-15)


@given(share=st.floats(0.3, 0.7), lever=st.floats(1.5, 4.0))
def test_a_joined_bar_alone_carries_the_car_where_its_levers_are_as_the_weights(
    share: float, lever: float
) -> None:
    """By hand: the torque T at both ends pushes with T β_f and T β_r, so that β_f / β_r = b / a must hold."""
    bare, length = Axle(spring=Spring(rate=0.0)), 2.8
    bar = TorsionCoupling(
        bar_rate=1000.0, front_lever_ratio=lever * (1 - share), rear_lever_ratio=lever * share
    )
    body = Body(mass=1500.0, cg_to_front_axle=share * length)
    car = mechanics(Vehicle(wheelbase=length, body=body, front=bare, rear=bare, left=Side(coupling=bar)))
    torque = 1500.0 * g / 2 / lever
    assert preloads(car)["left interconnection bar"] == pytest.approx(torque, rel=1e-9)
    assert np.abs(unbalance_at_design_trim(car)).max() < 1e-8


def test_bar_and_trim_spring_share_the_rear_by_moment() -> None:
    """By hand: the front hangs on the bar alone; the trim spring makes up for what the rear lever lacks."""
    bare = Axle(spring=Spring(rate=0.0))
    side = Side(
        coupling=TorsionCoupling(bar_rate=1200.0, front_lever_ratio=2.8, rear_lever_ratio=2.4),
        trim=TrimSpring(bar_rate=500.0, lever_ratio=2.5),
    )
    car = mechanics(Vehicle(front=bare, rear=bare, left=side))
    front, rear = car.tyre_load[0] - 45 * g, car.tyre_load[2] - 45 * g
    torque = preloads(car)["left interconnection bar"]
    assert 2.8 * torque == pytest.approx(front, rel=1e-9)
    assert preloads(car)["left trim spring"] == pytest.approx((rear - 2.4 * torque) / 2.5, rel=1e-9)


def test_gas_and_fluid_carry_with_the_stiffness_of_their_own_pressure() -> None:
    """The shares go with the rates at the pressures that those shares make: a fixed point."""
    axle = Axle(spring=GasSpring())
    side = Side(coupling=FluidCoupling(front_area=0.001, rear_area=0.001))
    car = mechanics(Vehicle(front=axle, rear=axle, left=side))
    spring, fluid = (
        next(e for e in car.elements if e.name == name)
        for name in ("front left spring", "left fluid interconnection")
    )
    sunk = spring.preload / spring.stiffness(0.0)
    rear = next(e for e in car.elements if e.name == "rear left spring")
    sunk_rear = rear.preload / rear.stiffness(0.0)
    expected = fluid.stiffness(0.0) * 0.001 * (sunk + sunk_rear)
    assert fluid.preload == pytest.approx(expected, rel=1e-9)
    assert fluid.spring.static == fluid.preload


def test_very_unequal_springs_stand_as_level_as_equal_ones() -> None:
    """A trim spring a millionth as stiff as the front springs holds the whole rear."""
    weak = Side(trim=TrimSpring(bar_rate=1e-2, lever_ratio=2.5))
    vehicle = replaced(replaced(EVERYTHING, ("rear", "spring", "rate"), 0.0), ("left",), weak)
    vehicle = replaced(vehicle, ("right",), None)
    stand = statics(mechanics(vehicle))
    assert stand.stable, stand.reason
    assert np.abs(stand.q).max() < 1e-6
