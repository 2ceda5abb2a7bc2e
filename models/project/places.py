"""Where a value stands in a project, as text: "front.spring.rate", "run.speed", "variants.0.note".

A place is written in the names of the project file, list entries by their number from 0.  What begins with a
field of the project is of the project; ``vehicle`` and ``hardware``, and any field of the car, are of one
variant: "front.spring.rate" and "vehicle.front.spring.rate" are the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from models.errors import InputError
from models.fields import Path, Quantity, described, follow
from models.project.project import Project
from models.project.variant import Variant
from models.vehicle import Vehicle

__all__ = ["numbers_of", "path_in", "quantity_at"]

_PLACE = re.compile(r"[A-Za-z_]\w{0,79}(\.\w{1,80}){0,19}", re.ASCII)


def path_in(project: Project, place: str, variant: str = "") -> Path:
    """Steps to a place, from the project on.

    Args:
        project: in which it stands.
        place: text of the place.
        variant: whose car is meant; empty for that of the candidate.

    Raises:
        InputError: nothing stands there; says what does.
    """
    if not _PLACE.fullmatch(place):
        raise InputError.of(place[:80], place, "a place is words with dots between: front.spring.rate")
    path: Path = tuple(int(step) if step.isdecimal() else step for step in place.split("."))
    if path[0] not in Project.model_fields:
        start: Path = ("variants", project.index(variant or project.candidate))
        path = (*start, *path) if path[0] in ("vehicle", "hardware") else (*start, "vehicle", *path)
    above: Any = project
    for depth, step in enumerate(path):
        known = _steps(above)
        if step not in known:
            raise _nothing_there(place, path[depth:], above, known)
        above = follow(above, (step,))
    return path


def quantity_at(project: Project, path: Path) -> Quantity | None:
    """Unit, range and meaning of the number at a path; None where no number with a unit stands."""
    part = follow(project, path[:-1])
    if not isinstance(part, BaseModel):
        return None
    field = type(part).model_fields[str(path[-1])]
    return next((note for note in field.metadata if isinstance(note, Quantity)), None)


def numbers_of(vehicle: Vehicle) -> Iterator[tuple[str, Quantity]]:
    """Place and description of every number of a car, in the order of the editor."""
    return _numbers(vehicle, ())


def _numbers(part: Any, path: Path) -> Iterator[tuple[str, Quantity]]:
    if isinstance(part, tuple):
        for number, item in enumerate(part):
            yield from _numbers(item, (*path, number))
    elif isinstance(part, BaseModel):
        for name, note, _ in described(type(part)):
            if isinstance(note, Quantity):
                yield ".".join(map(str, (*path, name))), note
            else:
                yield from _numbers(getattr(part, name), (*path, name))


def _steps(above: Any) -> tuple[str | int, ...]:
    """What a step from here may be."""
    if isinstance(above, tuple):
        return tuple(range(len(above)))
    return tuple(type(above).model_fields) if isinstance(above, BaseModel) else ()


def _nothing_there(place: str, rest: Path, above: Any, known: tuple[str | int, ...]) -> InputError:
    inside = ".".join(place.split(".")[: -len(rest)])
    where = f"in '{inside}'" if inside else "in a car or project"
    own = tuple(Project.model_fields) + tuple(Variant.model_fields)[2:] if not inside else ()
    names = ", ".join(map(str, (*known, *own)[:40]))
    reason = f"there is no '{rest[0]}' {where} ({f'there are: {names}' if names else 'nothing is inside it'})"
    if above is None:
        reason = f"there is nothing {where}; set it as a whole first"
    return InputError.of(place, place, reason)
