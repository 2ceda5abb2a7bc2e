"""Equilibrium of many cars that are alike but for what their parts are off.

What is built in stays built in: a spring has its force from its free length, a bar its torque from the angle
between its ends.  So an element that is off by the share ε, and by x0 in length or angle, has

    F' = (1 + ε) (F0 + law(δ + x0)),

with F0 its force at design trim.  A lever that is longer by the share λ stands at sin φ' = sin φ0 / (1 + λ)
while its end is where the wheel holds it.  The cars then settle where their forces balance: Newton's method
on all of them at once.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.assembly import Mechanics
from models.levers import STEEPEST, ChainLever, turned

__all__ = ["Scatter", "balance", "settled"]

Array = NDArray[np.float64]

_ROUNDS, _HALVINGS = 40, 8
# Of the weight: what is left unbalanced of a car that has settled (that of the nominal car is 1e-11).
_BALANCED = 1e-10


@dataclass(frozen=True, eq=False)
class Scatter:
    """By what N cars are off.

    Attributes:
        force: (N, elements) share ε of the force.
        offset: (N, elements) deflection x0 that is built in, as the element's own; m, rad, m³.
        lever: (N, levers) share λ of the length, in the order of the elements and their levers.
        tyre: (N, 4) share of the tyre rate.
        load: (N, n) generalised force on q; N, N·m.
    """

    force: Array
    offset: Array
    lever: Array
    tyre: Array
    load: Array

    @staticmethod
    def none(car: Mechanics, count: int) -> Scatter:
        """Cars that are off by nothing, whose arrays may be filled."""
        elements = len(car.elements)
        levers = sum(len(element.levers) for element in car.elements)
        sizes = elements, elements, levers, 4, len(car.dof)
        return Scatter(*(np.zeros((count, size)) for size in sizes))


def settled(car: Mechanics, scatter: Scatter, start: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Where the cars stand, (N, n), and which of them are in balance, (N,).

    Args:
        car: the nominal car.
        scatter: by what they are off.
        start: (n,) where the nominal car stands.
    """
    q = np.repeat(start[None], len(scatter.load), axis=0)
    limit = _BALANCED * float(np.abs(car.weight).max())
    unbalance, stiffness = balance(car, scatter, q)
    for _ in range(_ROUNDS):
        unsettled = np.abs(unbalance).max(axis=1) > limit
        if not unsettled.any():
            break
        step = _solved(stiffness, unbalance)
        before = (unbalance**2).sum(axis=1)
        for halving in range(_HALVINGS):
            trial = q + step / 2.0**halving
            left, rates = balance(car, scatter, trial)
            better = unsettled & ((left**2).sum(axis=1) < before)
            q = np.where(better[:, None], trial, q)
            unbalance = np.where(better[:, None], left, unbalance)
            stiffness = np.where(better[:, None, None], rates, stiffness)
            unsettled &= ~better
            if not unsettled.any():
                break
        else:
            if ((unbalance**2).sum(axis=1) == before).all():
                break
    return q, np.abs(unbalance).max(axis=1) <= limit


def balance(car: Mechanics, scatter: Scatter, q: Array) -> tuple[Array, Array]:
    """(N, n) force that is not balanced in the states (N, n), and (N, n, n) stiffness against it."""
    x = q @ car.deflections.T
    deflection, incidence, bend = _moved(car, scatter, x)
    force, rate = np.zeros_like(deflection), np.zeros_like(deflection)
    for number, element in enumerate(car.elements):
        if element.spring is None:
            continue
        share, place = 1 + scatter.force[:, number], deflection[:, number] + scatter.offset[:, number]
        force[:, number] = share * (element.preload + element.spring.force(place))
        rate[:, number] = share * element.spring.slope(place)
    tyre_rate = (1 + scatter.tyre) * car.tyre_stiffness
    tyre = (1 + scatter.tyre) * car.tyre_load - tyre_rate * (q @ car.wheels.T)
    tyre_rate = np.where(tyre > 0, tyre_rate, 0.0)
    pressed = np.einsum("new,ne->nw", incidence, force)
    unbalance = car.weight + scatter.load - pressed @ car.deflections + np.maximum(tyre, 0.0) @ car.wheels
    over_travel = np.einsum("nev,ne,new->nvw", incidence, rate, incidence)
    wheels = np.arange(x.shape[1])
    over_travel[:, wheels, wheels] += np.einsum("new,ne->nw", bend, force)
    springs = car.deflections.T @ over_travel @ car.deflections
    return unbalance, springs + car.wheels.T @ (tyre_rate[:, :, None] * car.wheels)


def _moved(car: Mechanics, scatter: Scatter, x: Array) -> tuple[Array, Array, Array]:
    """Elements at travels (N, 4 or 5): deflection (N, elements), its growth per travel, the slope of that."""
    base = car.incidence
    deflection = x @ base.T
    incidence = np.repeat(base[None], len(x), axis=0)
    bend = np.zeros_like(incidence)
    levers = [(row, lever) for row, element in enumerate(car.elements) for lever in element.levers]
    for number, (row, lever) in enumerate(levers):
        longer, s = 1 + scatter.lever[:, number], x[:, lever.wheel]
        if isinstance(lever, ChainLever):
            # A longer lever at the end of a chain turns less; where it stands at design trim is clocking.
            turn = lever.turn(s)
            deflection[:, row] += turn.angle / longer - base[row, lever.wheel] * s
            incidence[:, row, lever.wheel] = turn.ratio / longer
            bend[:, row, lever.wheel] = turn.slope / longer
            continue
        height = np.sin(lever.angle) / longer
        angle = np.arcsin(np.clip(height, -np.sin(STEEPEST), np.sin(STEEPEST)))
        ratio = lever.ratio * np.cos(lever.angle) / (longer * np.cos(angle))
        turn = turned(ratio, angle, s)
        clocked = np.sign(lever.ratio) * (angle - lever.angle)
        deflection[:, row] += turn.angle + clocked - lever.ratio * s
        incidence[:, row, lever.wheel], bend[:, row, lever.wheel] = turn.ratio, turn.slope
    return deflection, incidence, bend


def _solved(stiffness: Array, unbalance: Array) -> Array:
    try:
        return np.asarray(np.linalg.solve(stiffness, unbalance[..., None])[..., 0])
    except np.linalg.LinAlgError:  # one of the cars has a free motion
        return np.asarray((np.linalg.pinv(stiffness) @ unbalance[..., None])[..., 0])
