"""Static equilibrium of a load case: Newton on the nonlinear elements and the tyres."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.assembly import CORNERS, Mechanics
from models.force_elements import ForceElement
from models.laws import Gas, Progressive, Table

__all__ = ["Outside", "Statics", "statics"]

Array = NDArray[np.float64]

_ROUNDS = 200
# Of the weight: far below what any gauge reads, far above rounding.
_BALANCED = 1e-11
# A step, m or rad, that changes nothing.
_NOWHERE = 1e-14
# A body mode whose stiffness is this share of the stiffest is none: levers that cancel leave rounding.
_SOFT = 1e-9
# Of the weight: a force that counts as one.
_FORCE = 1e-6
_BODY = ("heave", "roll", "pitch")


@dataclass(frozen=True, eq=False)
class Outside:
    """Loads beside the weight, such as those of a steady turn: force - stiffness · q.

    Attributes:
        force: (n,) generalised forces on q; N, N·m.
        stiffness: (n, n) symmetric; below zero where the load grows with the motion.
    """

    force: Array
    stiffness: Array


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
        jounce_left, rebound_left: (4,) wheel travel left to the bump and to the rebound stop, m; below zero
            where the stop is pressed, infinite without a stop.
        balanced: whether all forces are in balance at ``q``, be it with wheels in the air.
        stable: whether the car stands.
        reason: in words why it does not; empty where it does.
        soft_mode: (3,) heave m, roll rad, pitch rad of the motion without stiffness; None where it stands.
        warnings: in words what is out of the ordinary although the car stands: stops that carry load at rest,
            springs beyond their travel or their measured curve.
    """

    q: Array
    travel: Array
    tyre_force: Array
    deflection: Array
    force: Array
    trim: Array
    jounce_left: Array
    rebound_left: Array
    balanced: bool
    stable: bool
    reason: str
    soft_mode: Array | None
    warnings: tuple[str, ...]

    @property
    def attitude(self) -> tuple[float, float]:
        """Roll and pitch of the body against design trim, rad."""
        return float(self.q[1]), float(self.q[2])


def statics(car: Mechanics, outside: Outside | None = None) -> Statics:
    """Equilibrium of a car under its weight and what comes from outside.

    Newton's method with step halving on the sum of element, tyre and gravity forces, from design trim.  A car
    that cannot stand (a mode without stiffness, a load beside the wheels, a wheel that must pull, no
    convergence) is reported with the reason, and the state reached is given as it is; of a car that tips over
    that is design trim.
    """
    n = len(car.dof)
    more = outside or Outside(np.zeros(n), np.zeros((n, n)))
    q = np.zeros(n)
    limit = _BALANCED * np.abs(car.weight).max()
    residual = _unbalance(car, more, q)
    soft = _soft_modes(car, more, q)
    tips = _tips(car, more)
    for _ in range(0 if tips else _ROUNDS):
        if np.abs(residual).max() <= limit:
            break
        step = np.asarray(np.linalg.lstsq(_stiffness(car, more, q), residual, rcond=1e-12)[0], dtype=float)
        # What a free motion leaves unbalanced no step can change.
        if np.abs(step).max() <= _NOWHERE:
            break
        trial = _damped_step(car, more, q, step, residual)
        if trial is None:
            break
        q, residual = trial
    if not soft[0] and q.any():
        soft = _soft_modes(car, more, q)
    return _result(car, q, bool(np.abs(residual).max() <= limit), tips, *soft)


def _damped_step(
    car: Mechanics, outside: Outside, q: Array, step: Array, residual: Array
) -> tuple[Array, Array] | None:
    """The longest of the step and its halves that lessens the unbalance, or still goes down in energy."""
    before = float(residual @ residual)
    for halving in range(40):
        trial = q + step / 2.0**halving
        unbalance = _unbalance(car, outside, trial)
        # The springs only stiffen: along the step the energy falls as long as the unbalance pushes on.
        if float(unbalance @ unbalance) < before or (halving and float(unbalance @ step) > 0):
            return trial, unbalance
    return None


def _forces(car: Mechanics, q: Array) -> tuple[Array, Array, Array]:
    """Deflections and forces of the elements, and tyre forces."""
    deflection = car.incidence @ (car.deflections @ q)
    force = np.array(
        [
            element.preload + (float(element.spring.force(x)) if element.spring else 0.0)
            for element, x in zip(car.elements, deflection.tolist(), strict=True)
        ]
    )
    tyre = np.maximum(car.tyre_load - car.tyre_stiffness * (car.wheels @ q), 0.0)
    return deflection, force, tyre


def _unbalance(car: Mechanics, outside: Outside, q: Array) -> Array:
    _, force, tyre = _forces(car, q)
    load = car.weight + outside.force - outside.stiffness @ q
    result: Array = load - car.deflections.T @ (car.incidence.T @ force) + car.wheels.T @ tyre
    return result


def _rates(car: Mechanics, q: Array) -> Array:
    deflection = car.incidence @ (car.deflections @ q)
    return np.array(
        [element.stiffness(x) for element, x in zip(car.elements, deflection.tolist(), strict=True)]
    )


def _stiffness(car: Mechanics, outside: Outside, q: Array) -> Array:
    """Tangent stiffness -∂unbalance/∂q; a wheel in the air has no tyre rate."""
    b = car.incidence @ car.deflections
    on_ground = car.tyre_load - car.tyre_stiffness * (car.wheels @ q) > 0
    rate = np.where(on_ground, car.tyre_stiffness, 0.0)
    springs = b.T @ (_rates(car, q)[:, None] * b)
    result: Array = springs + car.wheels.T @ (rate[:, None] * car.wheels) + outside.stiffness
    return result


