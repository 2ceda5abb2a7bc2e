"""Parameters of a study: a number of the car, and between which values or how far off it may be."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import StringConstraints, ValidationInfo, field_serializer, field_validator, model_validator
from pydantic_core import PydanticCustomError

from models.fields import Label, Part, Path
from models.of_kind import KindName, TextOfKind, number_of_kind
from models.units import KINDS, format_value, to_text

__all__ = ["FieldPlace", "Parameter", "Tolerance", "path_of", "place_of"]

#: Where a number stands in the vehicle: "front.spring.rate", "rear.damper.points.2.force".
FieldPlace = Annotated[
    str,
    StringConstraints(pattern=r"^[a-z_][a-z0-9_]*(\.([a-z_][a-z0-9_]*|[0-9]{1,4})){0,9}$", max_length=200),
]

_Place = Annotated[FieldPlace, Label("Parameter", "Number of the car.")]


def path_of(place: str) -> Path:
    """Steps of a place, as :func:`models.fields.follow` takes them."""
    return tuple(int(step) if step.isdigit() else step for step in place.split("."))


def place_of(path: Path) -> str:
    """Text of a path."""
    return ".".join(map(str, path))


class Parameter(Part):
    """A number of the car and the values between which it is tried."""

    place: _Place
    kind: Annotated[KindName, Label("Kind", "Kind of quantity of the number.")]
    low: Annotated[float, Label("From", "Least value that is tried.")]
    high: Annotated[float, Label("To", "Greatest value that is tried.")]

    @property
    def path(self) -> Path:
        """Where it stands in the vehicle."""
        return path_of(self.place)

    @field_validator("low", "high", mode="before")
    @classmethod
    def _of_the_kind(cls, value: object, info: ValidationInfo) -> float:
        return number_of_kind(value, info.data["kind"]) if "kind" in info.data else 0.0

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if not self.low < self.high:
            unit, si = KINDS[self.kind].usual, KINDS[self.kind].si
            raise PydanticCustomError(
                "rule",
                "{place}, from: {low} {unit} is outside the allowed range (less than the value to which it "
                "goes, {high} {unit})",
                {
                    "place": self.place,
                    "low": format_value(self.low, unit, si, 6),
                    "high": format_value(self.high, unit, si, 6),
                    "unit": unit,
                },
            )
        return self

    @field_serializer("low", "high", when_used="json")
    def _text(self, value: float) -> TextOfKind:
        return to_text(value, KINDS[self.kind].usual, KINDS[self.kind].si)


class Tolerance(Part):
    """A number of the car that is off as built.

    A normal one has a standard deviation of a third of ±, so 0.27 % lie outside; uniform and triangular ones
    lie within ±.
    """

    place: _Place
    kind: Annotated[
        KindName,
        Label("Kind", "Kind of quantity of the number; or share: ± is a share of the car's own value."),
    ]
    plus_minus: Annotated[float, Label("±", "How far it may be off to either side.")]
    distribution: Annotated[
        Literal["normal", "uniform", "triangular"],
        Label("Distribution", "Normal with 3 σ = ±, uniform, or triangular with its top in the middle."),
    ] = "normal"

    @property
    def path(self) -> Path:
        """Where it stands in the vehicle."""
        return path_of(self.place)

    @field_validator("plus_minus", mode="before")
    @classmethod
    def _positive_of_the_kind(cls, value: object, info: ValidationInfo) -> float:
        if "kind" not in info.data:
            return 0.0
        number = number_of_kind(value, info.data["kind"])
        if number < 0:
            raise PydanticCustomError(
                "rule", "±: {value} is outside the allowed range (0 and more)", {"value": number}
            )
        return number

    @field_serializer("plus_minus", when_used="json")
    def _text(self, value: float) -> TextOfKind:
        return to_text(value, KINDS[self.kind].usual, KINDS[self.kind].si)
