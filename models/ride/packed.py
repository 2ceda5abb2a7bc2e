"""A nonlinear car packed into flat arrays of fixed stride, the form that the compiled loops want.

Degrees of freedom and channels stand in rows of :data:`ROW` numbers, whatever their count, so that the
compiler knows the distance of any two rows and works on eight numbers at a time.  Elements are padded with
such as do nothing to whole groups of eight.
"""

from __future__ import annotations

from math import prod
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.ride.laws import LawTable
from models.ride.nonlinear_model import ForceElement, NonlinearModel
from models.ride.together import together

__all__ = ["LANES", "ROW", "TYRE", "Packed", "Room", "pack", "pack_together", "room"]

Array = NDArray[np.float64]

ROW = 16  # room for degrees of freedom, and for channels
LANES = 8  # numbers in the widest register
TYRE = 8  # channels: deflection coordinates from 0 on, wheels from 8 on

# Rows of Packed.law.  A law is looked up at u = scale · x + shift, clipped to 0 .. top.
SPRING_SCALE, SPRING_SHIFT, SPRING_TOP, SPRING_STEP = 0, 1, 2, 3
DAMPER_SCALE, DAMPER_SHIFT, DAMPER_TOP = 4, 5, 6
JOUNCE_AT, JOUNCE_RATE, JOUNCE_GROWTH = 7, 8, 9
REBOUND_AT, REBOUND_RATE, REBOUND_GROWTH = 10, 11, 12
FRICTION_SLOPE, FRICTION_FORCE = 13, 14
LAW_ROWS = 15

# Rows of Packed.tyre
TYRE_RATE, TYRE_DAMPING, TYRE_LOAD, TYRE_COMPLIANCE = 0, 1, 2, 3

_NOTHING = LawTable(x0=0.0, dx=1.0, values=np.zeros(2))


class Packed(NamedTuple):
    """Arrays of one car; types and memory order are always the same, so that one compilation serves all.

    Attributes:
        dof: n rounded up to whole groups of eight.
        channels: :data:`ROW`; a number of the data, as the compiler would unroll a loop of fixed length and
            then not see that it may work on eight numbers at a time.
        reading: (ROW²,) row j: the channels that a unit of dof j makes.
        answer: (ROW²,) row c: the accelerations that a unit force in channel c makes.
        gravity: (ROW,) accelerations from the constant forces.
        incidence: (6, E) deflection of element per coordinate, linkages left 0.
        law: (15, E) numbers of the laws, rows as named above.
        start: (2, E) where spring and damper begin in ``table``.
        table, energy: forces of all laws one after the other, and the energies at the same points (none in a
            car of which only the motion is wanted).
        tyre: (4, 4) rows as named above.
        link_coordinate, link_element: (L,) what a linkage reads and what it moves.
        link_scale: (3, L) look-up of the linkages as of the laws: scale, shift, last cell.
        link_start: (L,) first cell of each in ``link_cubic``.
        link_cubic: (4 cells,) cubics one after the other.
    """

    dof: int
    channels: int
    reading: Array
    answer: Array
    gravity: Array
    incidence: Array
    law: Array
    start: NDArray[np.int32]
    table: Array
    energy: Array
    tyre: Array
    link_coordinate: NDArray[np.uint64]
    link_element: NDArray[np.uint64]
    link_scale: Array
    link_start: NDArray[np.int32]
    link_cubic: Array


class Room(NamedTuple):
    """Arrays for the histories of N samples and E elements, row by row as the compiled loops write them.

    Attributes:
        q, rate, acceleration: (N, dof).
        work: (N, 3) of the road, of the forces from outside, and lost.
        stored: (N,).
        x, x_rate, force: (TYRE + 4, N) of the channels.
        deflection, deflection_rate, element_force: (E, N).
    """

    q: Array
    rate: Array
    acceleration: Array
    work: Array
    stored: Array
    x: Array
    x_rate: Array
    force: Array
    deflection: Array
    deflection_rate: Array
    element_force: Array


def room(samples: int, dof: int, elements: int) -> Room:
    """All arrays out of one block.

    A large block comes in large pages of memory, and fetching it takes half the time of many small ones:
    2 ms of 12 in a run of 10,000 steps.
    """
    channels = TYRE + 4
    shapes = [(samples, dof)] * 3 + [(samples, 3), (samples,)] + [(channels, samples)] * 3
    shapes += [(elements, samples)] * 3
    sizes = [prod(shape) for shape in shapes]
    block = np.split(np.empty(sum(sizes)), np.cumsum(sizes)[:-1])
    return Room(*(part.reshape(shape) for part, shape in zip(block, shapes, strict=True)))