def _soft_modes(car: Mechanics, outside: Outside, q: Array) -> tuple[str, Array | None]:
    """Body motions that the suspension does not resist, in words, and the first as (heave, roll, pitch).

    Judged on K_b of the body against its mass, so that metres and radians compare; wheels on the ground.
    """
    b = car.incidence[:, :4] @ car.deflections[:4, :3]
    body = b.T @ (_rates(car, q)[:, None] * b) + outside.stiffness[:3, :3]
    scale = 1.0 / np.sqrt(np.diag(car.body_mass))
    scaled = scale[:, None] * body * scale
    rates, shapes = np.linalg.eigh(scaled)
    limit = _SOFT * max(rates[-1], np.finfo(float).tiny)
    free = int((rates <= limit).sum())
    if not free:
        return "", None
    shape: Array = scale * shapes[:, 0]
    shape /= np.abs(shape).max()
    pure = [name for name, rate in zip(_BODY, np.diag(scaled), strict=True) if rate <= limit]
    return " and ".join(pure) if len(pure) == free else _mode_words(shape, car), shape


def _mode_words(mode: Array, car: Mechanics) -> str:
    """The soft motion in words: its name, and for heave with pitch the point that stays."""
    at_axle = np.abs(mode * np.array([1.0, car.corners[0, 1], car.corners[0, 0]]))
    main = _BODY[int(np.argmax(at_axle))]
    if main != "roll" and at_axle[0] > 1e-6 and at_axle[2] > 1e-6:
        x = mode[0] / mode[2]
        side = "ahead of" if x > 0 else "behind"
        return f"{main} (it turns freely about a point {abs(x):.3g} m {side} the CG)"
    return main


def _result(car: Mechanics, q: Array, balanced: bool, tips: str, soft: str, mode: Array | None) -> Statics:
    deflection, force, tyre = _forces(car, q)
    travel = car.deflections[:4] @ q
    reason = _reason(car, tyre, balanced, tips, soft)
    return Statics(
        q=q,
        travel=travel,
        tyre_force=tyre,
        deflection=deflection,
        force=force,
        trim=car.wheels @ q - travel,
        jounce_left=_left(car, travel, 1.0),
        rebound_left=_left(car, travel, -1.0),
        balanced=balanced,
        stable=not reason,
        reason=reason,
        soft_mode=mode,
        warnings=() if reason else _warnings(car, deflection, force),
    )


def _reason(car: Mechanics, tyre: Array, balanced: bool, tips: str, soft: str) -> str:
    for element in car.elements:
        if isinstance(element.spring, Gas) and element.spring.pressure <= 0:
            return f"{element.name}: its gas would have to pull to hold the car level"
    if tips:
        return f"the car tips over {tips}"
    if soft:
        return f"nothing holds the body in {soft}"
    if not balanced:
        return "no position was found in which the springs carry the load"
    lifted = [corner for corner, force in zip(CORNERS, tyre, strict=True) if force == 0]
    return f"the load lifts {', '.join(lifted)} off the ground" if lifted else ""


def _tips(car: Mechanics, outside: Outside) -> str:
    """Over which side of the wheels the resultant of all loads meets the ground; empty between them.

    Loads that grow with the motion count as at design trim.
    """
    points = np.vstack([car.corners, car.seat]) if car.occupant_mass else car.corners
    rigid = np.vstack([np.eye(3), np.column_stack([np.ones(len(points)), points[:, 1], -points[:, 0]])])
    force, roll, pitch = rigid.T @ (car.weight + outside.force)
    x, y = -pitch / force, roll / force
    front, rear = car.corners[0, 0], car.corners[2, 0]
    if x >= front:
        return "its front wheels"
    if x <= rear:
        return "its rear wheels"
    share = (x - rear) / (front - rear)
    left, right = share * car.corners[:2, 1] + (1 - share) * car.corners[2:, 1]
    if y >= left:
        return "its left wheels"
    return "its right wheels" if y <= right else ""


def _left(car: Mechanics, travel: Array, sign: float) -> Array:
    """(4,) travel left to the stops of one direction."""
    left = np.full(4, np.inf)
    for element in car.elements:
        if isinstance(element.spring, Progressive) and element.spring.sign == sign:
            corner = int(np.argmax(element.incidence[:4]))
            left[corner] = element.spring.gap - sign * travel[corner]
    return left


def _warnings(car: Mechanics, deflection: Array, force: Array) -> tuple[str, ...]:
    small = _FORCE * float(np.abs(car.weight).max())
    found = (
        _warning(element, float(x), float(f), small)
        for element, x, f in zip(car.elements, deflection, force, strict=True)
    )
    return tuple(warning for warning in found if warning)


def _warning(element: ForceElement, x: float, force: float, small: float) -> str:
    match element.spring:
        case Progressive() if abs(force) > small:
            return f"{element.name} carries {_newtons(abs(force))} at rest"
        case Gas() as gas if x > gas.end:
            return f"load beyond travel: {element.name} has less than a tenth of its gas volume left"
        case Table() as table if not table.x[0] <= x <= table.x[-1]:
            return f"{element.name} is beyond its measured curve at rest"
    if force < -small and element.name.endswith((" left spring", " right spring")):
        return f"{element.name} is pulled, not pressed, at rest"
    return ""


def _newtons(force: float) -> str:
    return f"{force / 1e3:.1f} kN" if force >= 1e3 else f"{force:.0f} N"
