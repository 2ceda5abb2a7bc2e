"""The car as a state space from Newton's laws: forces of each part added up on body and wheels.

models.assembly is not asked.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.vehicle import Axle, SolidAxle, Vehicle, moment_of_inertia
from models.verification.cars import linear_parts, torsion_bar

__all__ = ["KEYS", "StateSpace", "state_space"]

Array = NDArray[np.float64]
CORNERS = ("FL", "FR", "RL", "RR")
KEYS = (
    *("heave", "roll", "pitch"),
    *("heave_acceleration", "roll_acceleration", "pitch_acceleration", "seat_acceleration"),
    *(f"travel_{corner}" for corner in CORNERS),
    *(f"tyre_force_{corner}" for corner in CORNERS),
    *(f"wheel_{corner}" for corner in CORNERS),
)


def _newton(vehicle: Vehicle, q: Array, v: Array, w: Array, w_rate: Array) -> tuple[Array, Array]:
    """Accelerations and outputs at coordinates q, velocities v, road w and its rate."""
    body = vehicle.body
    a, b = body.cg_to_front_axle, vehicle.wheelbase - body.cg_to_front_axle
    axles = (vehicle.front, vehicle.rear)
    x = np.array([a, a, -b, -b])
    y = np.array([s * axle.track / 2 for axle in axles for s in (1, -1)])
    travel = q[3:] - (q[0] + y * q[1] - x * q[2])
    rate = v[3:] - (v[0] + y * v[1] - x * v[2])
    tyre = np.array([axle.tyre.rate for axle in axles for _ in "LR"])
    tyre_damping = np.array([axle.tyre.damping for axle in axles for _ in "LR"])
    tyre_force = tyre * (w - q[3:]) + tyre_damping * (w_rate - v[3:])

    # Forces up on the body at its four corners; the wheels feel the opposite.
    corner = np.zeros(4)
    for end, axle in enumerate(axles):
        left, right = 2 * end, 2 * end + 1
        corner[[left, right]] += _springs_and_dampers(axle, travel[[left, right]], rate[[left, right]])
        torque = axle.stabiliser.bar_rate * axle.stabiliser.lever_ratio * (travel[left] - travel[right])
        corner[left] += axle.stabiliser.lever_ratio * torque
        corner[right] -= axle.stabiliser.lever_ratio * torque
    for number, side in enumerate(vehicle.sides):
        front, rear, bar, trim = number, number + 2, torsion_bar(side), side.trim
        sense = 1.0 if bar.sense == "levelling" else -1.0
        torque = bar.bar_rate * (
            bar.front_lever_ratio * travel[front] + sense * bar.rear_lever_ratio * travel[rear]
        )
        corner[front] += bar.front_lever_ratio * torque
        corner[rear] += sense * bar.rear_lever_ratio * torque
        held = front if trim.axle == "front" else rear
        corner[held] += trim.lever_ratio * (trim.bar_rate * trim.lever_ratio * travel[held])

    acceleration = np.empty(7)
    acceleration[0] = corner.sum() / body.mass
    acceleration[1] = (y * corner).sum() / moment_of_inertia(body.roll_inertia, body.mass, a, b)
    acceleration[2] = -(x * corner).sum() / moment_of_inertia(body.pitch_inertia, body.mass, a, b)
    on_wheels = tyre_force - corner
    for end, axle in enumerate(axles):
        acceleration[3 + 2 * end : 5 + 2 * end] = _wheel_accelerations(axle, on_wheels[2 * end : 2 * end + 2])
    seat = acceleration[0] + vehicle.seat.y * acceleration[1] - vehicle.seat.x * acceleration[2]
    outputs = np.concatenate([q[:3], acceleration[:3], [seat], travel, tyre_force, q[3:]])
    return acceleration, outputs


def _springs_and_dampers(axle: Axle, travel: Array, rate: Array) -> Array:
    """Forces of left and right corner at the wheels' places, from equal torque on the beam."""
    spacing = axle.wheels.spring_spacing if isinstance(axle.wheels, SolidAxle) else axle.track
    place = np.array([1.0, -1.0]) * spacing / axle.track  # in half tracks

    def at_place(pair: Array) -> Array:
        return np.asarray((pair[0] + pair[1]) / 2 + place * (pair[0] - pair[1]) / 2)

    spring, damper = linear_parts(axle)
    stiffness = spring.rate * spring.motion_ratio**2
    damping = (damper.jounce + damper.rebound) / 2 * damper.motion_ratio**2
    force = stiffness * at_place(travel) + damping * at_place(rate)
    total, moment = force.sum(), (place * force).sum()
    return np.array([total + moment, total - moment]) / 2


def _wheel_accelerations(axle: Axle, force: Array) -> Array:
    if not isinstance(axle.wheels, SolidAxle):
        return force / axle.wheels.unsprung_mass
    up = force.sum() / axle.wheels.mass
    tilt = (force[0] - force[1]) * axle.track / 2 / axle.wheels.roll_inertia
    return np.array([up + tilt * axle.track / 2, up - tilt * axle.track / 2])


@dataclass(frozen=True, slots=True)
class StateSpace:
    """ẋ = a x + b u, y = c x + d u: 14 states, 8 inputs (road heights and their rates), outputs of KEYS."""

    a: Array
    b: Array
    c: Array
    d: Array


def state_space(vehicle: Vehicle) -> StateSpace:
    """Column by column from the answers to unit states and unit inputs."""

    def column(answer: Callable[[Array], tuple[Array, Array]], size: int, number: int) -> Array:
        unit = np.zeros(size)
        unit[number] = 1.0
        return np.concatenate(answer(unit))

    def from_state(state: Array) -> tuple[Array, Array]:
        return _newton(vehicle, state[:7], state[7:], np.zeros(4), np.zeros(4))

    def from_road(road: Array) -> tuple[Array, Array]:
        return _newton(vehicle, np.zeros(7), np.zeros(7), road[:4], road[4:])

    state = np.column_stack([column(from_state, 14, number) for number in range(14)])
    road = np.column_stack([column(from_road, 8, number) for number in range(8)])
    return StateSpace(
        np.vstack([np.eye(7, 14, 7), state[:7]]), np.vstack([np.zeros((7, 8)), road[:7]]), state[7:], road[7:]
    )
