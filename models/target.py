"""What the user wants of a key figure: a limit or two, in the run of the project or in one of its own."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import (
    StringConstraints,
    ValidationError,
    ValidationInfo,
    field_serializer,
    field_validator,
    model_validator,
)
from pydantic_core import PydanticCustomError

from models.errors import input_error
from models.fields import Label, Part, Quantity
from models.of_kind import KindName, TextOfKind, number_of_kind
from models.units import KINDS, UnitChoice, format_value, to_text

__all__ = [
    "MOST_TARGETS",
    "AtSpeed",
    "FigureKey",
    "InLoadCase",
    "OnRoad",
    "RoadClass",
    "Target",
    "made",
    "target_text",
]

MOST_TARGETS = 500

RoadClass = Literal["", "A", "B", "C", "D", "E", "F", "G", "H"]

#: Key of a figure.
FigureKey = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9_]{1,80}$")]

#: Where a figure is judged; what is not said is that of the project and its run.
InLoadCase = Annotated[
    Annotated[str, StringConstraints(max_length=80)],
    Label("Load case", "Load case; empty: that of the project."),
]
OnRoad = Annotated[RoadClass, Label("Road class", "ISO 8608; empty: surface of the run.")]
AtSpeed = (
    Annotated[
        float,
        Quantity("speed", "Speed", "Speed; none: that of the run.", low=0.5, high=120.0, typical=(2.0, 50.0)),
    ]
    | None
)


class Target(Part):
    """At most, at least, or between: which one it is follows from which limits are given."""

    metric: Annotated[FigureKey, Label("Figure", "Key of the figure that is judged.")]
    kind: Annotated[KindName, Label("Kind", "Kind of quantity of the figure.")]
    low: Annotated[float | None, Label("At least", "Least value that is good enough.")] = None
    high: Annotated[float | None, Label("At most", "Greatest value that is good enough.")] = None
    load_case: InLoadCase = ""
    road_class: OnRoad = ""
    speed: AtSpeed = None

    @property
    def scope(self) -> tuple[str, str, float | None]:
        """Load case, road class and speed where they are not those of the project."""
        return self.load_case, self.road_class, self.speed

    @field_validator("low", "high", mode="before")
    @classmethod
    def _of_the_kind(cls, value: object, info: ValidationInfo) -> float | None:
        kind = info.data.get("kind")
        if value is None or kind is None:
            return None
        return number_of_kind(value, kind)

    @model_validator(mode="after")
    def _some_limit_in_order(self) -> Self:
        if self.low is None and self.high is None:
            raise PydanticCustomError("rule", "a target needs a least or a greatest value")
        if self.low is not None and self.high is not None and self.low > self.high:
            unit, si = KINDS[self.kind].usual, KINDS[self.kind].si
            raise PydanticCustomError(
                "rule",
                "At least: {low} {unit} is outside the allowed range "
                "(up to the greatest value, {high} {unit})",
                {
                    "low": format_value(self.low, unit, si, 6),
                    "high": format_value(self.high, unit, si, 6),
                    "unit": unit,
                },
            )
        return self

    @field_serializer("low", "high", when_used="json")
    def _text(self, value: float | None) -> TextOfKind | None:
        return None if value is None else to_text(value, KINDS[self.kind].usual, KINDS[self.kind].si)


def made(
    metric: str,
    kind: str,
    limits: tuple[float | None, float | None],
    scope: tuple[str, str, float | None] = ("", "", None),
) -> Target:
    """Target from its limits (least, greatest; SI) and its scope.

    Raises:
        InputError: no limit, limits in the wrong order, or a speed out of range.
    """
    low, high = limits
    load_case, road_class, speed = scope
    fields = {"low": low, "high": high, "load_case": load_case, "road_class": road_class, "speed": speed}
    try:
        return Target.model_validate({"metric": metric, "kind": kind, **fields})
    except ValidationError as error:
        raise input_error(error) from error


def target_text(target: Target, units: UnitChoice) -> str:
    """Limits for a reader, without the unit: "≤ 1.20", "≥ 0.30" or "0.20 – 0.40"."""
    unit, si = units[target.kind], KINDS[target.kind].si
    low, high = (
        None if limit is None else format_value(limit, unit, si).replace("-", "−")
        for limit in (target.low, target.high)
    )
    if low is None:
        return f"≤ {high}"
    return f"≥ {low}" if high is None else f"{low} – {high}"
