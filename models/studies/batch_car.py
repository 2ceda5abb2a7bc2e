"""Mechanics of many variants at once: what :func:`models.assembly.mechanics` gives, with a leading axis of N.

Elements, laws and levers are those of the single car, which broadcast.  What stands twice is the sums over
masses, the preload and the section of the frame, in arrays; tests hold both ways together on random cars.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.constants import g

from models.force_elements import ForceElement, force_elements
from models.frame import carried_torque
from models.laws import Gas
from models.studies.batch_vehicle import column
from models.vehicle import Axle, LoadCase, SolidAxle, Vehicle, moment_of_inertia

__all__ = ["Cars", "Section", "cars", "heights", "times"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

# As in models.trim: rounds and rest of the search for the shares of gas springs, stiffness that is none.
_ROUNDS = 60
_SETTLED = 1e-11
_SMALL = 1e-12


@dataclass(frozen=True, eq=False)
class Section:
    """What loads the section of the frame; see :class:`models.frame.FrameSection`.

    Attributes:
        force: (N, 3, elements).
        lift: (N, 3, 4).
        inertia: (N, 3, 3).
    """

    force: Array
    lift: Array
    inertia: Array


@dataclass(frozen=True, eq=False)
class Cars:
    """N cars with the same parts; attributes as of :class:`models.assembly.Mechanics`.

    Attributes:
        vehicle: the stacked vehicle that they come from.
        sound: (N,) whether the load leaves mass and inertia in the body, and every gas spring presses;
            of the others the numbers mean nothing.
        corners: (N, 4, 2).
        seat: (N, 2).
        cg_height: (N,).
        body_mass: (N, 3, 3).
        wheel_mass: (N, 4, 4).
        occupant_mass: (N,).
        elements: their laws, in whose fields stand numbers or (N,).
        incidence: (N, elements, 4 or 5).
        preload: (N, elements).
        tyre_stiffness, tyre_damping, tyre_load: (N, 4).
        section: of the frame.
    """

    vehicle: Vehicle
    sound: Flags
    corners: Array
    seat: Array
    cg_height: Array
    body_mass: Array
    wheel_mass: Array
    occupant_mass: Array
    elements: tuple[ForceElement, ...]
    incidence: Array
    preload: Array
    tyre_stiffness: Array
    tyre_damping: Array
    tyre_load: Array
    section: Section

    @property
    def count(self) -> int:
        """N."""
        return len(self.corners)

    @property
    def dof(self) -> int:
        """n: 7, or 8 with an occupant."""
        return 3 + int(self.incidence.shape[2])

    @property
    def has_levers(self) -> bool:
        """Whether a wheel moves any element out of proportion."""
        return any(element.levers for element in self.elements)

    @cached_property
    def deflections(self) -> Array:
        """(N, 4 or 5, n) wheel travels and cushion deflection from q."""
        rows = np.zeros((self.count, self.dof - 3, self.dof))
        rows[:, :4, :3] = -heights(self.corners)
        rows[:, range(4), range(3, 7)] = 1.0
        if self.dof == 8:
            rows[:, 4:, :3] = heights(self.seat[:, None])
            rows[:, 4, 7] = -1.0
        return rows

    @cached_property
    def weight(self) -> Array:
        """(N, n) generalised gravity force, N."""
        weight = np.zeros((self.count, self.dof))
        weight[:, 0] = self.body_mass[:, 0, 0]
        weight[:, 3:7] = self.wheel_mass.sum(axis=2)
        weight[:, 7:] = self.occupant_mass[:, None]
        weight *= -g
        return weight


def cars(vehicle: Vehicle, load: LoadCase, count: int) -> Cars:
    """Cars of a stacked vehicle with a load case, preloaded.

    Args:
        vehicle: whose fields hold numbers or (N,); see :mod:`models.studies.batch_vehicle`.
        load: the same for all.
        count: N.
    """
    mass, place, inertia, sound = _loaded_body(vehicle, load, count)
    design = _design_corners(vehicle, count)
    wheel_mass = np.zeros((count, 4, 4))
    wheel_mass[:, :2, :2] = _wheel_mass(vehicle.front, count)
    wheel_mass[:, 2:, 2:] = _wheel_mass(vehicle.rear, count)
    occupant = column(vehicle.seat.occupant.mass, count)
    seat = _rows([vehicle.seat.x, vehicle.seat.y], count)
    elements, b, preload, corner_load = _preloaded(vehicle, design, occupant, seat)
    for element in elements:
        if isinstance(element.spring, Gas):
            sound = sound & (column(element.spring.pressure, count) > 0)
    axles = (vehicle.front, vehicle.front, vehicle.rear, vehicle.rear)
    body_mass = inertia.copy()
    body_mass[:, 0, 0] = mass
    return Cars(
        vehicle=vehicle,
        sound=sound,
        corners=design - place[:, None, :2],
        seat=seat - place[:, :2],
        cg_height=place[:, 2],
        body_mass=body_mass,
        wheel_mass=wheel_mass,
        occupant_mass=occupant,
        elements=elements,
        incidence=b,
        preload=preload,
        tyre_stiffness=_rows([axle.tyre.rate for axle in axles], count),
        tyre_damping=_rows([axle.tyre.damping for axle in axles], count),
        tyre_load=corner_load + g * wheel_mass.sum(axis=2),
        section=_section(vehicle, load, elements, b, place),
    )


def heights(points: Array) -> Array:
    """(..., 3) height of body points (..., 2) per heave, roll and pitch."""
    return np.stack([np.ones_like(points[..., 0]), points[..., 1], -points[..., 0]], axis=-1)


def times(matrix: Array, vector: Array) -> Array:
    """Matrices (N, i, j) times vectors (N, j)."""
    product: Array = (matrix @ vector[..., None])[..., 0]
    return product


def _rows(values: Sequence[ArrayLike], count: int) -> Array:
    """(N, values) of numbers or (N,)."""
    return np.stack([column(value, count) for value in values], axis=-1)


def _design_corners(vehicle: Vehicle, count: int) -> Array:
    """(N, 4, 2) places of the wheels from the CG of the body without loads."""
    a, yf, yr = vehicle.body.cg_to_front_axle, vehicle.front.track / 2, vehicle.rear.track / 2
    b = vehicle.wheelbase - a
    x, y = _rows([a, a, -b, -b], count), _rows([yf, -yf, yr, -yr], count)
    return np.stack([x, y], axis=-1)


def _loaded_body(vehicle: Vehicle, load: LoadCase, count: int) -> tuple[Array, Array, Array, Flags]:
    """Mass (N,), CG (N, 3), inertia (N, 3, 3) of body and load, and whether there is any."""
    body = vehicle.body
    a = body.cg_to_front_axle
    b = vehicle.wheelbase - a
    masses = _rows([body.mass, *(item.mass for item in load.loads)], count)
    x = _rows([0.0, *(item.x + a for item in load.loads)], count)
    y = _rows([0.0, *(item.y for item in load.loads)], count)
    z = _rows([body.cg_height, *(item.z for item in load.loads)], count)
    mass = masses.sum(axis=1)
    whole = np.where(mass > 0, mass, 1.0)
    place = np.stack([(masses * along).sum(axis=1) / whole for along in (x, y, z)], axis=-1)
    x, y, z = x - place[:, :1], y - place[:, 1:2], z - place[:, 2:]
    roll = moment_of_inertia(body.roll_inertia, body.mass, a, b) + (masses * (y**2 + z**2)).sum(axis=1)
    pitch = moment_of_inertia(body.pitch_inertia, body.mass, a, b) + (masses * (x**2 + z**2)).sum(axis=1)
    product = (masses * (x * y)).sum(axis=1)
    inertia = np.zeros((count, 3, 3))
    inertia[:, 1, 1], inertia[:, 2, 2] = roll, pitch
    inertia[:, 1, 2] = inertia[:, 2, 1] = -product
    return mass, place, inertia, (mass > 0) & (roll * pitch > product**2) & (roll > 0)


def _wheel_mass(axle: Axle, count: int) -> Array:
    """(N, 2, 2) mass matrix of the left and right unsprung heights, kg."""
    if isinstance(axle.wheels, SolidAxle):
        mean, tilt = axle.wheels.mass / 4, axle.wheels.roll_inertia / axle.track**2
        own, other = column(mean + tilt, count), column(mean - tilt, count)
    else:
        own, other = column(axle.wheels.unsprung_mass, count), np.zeros(count)
    return np.stack([own, other, other, own], axis=-1).reshape(count, 2, 2)


def _preloaded(
    vehicle: Vehicle, corners: Array, occupant: Array, seat: Array
) -> tuple[tuple[ForceElement, ...], Array, Array, Array]:
    """Elements, their incidence and preload, and the (N, 4) suspension forces; see :mod:`models.trim`."""
    count, elements = len(corners), force_elements(vehicle)
    has_occupant = bool(occupant.any())
    b = np.zeros((count, len(elements), 5 if has_occupant else 4))
    for row, element in enumerate(elements):
        for place, part in enumerate(element.incidence):
            b[:, row, place] = part
    carried = g * (column(vehicle.body.mass, count) + occupant)
    moments = g * occupant[:, None] * seat[:, ::-1] * (1.0, -1.0)
    load = np.concatenate([carried[:, None], moments], axis=1)
    force, elements = _static_forces(elements, b[:, :, :4] @ heights(corners), load)
    corner_load = times(b[:, :, :4].transpose(0, 2, 1), force)
    if has_occupant:
        force[:, -1] = occupant * g
    return elements, b, force, corner_load


def _static_forces(
    elements: tuple[ForceElement, ...], way: Array, load: Array
) -> tuple[Array, tuple[ForceElement, ...]]:
    """(N, elements) forces that carry the load (N, 3), and elements whose gas has its pressure."""
    rest = np.zeros(len(load))
    springs = [element.spring if element.carries_load else None for element in elements]
    k = np.stack([rest if spring is None else spring.slope(rest) for spring in springs], axis=-1)
    force = _shared(k, way, load)
    gases = [number for number, spring in enumerate(springs) if isinstance(spring, Gas)]
    for _ in range(_ROUNDS if gases else 0):
        for number in gases:
            k[:, number] = np.maximum(_filled(elements[number], force[:, number]).slope(rest), 0.0)
        before, force = force, _shared(k, way, load)
        if (np.abs(force - before).max(axis=1) <= _SETTLED * np.abs(force).max(axis=1)).all():
            break
    force = force + _shared(k, way, load - times(way.transpose(0, 2, 1), force))
    filled = list(elements)
    for number in gases:
        filled[number] = replace(elements[number], spring=_filled(elements[number], force[:, number]))
    return force, tuple(filled)


def _shared(k: Array, way: Array, load: Array) -> Array:
    """(N, elements) force of each spring when the body has sunk onto them under the load."""
    k = k / np.maximum(k.max(axis=1, initial=0.0), np.finfo(float).tiny)[:, None]
    rate = way.transpose(0, 2, 1) @ (k[..., None] * way)
    give = np.asarray(np.linalg.pinv(rate, rcond=_SMALL, hermitian=True), dtype=np.float64)
    sunk = times(give, load)
    return np.asarray(k * times(way, sunk))


def _filled(element: ForceElement, static: Array) -> Gas:
    """Gas spring under a static force (N,)."""
    assert isinstance(element.spring, Gas)
    many: ArrayLike = static
    return replace(element.spring, static=many)  # type: ignore[arg-type]  # one number per car


def _section(
    vehicle: Vehicle, load: LoadCase, elements: tuple[ForceElement, ...], b: Array, place: Array
) -> Section:
    """Loads of the frame's section; see :func:`models.frame.frame_section`.

    Seats, pivots and bushes of an end share its force and its moment about the centre line, and
    at the section only these count.
    """
    count, a = len(b), vehicle.body.cg_to_front_axle
    at = column(a - vehicle.frame.section, count)
    ahead = np.minimum(at, a)
    corners = _design_corners(vehicle, count)
    lift = np.where(corners[:, None, :, 0] >= ahead[:, None, None], _on_section(corners, at), 0.0)
    force = lift @ b[:, :, :4].transpose(0, 2, 1)
    behind = corners[:, 2, 0] < ahead  # where the rear axle is ahead too, its end gives the torque back
    for number, element in enumerate(elements):
        force[:, 1, number] -= np.where(behind, carried_torque(vehicle, element), 0.0)
    if b.shape[2] == 5:
        seat = _rows([vehicle.seat.x, vehicle.seat.y], count)[:, None]
        cushion = np.where(seat[:, :, 0] >= ahead[:, None], -_on_section(seat, at)[..., 0], 0.0)
        force[:, :, -1] = cushion
    return Section(force, lift, _inertia_ahead(vehicle, load, place, at))


def _on_section(points: Array, at: Array) -> Array:
    """(N, 3, points) shear, torsion and bending at ``at`` (N,) per upward force at points (N, points, 2)."""
    x, y = points[..., 0], points[..., 1]
    return np.stack([np.ones_like(x), y, x - at[:, None]], axis=1)


def _inertia_ahead(vehicle: Vehicle, load: LoadCase, place: Array, at: Array) -> Array:
    """(N, 3, 3) inertia loads of the mass ahead of ``at`` per acceleration of the loaded CG."""
    count, body, a = len(at), vehicle.body, vehicle.body.cg_to_front_axle
    pitch = moment_of_inertia(body.pitch_inertia, body.mass, a, vehicle.wheelbase - a)
    roll = moment_of_inertia(body.roll_inertia, body.mass, a, vehicle.wheelbase - a)
    half = np.sqrt(3 * np.asarray(pitch) / body.mass)
    share = np.clip((half - at) / (2 * half), 0.0, 1.0)
    start = half * (1 - 2 * share)
    x = _rows([0.0, *(item.x + a for item in load.loads)], count)
    mass = _rows([body.mass * share, *(item.mass for item in load.loads)], count)
    mass[:, 1:] *= x[:, 1:] >= at[:, None]
    first, second = mass * x, mass * x**2
    first[:, 0] = mass[:, 0] * (half + start) / 2
    second[:, 0] = mass[:, 0] * (half**2 + half * start + start**2) / 3
    y = _rows([0.0, *(item.y for item in load.loads)], count)
    z = _rows([body.cg_height, *(item.z for item in load.loads)], count) - place[:, 2:]

    along, arm, across = first - place[:, :1] * mass, first - at[:, None] * mass, y - place[:, 1:2]
    turned = second - place[:, :1] * first - at[:, None] * along
    rolled = (mass * y * across + mass * z**2).sum(axis=1) + share * roll
    rows = [
        [mass.sum(axis=1), (mass * across).sum(axis=1), -along.sum(axis=1)],
        [(mass * y).sum(axis=1), rolled, -(y * along).sum(axis=1)],
        [arm.sum(axis=1), (across * arm).sum(axis=1), -(turned + mass * z**2).sum(axis=1)],
    ]
    return np.stack([np.stack(row, axis=-1) for row in rows], axis=1)
