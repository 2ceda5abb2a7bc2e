"""Beside scipy: its solvers, eigenvalues and integrals on equations written a second time."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import quad, solve_ivp
from scipy.linalg import eigh_tridiagonal
from scipy.signal import lsim

from models.assembly import assemble
from models.hardware import CoilSpring, LevellerMotor
from models.hardware.coil import coil_rate, surge_frequency
from models.hardware.motor import motor_current, trim_move, winding_speed
from models.ride.channels import channel_index
from models.ride.modes import modes
from models.ride.nonlinear import simulate
from models.ride.transient import time_response
from models.roads import OneMinusCosine, RoughSurface, wheel_heights
from models.vehicle import Vehicle
from models.verification.cars import EVERYTHING
from models.verification.check import Chapter, Numbers, beside
from models.verification.engines.independent_car import IndependentCar
from models.verification.engines.newton import KEYS, state_space
from models.verification.engines.nonlinear_cars import EVERY_LAW, hard_bump

__all__ = ["CHAPTER"]

CHAPTER = Chapter("scipy", "scipy", group="engine")

Array = NDArray[np.float64]
CARS = (("plain", Vehicle()), ("every part", EVERYTHING))


@CHAPTER.check(
    "Poles of the car",
    source="numpy and LAPACK, eigenvalues of the state matrix from Newton's laws",
    status="computed apart",
    reason="eigenvalues of a matrix of 14 whose entries differ by six decades: 1e-8 of the largest",
    cases=CARS,
)
def poles(case: tuple[str, Vehicle]) -> Numbers:
    """Damped frequencies of the modes that swing, Hz."""
    name, vehicle = case
    theirs = np.linalg.eigvals(state_space(vehicle).a).imag / (2 * pi)
    theirs = np.sort(theirs[theirs > 1e-6])
    ours = np.sort(modes(assemble(vehicle)).damped_frequency)
    ours = ours[ours > 1e-6]
    yield beside(f"{name}: modes that swing", len(ours), len(theirs))
    yield beside(f"{name}: Hz", ours, theirs, within=1e-8 * theirs.max())


@CHAPTER.check(
    "Time response over a bump",
    source="scipy.signal.lsim on the state space from Newton's laws",
    status="computed apart",
    reason="both are exact for a road straight between samples; rounding over 1500 steps stays below 1e-9 "
    "of the peak of each channel",
    cases=CARS,
)
def bump(case: tuple[str, Vehicle]) -> Numbers:
    """20 channels over a bump on the left, SI; tyres without damping, as lsim is told of no rates."""
    name, vehicle = case
    undamped = vehicle.model_copy(
        update={
            axle: part.model_copy(update={"tyre": part.tyre.model_copy(update={"damping": 0.0})})
            for axle, part in (("front", vehicle.front), ("rear", vehicle.rear))
        }
    )
    t = np.linspace(0.0, 1.5, 1501)
    model, system = assemble(undamped), state_space(undamped)
    event = OneMinusCosine(height=0.05, length=3.0, start=1.0, side="left")
    w = wheel_heights(event, RoughSurface(), 15.0, model.wheelbase, sum(model.track) / 2, t)
    _, theirs, _ = lsim((system.a, system.b[:, :4], system.c, system.d[:, :4]), w.T, t)
    ours = time_response(model, t, w).y
    for row, key in enumerate(KEYS):
        within = 1e-9 * np.abs(theirs[:, row]).max()
        yield beside(f"{name}: {key}", ours[channel_index(key)], theirs[:, row], within=within)


@CHAPTER.check(
    "Nonlinear run over a hard bump",
    source="scipy.integrate.solve_ivp, DOP853 to 1e-8, with the equations written a second time",
    status="computed apart",
    reason="1e-4 of the peak of all that moves together: of the program's steps of 0.25 ms the error is "
    "some 2e-5 of peak, from steps across the corners of stops and friction",
)
def nonlinear_run() -> Numbers:
    """A car of 25 elements, linkages, friction, stops that are touched and wheels that leave the road.

    The solver is made to stop at each corner of the road.
    """
    model = EVERY_LAW
    t = 3e-3 * np.arange(221, dtype=float)
    w = hard_bump(t)
    ours = simulate(model, t, w, substeps=12)
    yield beside("a stop is touched (1: yes)", float(ours.stop_contact.any()), 1.0)
    yield beside("a wheel leaves the road (1: yes)", float(ours.lift_off.any()), 1.0)

    car, n = IndependentCar(model, t, w), len(model.dof)
    y = np.zeros((len(t), 2 * n))
    for k in range(len(t) - 1):
        # Times a hair inside keep the slope of the road that of this interval.
        span = (t[k] + 1e-12, t[k + 1] - 1e-12)
        y[k + 1] = solve_ivp(car, span, y[k], method="DOP853", rtol=1e-8, atol=1e-10).y[:, -1]
    for name, found, theirs in (
        ("wheels and body, m and rad", ours.q, y[:, :n]),
        ("rates", ours.rate, y[:, n:]),
    ):
        yield beside(name, found, theirs, within=1e-4 * np.abs(theirs).max())
    forces = np.array(
        [car.tyre_force(a, s[:n] @ model.wheels.T, s[n:] @ model.wheels.T) for a, s in zip(t, y, strict=True)]
    ).T
    # Samples at a corner of the road carry the mean of two rates, those of the solver one of them.
    straight = np.abs(np.diff(w, 2, axis=1)).max(axis=0) < 1e-12
    inside, theirs = ours.tyre_force[:, 1:-1][:, straight], forces[:, 1:-1][:, straight]
    yield beside("tyre forces, N", inside, theirs, within=1e-4 * theirs.max())


@CHAPTER.check(
    "Surge of a coil",
    source="scipy.linalg.eigh_tridiagonal, chain of 400 masses between fixed ends",
    status="computed apart",
    reason="a chain of N pieces is 1e-6 off at N = 400",
)
def surge() -> Numbers:
    """First eigenfrequency of the default coil, cut into equal pieces."""
    coil, pieces = CoilSpring(), 400
    wire = (
        coil.material.density * pi / 4 * coil.wire_diameter**2 * pi * coil.mean_diameter * coil.active_coils
    )
    k, m = coil_rate(coil) * pieces, wire / pieces
    values = eigh_tridiagonal(
        np.full(pieces - 1, 2 * k / m), np.full(pieces - 2, -k / m), select="i", select_range=(0, 0)
    )[0]
    yield beside("frequency, Hz", surge_frequency(coil), sqrt(values[0]) / (2 * pi), relative=5e-6)


@CHAPTER.check(
    "Move of the levelling motor",
    source="scipy.integrate.quad over the angle",
    status="computed apart",
    reason="scipy's own error, asked to be 1e-11",
    cases=[
        (resistance, *ends)
        for resistance in (0.0, 0.2)
        for ends in ((150.0, 900.0), (-300.0, 700.0), (-400.0, -100.0), (500.0, 500.0))
    ],
)
def motor_move(case: tuple[float, float, float]) -> Numbers:
    """Time and energy of winding by 0.7 rad, the torque going evenly from start to end."""
    resistance, start, end = case
    motor, angle = LevellerMotor(resistance=resistance), 0.7

    def torque(turn: float) -> float:
        return start + (end - start) * turn / angle

    def slowness(turn: float) -> float:
        return float(1 / winding_speed(motor, torque(turn)))

    def drawn(turn: float) -> float:
        return float(motor.voltage * motor_current(motor, torque(turn)) * slowness(turn))

    zero = [angle * start / (start - end)] if start * end < 0 else None
    move = trim_move(motor, start, end, angle)
    for name, found, of in (("time, s", move.time, slowness), ("energy, J", move.energy, drawn)):
        expected = quad(of, 0, angle, points=zero, epsrel=1e-11)[0]
        yield beside(f"{start:g} to {end:g} N·m, {resistance:g} ohm: {name}", found, expected, relative=1e-9)
