"""Static equilibrium of a load case: Newton on the nonlinear elements and the tyres."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.assembly import Mechanics

__all__ = ["Statics", "statics"]

Array = NDArray[np.float64]

_ROUNDS = 200
# Of the weight: far below what any gauge reads, far above rounding.
_BALANCED = 1e-11
# A body mode whose stiffness is this share of the stiffest is none: levers that cancel leave rounding.
_SOFT = 1e-9
_BODY = ("heave", "roll", "pitch")


@dataclass(frozen=True, eq=False)
class Statics:
    """Where the car stands.

    Attributes:
        q: (n,) state from design trim; the body at the CG of the load case.
        travel: (4,) wheel travels, positive in jounce, m.
        tyre_force: (4,) vertical tyre forces, N.
        deflection, force: (elements,) of each element, static force included; m and N, rad and N·m,
            m³ and Pa.
        trim: (4,) change of body height over the corners from design trim, m.
        stable: whether the car stands.
        reason: in words why it does not; empty where it does.
        soft_mode: (3,) heave m, roll rad, pitch rad of the motion without stiffness; None where it stands.
    """

    q: Array
    travel: Array
    tyre_force: Array
    deflection: Array
    force: Array
    trim: Array
    stable: bool
    reason: str
    soft_mode: Array | None

    @property
    def attitude(self) -> tuple[float, float]:
        """Roll and pitch of the body against design trim, rad."""
        return float(self.q[1]), float(self.q[2])


def statics(car: Mechanics) -> Statics:
    """Equilibrium of a car under its weight.

    Newton's method with step halving on the sum of element, tyre and gravity forces, from design trim.  A car
    that cannot stand (a mode without stiffness, a wheel that must pull, no convergence) is reported with
    the reason, and the state reached is given as it is.
    """
    q = np.zeros(len(car.dof))
    residual = _unbalance(car, q)
    limit = _BALANCED * np.abs(car.weight).max()
    soft = _soft_mode(car, q)
    for _ in range(_ROUNDS):
        if np.abs(residual).max() <= limit:
            break
        step = np.asarray(np.linalg.lstsq(_stiffness(car, q), residual, rcond=1e-12)[0], dtype=float)
        q, residual = _damped_step(car, q, step, residual)
    soft = _soft_mode(car, q) if soft is None else soft
    return _result(car, q, _reason(car, q, residual, limit, soft), soft)


def _damped_step(car: Mechanics, q: Array, step: Array, residual: Array) -> tuple[Array, Array]:
    """The longest of the step and its halves that lessens the unbalance."""
    before = float(residual @ residual)
    for halving in range(40):
        trial = q + step / 2.0**halving
        unbalance = _unbalance(car, trial)
        if float(unbalance @ unbalance) < before:
            return trial, unbalance
    return q, residual


def _forces(car: Mechanics, q: Array) -> tuple[Array, Array, Array]:
    """Deflections and forces of the elements, and tyre forces."""
    deflection = car.incidence @ (car.deflections @ q)
    force = np.array(
        [
            element.preload + (float(element.spring.force(x)) if element.spring else 0.0)
            for element, x in zip(car.elements, deflection, strict=True)
        ]
    )
    tyre = np.maximum(car.tyre_load - car.tyre_stiffness * (car.wheels @ q), 0.0)
    return deflection, force, tyre


def _unbalance(car: Mechanics, q: Array) -> Array:
    _, force, tyre = _forces(car, q)
    result: Array = car.weight - car.deflections.T @ (car.incidence.T @ force) + car.wheels.T @ tyre
    return result


def _stiffness(car: Mechanics, q: Array) -> Array:
    """Tangent stiffness -∂unbalance/∂q; a wheel in the air has no tyre rate."""
    deflection, _, tyre = _forces(car, q)
    k = np.array([element.stiffness(float(x)) for element, x in zip(car.elements, deflection, strict=True)])
    b = car.incidence @ car.deflections
    rate = np.where(tyre > 0, car.tyre_stiffness, 0.0)
    result: Array = b.T @ (k[:, None] * b) + car.wheels.T @ (rate[:, None] * car.wheels)
    return result


def _soft_mode(car: Mechanics, q: Array) -> Array | None:
    """Body motion (heave, roll, pitch) that the suspension does not resist, if there is one.

    Judged on K_b of the body against its mass, so that metres and radians compare; wheels on the ground.
    """
    deflection = car.incidence @ (car.deflections @ q)
    k = np.array([element.stiffness(float(x)) for element, x in zip(car.elements, deflection, strict=True)])
    b = car.incidence[:, :4] @ car.deflections[:4, :3]
    body = b.T @ (k[:, None] * b)
    scale = 1.0 / np.sqrt(np.diag(car.body_mass))
    rates, shapes = np.linalg.eigh(scale[:, None] * body * scale)
    if rates[0] > _SOFT * max(rates[-1], np.finfo(float).tiny):
        return None
    shape: Array = scale * shapes[:, 0]
    shape /= np.abs(shape).max()
    return shape


def _reason(car: Mechanics, q: Array, residual: Array, limit: float, soft: Array | None) -> str:
    if soft is not None:
        return f"nothing holds the body in {_mode_words(soft, car)}"
    if np.abs(residual).max() > limit:
        return "no position was found in which the springs carry the load"
    lifted = [
        name for name, force in zip(("FL", "FR", "RL", "RR"), _forces(car, q)[2], strict=True) if force == 0
    ]
    return f"the load lifts {', '.join(lifted)} off the ground" if lifted else ""


def _mode_words(mode: Array, car: Mechanics) -> str:
    """The soft motion in words: its name, and for heave with pitch the point that stays."""
    at_axle = np.abs(mode * np.array([1.0, car.corners[0, 1], car.corners[0, 0]]))
    main = _BODY[int(np.argmax(at_axle))]
    if main != "roll" and at_axle[0] > 1e-6 and at_axle[2] > 1e-6:
        x = mode[0] / mode[2]
        side = "ahead of" if x > 0 else "behind"
        return f"{main} (it turns freely about a point {abs(x):.3g} m {side} the CG)"
    return main


def _result(car: Mechanics, q: Array, reason: str, soft: Array | None) -> Statics:
    deflection, force, tyre = _forces(car, q)
    travel = car.deflections[:4] @ q
    return Statics(
        q=q,
        travel=travel,
        tyre_force=tyre,
        deflection=deflection,
        force=force,
        trim=car.wheels @ q - travel,
        stable=not reason,
        reason=reason,
        soft_mode=soft,
    )
