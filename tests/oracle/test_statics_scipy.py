"""Equilibrium of load cases against scipy, from forces written wheel by wheel.

Geometry and laws are told anew from the vehicle's numbers; only the forces at design trim come from the
program (they are a matter of design, checked by hand in the tests of trim).
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from hypothesis import given
from numpy.typing import NDArray
from scipy.constants import atm, g
from scipy.optimize import root

from models.assembly import mechanics
from models.errors import InputError
from models.statics import statics
from models.vehicle import (
    CornerSpring,
    FluidCoupling,
    GasSpring,
    LoadCase,
    ProgressiveSpring,
    SolidAxle,
    Spring,
    Stop,
    TabulatedSpring,
    Vehicle,
)
from tests.cars import load_cases, real_vehicles
from tests.manual import near

Array = NDArray[np.float64]


def spring_force(spring: CornerSpring, x: float, static: float) -> float:
    match spring:
        case Spring():
            return static + spring.rate * x
        case ProgressiveSpring():
            return static + spring.rate * x + spring.growth * x**3
        case TabulatedSpring():
            points = [(point.deflection, point.force) for point in spring.points]
            return static + broken_line(points, x) - broken_line(points, 0.0)
        case GasSpring():
            return spring.area * gas(static / spring.area, spring.area * x / spring.volume, spring.exponent)


def gas(gauge: float, share: float, exponent: float) -> float:
    """Gauge pressure once ``share`` of the volume is gone; a NaN past its end, where scipy then fails."""
    return (gauge + atm) * (1 - share) ** -exponent - atm if share < 0.89 else np.nan


def broken_line(points: list[tuple[float, float]], x: float) -> float:
    cells = list(pairwise(points))
    (x0, f0), (x1, f1) = next((cell for cell in cells if x < cell[1][0]), cells[-1])
    return f0 + (f1 - f0) / (x1 - x0) * (x - x0)


def stop_force(stop: Stop, travel: float) -> float:
    past = max(travel - stop.gap, 0.0)
    return stop.rate * past + stop.growth * past**2


def corner_forces(vehicle: Vehicle, static: dict[str, float], s: Array) -> Iterator[tuple[int, float]]:
    """Corner and force on the body there, N up; several for each corner."""
    for end, axle, at in (("front", vehicle.front, 0), ("rear", vehicle.rear, 2)):
        left, right = s[at], s[at + 1]
        solid = isinstance(axle.wheels, SolidAxle)
        y = axle.wheels.spring_spacing / axle.track if isinstance(axle.wheels, SolidAxle) else 1.0
        middle, tilt = (left + right) / 2, (left - right) / 2
        assert solid or y == 1.0
        ratio = axle.spring.motion_ratio
        pushes = [
            ratio
            * spring_force(axle.spring, ratio * (middle + sign * y * tilt), static[f"{end} {side} spring"])
            for side, sign in (("left", 1), ("right", -1))
        ]
        mean, couple = sum(pushes) / 2, y * (pushes[0] - pushes[1]) / 2
        yield at, mean + couple
        yield at + 1, mean - couple
        for corner in (at, at + 1):
            yield corner, stop_force(axle.bump_stop, s[corner]) - stop_force(axle.rebound_stop, -s[corner])
        bar = axle.stabiliser
        torque = static[f"{end} stabiliser bar"] + bar.bar_rate * bar.lever_ratio * (left - right)
        yield at, bar.lever_ratio * torque
        yield at + 1, -bar.lever_ratio * torque
    yield from side_forces(vehicle, static, s)


def lever(ratio: float, start: float, travel: float) -> tuple[float, float]:
    """Turn of a lever and its growth per travel: its end goes up by the travel on its circle."""
    length = 1 / (ratio * np.cos(start))
    rise, steep = np.sin(start) + travel / length, np.sin(np.radians(80))
    angle = np.arcsin(np.clip(rise, -steep, steep))
    growth = 1 / (length * np.cos(angle))
    return angle - start + growth * length * (rise - np.sin(angle)), growth


def side_forces(vehicle: Vehicle, static: dict[str, float], s: Array) -> Iterator[tuple[int, float]]:
    for number, (name, side) in enumerate(zip(("left", "right"), vehicle.sides, strict=True)):
        front, rear = number, number + 2
        join = side.coupling
        if isinstance(join, FluidCoupling):
            pushed = join.front_area * s[front] + join.rear_area * s[rear]
            rest = static[f"{name} fluid interconnection"]
            pressure = gas(rest, pushed / join.volume, join.exponent)
            yield front, pressure * join.front_area
            yield rear, pressure * join.rear_area
        else:
            sense = 1 if join.sense == "levelling" else -1
            ahead = lever(join.front_lever_ratio, join.front_lever_angle, s[front])
            behind = lever(join.rear_lever_ratio, join.rear_lever_angle, s[rear])
            torque = static[f"{name} interconnection bar"] + join.bar_rate * (ahead[0] + sense * behind[0])
            yield front, ahead[1] * torque
            yield rear, sense * behind[1] * torque
        trim, wheel = side.trim, front if side.trim.axle == "front" else rear
        turn, ratio = lever(trim.lever_ratio, trim.lever_angle, s[wheel])
        yield wheel, ratio * (static[f"{name} trim spring"] + trim.bar_rate * turn)
    cross = vehicle.diagonal
    if cross.bar_rate:
        levers = np.array([1, -1, 1, -1]) * np.repeat([cross.front_lever_ratio, -cross.rear_lever_ratio], 2)
        torque = static["diagonal coupling"] + cross.bar_rate * float(levers @ s)
        yield from ((corner, levers[corner] * torque) for corner in range(4))


def unbalance(vehicle: Vehicle, load: LoadCase, static: dict[str, float], tyre: Array, q: Array) -> Array:
    """Forces and moments on the body, about the design CG, and on the four wheels.

    ``q``: height of the design CG, roll, pitch, four wheels.
    """
    a = vehicle.body.cg_to_front_axle
    x = np.array([a, a, a - vehicle.wheelbase, a - vehicle.wheelbase])
    y = np.array([1, -1, 1, -1]) * np.repeat([vehicle.front.track, vehicle.rear.track], 2) / 2
    s = q[3:] - (q[0] + y * q[1] - x * q[2])
    up = np.zeros(4)
    for corner, force in corner_forces(vehicle, static, s):
        up[corner] += force
    seat = vehicle.seat
    weights = [(seat.occupant.mass, seat.x, seat.y), (vehicle.body.mass, 0.0, 0.0)]
    weights += [(item.mass, item.x + a, item.y) for item in load.loads]
    body = np.array([up.sum(), up @ y, -up @ x])
    for mass, at_x, at_y in weights:
        body -= g * mass * np.array([1, at_y, -at_x])
    unsprung = []
    for axle in (vehicle.front, vehicle.rear):
        beam = isinstance(axle.wheels, SolidAxle)
        unsprung += [axle.wheels.mass / 2 if beam else axle.wheels.unsprung_mass] * 2
    rates = np.repeat([vehicle.front.tyre.rate, vehicle.rear.tyre.rate], 2)
    wheels = np.maximum(tyre - rates * q[3:], 0.0) - up - g * np.array(unsprung)
    return np.concatenate([body, wheels])


@given(vehicle=real_vehicles, load=load_cases)
def test_scipy_finds_the_same_equilibrium(vehicle: Vehicle, load: LoadCase) -> None:
    """Where scipy converges; within 1 µm and 1 µrad, what its tolerance of 1e-12 leaves on soft springs."""
    try:
        car = mechanics(vehicle, load)
    except InputError:
        return
    found = statics(car)
    if not found.stable:
        return
    static = {element.name: element.preload for element in car.elements}
    ours = found.q[:7].copy()
    # Our body is told at the CG of body and load; take its height to the CG of the body.
    shift = np.array([vehicle.body.cg_to_front_axle, vehicle.front.track / 2]) - car.corners[0]
    ours[0] -= shift[1] * ours[1] - shift[0] * ours[2]
    for start in (np.zeros(7), ours + 1e-3):
        result = root(
            lambda q: unbalance(vehicle, load, static, car.tyre_load, q), start, method="hybr", tol=1e-12
        )
        if result.success:
            near("where it stands, m and rad", ours, result.x, within=1e-6)
    left = unbalance(vehicle, load, static, car.tyre_load, ours)
    near("forces left, of the weight", left / car.tyre_load.sum(), 0.0, within=1e-9)
