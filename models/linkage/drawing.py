"""Where every joint of a chain is over travel, for views of it, and joints moved by hand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, TypeVar

import numpy as np
from numpy.typing import ArrayLike
from pydantic import ValidationError

from models.errors import InputError, input_error
from models.fields import Part, Path, follow, replaced
from models.linkage.parts import Axis, Chain, Point
from models.linkage.solve import moved, solve
from models.linkage.vectors import Array

__all__ = ["Drawn", "DrawnBody", "DrawnLink", "drawn", "moved_point", "nearest_point", "points"]

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


def points(chain: Chain) -> dict[str, Place]:
    """Place of every joint and every given point of an axis at design trim, m, by name ("arm > link")."""
    return {_name(path): (part.x, part.y, part.z) for path, part in _points(chain, ())}


def moved_point(chain: C, point: str, place: Place) -> C:
    """The chain with a point of :func:`points` elsewhere; the links fit its new place.

    Args:
        chain: as it is.
        point: name of the point.
        place: x, y, z from the wheel centre at design trim, m.

    Raises:
        InputError: there is no such point, or the chain would lock within its travel; says where.
    """
    path = next((path for path, _ in _points(chain, ()) if _name(path) == point), None)
    if path is None:
        known = ", ".join(points(chain))
        raise InputError.of(point, place, f"the linkage has no point of this name (it has {known})")
    part = follow(chain, path)
    x, y, z = (float(value) for value in place)
    # All three at once: on the way along the axes one by one the chain may lock.
    try:
        at_place = type(part).model_validate({**dict(part), "x": x, "y": y, "z": z})
    except ValidationError as error:
        raise input_error(error, path) from error
    return replaced(chain, path, at_place)


def nearest_point(chain: C, point: str, place: Place) -> C:
    """The chain with a point moved towards ``place`` as far as it can be assembled on the way.

    For dragging: the point follows the pointer and stops where the chain would lock.

    Raises:
        InputError: there is no such point.
    """
    start = np.array(points(chain).get(point, (np.nan,) * 3))
    try:
        return moved_point(chain, point, place)
    except InputError:
        if np.isnan(start).any():
            raise
    found, free, barred = chain, 0.0, 1.0
    for _ in range(_HALVINGS):
        share = (free + barred) / 2
        x, y, z = (start + share * (np.array(place) - start)).tolist()
        try:
            found, free = moved_point(chain, point, (x, y, z)), share
        except InputError:
            barred = share
    return found


def _points(part: Part, above: Path) -> Iterator[tuple[Path, Point | Axis]]:
    for name in type(part).model_fields:
        inner = getattr(part, name)
        if isinstance(inner, Point | Axis):
            yield (*above, name), inner
        elif isinstance(inner, Part):
            yield from _points(inner, (*above, name))


def _name(path: Path) -> str:
    return " > ".join(map(str, path))
