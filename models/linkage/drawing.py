"""Where every joint of a chain is over travel, for views of it, and joints moved by hand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Generic, Literal, NamedTuple, TypeVar, cast

import numpy as np
from numpy.typing import ArrayLike
from pydantic import ValidationError

from models.errors import InputError, input_error
from models.fields import Label, Part, Path, described, replaced
from models.linkage.parts import Axis, Chain, Point
from models.linkage.solve import moved, solve
from models.linkage.travel import fits
from models.linkage.vectors import Array

__all__ = [
    "Drawn",
    "DrawnBody",
    "DrawnLink",
    "Joint",
    "Nearest",
    "drawn",
    "joints",
    "moved_point",
    "nearest_point",
    "points",
]

Place = tuple[float, float, float]
C = TypeVar("C", bound=Chain)

# To 1 part in 64 of the way, within a frame; the next move of the pointer starts from there.
_HALVINGS = 6


@dataclass(frozen=True, eq=False)
class DrawnBody:
    """A body over travel; places from the wheel centre at design trim, x forward, y left, z up, m.

    Attributes:
        name: in words.
        at, axis: (3,) the point of its axis that was given, and the direction.
        inlet, outlet: (n, 3) its joints; the last body has one joint only, given as both.
    """

    name: str
    at: Array
    axis: Array
    inlet: Array
    outlet: Array


@dataclass(frozen=True, eq=False)
class DrawnLink:
    """A link over travel.

    Attributes:
        name: in words.
        start, end: (n, 3) its ends, m.
    """

    name: str
    start: Array
    end: Array


@dataclass(frozen=True, eq=False)
class Drawn:
    """A chain at n wheel travels.

    Attributes:
        travel: (n,) m.
        bodies: from the wheel's arm to the bar.
        links: between them.
    """

    travel: Array
    bodies: tuple[DrawnBody, ...]
    links: tuple[DrawnLink, ...]


def drawn(chain: Chain, travel: ArrayLike = 0.0, side: Literal["left", "right"] = "left") -> Drawn:
    """All joints of a chain at wheel travels, m; beyond its travel as at the end of it."""
    s = np.clip(np.atleast_1d(np.asarray(travel, dtype=np.float64)), -chain.rebound, chain.jounce)
    mirror = np.array([1.0, 1.0 if side == "left" else -1.0, 1.0])

    def places(point: Array) -> Array:
        return np.asarray(np.broadcast_to(point, (3, len(s))).T * mirror)

    given = chain.bodies()
    names, links = chain.names()
    bodies = tuple(
        DrawnBody(
            name,
            body.at[:, 0] * mirror,
            body.axis[:, 0] * mirror,
            places(moved(body, stage, body.inlet).place),
            places(moved(body, stage, body.outlet).place),
        )
        for name, body, stage in zip(names, given, solve(given, s), strict=True)
    )
    return Drawn(
        s,
        bodies,
        tuple(
            DrawnLink(link, before.outlet, body.inlet)
            for link, before, body in zip(links, bodies[:-1], bodies[1:], strict=True)
        ),
    )


class Joint(NamedTuple):
    """A point of a chain that can be moved.

    Attributes:
        name: its path in words ("arm > link").
        label: for a reader ("Wishbone: link on the arm").
        path: from the chain to it.
        part: the joint, or the axis of which it is the given point; at design trim.
    """

    name: str
    label: str
    path: Path
    part: Point | Axis

    @property
    def place(self) -> Place:
        """x, y, z from the wheel centre at design trim, m."""
        return self.part.x, self.part.y, self.part.z


@dataclass(frozen=True)
class Nearest(Generic[C]):
    """A chain with a point as near to the wanted place as it gets.

    Attributes:
        chain: with the point moved.
        reason: why the wanted place is refused; empty where the point is there.
    """

    chain: C
    reason: str = ""


def joints(chain: Chain) -> tuple[Joint, ...]:
    """Every joint and every given point of an axis, from the wheel to the bar."""
    return tuple(_joints(chain, (), ""))


def points(chain: Chain) -> dict[str, Place]:
    """Place of every joint and every given point of an axis at design trim, m, by name ("arm > link")."""
    return {joint.name: joint.place for joint in joints(chain)}


def moved_point(chain: C, point: str, place: Place) -> C:
    """The chain with a point of :func:`points` elsewhere; the links fit its new place.

    Args:
        chain: as it is.
        point: name of the point.
        place: x, y, z from the wheel centre at design trim, m.

    Raises:
        InputError: there is no such point, or the chain would lock within its travel; says where.
    """
    joint = _joint(chain, point)
    return replaced(chain, joint.path, _at(joint, place))


def nearest_point(chain: C, point: str, place: Place) -> Nearest[C]:
    """The chain with a point moved towards ``place`` as far as it can be assembled on the way.

    For dragging: the point follows the pointer and stops where the chain would lock.

    Raises:
        InputError: there is no such point.
    """
    joint = _joint(chain, point)
    try:
        return Nearest(moved_point(chain, point, place))
    except InputError as error:
        reason = error.problems[0].reason
    start, way = np.array(joint.place), np.array(place) - np.array(joint.place)
    free, barred = 0.0, 1.0
    for _ in range(_HALVINGS):
        share = (free + barred) / 2
        free, barred = (share, barred) if _may_be(chain, joint, start + share * way) else (free, share)
    if free == 0.0:
        return Nearest(chain, reason)
    return Nearest(replaced(chain, joint.path, _at(joint, start + free * way)), reason)


def _joint(chain: Chain, point: str) -> Joint:
    known = joints(chain)
    found = next((joint for joint in known if joint.name == point), None)
    if found is None:
        names = ", ".join(joint.name for joint in known)
        raise InputError.of(point, "", f"the linkage has no point of this name (it has {names})")
    return found


def _joints(part: Part, above: Path, owner: str) -> Iterator[Joint]:
    for name, note, _ in described(type(part)):
        inner, path = getattr(part, name), (*above, name)
        if not isinstance(note, Label):
            continue
        if isinstance(inner, Point | Axis):
            label = f"{owner}: {note.label[0].lower()}{note.label[1:]}" if owner else note.label
            yield Joint(" > ".join(map(str, path)), label, path, inner)
        elif isinstance(inner, Part):
            yield from _joints(inner, path, note.label)


def _at(joint: Joint, place: ArrayLike) -> Point | Axis:
    """The joint elsewhere: all three at once, as on the way along the axes one by one the chain may lock."""
    x, y, z = np.asarray(place, dtype=np.float64).tolist()
    try:
        return type(joint.part).model_validate({**dict(joint.part), "x": x, "y": y, "z": z})
    except ValidationError as error:
        raise input_error(error, joint.path) from error


def _may_be(chain: Chain, joint: Joint, place: Array) -> bool:
    """Whether a joint may be at a place; tells it sooner than a refusal with its reason does."""
    try:
        part = _at(joint, place)
    except InputError:
        return False
    return fits(cast(Chain, _copied(chain, joint.path, part)))


def _copied(part: Part, path: Path, value: Part) -> Part:
    """As :func:`models.fields.replaced`, but nothing is checked."""
    if not path:
        return value
    name = str(path[0])
    return part.model_copy(update={name: _copied(getattr(part, name), path[1:], value)})
