"""Where many cars stand: Newton's full steps of :mod:`models.statics`, for all at once.

Only the plain case is settled here: a car that its springs hold, whose full steps lessen the unbalance each
time.  Any other (let down onto its stops, tipped, free in a motion) is left to the single car, which finds
the reason.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.laws import Progressive
from models.studies.batch_car import Cars, times
from models.studies.batch_vehicle import column

__all__ = ["Moved", "Stands", "moved", "stands"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

_ROUNDS = 30
# As in models.statics: of the weight, what is in balance; of the stiffest, a mode without stiffness.
_BALANCED = 1e-11
_SOFT = 1e-9
# m or rad: no car moves so far on its springs; what there is beyond depends on the steps taken.
_NEAR = 0.5


@dataclass(frozen=True, eq=False)
class Moved:
    """Elements of cars that have moved; see :class:`models.assembly.Moved`.

    Attributes:
        deflection: (N, elements).
        incidence, bend: (N, elements, 4 or 5).
    """

    deflection: Array
    incidence: Array
    bend: Array


@dataclass(frozen=True, eq=False)
class Stands:
    """Equilibria; attributes as of :class:`models.statics.Statics`.

    Attributes:
        plain: (N,) whether the equilibrium was found here and the body is held in it.
        q: (N, n).
        travel, tyre_force, trim: (N, 4).
        jounce_left, rebound_left: (N, 4).
        elements: where the elements are.
        force, stiffness: (N, elements) of each element there.
    """

    plain: Flags
    q: Array
    travel: Array
    tyre_force: Array
    trim: Array
    jounce_left: Array
    rebound_left: Array
    elements: Moved
    force: Array
    stiffness: Array


def stands(cars: Cars, force: Array | None = None, stiffness: Array | None = None) -> Stands:
    """Equilibria under the weight and what comes from outside, force - stiffness · q.

    Args:
        cars: N cars.
        force: (N, n).
        stiffness: (N, n, n).
    """
    load = cars.weight if force is None else cars.weight + force
    outside = np.zeros((cars.count, cars.dof, cars.dof)) if stiffness is None else stiffness
    q = np.zeros((cars.count, cars.dof))
    plain = cars.sound & _between_the_wheels(cars, load) & _held(cars, outside, q)
    limit = _BALANCED * np.abs(cars.weight).max(axis=1)
    residual = _unbalance(cars, load, outside, q)
    for _ in range(_ROUNDS):
        open_ = plain & (np.abs(residual).max(axis=1) > limit)
        if not open_.any():
            break
        trial = q + _step(cars, outside, q, residual, open_)
        unbalance = _unbalance(cars, load, outside, trial)
        nearer = open_ & ((unbalance**2).sum(axis=1) < (residual**2).sum(axis=1))
        plain = plain & (nearer | ~open_)
        q = np.where(nearer[:, None], trial, q)
        residual = np.where(nearer[:, None], unbalance, residual)
    plain = plain & (np.abs(residual).max(axis=1) <= limit)
    if q.any():
        plain = plain & (np.abs(q).max(axis=1) <= _NEAR) & _held(cars, outside, q)
    return _result(cars, plain, q)


def moved(cars: Cars, q: Array) -> Moved:
    """Elements at the states (N, n)."""
    x = times(cars.deflections, q)
    incidence = cars.incidence
    deflection, bend = times(incidence, x), np.zeros_like(incidence)
    if cars.has_levers:
        incidence = incidence.copy()
        for row, element in enumerate(cars.elements):
            for lever in element.levers:
                wheel = lever.wheel
                turn = lever.turn(x[:, wheel])
                deflection[:, row] += turn.angle - cars.incidence[:, row, wheel] * x[:, wheel]
                incidence[:, row, wheel], bend[:, row, wheel] = turn.ratio, turn.slope
    return Moved(deflection, incidence, bend)


def _forces(cars: Cars, deflection: Array) -> Array:
    """(N, elements) forces at rest, static share included."""
    force = cars.preload.copy()
    for row, element in enumerate(cars.elements):
        if element.spring is not None:
            force[:, row] += element.spring.force(deflection[:, row])
    return force


def _slopes(cars: Cars, deflection: Array) -> Array:
    """(N, elements) stiffness of each element."""
    slopes = np.zeros_like(deflection)
    for row, element in enumerate(cars.elements):
        if element.spring is not None:
            slopes[:, row] = element.spring.slope(deflection[:, row])
    return slopes


def _tyre_force(cars: Cars, q: Array) -> Array:
    return np.maximum(cars.tyre_load - cars.tyre_stiffness * q[:, 3:7], 0.0)


def _unbalance(cars: Cars, load: Array, outside: Array, q: Array) -> Array:
    elements = moved(cars, q)
    pushed = times(elements.incidence.transpose(0, 2, 1), _forces(cars, elements.deflection))
    result = load - times(outside, q) - times(cars.deflections.transpose(0, 2, 1), pushed)
    result[:, 3:7] += _tyre_force(cars, q)
    return result


def _rates(cars: Cars, q: Array) -> Array:
    """(N, 4 or 5, same) stiffness over the wheel travels and the cushion deflection."""
    elements = moved(cars, q)
    b = elements.incidence
    rates: Array = b.transpose(0, 2, 1) @ (_slopes(cars, elements.deflection)[..., None] * b)
    if cars.has_levers:
        turning = times(elements.bend.transpose(0, 2, 1), _forces(cars, elements.deflection))
        rates[:, range(rates.shape[1]), range(rates.shape[1])] += turning
    return rates


def _step(cars: Cars, outside: Array, q: Array, residual: Array, open_: Flags) -> Array:
    """(N, n) Newton's steps of the ``open_`` cars; those of the others, which may have none, mean nothing."""
    d = cars.deflections
    stiffness = d.transpose(0, 2, 1) @ _rates(cars, q) @ d + outside
    wheels = range(3, 7)
    stiffness[:, wheels, wheels] += np.where(_tyre_force(cars, q) > 0, cars.tyre_stiffness, 0.0)
    stiffness[~open_] = np.eye(cars.dof)
    try:
        return np.asarray(np.linalg.solve(stiffness, residual[..., None])[..., 0])
    except np.linalg.LinAlgError:  # one of them is singular: none goes on here
        return np.zeros_like(q)


