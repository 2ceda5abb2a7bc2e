"""What differs in the parameters of two cars, for a reader, and how to take one over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from models.errors import input_error
from models.fields import Part, Path, Quantity, described, follow
from models.units import UnitChoice, factor
from models.vehicle import Vehicle

__all__ = ["Difference", "differences", "taken_over"]

_BETWEEN = " › "


@dataclass(frozen=True, slots=True)
class Difference:
    """One parameter that two cars do not have in common.

    Attributes:
        path: of the value in the car.
        words: the same for a reader: "Front axle › Springs › Spring rate".
        meaning: one line of the field.
        candidate, baseline: values; numbers SI, or whole parts where they are of different kinds.
        quantity: of a number; None for words, parts and curves.
    """

    path: Path
    words: str
    meaning: str
    candidate: Any
    baseline: Any
    quantity: Quantity | None

    def texts(self, units: UnitChoice) -> tuple[str, str]:
        """Values of candidate and baseline with their unit."""
        return self._text(self.candidate, units), self._text(self.baseline, units)

    def change(self, units: UnitChoice) -> str:
        """Candidate less baseline with unit and per cent; empty where there is no such number."""
        if self.quantity is None or self.candidate is None or self.baseline is None:
            return ""
        step = self.candidate - self.baseline
        text = f"{self._number(step, units):+.4g}{self._unit(units)}"
        if self.baseline:
            text += f" ({step / abs(self.baseline):+.0%})".replace("%", " %")
        return text.replace("-", "−")

    def _text(self, value: Any, units: UnitChoice) -> str:
        if value is None:
            return "none"
        if isinstance(value, Part):
            return str(getattr(value, "kind", "given"))
        if isinstance(value, tuple):
            return f"{len(value)} points" if len(value) != 1 else "1 point"
        if self.quantity is None:
            return str(value)
        return f"{self._number(value, units):.6g}{self._unit(units)}".replace("-", "−")

    def _number(self, value: float, units: UnitChoice) -> float:
        assert self.quantity is not None
        return value / factor(units[self.quantity.kind_name], self.quantity.kind.si)

    def _unit(self, units: UnitChoice) -> str:
        assert self.quantity is not None
        unit = units[self.quantity.kind_name]
        return "" if unit == "1" else f" {unit}"


def differences(candidate: Vehicle, baseline: Vehicle) -> tuple[Difference, ...]:
    """All parameters in which two cars differ, in the order of the editor.

    Parts of different kinds (a linear and a progressive spring) are one difference, and so are curves.
    """
    return tuple(_of_parts(candidate, baseline, (), ()))


def _of_parts(candidate: Part, baseline: Part, path: Path, words: tuple[str, ...]) -> Iterator[Difference]:
    for name, note, _ in described(type(candidate)):
        own, other = getattr(candidate, name), getattr(baseline, name)
        if own == other:
            continue
        there = (*path, name)
        said = (*words, note.label if note else name.replace("_", " "))
        if isinstance(own, Part) and type(own) is type(other):
            yield from _of_parts(own, other, there, said)
        else:
            quantity = note if isinstance(note, Quantity) else None
            meaning = note.meaning if note else ""
            yield Difference(there, _BETWEEN.join(said), meaning, own, other, quantity)


def taken_over(vehicle: Vehicle, source: Vehicle, paths: Iterable[Path]) -> Vehicle:
    """Car with the values of another one at some paths, all at once: a rule may tie them to each other.

    Raises:
        InputError: the values do not go together with the rest of the car.
    """
    data = vehicle.model_dump()
    for path in paths:
        above: Any = data
        for step in path[:-1]:
            above = above[step]
        value = follow(source, path)
        above[path[-1]] = value.model_dump() if isinstance(value, Part) else value
    try:
        return Vehicle.model_validate(data)
    except ValidationError as error:
        raise input_error(error) from error
