"""Gradients, support by the links and held manoeuvres of many cars, as models.ride.manoeuvres and .steady."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray
from scipy.constants import g

from models.manoeuvre import Manoeuvre
from models.ride.manoeuvres import full_accelerations
from models.studies.batch_car import Cars, times
from models.studies.batch_model import CarModels
from models.studies.batch_statics import Stands, stands
from models.studies.batch_vehicle import column

__all__ = ["gradient_values", "held_values", "support_values"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

# As of models.ride.steady: of the stiffest, a motion without stiffness.
_SOFT = 1e-13


def gradient_values(full: CarModels) -> dict[str, Array]:
    """Dive, squat and roll gradient and the front share of the load transfer, by key of the figure."""
    cars = full.cars
    roll = np.zeros((cars.dof, cars.dof))
    roll[1, 1] = g
    leaning = full.stiffness - _roll_arm(cars)[:, None, None] * roll
    leant = _give(full.mass, leaning, _lateral(cars)[:, None])[:, 0]
    along = np.stack([-_longitudinal(cars, braking=True), _longitudinal(cars, braking=False)], axis=1)
    dived, squatted = np.moveaxis(_give(full.mass, full.stiffness, along), 1, 0)
    stands_up = np.isfinite(leant[:, 1])
    moved = np.where(stands_up[:, None], cars.tyre_stiffness * leant[:, 3:7], 0.0)
    front, rear = moved[:, 0] - moved[:, 1], moved[:, 2] - moved[:, 3]
    there = stands_up & (front + rear != 0)
    return {
        "dive_gradient": dived[:, 2],
        "squat_gradient": -squatted[:, 2],
        "roll_gradient": leant[:, 1],
        "front_load_transfer": np.where(there, front / np.where(there, front + rear, 1.0), np.inf),
    }


def support_values(cars: Cars) -> dict[str, Array]:
    """Shares of the load changes that the links take, and their angles in braking, by key of the figure."""
    brake, drive = _support(cars, braking=True), _support(cars, braking=False)
    mass = cars.body_mass[:, 0, 0] + cars.occupant_mass + cars.wheel_mass.sum(axis=(1, 2))
    height = _mass_moment(cars) / mass
    shares = _force_shares(cars, braking=True)
    angle = np.arctan2(brake * height[:, None], shares * _wheelbase(cars)[:, None])
    return {
        "anti_dive_front": brake[:, 0],
        "anti_lift_rear": brake[:, 1],
        "anti_lift_front": drive[:, 0],
        "anti_squat_rear": drive[:, 1],
        "brake_support_angle_front": angle[:, 0],
        "brake_support_angle_rear": angle[:, 1],
    }


def held_values(cars: Cars, rest: Stands, manoeuvre: Manoeuvre) -> tuple[Mapping[str, Array], Flags]:
    """Attitude in the manoeuvre when held for long, by key of the figure, and (N,) whether it was found."""
    a_x, a_y = full_accelerations(manoeuvre)
    found, pitch, roll = rest.plain, np.zeros(cars.count), np.zeros(cars.count)
    if a_x or a_y:
        gravity = np.zeros((cars.count, cars.dof, cars.dof))
        if a_y:
            gravity[:, 1, 1] = -g * _roll_arm(cars)
        forces = _lateral(cars) * a_y + _longitudinal(cars, braking=a_x < 0) * a_x
        stand = stands(cars, forces + times(gravity, rest.q), gravity)
        found, pitch, roll = stand.plain, stand.q[:, 2] - rest.q[:, 2], stand.q[:, 1] - rest.q[:, 1]
    return {"held_pitch": pitch, "held_roll": roll}, found


def _give(mass: Array, stiffness: Array, forces: Array) -> Array:
    """(N, k, n) motion under small steady forces (N, k, n); infinite where a motion has no stiffness."""
    scale = 1.0 / np.sqrt(np.diagonal(mass, axis1=1, axis2=2))[:, None]
    rates, shapes = np.linalg.eigh(scale.transpose(0, 2, 1) * stiffness * scale)
    held = rates[:, 0] > _SOFT * rates[:, -1]
    given = (scale * forces) @ shapes / np.where(held[:, None], rates, 1.0)[:, None]
    give: Array = scale * (given @ shapes.transpose(0, 2, 1))
    return np.where(held[:, None, None], give, np.inf)


def _longitudinal(cars: Cars, braking: bool) -> Array:
    """(N, n) forces per longitudinal acceleration."""
    moment = _mass_moment(cars)
    load_change = (moment / _wheelbase(cars))[:, None] * np.array([-1.0, 1.0])
    links = np.repeat(_support(cars, braking) * load_change / 2, 2, axis=1)
    forces: Array = -times(cars.deflections[:, :4].transpose(0, 2, 1), links)
    forces[:, 2] -= moment
    return forces


def _lateral(cars: Cars) -> Array:
    """(N, n) forces per lateral acceleration."""
    vehicle, count = cars.vehicle, cars.count
    tracks = np.stack([column(axle.track, count) for axle in (vehicle.front, vehicle.rear)], axis=-1)
    unsprung = cars.wheel_mass.sum(axis=2) * _wheel_radii(cars)
    passed = _carried_mass(cars) * _roll_centres(cars) + unsprung.reshape(count, 2, 2).sum(axis=2)
    forces = np.zeros((count, cars.dof))
    forces[:, 1] = _roll_arm(cars)
    forces[:, 3:7] = np.repeat(passed / tracks, 2, axis=1) * (1.0, -1.0, 1.0, -1.0)
    return forces


def _roll_arm(cars: Cars) -> Array:
    """(N,) m_s (h - h_rc), kg·m."""
    mass, _, height = _sprung(cars)
    arm: Array = (mass * height).sum(axis=1) - (_carried_mass(cars) * _roll_centres(cars)).sum(axis=1)
    return arm


def _sprung(cars: Cars) -> tuple[Array, Array, Array]:
    """(N, 2) mass, place ahead of the CG and height of the body with its load, and of the occupant."""
    mass = np.stack([cars.body_mass[:, 0, 0], cars.occupant_mass], axis=-1)
    ahead = np.stack([np.zeros(cars.count), cars.seat[:, 0]], axis=-1)
    height = np.stack([cars.cg_height, column(cars.vehicle.seat.height, cars.count)], axis=-1)
    return mass, ahead, height


def _carried_mass(cars: Cars) -> Array:
    """(N, 2) sprung mass whose lateral inertia front and rear axle take, kg."""
    mass, x, _ = _sprung(cars)
    at_front = (mass * (x - cars.corners[:, 2, :1])).sum(axis=1) / _wheelbase(cars)
    return np.stack([at_front, mass.sum(axis=1) - at_front], axis=-1)


def _mass_moment(cars: Cars) -> Array:
    """(N,) Σ m h of the whole car, kg·m."""
    mass, _, height = _sprung(cars)
    unsprung = cars.wheel_mass.sum(axis=2) * _wheel_radii(cars)
    moment: Array = (mass * height).sum(axis=1) + unsprung.sum(axis=1)
    return moment


def _wheel_radii(cars: Cars) -> Array:
    """(N, 4) heights of the wheel centres, m."""
    vehicle = cars.vehicle
    pair = [column(axle.tyre.radius, cars.count) for axle in (vehicle.front, vehicle.rear)]
    return np.repeat(np.stack(pair, axis=-1), 2, axis=1)


def _roll_centres(cars: Cars) -> Array:
    """(N, 2) heights of the roll centres in front and at the rear, m."""
    vehicle = cars.vehicle
    axles = (vehicle.front, vehicle.rear)
    return np.stack([column(axle.geometry.roll_centre_height, cars.count) for axle in axles], axis=-1)


def _force_shares(cars: Cars, braking: bool) -> Array:
    """(N, 2) shares of front and rear axle in the brake or drive force."""
    forces = cars.vehicle.forces
    front = column(forces.front_brake_share if braking else forces.front_drive_share, cars.count)
    return np.stack([front, 1.0 - front], axis=-1)


def _support(cars: Cars, braking: bool) -> Array:
    """(N, 2) share of the load change of front and rear axle that the links take."""
    axles = (cars.vehicle.front.geometry, cars.vehicle.rear.geometry)
    given = [column(axle.brake_support if braking else axle.drive_support, cars.count) for axle in axles]
    return np.where(_force_shares(cars, braking) > 0, np.stack(given, axis=-1), 0.0)


def _wheelbase(cars: Cars) -> Array:
    wheelbase: Array = cars.corners[:, 0, 0] - cars.corners[:, 2, 0]
    return wheelbase
