"""Nonlinear cars for the tests: a linear one for the limit, and one with every kind of nonlinearity."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from models.assembly import RideModel
from models.ride.laws import linear_law, resample
from models.ride.linkage_table import LinkageTable
from models.ride.nonlinear_model import ForceElement, Friction, Link, NonlinearModel, Stop, Tyres
from models.roads import OneMinusCosine, RoughSurface, wheel_heights

__all__ = ["EVERY_LAW", "GRAVITY", "every_law", "hard_bump", "linear_limit", "one_mass"]

Array = NDArray[np.float64]
GRAVITY = 9.80665


def hard_bump(t: Array, height: float = 0.1) -> Array:
    """(4, N) bump that drives into the stops and off the road, left wheels higher than right."""
    event = OneMinusCosine(height=height, length=1.6, start=0.5)
    w = wheel_heights(event, RoughSurface(), 14.0, 2.8, 1.5, t)
    return np.asarray(w * np.array([1.0, 0.6, 1.0, 0.6])[:, None])


def linear_limit(model: RideModel) -> NonlinearModel:
    """The linear car in the arrays of the nonlinear one, its wheels held down by large static loads."""
    held = 1e7
    return NonlinearModel(
        dof=model.dof,
        mass=model.mass,
        coordinates=model.travel,
        wheels=model.wheels,
        elements=tuple(
            ForceElement(
                name=element.name,
                incidence=np.array(element.incidence),
                spring=linear_law(element.stiffness),
                damper=linear_law(element.damping),
            )
            for element in model.elements
        ),
        tyres=Tyres(rate=model.tyre_stiffness, damping=model.tyre_damping, static_load=np.full(4, held)),
        constant_force=-model.wheels.T @ np.full(4, held),
    )


def every_law(seat: bool = True) -> NonlinearModel:
    """Car of 24 elements (25 with a seat), each with spring and damper tables, 8 of them on linkages.

    At each corner: a hardening spring with both stops on a linkage, a damper of unequal digressive sides on
    a linkage, an auxiliary spring, and a bush with Coulomb friction; then stabiliser bars, couplings front
    to rear and trim springs.  It stands at rest at q = 0 under its weight.
    """
    n = 8 if seat else 7
    mass = np.diag([1510.0, 540.0, 2480.0, 39.0, 39.0, 43.0, 43.0, 75.0])[:n, :n]
    corners = np.array([[1.33, 0.76], [1.33, -0.76], [-1.45, 0.75], [-1.45, -0.75]])
    rows, wheels = np.zeros((5 if seat else 4, n)), np.zeros((4, n))
    wheels[:, 3:7] = np.eye(4)
    rows[:4] = wheels
    rows[:4, :3] = -np.column_stack([np.ones(4), corners[:, 1], -corners[:, 0]])
    weight = np.zeros(n)
    weight[[0, 3, 4, 5, 6]] = -GRAVITY * np.diag(mass)[[0, 3, 4, 5, 6]]
    if seat:
        # positive when the occupant, at x = -0.2 and y = 0.36, sinks into the seat
        rows[4] = np.array([1.0, 0.36, 0.2, 0, 0, 0, 0, -1.0])
        weight[7] = -GRAVITY * mass[7, 7]
    elements = _corner_elements(rows) + _joining_elements(rows)
    if seat:
        elements += (
            ForceElement(
                "seat",
                _unit(len(rows), {4: 1.0}),
                spring=resample(lambda d: 75 * GRAVITY + 9e3 * d + 4e6 * d**3, -0.08, 0.08, 257)[0],
                damper=linear_law(420.0),
            ),
        )
    # The corner springs carry what balances the body; the tyres carry the wheels on top of that.
    elements, carried = _balanced(elements, rows, weight)
    return NonlinearModel(
        dof=("z", "roll", "pitch", "z_u FL", "z_u FR", "z_u RL", "z_u RR", "seat")[:n],
        mass=mass,
        coordinates=rows,
        wheels=wheels,
        elements=elements,
        tyres=Tyres(rate=np.full(4, 210e3), damping=np.full(4, 150.0), static_load=carried - weight[3:7]),
        constant_force=weight,
    )


def one_mass(
    spring: Callable[[Array], Array],
    damper: float,
    mass: float = 300.0,
    friction: Friction | None = None,
    jounce_stop: Stop | None = None,
) -> NonlinearModel:
    """One mass on one element over a fixed ground: q = z, deflection -z, no tyre of any effect."""
    coordinates = np.zeros((4, 1))
    coordinates[0, 0] = -1.0
    element = ForceElement(
        "spring",
        np.array([1.0, 0.0, 0.0, 0.0]),
        spring=resample(spring, -0.2, 0.2, 4097)[0],
        damper=linear_law(damper),
        friction=friction,
        jounce_stop=jounce_stop,
    )
    return NonlinearModel(
        dof=("z",),
        mass=np.array([[mass]]),
        coordinates=coordinates,
        wheels=np.zeros((4, 1)),
        elements=(element,),
        tyres=Tyres(rate=np.ones(4), damping=np.zeros(4), static_load=np.zeros(4)),
    )


def _unit(count: int, parts: dict[int, float]) -> Array:
    row = np.zeros(count)
    for at, part in parts.items():
        row[at] = part
    return row


def _table(ratio: float, bend: float) -> LinkageTable:
    s = np.linspace(-0.16, 0.16, 65)
    return LinkageTable(s[0], s[1] - s[0], ratio * s + bend * s**2 / 2, ratio + bend * s)


def digressive(low: float, high: float, knee: float, v: Array) -> Array:
    """Damper with rate ``low`` at rest that goes over to ``high`` beyond the knee, smoothly."""
    return high * v + (low - high) * knee * np.tanh(v / knee)


def _hardening(rate: float, growth: float) -> Callable[[Array], Array]:
    return lambda d: rate * d + growth * d**3


def _corner_elements(rows: Array) -> tuple[ForceElement, ...]:
    elements = []
    for corner, name in enumerate(("FL", "FR", "RL", "RR")):
        ratio = 0.72 if corner < 2 else 0.85
        rate = 30e3 if corner < 2 else 24e3
        own = _unit(len(rows), {corner: 1.0})
        elements += [
            ForceElement(
                f"{name} spring",
                np.zeros(len(rows)),
                spring=resample(_hardening(rate, 1.5e6), -0.14, 0.14, 257)[0],
                damper=linear_law(90.0),
                jounce_stop=Stop(gap=0.045, rate=60e3, progression=2.5e6),
                rebound_stop=Stop(gap=0.06, rate=90e3),
                links=(Link(corner, _table(ratio, 0.9)),),
            ),
            ForceElement(
                f"{name} damper",
                np.zeros(len(rows)),
                spring=linear_law(400.0),
                damper=resample(
                    lambda v: np.where(
                        v > 0, digressive(1800.0, 700.0, 0.15, v), digressive(3600.0, 1500.0, 0.12, v)
                    ),
                    -3.0,
                    3.0,
                    769,
                )[0],
                links=(Link(corner, _table(0.9 * ratio, -0.4)),),
            ),
            ForceElement(f"{name} auxiliary", 0.5 * own, spring=linear_law(2500.0), damper=linear_law(60.0)),
            ForceElement(
                f"{name} bush",
                own,
                spring=linear_law(1200.0),
                damper=linear_law(25.0),
                friction=Friction(force=60.0, width=0.02),
            ),
        ]
    return tuple(elements)


def _joining_elements(rows: Array) -> tuple[ForceElement, ...]:
    size = len(rows)
    parts = (
        ("front stabiliser bar", {0: 4.0, 1: -4.0}, 500.0),
        ("rear stabiliser bar", {2: 4.0, 3: -4.0}, 200.0),
        ("left coupling", {0: 3.0, 2: 3.0}, 700.0),
        ("right coupling", {1: 3.0, 3: 3.0}, 700.0),
        ("left trim spring", {2: 3.0}, 150.0),
        ("right trim spring", {3: 3.0}, 150.0),
        ("pitch coupling", {0: 1.0, 1: 1.0, 2: -1.0, 3: -1.0}, 900.0),
        ("warp coupling", {0: 1.0, 1: -1.0, 2: -1.0, 3: 1.0}, 300.0),
    )
    return tuple(
        ForceElement(
            name,
            _unit(size, share),
            spring=resample(_hardening(rate, 40 * rate), -0.9, 0.9, 513)[0],
            damper=linear_law(rate / 60),
        )
        for name, share, rate in parts
    )


def _balanced(
    elements: tuple[ForceElement, ...], rows: Array, weight: Array
) -> tuple[tuple[ForceElement, ...], Array]:
    """Elements with the preload of the corner springs that holds the body, and the corner forces (4,)."""
    body = weight[:3].copy()
    if len(rows) > 4:
        body -= rows[4, :3] * -weight[7]
    # Corner forces f push the body up: -rowsᵀ f + body = 0, least norm over the corners.
    carried = np.linalg.lstsq(rows[:4, :3].T, body, rcond=None)[0]
    balanced = []
    for element in elements:
        if element.name[2:] == " spring" and element.spring and element.links:
            corner = element.links[0].coordinate
            preload = carried[corner] / float(element.links[0].table.ratio(0.0))
            element = replace(element, spring=replace(element.spring, values=element.spring.values + preload))
        balanced.append(element)
    return tuple(balanced), np.asarray(carried)


EVERY_LAW = every_law()
