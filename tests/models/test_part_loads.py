"""What the parts carry, against the weight of the car and the levers."""

from __future__ import annotations

from math import isnan

import numpy as np
import pytest
from scipy.constants import g

from models.fields import replaced
from models.hardware import (
    BarSpring,
    CoilSpring,
    Hardware,
    InterconnectionBar,
    LevellerMotor,
    StabiliserBar,
    TrimBar,
    apply_all,
    lever_ratio,
    stabiliser_beam,
)
from models.hardware.motor import motor_current, winding_speed
from models.hardware.torsion_bar import bar_rate
from models.part_loads import design_loads, part_figures, part_loads, rise_per_wind_up, worst
from models.ride.levelling import motor_current as current_of_the_run
from models.vehicle import Load, LoadCase, Spring, Vehicle

BOOT = LoadCase(name="boot", loads=(Load(mass=200.0, x=-3.0),))


def state(vehicle: Vehicle, place: str, key: str, cases: tuple[LoadCase, ...] = ()) -> float:
    return next(s.load for s in worst(part_loads(vehicle, cases), place) if s.key == key)


def test_springs_of_a_plain_car_carry_their_corners() -> None:
    car = replaced(Vehicle(), ("front", "spring"), Spring(rate=26e3, motion_ratio=0.8))
    share = 1 - car.body.cg_to_front_axle / car.wheelbase
    corner = car.body.mass * g * share / 2
    assert state(car, "front_spring", "design") == pytest.approx(corner / 0.8, rel=1e-12)
    assert design_loads(car)["front_spring"] == pytest.approx(corner, rel=1e-12)
    # At the stops: rate · motion ratio · gap more and less.
    more = 26e3 * 0.8 * car.front.bump_stop.gap
    assert state(car, "front_spring", "jounce") == pytest.approx(corner / 0.8 + more, rel=1e-12)
    less = 26e3 * 0.8 * car.front.rebound_stop.gap
    assert state(car, "front_spring", "rebound") == pytest.approx(corner / 0.8 - less, rel=1e-12)


def test_a_load_case_is_carried_by_the_springs() -> None:
    """Nothing but the rear springs takes the moment of a load about the front axle."""
    car = Vehicle()
    before, after = (state(car, "rear_spring", key, (BOOT,)) for key in ("design", "case 1"))
    # Newton stops at 1e-11 of the weight.
    assert after - before == pytest.approx(200.0 * g * 3.0 / car.wheelbase / 2, rel=1e-6)


def test_stabilisers_are_twisted_by_roll_alone() -> None:
    car = replaced(Vehicle(), ("front", "stabiliser", "bar_rate"), 700.0)
    bar = car.front.stabiliser
    travel = car.front.bump_stop.gap + car.front.rebound_stop.gap
    assert state(car, "front_stabiliser", "jounce") == 0.0
    assert state(car, "front_stabiliser", "roll") == pytest.approx(
        700.0 * bar.lever_ratio * travel, rel=1e-12
    )
    assert worst(part_loads(car), "rear_stabiliser") == ()


@pytest.fixture
def joined() -> Vehicle:
    car = replaced(Vehicle(), ("left", "coupling", "bar_rate"), 900.0)
    car = replaced(car, ("left", "trim", "bar_rate"), 500.0)
    for axle in ("front", "rear"):
        car = replaced(car, (axle, "spring", "rate"), 5e3)
    return replaced(car, ("levelling", "speed"), 0.03)


def test_motor_winds_the_trim_bars(joined: Vehicle) -> None:
    """Held wheels: the limit times the rate more; standing free, the car rises and takes part of it back."""
    design, wound, held, jounce = (
        state(joined, "trim", key) for key in ("design", "wound", "wound jounce", "jounce")
    )
    assert held - jounce == pytest.approx(500.0 * joined.levelling.limit, rel=1e-12)
    assert design < wound < design + 500.0 * joined.levelling.limit
    still = replaced(joined, ("levelling", "speed"), 0.0)
    assert not {"wound", "wound jounce"} & {s.key for s in worst(part_loads(still), "trim")}


