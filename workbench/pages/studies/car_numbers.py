"""Numbers of a car that a study can vary, and between which values it usually does."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from models.fields import Label, Part, Path, Quantity, described
from models.study import Parameter, Tolerance, place_of

__all__ = ["CarNumber", "car_numbers", "usual_parameter", "usual_tolerance"]

# Share of its value to either side between which a number is tried, and by which one is off as built.
_TRIED, _OFF = 0.3, 0.05


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


def usual_parameter(number: CarNumber) -> Parameter:
    """The number tried around its present value, within what is usual where the car is."""
    quantity, value = number.quantity, number.value
    low, high = quantity.typical
    if value:
        span = _TRIED * abs(value)
        inside = low <= value <= high
        low = max(value - span, low if inside else quantity.low)
        high = min(value + span, high if inside else quantity.high)
    if not low < high:
        low, high = quantity.typical
    return Parameter(place=number.place, kind=quantity.kind_name, low=low, high=high)


def usual_tolerance(number: CarNumber) -> Tolerance:
    """The number off by a share of its value; one that is 0, of its usual range."""
    low, high = number.quantity.typical
    size = _OFF * (abs(number.value) or high - low)
    return Tolerance(place=number.place, kind=number.quantity.kind_name, plus_minus=size)
