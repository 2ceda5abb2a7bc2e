"""What a manoeuvre does to the car: its accelerations over time, and their forces through the geometry.

The accelerations are prescribed; the tyres are taken to give the forces they need.  The inertia of every
mass acts at its own height: the body and the load case at their CG, the occupant at the seat, the wheels at
the loaded radius.  The springs of a wheel see what is left when the links have taken their part, which
is a pair of vertical forces: up on the body, down on the wheel.

- Along the car the pitch moment Σ m h a_x acts on the body, as the wheels pass their horizontal inertia
  and their brake torque on to it.  At each axle the links take their share, the support, of the load
  change Σ m h a_x / L.  It does not matter to the tyres what the support is.
- Across the car the sprung mass is held at the roll centres, so that the body feels m a_y (h - h_rc).  At
  each axle the links pass m a_y h_rc / t, and the unsprung mass adds m_u a_y r / t, from one wheel to the
  other.  The axles share the lateral force so that the yaw moment is in balance at each time.
- As the body rolls by φ its CG moves over by (h - h_rc) φ and its weight turns it further
  (:mod:`models.ride.lean`).

Left out: jacking by unequal lateral forces of left and right, the inertia of turning wheels, and the limit of
the tyres' grip.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.assembly import CORNERS, Mechanics, RideModel
from models.manoeuvre import Accelerate, Brake, BrakeInTurn, Corner, Manoeuvre, Straight
from models.vehicle import Vehicle

__all__ = [
    "carried_mass",
    "force_shares",
    "full_accelerations",
    "in_model",
    "manoeuvre_accelerations",
    "manoeuvre_forces",
    "mass_moment",
    "roll_arm",
    "roll_centres",
    "support",
    "support_angle",
    "wheel_radii",
    "whole_mass",
]

Array = NDArray[np.float64]


def manoeuvre_accelerations(manoeuvre: Manoeuvre, t: Array) -> tuple[Array, Array]:
    """(N,) longitudinal and lateral acceleration, m/s², positive when accelerating and to the left.

    Half a cosine from the start over the onset, then held, then half a cosine back to nothing.
    """
    if isinstance(manoeuvre, Straight):
        return np.zeros_like(t), np.zeros_like(t)
    begun = (t - manoeuvre.start) / manoeuvre.onset
    share = _half_cosine(begun) - _half_cosine(begun - 1.0 - manoeuvre.hold / manoeuvre.onset)
    a_x, a_y = full_accelerations(manoeuvre)
    return a_x * share, a_y * share


def full_accelerations(manoeuvre: Manoeuvre) -> tuple[float, float]:
    """Longitudinal and lateral acceleration while the manoeuvre is held, m/s²."""
    match manoeuvre:
        case Brake():
            return -manoeuvre.longitudinal, 0.0
        case Accelerate():
            return manoeuvre.longitudinal, 0.0
        case Corner():
            return 0.0, manoeuvre.lateral
        case BrakeInTurn():
            return -manoeuvre.longitudinal, manoeuvre.lateral
        case Straight():
            return 0.0, 0.0


def manoeuvre_forces(vehicle: Vehicle, car: Mechanics, a_x: ArrayLike, a_y: ArrayLike) -> Array:
    """Generalised forces on q of the car, with roll gravity left out.

    Args:
        vehicle: gives the geometry.
        car: the same vehicle in its load case.
        a_x, a_y: one number or (N,) each, m/s².

    Returns:
        (n,) or (n, N); N, N·m.
    """
    along, across = np.broadcast_arrays(np.asarray(a_x, dtype=float), np.asarray(a_y, dtype=float))
    forces: Array = (
        np.multiply.outer(_longitudinal(vehicle, car, braking=True), np.minimum(along, 0.0))
        + np.multiply.outer(_longitudinal(vehicle, car, braking=False), np.maximum(along, 0.0))
        + np.multiply.outer(_lateral(vehicle, car), across)
    )
    return forces


def support(vehicle: Vehicle, braking: bool) -> Array:
    """(2,) share of the load change of front and rear axle that the links take.

    An axle without brakes or without drive has none: its links have no force to make it from.
    """
    front, rear = vehicle.front.geometry, vehicle.rear.geometry
    given = (
        (front.brake_support, rear.brake_support) if braking else (front.drive_support, rear.drive_support)
    )
    return np.where(force_shares(vehicle, braking) > 0, given, 0.0)


def support_angle(vehicle: Vehicle, car: Mechanics) -> Array:
    """(2,) angle above the road, seen from the side, under which the links take the brake force, rad.

    From the contact point along the line to the side-view instant centre, with outboard brakes:
    tan α = support · (h/L) / share of the brake force, h the height of the CG of the whole car.
    """
    height = mass_moment(vehicle, car) / whole_mass(car)
    return np.arctan2(
        support(vehicle, braking=True) * height, force_shares(vehicle, braking=True) * _wheelbase(car)
    )


def roll_arm(vehicle: Vehicle, car: Mechanics) -> float:
    """Mass of body, load and occupant times its height above the roll axis, m_s (h - h_rc), kg·m."""
    mass, _, height = _sprung(vehicle, car)
    return float(mass @ height - carried_mass(vehicle, car) @ roll_centres(vehicle))


def in_model(model: RideModel, forces: Array) -> Array:
    """Forces on the degrees of freedom of a smaller model, those of equal virtual work.

    A quarter car gets the part of the forces on the body that it gets of its mass.

    Args:
        model: full car or smaller.
        forces: (n of the car, N).

    Returns:
        (n of the model, N).
    """
    if len(model.inputs) == 1:
        corner = CORNERS.index(model.inputs[0])
        shares = np.linalg.lstsq(model.corner_map.T, forces[:3], rcond=None)[0]
        return np.stack([shares[corner], forces[3 + corner]])
    moved = np.vstack([model.body, model.wheels, model.occupant])
    mapped: Array = moved.T @ forces
    return mapped


def _half_cosine(done: Array) -> Array:
    return np.asarray((1.0 - np.cos(np.pi * np.clip(done, 0.0, 1.0))) / 2.0)


def _longitudinal(vehicle: Vehicle, car: Mechanics, braking: bool) -> Array:
    """(n,) forces per longitudinal acceleration."""
    moment = mass_moment(vehicle, car)
    load_change = moment / _wheelbase(car) * np.array([-1.0, 1.0])
    links = np.repeat(support(vehicle, braking) * load_change / 2, 2)
    forces = np.zeros(len(car.dof))
    forces[2] = -moment
    # Travel opens as the body rises: a force up on the body and down on the wheel works against it.
    result: Array = forces - car.deflections[:4].T @ links
    return result


def _lateral(vehicle: Vehicle, car: Mechanics) -> Array:
    """(n,) forces per lateral acceleration."""
    forces = np.zeros(len(car.dof))
    forces[1] = roll_arm(vehicle, car)
    unsprung = car.wheel_mass.sum(axis=1) * wheel_radii(vehicle)
    tracks = np.array([vehicle.front.track, vehicle.rear.track])
    passed = (
        carried_mass(vehicle, car) * roll_centres(vehicle) + unsprung.reshape(2, 2).sum(axis=1)
    ) / tracks
    forces[3:7] = np.repeat(passed, 2) * (1.0, -1.0, 1.0, -1.0)
    return forces


def _sprung(vehicle: Vehicle, car: Mechanics) -> tuple[Array, Array, Array]:
    """(2,) mass, place ahead of the CG and height of the body with its load, and of the occupant."""
    mass = np.array([car.body_mass[0, 0], car.occupant_mass])
    return mass, np.array([0.0, car.seat[0]]), np.array([car.cg_height, vehicle.seat.height])


def carried_mass(vehicle: Vehicle, car: Mechanics) -> Array:
    """(2,) sprung mass whose lateral inertia front and rear axle take, kg."""
    mass, x, _ = _sprung(vehicle, car)
    at_front = float(mass @ (x - car.corners[2, 0])) / _wheelbase(car)
    return np.array([at_front, mass.sum() - at_front])


def whole_mass(car: Mechanics) -> float:
    """Mass of the whole car, kg."""
    return float(car.body_mass[0, 0] + car.occupant_mass + car.wheel_mass.sum())


def mass_moment(vehicle: Vehicle, car: Mechanics) -> float:
    """Σ m h of the whole car, kg·m."""
    mass, _, height = _sprung(vehicle, car)
    return float(mass @ height + car.wheel_mass.sum(axis=1) @ wheel_radii(vehicle))


def wheel_radii(vehicle: Vehicle) -> Array:
    """(4,) heights of the wheel centres, m."""
    front, rear = vehicle.front.tyre.radius, vehicle.rear.tyre.radius
    return np.array([front, front, rear, rear])


def roll_centres(vehicle: Vehicle) -> Array:
    """(2,) heights of the roll centres in front and at the rear, m."""
    return np.array([vehicle.front.geometry.roll_centre_height, vehicle.rear.geometry.roll_centre_height])


def force_shares(vehicle: Vehicle, braking: bool) -> Array:
    """(2,) shares of front and rear axle in the brake or drive force."""
    front = vehicle.forces.front_brake_share if braking else vehicle.forces.front_drive_share
    return np.array([front, 1.0 - front])


def _wheelbase(car: Mechanics) -> float:
    return float(car.corners[0, 0] - car.corners[2, 0])