def test_worst_side_counts(joined: Vehicle) -> None:
    aside = LoadCase(name="left", loads=(Load(mass=150.0, x=-1.4, y=0.5),))
    loads = part_loads(joined, (aside,))
    sides = {part.element: part.states[1].load for part in loads if part.place == "interconnection"}
    assert sides["left interconnection bar"] > sides["right interconnection bar"]
    assert worst(loads, "interconnection")[1].load == sides["left interconnection bar"]


def test_rise_of_a_bar_that_carries_its_wheel_alone() -> None:
    """Under the same weight the lever turns back by the angle: 1/β at its axle, nothing at the other."""
    car = Vehicle()
    beta = lever_ratio(BarSpring().lever)
    front, rear = rise_per_wind_up(car, "front_spring", car.front.spring.rate / beta)
    # Newton stops at 1e-11 of the weight, over the difference of 2e-3 rad.
    assert front == pytest.approx(1 / beta, rel=1e-5)
    assert rear == pytest.approx(0.0, abs=1e-6)


def test_rise_shares_with_springs_beside_the_bar(joined: Vehicle) -> None:
    """Both axles of a car whose sides are alike, on corner springs, bar and trim spring: solved by numpy."""
    k, beta_f, beta_r = 900.0, joined.left.coupling.front_lever_ratio, joined.left.coupling.rear_lever_ratio
    b = np.array([beta_f, beta_r])
    c = np.array([0.0, joined.left.trim.lever_ratio])
    stiffness = np.diag([5e3, 5e3]) + k * np.outer(b, b) + 500.0 * np.outer(c, c)
    rise = np.linalg.solve(stiffness, k * b)
    # Level levers turn a little; central differences over 2e-3 rad leave the square of that.
    assert rise_per_wind_up(joined, "interconnection", k) == pytest.approx(tuple(rise), rel=1e-4)


def test_figures_of_all_that_is_described(joined: Vehicle) -> None:
    motor = LevellerMotor()
    hardware = Hardware(
        front_spring=CoilSpring(),
        rear_spring=BarSpring(),
        interconnection=InterconnectionBar(),
        trim=TrimBar(motor=motor),
        front_stabiliser=StabiliserBar(),
    )
    found = part_figures(joined, hardware, (BOOT,))
    assert list(found) == [
        "front_spring",
        "rear_spring",
        "clocking rear_spring",
        "interconnection",
        "clocking interconnection",
        "trim",
        "clocking trim",
        "front_stabiliser",
        "motor",
    ]
    bar = {figure.key: figure.value for figure in found["rear_spring"]}
    force = state(joined, "rear_spring", "design")
    assert bar["torque_design"] == pytest.approx(force / lever_ratio(BarSpring().lever), rel=1e-14)
    torque = {figure.key: figure.value for figure in found["motor"]}
    wound = 2 * state(joined, "trim", "design") + 2 * bar_rate(TrimBar().bar) * joined.levelling.limit
    assert torque["torque_wound"] == pytest.approx(wound, rel=1e-14)
    turned = {figure.key: figure.value for figure in found["front_stabiliser"]}
    beam, axle = stabiliser_beam(StabiliserBar()), joined.front
    travel = (axle.bump_stop.gap + axle.rebound_stop.gap) / 2
    assert turned["stabiliser_stress"] == pytest.approx(beam.stress.von_mises.max() * travel, rel=1e-14)
    assert turned["safety"] == pytest.approx(1100e6 / turned["stabiliser_stress"], rel=1e-14)
    assert part_figures(joined, Hardware()) == {}


def test_a_bar_that_the_car_does_not_have_is_not_clocked() -> None:
    found = part_figures(Vehicle(), Hardware(trim=TrimBar(motor=LevellerMotor())))
    assert list(found) == ["trim", "motor"]
    motor = {figure.key: figure.value for figure in found["motor"]}
    assert isnan(motor["torque_design"])
    assert motor["idle_speed"] == winding_speed(LevellerMotor())


def test_current_is_that_of_the_levelling_run() -> None:
    """The run of the levelling and the motor tell one current, once the motor is applied."""
    motor = LevellerMotor()
    car = apply_all(Vehicle(), Hardware(trim=TrimBar(motor=motor)))
    torques = np.array([-200.0, 0.0, 300.0, 900.0])
    run = current_of_the_run(car.levelling, np.ones(4, dtype=np.int64), torques)
    assert run == pytest.approx([motor_current(motor, float(t)) for t in torques], rel=1e-14)
