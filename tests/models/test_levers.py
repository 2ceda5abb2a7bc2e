"""Levers of torsion bars: closed forms, the rates they give, and the runs of a car that stands on them."""

from __future__ import annotations

from math import asin, cos, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.assembly import assemble, half_car, linearised, mechanics, quarter_car
from models.fields import replaced
from models.levers import STEEPEST, Lever, turned
from models.ride.channels import channel_index
from models.ride.corner_forces import corner_forces
from models.ride.drive import nonlinear_drive
from models.ride.frame import frame_rows, static_frame_loads
from models.ride.nonlinear import simulate
from models.ride.nonlinear_car import nonlinear_car
from models.roads import OneMinusCosine
from models.run import Run
from models.statics import statics
from models.vehicle import (
    Axle,
    Load,
    LoadCase,
    Side,
    Spring,
    Stabiliser,
    TorsionCoupling,
    TrimSpring,
    Vehicle,
)

LOAD = LoadCase(name="boot", loads=(Load(mass=140.0, x=-3.1, y=0.2),))
ANGLED = Vehicle(
    front=Axle(spring=Spring(rate=9e3), stabiliser=Stabiliser(bar_rate=400.0)),
    rear=Axle(spring=Spring(rate=8e3)),
    left=Side(
        coupling=TorsionCoupling(
            bar_rate=1200.0,
            front_lever_ratio=2.6,
            rear_lever_ratio=3.0,
            front_lever_angle=radians(-25),
            rear_lever_angle=radians(30),
        ),
        trim=TrimSpring(bar_rate=300.0, lever_ratio=2.4, lever_angle=radians(-20)),
    ),
)


def trimmed(angle: float) -> Vehicle:
    """A car on trim springs alone at the rear, whose lever stands at an angle."""
    side = Side(trim=TrimSpring(bar_rate=4000.0, lever_ratio=2.5, lever_angle=angle))
    return Vehicle(rear=Axle(spring=Spring(rate=0.0)), left=side)


@given(angle=st.floats(-1.0, 1.0), ratio=st.floats(0.5, 8.0), share=st.floats(-0.95, 0.95))
def test_a_lever_turns_on_its_circle(angle: float, ratio: float, share: float) -> None:
    """The end of a lever of length r is r sin φ high, whatever has been lifted."""
    lever = Lever(0, -ratio, angle)
    length = 1 / (ratio * cos(angle))
    low, high = lever.reach
    s = (low + high) / 2 + share * (high - low) / 2
    turn = turned(lever.ratio, lever.angle, s)
    stands = angle - float(turn.angle)
    assert length * sin(stands) - length * sin(angle) == pytest.approx(s, abs=1e-12 * length)
    assert -turn.ratio == pytest.approx(1 / (length * cos(stands)), rel=1e-9)
    assert -turn.slope == pytest.approx(tan(stands) / (length * cos(stands)) ** 2, rel=1e-8, abs=1e-9)


def test_at_design_trim_ratio_and_slope_are_those_given() -> None:
    turn = turned(2.5, 0.4, 0.0)
    assert turn == pytest.approx((0.0, 2.5, 2.5**2 * tan(0.4)), abs=1e-14)


def test_beyond_80_degrees_it_goes_on_straight() -> None:
    lever = Lever(0, 2.5, 0.3)
    _, high = lever.reach
    end, beyond = turned(2.5, 0.3, high), turned(2.5, 0.3, high + 0.1)
    assert 0.3 + end.angle == pytest.approx(STEEPEST, rel=1e-12)
    assert beyond.angle - end.angle == pytest.approx(0.1 * end.ratio, rel=1e-9)
    assert beyond.ratio == pytest.approx(end.ratio)
    assert beyond.slope == 0.0


@pytest.mark.parametrize("angle", [-50.0, -20.0, 0.0, 35.0])
def test_wheel_rate_of_a_bar_on_an_angled_lever(angle: float) -> None:
    """(k + T tan φ) / (r² cos² φ), values.md section 6, derived there from the geometry; r β cos φ = 1."""
    car = mechanics(trimmed(radians(angle)))
    torque = next(element.preload for element in car.elements if element.name == "left trim spring")
    length = 1 / (2.5 * cos(radians(angle)))
    rate = (4000.0 + torque * tan(radians(angle))) / (length * cos(radians(angle))) ** 2
    assert torque > 1000.0
    assert linearised(car).wheel_rates[2, 2] == pytest.approx(rate, rel=1e-12)


def test_static_travel_by_hand() -> None:
    """Load over the rear axle: (T + k (φ - φ0)) / (r cos φ) carries it, r sin φ = r sin φ0 + s."""
    angle, mass = radians(-20), 120.0
    car = mechanics(trimmed(angle), LoadCase(loads=(Load(mass=mass, x=-2.9, y=0.0),)))
    found = statics(car)
    torque = next(element.preload for element in car.elements if element.name == "left trim spring")
    length = 1 / (2.5 * cos(angle))
    stands = asin(sin(angle) + found.travel[2] / length)
    carried = (torque + 4000.0 * (stands - angle)) / (length * cos(stands))
    assert carried - 2.5 * torque == pytest.approx(mass * 9.80665 / 2, rel=1e-9)


