"""Data fields that know their unit, range and meaning.

A field of a data model is declared as ``Annotated[float, Quantity(...)]``.  From that one line come
validation, the text in files, the row of the editor, the tooltip and the JSON schema.  In Python the
field is a plain float in SI.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, TypeVar

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationError
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from models.errors import brief, input_error
from models.units import KINDS, NUMBER_PATTERN, Kind, UnitError, factor, from_text, to_text

__all__ = ["Label", "Part", "Path", "Quantity", "described", "follow", "replaced"]

Path = tuple[str | int, ...]


class Part(BaseModel):
    """Base of all data models: frozen, compared and hashed by value, unknown fields refused.

    A default is checked too: it may not go with what is given beside it.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", validate_default=True)


@dataclass(frozen=True, slots=True)
class Label:
    """Name and one-line meaning of a field that is no quantity (a part, a choice, a text).

    A hidden one has no row in the editor: it is too large for one, or is set elsewhere.
    """

    label: str
    meaning: str
    hidden: bool = False

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {**handler(schema), "title": self.label, "description": self.meaning}


@dataclass(frozen=True, slots=True)
class Quantity:
    """Unit, range and meaning of a number field; also validates and serialises it.

    Attributes:
        kind_name: key in :data:`models.units.KINDS`.
        label: short name in the terms of the trade.
        meaning: one line for the tooltip.
        low, high: allowed range, SI, both ends included.
        typical: range of the editor's slider, SI.
        prominent: shown in the editor's first group.
    """

    kind_name: str
    label: str
    meaning: str
    low: float
    high: float
    typical: tuple[float, float]
    prominent: bool = False

    @property
    def kind(self) -> Kind:
        """Kind of quantity, with its units."""
        return KINDS[self.kind_name]

    def range_text(self, unit: str | None = None) -> str:
        """Allowed range for a reader, in ``unit`` (the usual one by default)."""
        unit = unit or self.kind.usual
        low, high = (value / factor(unit, self.kind.si) for value in (self.low, self.high))
        return f"{low:.6g} to {high:.6g}" + ("" if unit == "1" else f" {unit}")

    def validate(self, value: object) -> float:
        """SI value of a number (SI) or a quantity text, refused outside the range."""
        if isinstance(value, str):
            try:
                number = from_text(value, self.kind.si)
            except UnitError as error:
                raise self._refusal(value, f"{error}") from error
        elif isinstance(value, (int, float)) and not isinstance(value, bool):
            number = _float(value)
        else:
            raise self._refusal(value, f"'{brief(value, 40)}' is not a number with a unit")
        if not (math.isfinite(number) and self.low <= number <= self.high):
            raise self._refusal(value, f"{self._shown(value)} is outside the allowed range")
        return number + 0.0  # -0.0 becomes 0.0, so that equal values have equal text

    def text(self, value: float) -> str:
        """Text of the value in files; reads back to the bit."""
        return to_text(value, self.kind.usual, self.kind.si)

    def _shown(self, value: object) -> str:
        if isinstance(value, (int, float)) and math.isfinite(_float(value)):
            unit = self.kind.usual
            return f"{value / factor(unit, self.kind.si):.6g} {unit}".removesuffix(" 1")
        return brief(value, 40)

    def _refusal(self, value: object, reason: str) -> PydanticCustomError:
        message = f"{self.label}: {reason} ({self.range_text()})".replace("{", "(").replace("}", ")")
        return PydanticCustomError("quantity", message)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.validate,
            serialization=core_schema.plain_serializer_function_ser_schema(self.text, when_used="json"),
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """A text with a unit, or a number in SI; a pattern binds only texts and bounds bind only numbers."""
        return {
            "type": ["string", "number"],
            "pattern": NUMBER_PATTERN if self.kind.si == "1" else NUMBER_PATTERN + r"[^\s\d.eE+-]",
            "minimum": self.low,
            "maximum": self.high,
            "title": self.label,
            "description": f"{self.meaning} Allowed: {self.range_text()}. SI unit: {self.kind.si}.",
            "examples": [self.text(self.typical[1])],
        }


def _float(number: float) -> float:
    try:
        return float(number)
    except OverflowError:  # a whole number beyond the largest float
        return math.inf


def described(part_type: type[BaseModel]) -> Iterator[tuple[str, Quantity | Label | None, Any]]:
    """Name, description and type of each field, in order of declaration."""
    for name, info in part_type.model_fields.items():
        notes = [note for note in info.metadata if isinstance(note, (Quantity, Label))]
        yield name, (notes[0] if notes else None), info.annotation


def follow(part: Any, path: Path) -> Any:
    """Value at ``path`` (field names and tuple indices)."""
    for step in path:
        part = part[step] if isinstance(step, int) else getattr(part, step)
    return part


P = TypeVar("P")


def replaced(part: P, path: Path, value: object) -> P:
    """Copy of ``part`` with the value at ``path`` exchanged; every level is validated again.

    Raises:
        InputError: the value, or what it makes of a part above it, is not allowed.
    """
    result: P = _replaced(part, path, value, ())
    return result


def _replaced(part: Any, path: Path, value: object, above: Path) -> Any:
    if not path:
        return value
    step, rest = path[0], path[1:]
    inner = _replaced(follow(part, (step,)), rest, value, (*above, step))
    if isinstance(step, int):
        return (*part[:step], inner, *part[step + 1 :])
    try:
        return type(part).model_validate({**_fields(part), step: inner})
    except ValidationError as error:
        raise input_error(error, above) from error


def _fields(part: BaseModel) -> dict[str, Any]:
    return {name: getattr(part, name) for name in type(part).model_fields}
