"""Shear, torsion and bending of the frame at its section, from the forces of the elements and the inertia."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.constants import g

from models.assembly import Mechanics, RideModel
from models.frame import LOADS
from models.ride.manoeuvres import (
    carried_mass,
    force_shares,
    mass_moment,
    roll_centres,
    support,
    wheel_radii,
    whole_mass,
)
from models.statics import Statics
from models.vehicle import Vehicle

__all__ = ["frame_loads", "frame_rows", "manoeuvre_frame_loads", "static_frame_loads"]

Array = NDArray[np.float64]


def frame_rows(model: RideModel) -> tuple[Array, Array, Array]:
    """(3, n) rows on q, q̇ and q̈ of the changes of shear N, torsion and bending N·m.

    Rows of a load about which a smaller model can say nothing are zero: torsion of the half car in pitch,
    bending of the one in roll, all of the quarter car.
    """
    force, way = model.section.force, model.incidence @ model.deflections
    stiffness = np.array([element.stiffness for element in model.elements])
    damping = np.array([element.damping for element in model.elements])
    turned = model.section.lift @ (model.turning[:4, None] * model.travel)
    position = (force * stiffness) @ way + turned
    return position, (force * damping) @ way, -model.section.inertia @ model.body


def frame_loads(
    model: RideModel, element_force: Array, acceleration: Array, turned: Array | None = None
) -> Array:
    """(3, N) shear, torsion and bending over time, or their changes from changes of the forces.

    Args:
        model: the car.
        element_force: (elements, N) element forces.
        acceleration: (n, N) of its degrees of freedom.
        turned: (4, N) upward forces at the wheels that levers add by having turned from where ``model``
            stands; None without levers.
    """
    section = model.section
    loads: Array = section.force @ element_force - section.inertia @ (model.body @ acceleration)
    return loads if turned is None else loads + section.lift @ turned


def static_frame_loads(car: Mechanics, stand: Statics) -> Array:
    """(3,) shear N, torsion and bending N·m of the car at rest in its load case."""
    section = car.section.with_levers_at(stand.incidence - car.incidence)
    loads: Array = section.force @ stand.force - g * section.inertia[:, 0]
    return loads


def manoeuvre_frame_loads(
    vehicle: Vehicle, car: Mechanics, model: RideModel, a_x: Array, a_y: Array, roll: Array
) -> Array:
    """(3, N) what a manoeuvre adds beside element forces and the inertia of heave, roll and pitch.

    Tyres and links push the frame along and across at the axles, at the road and at the roll centres, and
    the inertia of the masses ahead of the section holds against it where they are; the links also push up
    or down (:mod:`models.ride.manoeuvres`).  Moments are about the axes at the height of the CG.

    Args:
        vehicle, car: geometry and masses.
        model: the car or the smaller model that runs.
        a_x, a_y: (N,) accelerations, m/s².
        roll: (N,) roll angle, rad: where the car leans in a turn, its weight pulls it aside by g φ.
    """
    aside = np.where(a_y.any(), a_y + g * roll, 0.0)
    loads: Array = (
        np.outer(_along(vehicle, car, braking=True), np.minimum(a_x, 0.0))
        + np.outer(_along(vehicle, car, braking=False), np.maximum(a_x, 0.0))
        + np.outer(_across(vehicle, car), aside)
    )
    known = np.array([[load in model.section.known] for load in LOADS])
    return np.where(known, loads, 0.0)


def _along(vehicle: Vehicle, car: Mechanics, braking: bool) -> Array:
    """(3,) loads per longitudinal acceleration."""
    x, section = car.corners[::2, 0], car.section
    moment = mass_moment(vehicle, car)
    links = support(vehicle, braking) * moment / (x[0] - x[1]) * (-1.0, 1.0)
    unsprung = car.wheel_mass.sum(axis=1).reshape(2, 2).sum(axis=1)
    pushed = force_shares(vehicle, braking) * whole_mass(car) * car.cg_height
    wheels = unsprung * (wheel_radii(vehicle)[::2] - car.cg_height)
    ahead = _axles_ahead(car)
    bent = float(ahead @ (links * (x - section.place) + pushed + wheels))
    return np.array([float(ahead @ links), 0.0, bent + section.high + _occupant_high(vehicle, car)])


def _across(vehicle: Vehicle, car: Mechanics) -> Array:
    """(3,) loads per lateral acceleration."""
    arms = car.cg_height - roll_centres(vehicle)
    twisted = float(_axles_ahead(car) @ (carried_mass(vehicle, car) * arms))
    return np.array([0.0, twisted + car.section.high + _occupant_high(vehicle, car), 0.0])


def _axles_ahead(car: Mechanics) -> Array:
    """(2,) 1 for an axle ahead of the section, which the front one always is."""
    return np.array([1.0, float(car.corners[2, 0] >= car.section.place)])


def _occupant_high(vehicle: Vehicle, car: Mechanics) -> float:
    """Mass of an occupant ahead of the section times his height above the CG, kg·m."""
    ahead = car.seat[0] >= car.section.place
    return car.occupant_mass * (vehicle.seat.height - car.cg_height) if ahead else 0.0
