"""Linear models of many cars about their equilibria.

The smaller models are the full car held: with q = T q', T read off :data:`models.assembly.MODELS`, each
matrix becomes TᵀXT.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from models.assembly import CORNERS, MODELS, assemble
from models.fields import replaced
from models.frame import LOADS
from models.studies.batch_car import Cars, heights, times
from models.studies.batch_statics import Stands
from models.vehicle import Vehicle

__all__ = ["CarModels", "Holding", "full_models", "held_models", "holding"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Holding:
    """How a smaller model holds the full car.

    Attributes:
        motion: (7 or 8, d) T, from the model's d degrees of freedom to those of the full car.
        road: (4, m) road heights under the corners from the inputs.
        corner: of a quarter car; None for the others.
        frame_loads: the loads of the frame that it knows.
    """

    motion: Array
    road: Array
    corner: int | None = None
    frame_loads: tuple[str, ...] = LOADS

    @property
    def body(self) -> tuple[bool, bool, bool]:
        """Whether the body moves in heave, roll, pitch."""
        heave, roll, pitch = (bool(row.any()) for row in self.motion[:3])
        return heave, roll, pitch

    @property
    def has_occupant(self) -> bool:
        """Whether an occupant moves on his cushion."""
        return len(self.motion) == 8


@lru_cache(maxsize=16)
def holding(model: str, occupant: bool) -> Holding:
    """Of the model that a run asks for, read off a car of that kind.

    Args:
        model: key of :data:`models.assembly.MODELS`.
        occupant: whether an occupant sits on the cushion.
    """
    small = MODELS[model](assemble(replaced(Vehicle(), ("seat", "occupant", "mass"), float(occupant))))
    return Holding(
        motion=np.vstack([small.body, small.wheels, small.occupant]),
        road=small.road,
        corner=CORNERS.index(small.inputs[0]) if len(small.inputs) == 1 else None,
        frame_loads=small.section.known,
    )


@dataclass(frozen=True, eq=False)
class CarModels:
    """Linear models with d degrees of freedom and m inputs, as :class:`models.assembly.RideModel`.

    Attributes:
        cars: whose models they are.
        holding: which model.
        sound: (N,) whether a quarter car has any mass to carry; True for the others.
        body_mass: (N, 3, 3).
        wheel_mass: (N, 4, 4).
        seat: (N, 2).
        rates, dampings: (N, 4 or 5, same) over the deflections.
        frame: three of (N, 3, 7 or 8): loads of the frame per q, q̇ and q̈ of the full car.
        mass, damping, stiffness: (N, d, d).
        road_stiffness, road_damping: (N, d, m).
    """

    cars: Cars
    holding: Holding
    sound: Flags
    body_mass: Array
    wheel_mass: Array
    seat: Array
    rates: Array
    dampings: Array
    frame: tuple[Array, Array, Array]
    mass: Array
    damping: Array
    stiffness: Array
    road_stiffness: Array
    road_damping: Array


def full_models(cars: Cars, stand: Stands) -> CarModels:
    """Linear full cars about their equilibria."""
    b, d, section = stand.elements.incidence, cars.deflections, cars.section
    rest = np.zeros(cars.count)
    damping = np.stack(
        [rest if one.damper is None else one.damper.slope(rest) for one in cars.elements], axis=-1
    )
    turning = times(stand.elements.bend.transpose(0, 2, 1), stand.force)
    places = range(turning.shape[1])
    rates = b.transpose(0, 2, 1) @ (stand.stiffness[..., None] * b)
    rates[:, places, places] += turning
    force = section.force + section.lift @ (b - cars.incidence)[:, :, :4].transpose(0, 2, 1)
    way = b @ d
    inertia = np.zeros((cars.count, 3, cars.dof))
    inertia[:, :, :3] = -section.inertia
    return _built(
        cars,
        Holding(np.eye(cars.dof), np.eye(4)),
        np.ones(cars.count, dtype=np.bool_),
        cars.body_mass,
        cars.wheel_mass,
        cars.seat,
        rates,
        b.transpose(0, 2, 1) @ (damping[..., None] * b),
        (
            (force * stand.stiffness[:, None]) @ way + section.lift @ (turning[:, :4, None] * d[:, :4]),
            (force * damping[:, None]) @ way,
            inertia,
        ),
    )


def held_models(full: CarModels, held: Holding) -> CarModels:
    """Smaller models of full cars."""
    cars, rates, dampings = full.cars, full.rates, full.dampings
    sound, body_mass, wheel_mass, seat = full.sound, full.body_mass, full.wheel_mass, full.seat
    corner = held.corner
    if corner is not None:
        # One corner with its share of the mass; a beam axle turns about its other end, which stands still.
        share = _mass_shares(cars)[:, corner]
        sound = sound & (share > 0)
        body_mass = np.where(sound, share, 1.0)[:, None, None] * np.diag([1.0, 0.0, 0.0])
        wheel_mass = wheel_mass * np.eye(4)
        only = np.outer(np.eye(4)[corner], np.eye(4)[corner])
        rates, dampings = rates[:, :4, :4] * only, dampings[:, :4, :4] * only
        seat = cars.corners[:, corner]
    known = np.array([[load in held.frame_loads] for load in LOADS])
    position, velocity, acceleration = (np.where(known, rows, 0.0) for rows in full.frame)
    frame = (position, velocity, acceleration)
    return _built(cars, held, sound, body_mass, wheel_mass, seat, rates, dampings, frame)


def _built(
    cars: Cars,
    held: Holding,
    sound: Flags,
    body_mass: Array,
    wheel_mass: Array,
    seat: Array,
    rates: Array,
    dampings: Array,
    frame: tuple[Array, Array, Array],
) -> CarModels:
    """With its matrices."""
    t, wheels = held.motion, held.motion[3:7]
    d = cars.deflections[:, : rates.shape[1], : len(t)] @ t
    mass = t[:3].T @ body_mass @ t[:3] + wheels.T @ wheel_mass @ wheels
    if held.has_occupant:
        mass = mass + cars.occupant_mass[:, None, None] * np.outer(t[7], t[7])
    of_tyres, of_road = (wheels.T @ (k[..., None] * wheels) for k in (cars.tyre_stiffness, cars.tyre_damping))
    return CarModels(
        cars=cars,
        holding=held,
        sound=sound,
        body_mass=body_mass,
        wheel_mass=wheel_mass,
        seat=seat,
        rates=rates,
        dampings=dampings,
        frame=frame,
        mass=mass,
        damping=d.transpose(0, 2, 1) @ dampings @ d + of_road,
        stiffness=d.transpose(0, 2, 1) @ rates @ d + of_tyres,
        road_stiffness=wheels.T @ (cars.tyre_stiffness[..., None] * held.road),
        road_damping=wheels.T @ (cars.tyre_damping[..., None] * held.road),
    )


def _mass_shares(cars: Cars) -> Array:
    """(N, 4) static shares of the corners in the mass; see :func:`models.assembly.quarter_car`."""
    mass, occupant = cars.body_mass[:, 0, 0], cars.occupant_mass
    load = np.stack([mass + occupant, occupant * cars.seat[:, 1], -occupant * cars.seat[:, 0]], axis=-1)
    points = heights(cars.corners)
    weights = np.linalg.solve(points.transpose(0, 2, 1) @ points, load[..., None])
    return np.asarray(points @ weights)[..., 0]
