"""Mechanics of a car with nonlinear elements, as arrays and force laws; knows nothing of the vehicle data.

    M q̈ = -Xᵀ f(x, ẋ) + Wᵀ F_t + f_0 + F_ext(t),   x = X q

x are the deflection coordinates: the four wheel travels, positive in jounce, and up to two others such as
the deflection of a seat.  An element deflects by δ = b·x + Σ g(x_d) (incidence and linkages) and pushes the
coordinates apart with F = spring(δ) + stops(δ) + damper(δ̇) + friction(δ̇), each with its motion ratio
dδ/dx.  All forces are whole forces, static loads included: at rest at design trim springs, tyres and
gravity must balance, which is what the preload in the springs is for.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError
from models.ride.laws import LawTable
from models.ride.linkage_table import LinkageTable

__all__ = [
    "MOST_COORDINATES",
    "MOST_DOF",
    "ForceElement",
    "Friction",
    "Link",
    "NonlinearModel",
    "Stop",
    "Tyres",
]

Array = NDArray[np.float64]

#: What the compiled loops have room for.
MOST_DOF, MOST_COORDINATES = 16, 6


@dataclass(frozen=True, slots=True)
class Stop:
    """Bump or rebound stop: F = rate p + progression p² with p the way past the gap, never a pull.

    Attributes:
        gap: deflection at first contact, m or rad; of a rebound stop counted in rebound, so that it is
            reached at a deflection of -gap.
        rate: N/m at first contact, 0 or above.
        progression: N/m², 0 or above.
    """

    gap: float
    rate: float
    progression: float = 0.0

    def __post_init__(self) -> None:
        if not (np.isfinite(self.gap) and 0 <= self.rate < np.inf and 0 <= self.progression < np.inf):
            raise InputError.of("stop", self, "a stop needs a finite gap and rates of 0 or above")


@dataclass(frozen=True, slots=True)
class Friction:
    """Coulomb friction, regularised: F = force · clip(δ̇ / width, -1, 1).

    Within the width it is a damper of force/width, so that a part at rest creeps instead of sticking, and
    below the width it is so stiff a damper that a step of time must not be long against mass · width/force.
    The clipped line is taken for its work being exact to compute and its look-up free; it has a kink at the
    width.

    Attributes:
        force: sliding force, N or N·m, 0 or above.
        width: rate of deflection from which the force is full, m/s or rad/s, above 0.
    """

    force: float
    width: float

    def __post_init__(self) -> None:
        if not (0 <= self.force < np.inf and 0 < self.width < np.inf):
            raise InputError.of("friction", self, "friction needs a force of 0 or above and a width above 0")


@dataclass(frozen=True, slots=True, eq=False)
class Link:
    """Linkage through which one deflection coordinate moves an element, added to its incidence."""

    coordinate: int
    table: LinkageTable


@dataclass(frozen=True, eq=False)
class ForceElement:
    """One spring, damper, bar, stop or friction joint, or all of them on one deflection.

    Attributes:
        name: place and part in words.
        incidence: (coordinates,) deflection per coordinate; m/m or rad/m.
        spring: force over deflection, preload included; N or N·m.
        damper: force over rate of deflection.
        jounce_stop, rebound_stop: stops at the two ends of the deflection.
        friction: Coulomb friction.
        links: linkages, at most one per coordinate, on coordinates where the incidence is 0.
    """

    name: str
    incidence: Array
    spring: LawTable | None = None
    damper: LawTable | None = None
    jounce_stop: Stop | None = None
    rebound_stop: Stop | None = None
    friction: Friction | None = None
    links: tuple[Link, ...] = ()


@dataclass(frozen=True, eq=False)
class Tyres:
    """Tyres FL, FR, RL, RR, which push only: F = max(0, static_load + rate d + damping ḋ).

    Attributes:
        rate: (4,) N/m, above 0.
        damping: (4,) N·s/m, 0 or above.
        static_load: (4,) N at d = 0, d = w - z_u.
    """

    rate: Array
    damping: Array
    static_load: Array


@dataclass(frozen=True, eq=False)
class NonlinearModel:
    """A car of n degrees of freedom.

    Attributes:
        dof: names of q; for the full car z, roll, pitch, then a seat if there is one, then the heights
            of the unsprung masses.  The order is free.
        mass: (n, n) symmetric and positive definite; kg, kg·m².
        coordinates: (D, n) deflection coordinates from q; D from 4 to 6, the first four the wheel travels.
        wheels: (4, n) heights of the wheels from q.
        elements: the suspension, and the seat.
        tyres: the tyres.
        constant_force: (n,) generalised forces that never change, such as gravity; N, N·m.

    Raises:
        InputError: a shape does not fit, a number is not finite, the mass matrix is not positive definite,
            or a tyre has no rate.
    """

    dof: tuple[str, ...]
    mass: Array
    coordinates: Array
    wheels: Array
    elements: tuple[ForceElement, ...]
    tyres: Tyres
    constant_force: Array = field(default_factory=lambda: np.zeros(0))

    def __post_init__(self) -> None:
        n, d = len(self.dof), len(self.coordinates)
        if self.constant_force.size == 0:
            object.__setattr__(self, "constant_force", np.zeros(n))
        if not (0 < n <= MOST_DOF and 4 <= d <= MOST_COORDINATES):
            raise InputError.of(
                "model", (n, d), f"1 to {MOST_DOF} degrees of freedom, 4 to {MOST_COORDINATES} coordinates"
            )
        _check("mass", self.mass, (n, n))
        _check("coordinates", self.coordinates, (d, n))
        _check("wheels", self.wheels, (4, n))
        _check("constant force", self.constant_force, (n,))
        for name in ("rate", "damping", "static_load"):
            _check(f"tyres > {name.replace('_', ' ')}", getattr(self.tyres, name), (4,))
        if not ((self.tyres.rate > 0).all() and (self.tyres.damping >= 0).all()):
            raise InputError.of(
                "tyres", self.tyres, "a tyre needs a rate above 0 and a damping of 0 or above"
            )
        if not np.array_equal(self.mass, self.mass.T) or np.linalg.eigvalsh(self.mass)[0] <= 0:
            raise InputError.of("mass", "", "the mass matrix must be symmetric and positive definite")
        if not _are_plain(self.elements, d):
            for element in self.elements:
                _check_element(element, d)


def _check(name: str, array: Array, shape: tuple[int, ...]) -> None:
    if array.shape != shape:
        raise InputError.of(name, array.shape, f"the shape {shape} is expected here")
    if not np.isfinite(array).all():
        raise InputError.of(name, "not finite", "every number must be finite")


def _are_plain(elements: tuple[ForceElement, ...], coordinates: int) -> bool:
    """Whether all is well with elements without linkages; asked of all at once, as it is at each run."""
    rows = [element.incidence for element in elements]
    return (
        all(row.shape == (coordinates,) for row in rows)
        and not any(element.links for element in elements)
        and bool(np.isfinite(rows).all())
    )


def _check_element(element: ForceElement, coordinates: int) -> None:
    _check(element.name, element.incidence, (coordinates,))
    linked = [link.coordinate for link in element.links]
    free = all(0 <= at < coordinates and element.incidence[at] == 0 for at in linked)
    if not free or len(set(linked)) < len(linked):
        raise InputError.of(
            element.name, linked, "a linkage needs a coordinate of its own, on which the incidence is 0"
        )