def test_a_lever_near_its_toggle_is_said() -> None:
    """By hand: up to 80 deg are (sin 80 - sin 60) / (20 cos 60) = 12 mm."""
    steep = replaced(trimmed(radians(60)), ("left", "trim", "lever_ratio"), 20.0)
    steep = replaced(steep, ("left", "trim", "bar_rate"), 20.0)
    found = statics(mechanics(steep, LoadCase(loads=(Load(mass=3000.0, x=-2.7, y=0.0),))))
    assert found.stable
    assert "left trim spring: its lever at RL would stand more than 80 deg above" in found.warnings[0]


@pytest.mark.invariant
@pytest.mark.parametrize("smaller", ["full", "half", "quarter"])
def test_a_run_on_angled_levers_is_at_rest_at_its_start_and_keeps_its_energy(smaller: str) -> None:
    car = mechanics(ANGLED, LOAD)
    stand = statics(car)
    full = linearised(car, stand.q)
    model = {"full": full, "half": half_car(full), "quarter": quarter_car(full, 2)}[smaller]
    made = nonlinear_car(car, stand, model)
    t = np.linspace(0.0, 1.0, 1001)
    bump = 0.07 * np.sin(np.pi * np.clip((t - 0.1) / 0.2, 0, 1)) ** 2
    road = np.tile(bump, (4, 1)) if smaller != "full" else np.array([bump, 0.3 * bump, 0.8 * bump, 0.0 * t])
    response = simulate(made.model, t, road, q0=made.start, substeps=2)
    assert np.abs(response.acceleration[0]).max() < 1e-8
    assert np.abs(response.coordinate[:4]).max() > 0.02
    # Runge-Kutta of 0.5 ms over hops of 10 Hz; dampers with a kink at rest.
    assert response.energy_residual < 1e-6


@pytest.mark.parametrize("smaller", ["full", "half", "quarter"])
def test_small_motions_are_those_of_the_linear_car(smaller: str) -> None:
    """Bends of second order: of motions of 0.1 mm on levers of 0.4 m some 1e-4."""
    even = ANGLED
    for axle in ("front", "rear"):
        even = replaced(even, (axle, "damper", "rebound"), getattr(even, axle).damper.jounce)
    car = mechanics(even, LOAD)
    stand = statics(car)
    full = linearised(car, stand.q)
    model = {"full": full, "half": half_car(full), "quarter": quarter_car(full, 2)}[smaller]
    made = nonlinear_car(car, stand, model)
    force = model.stiffness @ np.ones(len(model.dof))
    small = 1e-5 * np.linalg.solve(model.stiffness, force)
    t = np.linspace(0.0, 1e-3, 3)
    response = simulate(made.model, t, np.zeros((4, 3)), q0=made.start + small)
    expected = -np.linalg.solve(model.mass, model.stiffness @ small)
    np.testing.assert_allclose(response.acceleration[0], expected, rtol=0, atol=1e-3 * np.abs(expected).max())


def test_frame_and_corners_feel_the_levers_as_they_stand() -> None:
    """Newton for the body at rest and over a bump: the corners carry it, and the frame is sound at rest."""
    run = Run(event=OneMinusCosine(height=0.08, side="left"), duration=1.0, laws="nonlinear")
    car = mechanics(ANGLED, LOAD)
    stand = statics(car)
    model = linearised(car, stand.q)
    driven = nonlinear_drive(ANGLED, car, stand, model, run)
    total = corner_forces(car, model, stand, driven.time, driven.response).force.sum(axis=0)
    # The run has its levers in tables, whose ratios are off by some 1e-7.
    np.testing.assert_allclose(total, driven.response.coordinate_force[:4], rtol=1e-6)
    # Shear: what the corners ahead of the section carry, less the mass ahead times acceleration.
    section = car.section
    carried = total[:2].sum(axis=0) - section.inertia[0] @ (model.body @ driven.response.acceleration.T)
    shear = driven.time.y[channel_index("frame_shear")]
    np.testing.assert_allclose(carried - carried[0], shear, rtol=0, atol=1e-6 * np.abs(carried).max())
    at_rest = static_frame_loads(car, stand)[0]
    front = total[:2, 0].sum()
    assert at_rest == pytest.approx(front - 9.80665 * section.inertia[0, 0], rel=1e-6)


def test_frame_of_the_linear_car_is_the_slope_of_the_static_one() -> None:
    """Lifted slowly by small roads, on angled levers: rows of the frame against differences of statics."""
    car = mechanics(ANGLED, LOAD)
    stand = statics(car)
    model = linearised(car, stand.q)

    rows = frame_rows(model)[0]
    for dof in range(7):
        step = 1e-6 * np.eye(7)[dof]
        loads = []
        for q in (stand.q - step, stand.q + step):
            moved = car.moved(car.deflections @ q)
            force = np.array([e.force(x) for e, x in zip(car.elements, moved.deflection, strict=True)])
            loads.append(car.section.with_levers_at(moved.incidence - car.incidence).force @ force)
        slope = (loads[1] - loads[0]) / 2e-6
        np.testing.assert_allclose(rows[:, dof], slope, rtol=1e-6, atol=1e-2)


def test_without_angles_the_linear_car_is_that_of_constant_ratios() -> None:
    """At design trim a level lever has no slope: K_s = Σ k bᵀb."""
    level = replaced(ANGLED, ("left", "coupling"), TorsionCoupling(bar_rate=1200.0))
    level = replaced(level, ("left", "trim"), TrimSpring(bar_rate=300.0))
    model = assemble(level)
    b = model.incidence
    k = np.array([element.stiffness for element in model.elements])
    np.testing.assert_allclose(model.rates, b.T @ (k[:, None] * b), rtol=1e-15, atol=1e-9)
