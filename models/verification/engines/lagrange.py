"""The equations of motion beside those that sympy derives from energies and damper forces.

Nothing here knows of incidence rows: each part is written down as a deflection between two points or as
a twist, and sympy.physics.mechanics (LagrangesMethod) makes the matrices.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.assembly import RideModel, assemble
from models.vehicle import Axle, SolidAxle, Vehicle, moment_of_inertia
from models.verification.cars import EVERYTHING, linear_parts, torsion_bar
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER", "equations"]

CHAPTER = Chapter("sympy", "sympy", group="engine", needs=("sympy",))

Matrices = tuple[NDArray[np.float64], ...]


class _Names:
    """Symbols by name, made when asked for, in the order of asking."""

    def __init__(self, symbol: Any) -> None:
        self.made: dict[str, Any] = {}
        self._symbol = symbol

    def __call__(self, name: str) -> Any:
        return self.made.setdefault(name, self._symbol(name))


@lru_cache
def _derived() -> tuple[Any, tuple[str, ...]]:
    """Function of the parameters that returns M, C, K, K_t, C_t, and the names of the parameters.

    An axle is a mass that moves up and down and an inertia that tilts; two separate wheels are two point
    masses, which have the same kinetic energy.
    """
    import sympy as sp
    from sympy.physics.mechanics import LagrangesMethod, Point, ReferenceFrame, dynamicsymbols

    p = _Names(sp.Symbol)
    time = dynamicsymbols._t
    z, phi, theta = dynamicsymbols("z phi theta")
    wheel = dynamicsymbols("u1:5")
    road = dynamicsymbols("w1:5")
    coordinates = [z, phi, theta, *wheel]
    frame = ReferenceFrame("N")
    forces: list[tuple[Any, Any]] = []

    def damper(height_above: Any, height_below: Any, coefficient: Any) -> None:
        rate = sp.diff(height_above - height_below, time)
        for height, sign in ((height_above, -1), (height_below, 1)):
            point = Point(f"P{len(forces)}")
            point.set_vel(frame, sp.diff(height, time) * frame.z)
            forces.append((point, sign * coefficient * rate * frame.z))

    kinetic = (p("m") * z.diff() ** 2 + p("Ixx") * phi.diff() ** 2 + p("Iyy") * theta.diff() ** 2) / 2
    potential = sp.Integer(0)
    travel: list[Any] = []
    for end, x in (("f", p("a")), ("r", -p("b"))):
        first = 0 if end == "f" else 2
        left, right = wheel[first], wheel[first + 1]
        track = p(f"track_{end}")
        middle, tilt = (left + right) / 2, (left - right) / track
        kinetic += p(f"m_{end}") * middle.diff() ** 2 / 2 + p(f"I_{end}") * sp.diff(tilt, time) ** 2 / 2
        for number, sign in ((first, 1), (first + 1, -1)):
            y = sign * p(f"spacing_{end}") / 2
            body, below = z + y * phi - x * theta, middle + y * tilt
            potential += p(f"k_{end}") * (p(f"rk_{end}") * (below - body)) ** 2 / 2
            damper(body, below, p(f"c_{end}") * p(f"rc_{end}") ** 2)
            potential += p(f"kt_{end}") * (road[number] - wheel[number]) ** 2 / 2
            damper(wheel[number], road[number], p(f"ct_{end}"))
            travel.append(wheel[number] - (z + sign * track / 2 * phi - x * theta))
        twist = p(f"rs_{end}") * (travel[first] - travel[first + 1])
        potential += p(f"ks_{end}") * twist**2 / 2
    for number, side in enumerate("lr"):
        twist = p(f"front_{side}") * travel[number] + p(f"rear_{side}") * travel[number + 2]
        potential += p(f"bar_{side}") * twist**2 / 2
        twist = p(f"trim_front_{side}") * travel[number] + p(f"trim_rear_{side}") * travel[number + 2]
        potential += p(f"trim_{side}") * twist**2 / 2

    method = LagrangesMethod(kinetic - potential, coordinates, forcelist=forces, frame=frame)
    method.form_lagranges_equations()
    rates, road_rates = [q.diff() for q in coordinates], [w.diff() for w in road]
    force = method.forcing
    # Rates first: jacobian by a coordinate must not see its derivative as a function of it.
    held = {rate: sp.Symbol(f"v{number}") for number, rate in enumerate([*rates, *road_rates])}
    force = force.subs(held)
    matrices = (
        method.mass_matrix,
        -force.jacobian([held[rate] for rate in rates]),
        -force.jacobian(coordinates),
        force.jacobian(road),
        force.jacobian([held[rate] for rate in road_rates]),
    )
    names = tuple(p.made)
    return sp.lambdify(list(p.made.values()), matrices, cse=True), names


def _axle_values(axle: Axle, end: str) -> dict[str, float]:
    spring, damper = linear_parts(axle)
    values = {
        "track": axle.track,
        "k": spring.rate,
        "rk": spring.motion_ratio,
        "c": (damper.jounce + damper.rebound) / 2,
        "rc": damper.motion_ratio,
        "kt": axle.tyre.rate,
        "ct": axle.tyre.damping,
        "ks": axle.stabiliser.bar_rate,
        "rs": axle.stabiliser.lever_ratio,
    }
    if isinstance(axle.wheels, SolidAxle):
        values |= {
            "m": axle.wheels.mass,
            "I": axle.wheels.roll_inertia,
            "spacing": axle.wheels.spring_spacing,
        }
    else:
        mass = axle.wheels.unsprung_mass
        values |= {"m": 2 * mass, "I": 2 * mass * (axle.track / 2) ** 2, "spacing": axle.track}
    return {f"{name}_{end}": value for name, value in values.items()}


def _values(vehicle: Vehicle) -> dict[str, float]:
    body = vehicle.body
    a, b = body.cg_to_front_axle, vehicle.wheelbase - body.cg_to_front_axle
    values = {
        "m": body.mass,
        "Ixx": moment_of_inertia(body.roll_inertia, body.mass, a, b),
        "Iyy": moment_of_inertia(body.pitch_inertia, body.mass, a, b),
        "a": a,
        "b": b,
        **_axle_values(vehicle.front, "f"),
        **_axle_values(vehicle.rear, "r"),
    }
    for name, side in zip("lr", vehicle.sides, strict=True):
        bar, trim = torsion_bar(side), side.trim
        values |= {
            f"bar_{name}": bar.bar_rate,
            f"front_{name}": bar.front_lever_ratio,
            f"rear_{name}": bar.rear_lever_ratio * (1 if bar.sense == "levelling" else -1),
            f"trim_{name}": trim.bar_rate,
            f"trim_front_{name}": trim.lever_ratio if trim.axle == "front" else 0.0,
            f"trim_rear_{name}": trim.lever_ratio if trim.axle == "rear" else 0.0,
        }
    return values


def _by_lagrange(vehicle: Vehicle) -> Matrices:
    function, names = _derived()
    values = _values(vehicle)
    return tuple(np.array(matrix, dtype=float) for matrix in function(*(values[name] for name in names)))


def _assembled(model: RideModel) -> Matrices:
    return model.mass, model.damping, model.stiffness, model.road_stiffness, model.road_damping


NAMES = ("mass", "damping", "stiffness", "road stiffness", "road damping")


def equations(vehicle: Vehicle, name: str) -> Numbers:
    """Each matrix of the equations of motion, SI."""
    for what, ours, theirs in zip(NAMES, _assembled(assemble(vehicle)), _by_lagrange(vehicle), strict=True):
        within = 1e-12 * np.abs(theirs).max() + 1e-300
        yield beside(f"{name}: {what}", ours, theirs, within=within)


@CHAPTER.check(
    "Equations of motion of the car",
    source="sympy.physics.mechanics, Lagrange's method",
    status="computed apart",
    reason="sums of up to ten products in other order: rounding of 1e-16 times the largest term",
    cases=[("plain", Vehicle()), ("every part", EVERYTHING)],
)
def lagrange(case: tuple[str, Vehicle]) -> Numbers:
    """Matrices of mass, damping and stiffness, and from the road, of two cars."""
    name, vehicle = case
    yield from equations(vehicle, name)