def _held(cars: Cars, outside: Array, q: Array) -> Flags:
    """(N,) whether the suspension resists every motion of the body."""
    travel = cars.deflections[:, :4, :3]
    body = travel.transpose(0, 2, 1) @ _rates(cars, q)[:, :4, :4] @ travel + outside[:, :3, :3]
    mass = np.diagonal(cars.body_mass, axis1=1, axis2=2)
    scale = 1.0 / np.sqrt(np.where(mass > 0, mass, 1.0))
    rates = np.linalg.eigvalsh(scale[:, :, None] * body * scale[:, None, :])
    held: Flags = rates[:, 0] > _SOFT * np.maximum(rates[:, -1], np.finfo(float).tiny)
    return held


def _between_the_wheels(cars: Cars, load: Array) -> Flags:
    """(N,) whether the resultant of the loads meets the ground between the wheels; else the car tips over."""
    corners = cars.corners
    moments = [(load[:, 3:7] * corners[:, :, 1]).sum(axis=1), -(load[:, 3:7] * corners[:, :, 0]).sum(axis=1)]
    force, roll, pitch = (
        load[:, 0] + load[:, 3:].sum(axis=1),
        load[:, 1] + moments[0],
        load[:, 2] + moments[1],
    )
    if cars.dof == 8:
        roll, pitch = roll + load[:, 7] * cars.seat[:, 1], pitch - load[:, 7] * cars.seat[:, 0]
    force = np.where(force < 0, force, -1.0)
    x, y = -pitch / force, roll / force
    front, rear = corners[:, 0, 0], corners[:, 2, 0]
    share = (x - rear) / (front - rear)
    left = share * corners[:, 0, 1] + (1 - share) * corners[:, 2, 1]
    right = share * corners[:, 1, 1] + (1 - share) * corners[:, 3, 1]
    between: Flags = (x < front) & (x > rear) & (y < left) & (y > right)
    return between


def _result(cars: Cars, plain: Flags, q: Array) -> Stands:
    elements = moved(cars, q)
    travel = times(cars.deflections[:, :4], q)
    return Stands(
        plain=plain,
        q=q,
        travel=travel,
        tyre_force=_tyre_force(cars, q),
        trim=q[:, 3:7] - travel,
        jounce_left=_left(cars, travel, 1.0),
        rebound_left=_left(cars, travel, -1.0),
        elements=elements,
        force=_forces(cars, elements.deflection),
        stiffness=_slopes(cars, elements.deflection),
    )


def _left(cars: Cars, travel: Array, sign: float) -> Array:
    """(N, 4) travel left to the stops of one direction."""
    left = np.full((cars.count, 4), np.inf)
    for row, element in enumerate(cars.elements):
        if isinstance(element.spring, Progressive) and element.spring.sign == sign:
            corner = int(np.argmax(cars.incidence[0, row, :4]))
            left[:, corner] = column(element.spring.gap, cars.count) - sign * travel[:, corner]
    return left
