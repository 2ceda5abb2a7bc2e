"""From the car as described to mechanics: element table, masses, M, C, K.  Nowhere else.

Axes, order and signs follow ISO 8855: x forward, y left, z up; wheel travel s = z_u - z_b, positive
in jounce; corners FL, FR, RL, RR.  Every spring, damper, bar, stop and coupling is one element with an
incidence b over the deflections s of the car (the four wheel travels and, with an occupant, the cushion):
it deflects by b·s and pushes back with force f, so that the corners feel bᵀf and the forces of an element are
in balance by construction.  A wheel that turns an element by a lever moves it by g(s), not b s
(:mod:`models.levers`); b is then g' where the car stands, and a force F on a lever adds the stiffness F g''.

:func:`mechanics` gives the car with its nonlinear laws; :func:`linearised` gives the linear car about a
state, with the wheel-rate matrix Σ k bᵀb; :func:`assemble` does both about design trim.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.constants import g

from models.errors import InputError
from models.force_elements import ForceElement, force_elements
from models.frame import FrameSection, frame_section
from models.levers import ChainLever, ChainTables, Lever, turned
from models.trim import preloaded
from models.vehicle import AS_DESIGNED, Axle, LoadCase, SolidAxle, Vehicle, moment_of_inertia

__all__ = [
    "CORNERS",
    "MODELS",
    "Element",
    "Mechanics",
    "Moved",
    "RideModel",
    "assemble",
    "half_car",
    "half_car_in_roll",
    "linearised",
    "mechanics",
    "quarter_car",
]

Array = NDArray[np.float64]

CORNERS = ("FL", "FR", "RL", "RR")


class Moved(NamedTuple):
    """Elements of a car whose wheels and cushion have moved.

    Attributes:
        deflection: (elements,) from design trim; m, rad or m³.
        incidence: (elements, 4 or 5) deflection per further wheel travel and cushion deflection.
        bend: (elements, 4 or 5) growth of that per travel, g'' of the levers; rad/m².
    """

    deflection: Array
    incidence: Array
    bend: Array


@dataclass(frozen=True, eq=False)
class Mechanics:
    """A car with its nonlinear laws, about design trim, in SI.

    Its n degrees of freedom q are z, roll and pitch of the body at the CG of the load case, the four
    unsprung heights and, with an occupant, his height; all zero at design trim.

    Attributes:
        corners: (4, 2) x, y of the corners from the CG, m.
        seat: x, y of the driver's seat from the CG, m.
        cg_height: of sprung mass and load, m.
        body_mass: (3, 3) mass matrix of z, roll, pitch, with the load.
        wheel_mass: (4, 4) mass matrix of the unsprung heights, kg.
        occupant_mass: kg; 0 for none.
        elements: suspension elements and cushion.
        tyre_stiffness, tyre_damping: (4,) N/m, N·s/m.
        tyre_load: (4,) vertical tyre forces at design trim, N.
        section: what loads the frame at the section where its moments are read.
    """

    corners: Array
    seat: tuple[float, float]
    cg_height: float
    body_mass: Array
    wheel_mass: Array
    occupant_mass: float
    elements: tuple[ForceElement, ...]
    tyre_stiffness: Array
    tyre_damping: Array
    tyre_load: Array
    section: FrameSection

    @property
    def dof(self) -> tuple[str, ...]:
        """Names of q."""
        names = ("z", "roll", "pitch", *(f"z_u {corner}" for corner in CORNERS))
        return (*names, "z_s") if self.occupant_mass else names

    @property
    def body(self) -> Array:
        """(3, n) picks z, roll, pitch from q."""
        return np.eye(3, len(self.dof))

    @property
    def wheels(self) -> Array:
        """(4, n) picks the unsprung heights from q."""
        return np.eye(4, len(self.dof), 3)

    @property
    def occupant(self) -> Array:
        """(1 or 0, n) picks the height of the occupant from q."""
        return np.eye(len(self.dof))[7:]

    @cached_property
    def deflections(self) -> Array:
        """(4 or 5, n) wheel travels and cushion deflection from q."""
        return _deflections(self.corners, self.seat, self.body, self.wheels, self.occupant)

    @cached_property
    def incidence(self) -> Array:
        """(elements, 4 or 5) incidence of all elements over the deflections, at design trim."""
        return _incidence(self.elements, self.deflections.shape[0])

    @cached_property
    def has_levers(self) -> bool:
        """Whether a wheel moves any element out of proportion."""
        return any(element.levers for element in self.elements)

    @cached_property
    def _levers(self) -> tuple[NDArray[np.intp], NDArray[np.intp], Array, Array]:
        """Element, wheel, ratio and angle of all levers in a plane."""
        levers = [
            (row, lever)
            for row, element in enumerate(self.elements)
            for lever in element.levers
            if isinstance(lever, Lever)
        ]
        return (
            np.array([row for row, _ in levers], dtype=np.intp),
            np.array([lever.wheel for _, lever in levers], dtype=np.intp),
            np.array([lever.ratio for _, lever in levers]),
            np.array([lever.angle for _, lever in levers]),
        )

    @cached_property
    def _chains(self) -> tuple[NDArray[np.intp], NDArray[np.intp], ChainTables] | None:
        """Element and wheel of all chains, and their tables; None without any."""
        chains = [
            (row, lever)
            for row, element in enumerate(self.elements)
            for lever in element.levers
            if isinstance(lever, ChainLever)
        ]
        if not chains:
            return None
        rows = np.array([row for row, _ in chains], dtype=np.intp)
        wheels = np.array([lever.wheel for _, lever in chains], dtype=np.intp)
        return rows, wheels, ChainTables([lever for _, lever in chains])

    def moved(self, x: Array) -> Moved:
        """Elements at the wheel travels and cushion deflection ``x`` (4 or 5,)."""
        deflection, incidence, bend = self.incidence @ x, self.incidence, np.zeros_like(self.incidence)
        if self.has_levers:
            incidence = incidence.copy()
            row, wheel, ratio, angle = self._levers
            if row.size:
                turn = turned(ratio, angle, x[wheel])
                np.add.at(deflection, row, turn.angle - ratio * x[wheel])
                incidence[row, wheel], bend[row, wheel] = turn.ratio, turn.slope
            if self._chains is not None:
                row, wheel, tables = self._chains
                turn = tables.turn(x[wheel])
                np.add.at(deflection, row, turn.angle - incidence[row, wheel] * x[wheel])
                incidence[row, wheel], bend[row, wheel] = turn.ratio, turn.slope
        return Moved(deflection, incidence, bend)

    @cached_property
    def weight(self) -> Array:
        """(n,) generalised gravity force, N: masses times -g."""
        heights = np.array([self.body_mass[0, 0], 0.0, 0.0, *self.wheel_mass.sum(axis=1), self.occupant_mass])
        weight: Array = -g * heights[: len(self.dof)]
        return weight


@dataclass(frozen=True, slots=True)
class Element:
    """One elastic or damping part about a state.

    Attributes:
        name: place and part in words ("front left spring").
        incidence: deflection per wheel travel FL, FR, RL, RR (m/m, rad/m or m³/m), then per cushion
            deflection where there is an occupant.
        stiffness: N/m, or N·m/rad for a torsional element, Pa/m³ for a fluid one.
        damping: N·s/m, N·m·s/rad or Pa·s/m³.
        turning: what its force at rest does per wheel travel as the levers turn under it, F g'', N/m; empty
            without levers.
    """

    name: str
    incidence: tuple[float, ...]
    stiffness: float = 0.0
    damping: float = 0.0
    turning: tuple[float, ...] = ()


@dataclass(frozen=True, eq=False)
class RideModel:
    """Linear mechanics of a car: M q̈ + C q̇ + K q = K_t w + C_t ẇ, in SI.

    With n degrees of freedom q and m road inputs w:

    Attributes:
        dof: names of q; (z, roll, pitch, then unsprung heights FL, FR, RL, RR) for the full car.
        inputs: names of w (one per corner, or fewer for the smaller models).
        mass, damping, stiffness: (n, n); kg and kg·m², N·s/m .., N/m ...
        road_stiffness, road_damping: (n, m); K_t and C_t.
        body: (3, n) picks heave z (m), roll (rad, left side up) and pitch (rad, nose down) from q.
        wheels: (4, n) unsprung heights at the corners from q.
        occupant: (1 or 0, n) height of the occupant from q.
        road: (4, m) road heights under the corners from w.
        corners: (4, 2) x, y of the corners from the CG, m.
        elements: suspension elements, all four corners.
        tyre_stiffness, tyre_damping: (4,) N/m, N·s/m.
        body_mass: (3, 3) mass matrix of z, roll and pitch; kg, kg·m, kg·m².
        wheel_mass: (4, 4) mass matrix of the unsprung heights, kg.
        occupant_mass: kg; 0 for none.
        seat: x, y of the driver's seat from the CG, m.
        section: what loads the frame at the section where its moments are read.
    """

    dof: tuple[str, ...]
    inputs: tuple[str, ...]
    mass: Array
    damping: Array
    stiffness: Array
    road_stiffness: Array
    road_damping: Array
    body: Array
    wheels: Array
    occupant: Array
    road: Array
    corners: Array
    elements: tuple[Element, ...]
    tyre_stiffness: Array
    tyre_damping: Array
    body_mass: Array
    wheel_mass: Array
    occupant_mass: float
    seat: tuple[float, float]
    section: FrameSection

    @cached_property
    def corner_map(self) -> Array:
        """(4, 3) body height at the corners from (z, roll, pitch): z + y φ - x θ."""
        return _heights(self.corners)

    @cached_property
    def deflections(self) -> Array:
        """(4 or 5, n) wheel travels and cushion deflection from q."""
        return _deflections(self.corners, self.seat, self.body, self.wheels, self.occupant)

    @property
    def travel(self) -> Array:
        """(4, n) wheel travel, positive in jounce, from q."""
        return self.deflections[:4]

    @property
    def wheelbase(self) -> float:
        """Distance between the axles, m."""
        return float(self.corners[0, 0] - self.corners[2, 0])

    @property
    def track(self) -> tuple[float, float]:
        """Front and rear track, m."""
        y = self.corners[:, 1]
        return float(y[0] - y[1]), float(y[2] - y[3])

    @cached_property
    def incidence(self) -> Array:
        """(elements, 4 or 5) incidence of all elements."""
        return _incidence(self.elements, self.deflections.shape[0])

    @cached_property
    def rates(self) -> Array:
        """(4 or 5, same) stiffness over the deflections, Σ k bᵀb + diag(Σ F g'')."""
        b = self.incidence
        elastic = b.T @ (np.array([element.stiffness for element in self.elements])[:, None] * b)
        return elastic + np.diag(self.turning)

    @cached_property
    def turning(self) -> Array:
        """(4 or 5,) stiffness from the forces at rest on turning levers, Σ F g'', N/m."""
        total = np.zeros(self.deflections.shape[0])
        for element in self.elements:
            total[: len(element.turning)] += element.turning
        return total

    @cached_property
    def dampings(self) -> Array:
        """(4 or 5, same) damping over the deflections, Σ c bᵀb."""
        b = self.incidence
        return b.T @ (np.array([element.damping for element in self.elements])[:, None] * b)

    @property
    def wheel_rates(self) -> Array:
        """(4, 4) wheel-rate matrix K_s = Σ k bᵀb + diag(Σ F g''), N/m."""
        return self.rates[:4, :4]

    @property
    def wheel_damping(self) -> Array:
        """(4, 4) damping matrix over wheel travels Σ c bᵀb, N·s/m."""
        return self.dampings[:4, :4]


def mechanics(vehicle: Vehicle, load: LoadCase = AS_DESIGNED) -> Mechanics:
    """Car with a load case, its static forces set so that it stands level and at s = 0 without the load.

    Raises:
        InputError: the load leaves no mass or inertia in the body.
    """
    sprung, place, inertia = _loaded_body(vehicle, load)
    a, yf, yr = vehicle.body.cg_to_front_axle, vehicle.front.track / 2, vehicle.rear.track / 2
    b = vehicle.wheelbase - a
    design_corners = np.array([[a, yf], [a, -yf], [-b, yr], [-b, -yr]])
    wheel_mass = np.zeros((4, 4))
    wheel_mass[:2, :2] = _wheel_mass(vehicle.front)
    wheel_mass[2:, 2:] = _wheel_mass(vehicle.rear)
    occupant = vehicle.seat.occupant.mass
    axles = (vehicle.front, vehicle.front, vehicle.rear, vehicle.rear)
    seat = (vehicle.seat.x, vehicle.seat.y)
    elements, corner_load = preloaded(
        force_elements(vehicle), _heights(design_corners), vehicle.body.mass, occupant, seat
    )
    return Mechanics(
        corners=design_corners - place[:2],
        seat=(seat[0] - float(place[0]), seat[1] - float(place[1])),
        cg_height=float(place[2]),
        body_mass=np.diag([sprung, 0.0, 0.0]) + inertia,
        wheel_mass=wheel_mass,
        occupant_mass=occupant,
        elements=elements,
        tyre_stiffness=np.array([axle.tyre.rate for axle in axles]),
        tyre_damping=np.array([axle.tyre.damping for axle in axles]),
        tyre_load=corner_load + g * wheel_mass.sum(axis=1),
        section=frame_section(vehicle, load, elements, place),
    )


def linearised(car: Mechanics, q: Array | None = None) -> RideModel:
    """Linear full car about the state ``q`` (n,), by default design trim.

    Dampers count with the mean of their jounce and rebound slopes at rest; dry friction is left out.
    """
    moved = car.moved(np.zeros(len(car.deflections)) if q is None else car.deflections @ q)
    n = len(car.dof)
    empty = np.zeros((n, n))
    model = RideModel(
        dof=car.dof,
        inputs=CORNERS,
        mass=empty,
        damping=empty,
        stiffness=empty,
        road_stiffness=np.zeros((n, 4)),
        road_damping=np.zeros((n, 4)),
        body=car.body,
        wheels=car.wheels,
        occupant=car.occupant,
        road=np.eye(4),
        corners=car.corners,
        elements=tuple(
            _linear(element, float(x), *rows) for element, x, *rows in zip(car.elements, *moved, strict=True)
        ),
        tyre_stiffness=car.tyre_stiffness,
        tyre_damping=car.tyre_damping,
        body_mass=car.body_mass,
        wheel_mass=car.wheel_mass,
        occupant_mass=car.occupant_mass,
        seat=car.seat,
        section=car.section.with_levers_at(moved.incidence - car.incidence)
        if car.has_levers
        else car.section,
    )
    return _with_matrices(model)


def _linear(element: ForceElement, deflection: float, incidence: Array, bend: Array) -> Element:
    """An element about its deflection; its incidence and the growth of it per travel as (4 or 5,)."""
    stiffness = element.stiffness(deflection)
    if not element.levers:
        return Element(element.name, element.incidence, stiffness, element.damping)
    turning = element.force(deflection) * bend
    return Element(
        element.name, tuple(incidence.tolist()), stiffness, element.damping, tuple(turning.tolist())
    )


def assemble(vehicle: Vehicle, load: LoadCase = AS_DESIGNED) -> RideModel:
    """Linear full car about design trim (of the load case's mass, but not yet at its equilibrium)."""
    return linearised(mechanics(vehicle, load))


def half_car(full: RideModel) -> RideModel:
    """Half car in pitch (z, pitch, front and rear wheel) as the full car with left = right.

    It carries the mass and the springs of both sides, so its rates are those of whole axles.
    """
    both = np.array([[1.0, 0.0], [1.0, 0.0], [0.0, 1.0], [0.0, 1.0]])
    upright = replace(full, section=full.section.only("shear", "bending"))
    return _constrained(upright, ("z", "pitch"), ("z_u front", "z_u rear"), ("front", "rear"), [0, 2], both)


def half_car_in_roll(full: RideModel) -> RideModel:
    """Half car in roll (z, roll, left and right wheels) as the full car with front = rear and no pitch."""
    both = np.array([[1.0, 0.0], [0.0, 1.0], [1.0, 0.0], [0.0, 1.0]])
    level = replace(full, section=full.section.only("shear", "torsion"))
    return _constrained(level, ("z", "roll"), ("z_u left", "z_u right"), ("left", "right"), [0, 1], both)


def quarter_car(full: RideModel, corner: int) -> RideModel:
    """Quarter car (z, wheel) of one corner: its static share of the mass, the other wheels held still.

    Raises:
        InputError: the load is so far out that the corner has no share of the mass.
    """
    x, y = full.seat
    mass, occupant = full.body_mass[0, 0], full.occupant_mass
    load = np.array([mass + occupant, occupant * y, -occupant * x])
    shares = np.linalg.lstsq(_heights(full.corners).T, load, rcond=None)[0]
    if shares[corner] <= 0:
        raise InputError.of(
            "quarter car",
            float(shares[corner]),
            f"Mass: {shares[corner]:.6g} kg is outside the allowed range (more than 0 kg); the load is so "
            f"far out that the quarter car {CORNERS[corner]} has nothing to carry",
        )
    alone = replace(
        full,
        body_mass=np.diag([float(shares[corner]), 0.0, 0.0]),
        # A beam axle turns about its other end, which stands still.
        wheel_mass=np.diag(np.diag(full.wheel_mass)),
        elements=tuple(
            replace(
                element,
                incidence=_at_corner(element.incidence, corner),
                turning=_at_corner(element.turning, corner),
            )
            for element in full.elements
        ),
        occupant_mass=0.0,
        occupant=full.occupant[:0],
        seat=(float(full.corners[corner, 0]), float(full.corners[corner, 1])),
        section=full.section.only(),
    )
    wheel = np.zeros((4, 1))
    wheel[corner] = 1.0
    return _constrained(alone, ("z",), (f"z_u {CORNERS[corner]}",), (CORNERS[corner],), [0], wheel)


#: Name of a model, as a run asks for it, and how it comes from the full car.
MODELS: dict[str, Callable[[RideModel], RideModel]] = {
    "full car": lambda full: full,
    "half car": half_car,
    "half car in roll": half_car_in_roll,
    "quarter car front": lambda full: quarter_car(full, 0),
    "quarter car rear": lambda full: quarter_car(full, 2),
}


def _at_corner(incidence: tuple[float, ...], corner: int) -> tuple[float, ...]:
    return tuple(part if place == corner else 0.0 for place, part in enumerate(incidence[:4]))


def _constrained(
    full: RideModel,
    body_dof: tuple[str, ...],
    wheel_dof: tuple[str, ...],
    inputs: tuple[str, ...],
    kept: list[int],
    together: Array,
) -> RideModel:
    """Model with only the ``kept`` body motions; its wheels move as the columns of ``together``."""
    bodies, wheels, seats = len(body_dof), len(wheel_dof), full.occupant.shape[0]
    n = bodies + wheels + seats
    body, wheel_rows = np.zeros((3, n)), np.zeros((4, n))
    body[kept, range(bodies)] = 1.0
    wheel_rows[:, bodies : bodies + wheels] = together
    return _with_matrices(
        replace(
            full,
            dof=(*body_dof, *wheel_dof, *("z_s",) * seats),
            inputs=inputs,
            body=body,
            wheels=wheel_rows,
            occupant=np.eye(n)[bodies + wheels :],
            road=together,
        )
    )


def _with_matrices(model: RideModel) -> RideModel:
    """Fill M, C, K from the parts; constraints are already in body, wheels and road."""
    d, wheels, road, seat = model.deflections, model.wheels, model.road, model.occupant
    tyre_k, tyre_c = model.tyre_stiffness[:, None], model.tyre_damping[:, None]
    return replace(
        model,
        mass=model.body.T @ model.body_mass @ model.body
        + wheels.T @ model.wheel_mass @ wheels
        + model.occupant_mass * seat.T @ seat,
        damping=d.T @ model.dampings @ d + wheels.T @ (tyre_c * wheels),
        stiffness=d.T @ model.rates @ d + wheels.T @ (tyre_k * wheels),
        road_stiffness=wheels.T @ (tyre_k * road),
        road_damping=wheels.T @ (tyre_c * road),
    )


def _heights(points: Array) -> Array:
    x, y = points[:, 0], points[:, 1]
    return np.column_stack([np.ones_like(x), y, -x])


def _deflections(
    corners: Array, seat: tuple[float, float], body: Array, wheels: Array, occupant: Array
) -> Array:
    travel = wheels - _heights(corners) @ body
    if not occupant.shape[0]:
        return travel
    return np.vstack([travel, _heights(np.array([seat])) @ body - occupant])


def _incidence(elements: Sequence[ForceElement | Element], width: int) -> Array:
    """Incidences as rows; the travel-only elements have nothing at the cushion."""
    rows = np.zeros((len(elements), width))
    for row, element in zip(rows, elements, strict=True):
        row[: len(element.incidence)] = element.incidence
    return rows


def _loaded_body(vehicle: Vehicle, load: LoadCase) -> tuple[float, Array, Array]:
    """Mass, CG (x, y from the design CG; height above ground) and inertia (3, 3) of body and load.

    The loads are points; the inertia goes from one CG to the other by the parallel axes (Steiner).
    """
    body = vehicle.body
    a = body.cg_to_front_axle
    b = vehicle.wheelbase - a
    masses = np.array([body.mass, *(item.mass for item in load.loads)])
    places = np.array([[0.0, 0.0, body.cg_height], *([item.x + a, item.y, item.z] for item in load.loads)])
    mass = float(masses.sum())
    if mass <= 0:
        raise InputError.of(
            f"load case {load.name}",
            mass,
            f"Mass: {mass:.6g} kg is outside the allowed range (body and loads together: more than 0 kg)",
        )
    place = masses @ places / mass
    x, y, z = (places - place).T
    roll = moment_of_inertia(body.roll_inertia, body.mass, a, b) + masses @ (y**2 + z**2)
    pitch = moment_of_inertia(body.pitch_inertia, body.mass, a, b) + masses @ (x**2 + z**2)
    product = masses @ (x * y)
    if roll * pitch <= product**2 or roll <= 0:
        raise InputError.of(
            f"load case {load.name}",
            roll,
            f"Inertia: {min(roll, pitch):.6g} kg·m² is outside the allowed range (body and loads together: "
            "more than 0 kg·m²); a load takes away more than the body has",
        )
    inertia = np.array([[0.0, 0.0, 0.0], [0.0, roll, -product], [0.0, -product, pitch]])
    return mass, place, inertia


def _wheel_mass(axle: Axle) -> Array:
    """(2, 2) mass matrix of the left and right unsprung heights, kg."""
    if isinstance(axle.wheels, SolidAxle):
        mean, tilt = axle.wheels.mass / 4, axle.wheels.roll_inertia / axle.track**2
        return np.array([[mean + tilt, mean - tilt], [mean - tilt, mean + tilt]])
    return axle.wheels.unsprung_mass * np.eye(2)
