"""Numbers of a car that a study can vary."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from models.fields import Label, Part, Path, Quantity, described
from models.study import place_of

__all__ = ["CarNumber", "car_numbers"]


@dataclass(frozen=True, slots=True)
class CarNumber:
    """A number of the car: where it stands, what it is, its value (SI), and the names of the parts above."""

    path: Path
    quantity: Quantity
    value: float
    above: tuple[str, ...]

    @property
    def place(self) -> str:
        """Its place as text."""
        return place_of(self.path)

    @property
    def group(self) -> str:
        """What it is listed under."""
        return self.above[0] if self.above else "Car"

    @property
    def label(self) -> str:
        """Its name under the heading of the group."""
        return ", ".join((*self.above[1:], self.quantity.label))


def car_numbers(part: Part, path: Path = (), above: tuple[str, ...] = ()) -> Iterator[CarNumber]:
    """All numbers of a part, in order of declaration."""
    for name, note, _ in described(type(part)):
        value = getattr(part, name)
        if isinstance(note, Quantity):
            if isinstance(value, float):
                yield CarNumber((*path, name), note, value, above)
        elif isinstance(note, Label):
            yield from _below(value, (*path, name), (*above, note.label))


def _below(value: object, path: Path, above: tuple[str, ...]) -> Iterator[CarNumber]:
    if isinstance(value, Part):
        yield from car_numbers(value, path, above)
    elif isinstance(value, tuple):
        for number, one in enumerate(value):
            if isinstance(one, Part):
                yield from car_numbers(one, (*path, number), (*above, f"{number + 1}"))
