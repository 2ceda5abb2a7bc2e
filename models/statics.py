"""Static equilibrium of a load case: Newton on the nonlinear elements and the tyres."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import degrees

import numpy as np
from numpy.typing import NDArray

from models.assembly import CORNERS, Mechanics, Moved
from models.force_elements import ForceElement
from models.laws import Gas, Linear, Progressive, Table
from models.levers import STEEPEST, AnyLever, ChainLever

__all__ = ["Outside", "Statics", "statics"]

Array = NDArray[np.float64]

_ROUNDS = 200
# Of the weight: far below what any gauge reads, far above rounding.
_BALANCED = 1e-11
# A step, m or rad, that changes nothing.
_NOWHERE = 1e-14
# A body that has moved so far, m or rad, is falling.
_FAR = 20.0
# A step of a body on the way down to its stops, m.
_SHORT = 0.02
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
        incidence: (elements, 4 or 5) deflection of each element per further travel.
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
    incidence: Array
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

    Newton's method with step halving on the sum of element, tyre and gravity forces, from design trim.  Where
    that leaves a body that nothing holds, it is let down until stops (or springs that stiffen) take hold.  A
    car that cannot stand (a mode without stiffness, a load beside the wheels, a wheel that must pull, no
    convergence) is reported with the reason, and the state reached is given as it is; of a car that tips
    over, and of one that nothing holds, that is design trim.
    """
    n = len(car.dof)
    more = outside or Outside(np.zeros(n), np.zeros((n, n)))
    q = np.zeros(n)
    soft = _soft_modes(car, more, q)
    tips = _tips(car, more)
    if tips:
        return _result(car, q, _is_balanced(car, more, q), tips, soft, "")
    q = _searched(car, more, q, _newton_step)
    if not soft[0]:
        # A car that is as designed has not moved: nothing new is to be found where it stands.
        found = _soft_modes(car, more, q) if q.any() else soft
        return _result(car, q, _is_balanced(car, more, q), tips, found, "")
    if not _is_balanced(car, more, q) and _may_stiffen(car):
        landed = _searched(car, more, _searched(car, more, np.zeros(n), _short_step), _newton_step)
        if _is_balanced(car, more, landed):
            q = landed
    held = _soft_modes(car, more, q)
    if not held[0] and _is_balanced(car, more, q) and not _toggled(car, car.deflections @ q):
        return _result(car, q, True, tips, held, soft[0])
    start = np.zeros(n)
    return _result(car, start, _is_balanced(car, more, start), tips, soft, "")


Step = Callable[[Mechanics, Outside, Array, Array], Array]


def _searched(car: Mechanics, outside: Outside, q: Array, step_from: Step) -> Array:
    """Where steps from ``q`` lead: to balance, or as far as they get."""
    residual = _unbalance(car, outside, q)
    for _ in range(_ROUNDS):
        if np.abs(residual).max() <= _limit(car) or np.abs(q).max() > _FAR:
            break
        step = step_from(car, outside, q, residual)
        # What a free motion leaves unbalanced no step can change.
        if np.abs(step).max() <= _NOWHERE:
            break
        trial = _damped_step(car, outside, q, step, residual)
        if trial is None:
            break
        q, residual = trial
    return q


def _newton_step(car: Mechanics, outside: Outside, q: Array, residual: Array) -> Array:
    stiffness = _stiffness(car, outside, q)
    return np.asarray(np.linalg.lstsq(stiffness, residual, rcond=1e-12)[0], dtype=np.float64)


def _short_step(car: Mechanics, outside: Outside, q: Array, residual: Array) -> Array:
    """Newton's step on a car that is also held by soft ground where it is, which yields to what pushes it.

    A free body goes some ten millimetres with it, and the ground vanishes with the unbalance.
    """
    inertia = np.concatenate([np.diag(car.body_mass) / car.body_mass[0, 0], np.ones(len(q) - 3)])
    ground = np.diag(inertia * np.abs(residual).max() / _SHORT)
    return np.asarray(np.linalg.solve(_stiffness(car, outside, q) + ground, residual), dtype=np.float64)


def _limit(car: Mechanics) -> float:
    return _BALANCED * float(np.abs(car.weight).max())


def _is_balanced(car: Mechanics, outside: Outside, q: Array) -> bool:
    return bool(np.abs(_unbalance(car, outside, q)).max() <= _limit(car))


def _toggled(car: Mechanics, travel: Array) -> bool:
    return any(
        _toggle(element, lever, float(travel[lever.wheel]))
        for element in car.elements
        for lever in element.levers
    )


def _may_stiffen(car: Mechanics) -> bool:
    return any(not isinstance(element.spring, Linear | None) for element in car.elements)


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


def _forces(car: Mechanics, q: Array) -> tuple[Moved, Array, Array]:
    """Elements where they are, their forces, and the tyre forces."""
    moved = car.moved(car.deflections @ q)
    force = np.array(
        [element.force(x) for element, x in zip(car.elements, moved.deflection.tolist(), strict=True)]
    )
    tyre = np.maximum(car.tyre_load - car.tyre_stiffness * (car.wheels @ q), 0.0)
    return moved, force, tyre


