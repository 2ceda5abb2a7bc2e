"""Forces of the parts of an axle, and of what joins the axles, at the wheel."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.assembly import Mechanics
from models.force_elements import ForceElement, damper_law, spring_law, stop_law
from models.vehicle import Axle, Friction

__all__ = [
    "forces_at_wheels",
    "friction_force",
    "interconnection_force",
    "static_spring_force",
    "wheel_damping",
    "wheel_force",
]

Array = NDArray[np.float64]
AxleName = Literal["front", "rear"]


def wheel_force(axle: Axle, travel: ArrayLike, static: float = 0.0) -> Array:
    """Change of the force at one wheel from spring and stops, N; both wheels of the axle move alike.

    Args:
        axle: front or rear axle.
        travel: (N,) wheel travel from design trim, positive in jounce, m.
        static: force of the spring at design trim, N, on which a gas spring depends.
    """
    s = np.asarray(travel, dtype=float)
    ratio = axle.spring.motion_ratio
    force = ratio * spring_law(axle.spring, static).force(ratio * s)
    return np.asarray(
        force + stop_law(axle.bump_stop, 1.0).force(s) + stop_law(axle.rebound_stop, -1.0).force(s)
    )


def wheel_damping(axle: Axle, speed: ArrayLike) -> Array:
    """Force at one wheel from damper and friction, N, at wheel speeds (N,) m/s, positive in jounce."""
    v = np.asarray(speed, dtype=float)
    ratio = axle.damper.motion_ratio
    return np.asarray(ratio * damper_law(axle.damper).force(ratio * v) + friction_force(axle.friction, v))


def friction_force(friction: Friction, speed: ArrayLike) -> Array:
    """Dry friction at the wheel, N: in proportion to speed up to its width, full beyond."""
    share = np.clip(np.asarray(speed, dtype=float) / friction.width, -1.0, 1.0)
    return np.asarray(friction.force * share)


def interconnection_force(car: Mechanics, side: Literal["left", "right"], travel: ArrayLike) -> Array:
    """(2, N) force at the front and the rear wheel of a side from its interconnection, N.

    Change from design trim while both wheels of the side move alike by ``travel`` (N,), m.
    """
    wheels = (0, 2) if side == "left" else (1, 3)
    joining = [e for e in car.elements if e.name.startswith(f"{side} ") and "interconnection" in e.name]
    motion = [1.0 if wheel in wheels else 0.0 for wheel in range(4)]
    return forces_at_wheels(joining, motion, travel)[wheels, :]


def forces_at_wheels(
    elements: Iterable[ForceElement],
    motion: Sequence[float],
    x: ArrayLike,
    law: Literal["spring", "damper"] = "spring",
) -> Array:
    """(4, N) force at the wheels FL, FR, RL, RR from some elements of a car, N.

    Args:
        elements: those that count, with their static forces: a lever that turns changes the share of these.
        motion: (4,) how the wheels move together, per ``x``.
        x: (N,) travel from design trim, m, or its speed, m/s.
        law: change of spring force over travel, or damper force over speed at design trim.
    """
    x = np.asarray(x, dtype=float)
    travel = np.outer(motion, x)
    result = np.zeros((4, x.size))
    for element in elements:
        b = np.array(element.incidence[:4])
        if law == "spring" and element.spring is not None:
            deflection, ratio = _moved(element, travel)
            result += ratio * element.spring.force(deflection) + (ratio - b[:, None]) * element.preload
        elif law == "damper" and element.damper is not None:
            result += b[:, None] * element.damper.force(b @ travel)
    return result


def _moved(element: ForceElement, travel: Array) -> tuple[Array, Array]:
    """(N,) deflection of an element at wheel travels (4, N), and (4, N) growth of it per travel."""
    b = np.array(element.incidence[:4])
    deflection, ratio = b @ travel, np.repeat(b[:, None], travel.shape[1], axis=1)
    for lever in element.levers:
        s = travel[lever.wheel]
        turn = lever.turn(s)
        deflection += turn.angle - lever.ratio * s
        ratio[lever.wheel] = turn.ratio
    return deflection, ratio


def static_spring_force(car: Mechanics, axle: AxleName) -> float:
    """Force of a corner spring of an axle at design trim, N."""
    return next(element.preload for element in car.elements if element.name == f"{axle} left spring")
