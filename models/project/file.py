"""The project file: JSON text with units, checked on the way in, written so that nothing is lost.

A file is data only: it is parsed as JSON and checked field by field, and nothing in it is ever run.
Every field must be there, for a field filled in silently would change the results; when a later
version adds a field, a step in :data:`_MIGRATIONS` says what it means for an older file.  A field that
changes no result of the ride needs none: :data:`_ADDED` names those that an older file has not.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Annotated, Any, get_args, get_origin

from pydantic import BaseModel, ValidationError

from models.errors import InputError, Problem, input_error, system_reason
from models.plain_file import read_limited
from models.project.checked_json import parse_json
from models.project.project import Project
from models.project.safe_write import sweep, write_safely
from models.project.variant import Variant
from models.vehicle import Vehicle

__all__ = [
    "FORMAT",
    "FORMAT_VERSION",
    "MOST_BYTES",
    "SUFFIX",
    "ProjectFileError",
    "dumps",
    "load",
    "loads",
    "may_be_left_out",
    "save",
]

FORMAT = "corduroy project"
FORMAT_VERSION = 1
SUFFIX = ".corduroy"

#: More than the largest project that passes the checks (a test computes it).
MOST_BYTES = 30_000_000

_MOST_PROBLEMS = 50

# Beyond these, no list of what is wrong helps, and making it takes some 40 µs and 2 kB of each.
_MOST_ERRORS = 5000

# Version of a file -> change of its content into that of the next version.
_MIGRATIONS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}

# Fields that older files of the same version do not have, and whose defaults change no result of the ride.
_ADDED: frozenset[tuple[type[BaseModel], str]] = frozenset({(Variant, "hardware"), (Vehicle, "packaging")})


class ProjectFileError(InputError):
    """A project file that cannot be read or written; says which and why."""


def dumps(project: Project) -> str:
    """Text of the project file; equal projects have equal text."""
    content = {"format": FORMAT, "version": FORMAT_VERSION, **project.model_dump(mode="json")}
    return json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def loads(text: str) -> Project:
    """Project from the text of a file.

    Raises:
        ProjectFileError: the text is damaged, of an unknown version, or has wrong fields, all of which
            are listed with value, allowed range and unit.
    """
    try:
        return _project(_migrated(_parsed(text)))
    except RecursionError as error:
        raise ProjectFileError.of("", "", "the file is damaged: its parts are nested too deeply") from error


def load(path: str | os.PathLike[str]) -> Project:
    """Project of a file; raises :class:`ProjectFileError` that names the file and all that is wrong."""
    name = Path(path).name
    try:
        text = read_limited(Path(path), MOST_BYTES).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        reason = f"the file is damaged: byte {error.start + 1} is no UTF-8 text"
        raise ProjectFileError.of(name, "", reason) from error
    except (OSError, ValueError) as error:  # ValueError: a path with a NUL in it
        raise ProjectFileError.of(name, "", f"the file cannot be read: {system_reason(error)}") from error
    try:
        return loads(text)
    except ProjectFileError as error:
        raise ProjectFileError(
            *(
                Problem(" > ".join(filter(None, (name, problem.field))), problem.value, problem.reason)
                for problem in error.problems
            )
        ) from error


def save(project: Project, path: str | os.PathLike[str]) -> None:
    """Write the project file; what the file held before is kept as ``NAME.bak``.

    A symbolic link stays one, and the file it points to is written.

    Raises:
        ProjectFileError: it could not be written; the old file is as it was.
    """
    try:
        target = Path(path).resolve()
        write_safely(target, dumps(project).encode(), previous=target.with_name(target.name + ".bak"))
        sweep(target.parent)
    except (OSError, ValueError, RuntimeError) as error:  # RuntimeError: links in a circle
        reason = f"the project is not saved: {system_reason(error)}. The file is as it was before"
        raise ProjectFileError.of(Path(path).name, "", reason) from error


def may_be_left_out(part: type[BaseModel], name: str) -> bool:
    """Whether a file need not state a field: older ones have not, or none says that the part is absent."""
    return part.model_fields[name].exclude_if is not None or (part, name) in _ADDED


def _parsed(text: str) -> dict[str, Any]:
    try:
        content = parse_json(text)
    except InputError as error:
        raise ProjectFileError(*error.problems) from error
    if not isinstance(content, dict) or content.get("format") != FORMAT:
        raise ProjectFileError.of("format", "", f"this is no project file (format is not '{FORMAT}')")
    return content


def _migrated(content: dict[str, Any]) -> dict[str, Any]:
    """Content of the present version without its header."""
    version = content.get("version")
    if type(version) is not int or not 1 <= version <= FORMAT_VERSION:
        reads = "1" if FORMAT_VERSION == 1 else f"1 to {FORMAT_VERSION}"
        reason = f"the file has version {str(version)[:20]}; this program reads version {reads}"
        raise ProjectFileError.of("version", str(version)[:20], reason)
    content = {name: value for name, value in content.items() if name not in ("format", "version")}
    for step in range(version, FORMAT_VERSION):
        content = _MIGRATIONS[step](content)
    return content


def _project(content: dict[str, Any]) -> Project:
    problems = list(islice(_missing(Project, content, ""), _MOST_ERRORS))
    try:
        project = Project.model_validate(content)
    except ValidationError as error:
        count = error.error_count()
        wrong = input_error(error).problems if count <= _MOST_ERRORS else (_damaged(count),)
        problems = [*wrong, *problems]
    if problems:
        more = len(problems) - _MOST_PROBLEMS
        rest = [Problem("", "", f"and {more} more")] if more > 0 else []
        raise ProjectFileError(*problems[:_MOST_PROBLEMS], *rest)
    return project


def _damaged(count: int) -> Problem:
    return Problem("", "", f"the file is damaged: {count} of its fields are wrong")


@dataclass(frozen=True, slots=True)
class _Held:
    """What a file has to say of one field of a part.

    Attributes:
        name: of the field.
        words: its name for a reader.
        stated: whether it has to be there though the program has a default for it.
        many: whether it is a list.
        parts: data models that it or its entries may be, by their kind where there are several.
    """

    name: str
    words: str
    stated: bool
    many: bool
    parts: dict[str, type[BaseModel]]

    def part(self, content: object) -> type[BaseModel] | None:
        """Data model that this content stands for."""
        if len(self.parts) < 2:
            return next(iter(self.parts.values()), None)
        kind = content.get("kind") if isinstance(content, dict) else None
        return self.parts.get(kind) if isinstance(kind, str) else None


def _missing(part: type[BaseModel], content: object, above: str) -> Iterator[Problem]:
    """Fields that the program could fill in from its defaults but that the file has to state."""
    if not isinstance(content, dict):
        return
    for field in _fields_held(part):
        if field.name not in content:
            if field.stated:
                yield Problem(above + field.words, "", "the field is missing")
        elif field.parts:
            yield from _missing_inside(field, content[field.name], above + field.words)


def _missing_inside(field: _Held, value: object, where: str) -> Iterator[Problem]:
    entries = enumerate(value, 1) if field.many and isinstance(value, list) else ()
    for number, entry in entries:
        if (part := field.part(entry)) is not None:
            yield from _missing(part, entry, f"{where} > {number} > ")
    if not field.many and (part := field.part(value)) is not None:
        yield from _missing(part, value, f"{where} > ")


@cache
def _fields_held(part: type[BaseModel]) -> tuple[_Held, ...]:
    held = []
    for name, field in part.model_fields.items():
        many = get_origin(field.annotation) is tuple
        inside = get_args(field.annotation)[0] if many else field.annotation
        if get_origin(inside) is Annotated:  # the entries of a list of several kinds
            inside = get_args(inside)[0]
        parts = [one for one in (inside, *get_args(inside)) if _is_part(one)]
        # A required one is reported by the check of the fields.
        stated = not field.is_required() and not may_be_left_out(part, name)
        by_kind = {_kind(one) if len(parts) > 1 else "": one for one in parts}
        held.append(_Held(name, name.replace("_", " "), stated, many, by_kind))
    return tuple(held)


def _kind(part: type[BaseModel]) -> str:
    return str(part.model_fields["kind"].default)


def _is_part(annotation: Any) -> bool:
    return isinstance(annotation, type) and issubclass(annotation, BaseModel)