def _unbalance(car: Mechanics, outside: Outside, q: Array) -> Array:
    moved, force, tyre = _forces(car, q)
    load = car.weight + outside.force - outside.stiffness @ q
    result: Array = load - car.deflections.T @ (moved.incidence.T @ force) + car.wheels.T @ tyre
    return result


def _rates(car: Mechanics, q: Array) -> Array:
    """(4 or 5, same) stiffness over the wheel travels and the cushion deflection."""
    moved = car.moved(car.deflections @ q)
    deflection = moved.deflection.tolist()
    rates = np.array([element.stiffness(x) for element, x in zip(car.elements, deflection, strict=True)])
    b = moved.incidence
    result: Array = b.T @ (rates[:, None] * b)
    if car.has_levers:
        force = np.array(
            [
                element.force(x) if element.levers else 0.0
                for element, x in zip(car.elements, deflection, strict=True)
            ]
        )
        result += np.diag(force @ moved.bend)
    return result


def _stiffness(car: Mechanics, outside: Outside, q: Array) -> Array:
    """Tangent stiffness -∂unbalance/∂q; a wheel in the air has no tyre rate."""
    on_ground = car.tyre_load - car.tyre_stiffness * (car.wheels @ q) > 0
    rate = np.where(on_ground, car.tyre_stiffness, 0.0)
    springs = car.deflections.T @ _rates(car, q) @ car.deflections
    result: Array = springs + car.wheels.T @ (rate[:, None] * car.wheels) + outside.stiffness
    return result


def _soft_modes(car: Mechanics, outside: Outside, q: Array) -> tuple[str, Array | None]:
    """Body motions that the suspension does not resist, in words, and the first as (heave, roll, pitch).

    Judged on K_b of the body against its mass, so that metres and radians compare; wheels on the ground.
    """
    travel = car.deflections[:4, :3]
    body = travel.T @ _rates(car, q)[:4, :4] @ travel + outside.stiffness[:3, :3]
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


def _result(
    car: Mechanics, q: Array, balanced: bool, tips: str, soft: tuple[str, Array | None], free: str
) -> Statics:
    """What was found; ``free`` names the motions that nothing holds at design trim."""
    moved, force, tyre = _forces(car, q)
    travel = car.deflections[:4] @ q
    reason = _reason(car, tyre, balanced, tips, soft[0])
    return Statics(
        q=q,
        travel=travel,
        tyre_force=tyre,
        deflection=moved.deflection,
        force=force,
        incidence=moved.incidence,
        trim=car.wheels @ q - travel,
        jounce_left=_left(car, travel, 1.0),
        rebound_left=_left(car, travel, -1.0),
        balanced=balanced,
        stable=not reason,
        reason=reason,
        soft_mode=soft[1],
        warnings=() if reason else _warnings(car, travel, moved.deflection, force, free),
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


def _warnings(car: Mechanics, travel: Array, deflection: Array, force: Array, free: str) -> tuple[str, ...]:
    small = _FORCE * float(np.abs(car.weight).max())
    found = [f"the car rests on its stops: at design trim nothing holds the body in {free}"]
    pressed = [
        isinstance(e.spring, Progressive) and abs(f) > small for e, f in zip(car.elements, force, strict=True)
    ]
    if not (free and any(pressed)):
        found = []
    for element, x, f in zip(car.elements, deflection, force, strict=True):
        found.append(_warning(element, float(x), float(f), small))
        found += [_toggle(element, lever, float(travel[lever.wheel])) for lever in element.levers]
        found.append(_crossed(element))
    return tuple(warning for warning in found if warning)


def _toggle(element: ForceElement, lever: AnyLever, travel: float) -> str:
    low, high = lever.reach
    if low <= travel <= high:
        return ""
    place = CORNERS[lever.wheel]
    if isinstance(lever, ChainLever):
        past, way = (travel - high, "jounce") if travel > high else (low - travel, "rebound")
        return (
            f"{element.name}: at rest its linkage at {place} would be {past * 1e3:.1f} mm beyond its travel "
            f"in {way}; from there on it is taken to go on straight"
        )
    steep = "above" if travel > high else "below"
    return (
        f"{element.name}: its lever at {place} would stand more than {degrees(STEEPEST):.0f} deg {steep} the "
        "horizontal at rest, near its toggle; from there on it is taken to go on straight"
    )


def _crossed(element: ForceElement) -> str:
    """Whether the linkages at both ends of a bar turn it in the other sense than is said of it."""
    match element.levers:
        case (ChainLever() as front, ChainLever() as rear):
            built = front.table.along * rear.table.along
            if front.sign * rear.sign * built > 0:
                words = "pitch stiffening" if built > 0 else "levelling"
                return f"{element.name}: as its linkages turn its ends it is {words}, which its sense denies"
    return ""


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
