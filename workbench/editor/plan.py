"""Reads off a part type which rows its editor needs; knows no screen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin

from models.fields import Label, Part, Path, Quantity, described

__all__ = [
    "Choice",
    "FieldPlan",
    "Group",
    "Kinds",
    "Maybe",
    "Number",
    "Shape",
    "Table",
    "Text",
    "WholeNumber",
    "plan",
    "prominent",
]


@dataclass(frozen=True, slots=True)
class Number:
    """A quantity."""

    quantity: Quantity


@dataclass(frozen=True, slots=True)
class WholeNumber:
    """A plain whole number."""


@dataclass(frozen=True, slots=True)
class Text:
    """A plain text."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few words."""

    options: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """A part with rows of its own."""

    part_type: type[Part]


@dataclass(frozen=True, slots=True)
class Kinds:
    """One of several parts that are told apart by their ``kind``."""

    types: tuple[type[Part], ...]


@dataclass(frozen=True, slots=True)
class Maybe:
    """A part that may be absent; of several types it is told apart by its ``kind``."""

    types: tuple[type[Part], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Any number of parts of one type, each with plain fields only."""

    part_type: type[Part]
    columns: tuple[FieldPlan, ...]


Shape = Number | WholeNumber | Text | Choice | Group | Kinds | Maybe | Table


@dataclass(frozen=True, slots=True)
class FieldPlan:
    """One field that the editor shows."""

    name: str
    label: str
    meaning: str
    shape: Shape


def plan(part_type: type[Part]) -> tuple[FieldPlan, ...]:
    """Rows of a part: plain fields first, then what has rows of its own, each in order of declaration.

    Fields without a Quantity or Label (the ``kind`` of a part) and hidden ones have no row.

    Raises:
        TypeError: a described field has a type for which there is no row.
    """
    fields = [
        FieldPlan(name, note.label, note.meaning, _shape(note, annotation))
        for name, note, annotation in described(part_type)
        if note is not None and not (isinstance(note, Label) and note.hidden)
    ]
    return tuple(sorted(fields, key=lambda field: isinstance(field.shape, (Group, Kinds, Maybe, Table))))


def _shape(note: Quantity | Label, annotation: Any) -> Shape:
    if isinstance(note, Quantity):
        return Number(note)
    if annotation is int:
        return WholeNumber()
    if annotation is str:
        return Text()
    if get_origin(annotation) is Literal:
        return Choice(get_args(annotation))
    if _is_part(annotation):
        return Group(annotation)
    if get_origin(annotation) in (Union, UnionType):
        parts = tuple(choice for choice in get_args(annotation) if choice is not NoneType)
        if all(map(_is_part, parts)):
            return Kinds(parts) if len(parts) == len(get_args(annotation)) else Maybe(parts)
    if get_origin(annotation) is tuple and get_args(annotation)[1:] == (Ellipsis,):
        part_type = get_args(annotation)[0]
        columns = plan(part_type) if _is_part(part_type) else ()
        if columns and all(isinstance(field.shape, (Number, WholeNumber, Text)) for field in columns):
            return Table(part_type, columns)
    raise TypeError(f"the editor has no row for '{note.label}' of type {annotation}")


def _is_part(annotation: Any) -> bool:
    return isinstance(annotation, type) and issubclass(annotation, Part)


def prominent(part: Part) -> list[tuple[Path, FieldPlan]]:
    """Prominent quantities of a part, with their paths.

    Where one label stands for several of them, or there is another part of the same type, the place is put
    before it: "Front spring rate".
    """
    found = list(_prominent(part, ()))
    labels = [field.label for _, field in found]
    types = {name: info.annotation for name, info in type(part).model_fields.items()}

    def is_unique(path: Path, field: FieldPlan) -> bool:
        alike = [name for name, annotation in types.items() if annotation is types[str(path[0])]]
        return labels.count(field.label) == 1 and (len(path) == 1 or len(alike) == 1)

    return [(path, field if is_unique(path, field) else _placed(path, field)) for path, field in found]


def _prominent(part: Part, above: Path) -> Iterator[tuple[Path, FieldPlan]]:
    for field in plan(type(part)):
        path = (*above, field.name)
        value = getattr(part, field.name)
        if isinstance(field.shape, Number):
            if field.shape.quantity.prominent:
                yield path, field
        elif isinstance(value, Part):
            yield from _prominent(value, path)


def _placed(path: Path, field: FieldPlan) -> FieldPlan:
    place = str(path[0]).replace("_", " ").capitalize()
    return FieldPlan(
        field.name, f"{place} {field.label[0].lower()}{field.label[1:]}", field.meaning, field.shape
    )