def pack(model: NonlinearModel) -> Packed:
    """Arrays of a model."""
    n, d = len(model.dof), len(model.coordinates)
    maps = np.zeros((ROW, n))
    maps[:d], maps[TYRE : TYRE + 4] = model.coordinates, model.wheels
    reading, answer = np.zeros((ROW, ROW)), np.zeros((ROW, ROW))
    reading[:n] = maps.T
    # The elements push the coordinates apart, the tyres push the wheels up.
    sign = np.where(np.arange(ROW) < TYRE, -1.0, 1.0)[:, None]
    answer[:, :n] = sign * np.linalg.solve(model.mass, maps.T).T
    gravity = np.zeros(ROW)
    gravity[:n] = np.linalg.solve(model.mass, model.constant_force)
    law, start, tables = _laws(model.elements)
    tyres = model.tyres
    return Packed(
        _whole(n),
        ROW,
        reading.ravel(),
        answer.ravel(),
        gravity,
        _incidence(model.elements, d),
        law,
        start,
        np.concatenate([part.values for part in tables]),
        np.concatenate([part.node_energy for part in tables]),
        np.stack([tyres.rate, tyres.damping, tyres.static_load, 1 / (2 * tyres.rate)]),
        *_links(model.elements),
    )


def pack_together(model: NonlinearModel, car: Packed) -> Packed:
    """The packed car of a model with elements that move as one put together: for its motion alone."""
    elements = together(model.elements)
    law, start, tables = _laws(elements)
    coordinate, element, scale, first, cubic = _links(elements)
    return car._replace(
        incidence=_incidence(elements, len(model.coordinates)),
        law=law,
        start=start,
        table=np.concatenate([part.values for part in tables]),
        energy=np.zeros(0),
        link_coordinate=coordinate,
        link_element=element,
        link_scale=scale,
        link_start=first,
        link_cubic=cubic,
    )


def _incidence(elements: tuple[ForceElement, ...], coordinates: int) -> Array:
    incidence = np.zeros((6, _whole(len(elements))))
    for number, element in enumerate(elements):
        incidence[:coordinates, number] = element.incidence
    return incidence


def _whole(count: int) -> int:
    """Count rounded up to whole groups, one at least."""
    return max(1, -(-count // LANES)) * LANES


def _laws(elements: tuple[ForceElement, ...]) -> tuple[Array, NDArray[np.int32], list[LawTable]]:
    """Numbers of the laws, where their tables begin, and the tables."""
    count = _whole(len(elements))
    law, start = np.zeros((LAW_ROWS, count)), np.zeros((2, count), dtype=np.int32)
    tables, used = [_NOTHING], len(_NOTHING.values)
    for e, element in enumerate(elements):
        for row, first, part in ((0, SPRING_SCALE, element.spring), (1, DAMPER_SCALE, element.damper)):
            if part is None:
                continue
            law[first : first + 3, e] = 1 / part.dx, -part.x0 / part.dx, len(part.values) - 2
            start[row, e] = used
            used += len(part.values)
            tables.append(part)
        law[SPRING_STEP, e] = element.spring.dx if element.spring else 0.0
        if element.jounce_stop:
            stop = element.jounce_stop
            law[JOUNCE_AT : JOUNCE_GROWTH + 1, e] = stop.gap, stop.rate, stop.progression
        if element.rebound_stop:
            stop = element.rebound_stop
            law[REBOUND_AT : REBOUND_GROWTH + 1, e] = -stop.gap, stop.rate, stop.progression
        if element.friction:
            force = element.friction.force
            law[FRICTION_SLOPE : FRICTION_FORCE + 1, e] = force / element.friction.width, force
    return law, start, tables


def _links(
    elements: tuple[ForceElement, ...],
) -> tuple[NDArray[np.uint64], NDArray[np.uint64], Array, NDArray[np.int32], Array]:
    links = [(e, link) for e, element in enumerate(elements) for link in element.links]
    scale, starts = np.zeros((3, len(links))), np.zeros(len(links), dtype=np.int32)
    used = 0
    for number, (_, link) in enumerate(links):
        table = link.table
        cells = len(table.cubics)
        scale[:, number] = 1 / table.dx, -table.x0 / table.dx, cells - 1
        starts[number] = used
        used += cells
    cubics = [link.table.cubics.ravel() for _, link in links]
    return (
        np.array([link.coordinate for _, link in links], dtype=np.uint64),
        np.array([e for e, _ in links], dtype=np.uint64),
        scale,
        starts,
        np.concatenate([np.zeros(0), *cubics]),
    )
