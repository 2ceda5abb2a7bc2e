"""The car held in a steady manoeuvre: where it stands, and how much it gives per acceleration."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import NDArray

from models.assembly import CORNERS, Mechanics, RideModel, mechanics
from models.ride.lean import leaning, roll_gravity
from models.ride.manoeuvres import manoeuvre_forces, support
from models.statics import Outside, Statics, statics
from models.vehicle import LoadCase, Vehicle

__all__ = ["Gradients", "ManoeuvreStatics", "gradients", "quasi_static", "steady"]

Array = NDArray[np.float64]

# Of the stiffest: a motion with less stiffness has none but rounding.
_SOFT = 1e-13


@dataclass(frozen=True, eq=False)
class ManoeuvreStatics:
    """Equilibrium in a steady manoeuvre; changes are those from the load case.

    Attributes:
        a_x, a_y: accelerations, m/s².
        stand: equilibrium with the forces of the manoeuvre.
        held: whether there is such an equilibrium, be it with a wheel in the air.
        reason: in words why there is none; empty where there is one.
        roll, pitch: change of the attitude, rad.
        travel: (4,) change of the wheel travels, m.
        load_change: (4,) change of the tyre forces, N.
        lateral_transfer: (2,) load that goes from the left wheel to the right one, front and rear, N.
        support: (2,) share of its load change by a_x that the links of front and rear axle take.
        lifted: corners whose wheels are off the ground.
    """

    a_x: float
    a_y: float
    stand: Statics
    held: bool
    reason: str
    roll: float
    pitch: float
    travel: Array
    load_change: Array
    lateral_transfer: Array
    support: Array
    lifted: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Gradients:
    """How much the car gives to small accelerations; infinite where nothing holds it.

    Attributes:
        roll: lean per acceleration in a turn, rad/(m/s²); with roll gravity.
        dive: nose down per deceleration in braking, rad/(m/s²).
        squat: nose up per acceleration in driving, rad/(m/s²).
        front_transfer: share of the front axle in the load that a turn moves from side to side.
    """

    roll: float
    dive: float
    squat: float
    front_transfer: float


def quasi_static(vehicle: Vehicle, load: LoadCase, a_x: float, a_y: float) -> ManoeuvreStatics:
    """Equilibrium of a car in a steady manoeuvre, with its nonlinear laws.

    Args:
        vehicle, load: the car and what it carries.
        a_x, a_y: m/s², positive when accelerating and to the left.
    """
    car = mechanics(vehicle, load)
    return steady(vehicle, car, statics(car), a_x, a_y)


def steady(vehicle: Vehicle, car: Mechanics, rest: Statics, a_x: float, a_y: float) -> ManoeuvreStatics:
    """The same from the mechanics of the vehicle in its load case and their equilibrium at ``rest``.

    The roll gravity counts from the roll at rest, so that the car begins to roll from there.
    """
    n = len(car.dof)
    gravity = np.zeros((n, n))
    if a_y:
        gravity[1, 1] = -roll_gravity(vehicle, car)
    forces = manoeuvre_forces(vehicle, car, a_x, a_y)
    stand = statics(car, Outside(forces + gravity @ rest.q, gravity))
    held = stand.balanced and stand.soft_mode is None
    change = stand.tyre_force - rest.tyre_force
    return ManoeuvreStatics(
        a_x=a_x,
        a_y=a_y,
        stand=stand,
        held=held,
        reason="" if held else stand.reason,
        roll=float(stand.q[1] - rest.q[1]),
        pitch=float(stand.q[2] - rest.q[2]),
        travel=stand.travel - rest.travel,
        load_change=change,
        lateral_transfer=_lateral_transfer(change),
        support=support(vehicle, braking=a_x < 0) if a_x else np.zeros(2),
        lifted=tuple(corner for corner, force in zip(CORNERS, stand.tyre_force, strict=True) if force == 0),
    )


def gradients(vehicle: Vehicle, car: Mechanics, full: RideModel) -> Gradients:
    """Gradients of a car about the state for which its linear model stands.

    Args:
        vehicle, car: the same vehicle with its load case.
        full: linear full car.
    """
    turn, brake, drive = manoeuvre_forces(vehicle, car, [0.0, -1.0, 1.0], [1.0, 0.0, 0.0]).T
    leant = _give(leaning(full, roll_gravity(vehicle, car)), turn)
    dived, squatted = _give(full, brake), _give(full, drive)
    return Gradients(
        roll=float(leant[1]),
        dive=float(dived[2]),
        squat=-float(squatted[2]),
        front_transfer=_front_transfer(full, leant) if np.isfinite(leant).all() else inf,
    )


def _front_transfer(full: RideModel, leant: Array) -> float:
    """Share of the front axle in the lateral load transfer of a motion (n,)."""
    moved = _lateral_transfer(-full.tyre_stiffness * (full.wheels @ leant))
    return float(moved[0] / moved.sum()) if moved.sum() else inf


def _lateral_transfer(load_change: Array) -> Array:
    """(2,) load from left to right, front and rear."""
    return np.asarray((load_change[1::2] - load_change[::2]) / 2.0)


def _give(model: RideModel, force: Array) -> Array:
    """(n,) motion under a small steady force; infinite where the model has a motion without stiffness."""
    scale = 1.0 / np.sqrt(np.diag(model.mass))
    rates, shapes = np.linalg.eigh(scale[:, None] * model.stiffness * scale)
    if rates[0] <= _SOFT * rates[-1]:
        return np.full(len(force), inf)
    give: Array = scale * (shapes @ ((shapes.T @ (scale * force)) / rates))
    return give
