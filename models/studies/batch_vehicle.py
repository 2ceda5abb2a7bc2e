"""Many variants of a car as one vehicle, whose varied fields hold one value per variant.

The data models declare single numbers.  A vehicle made here is never validated and never leaves the batch: it
only lets formulas that were written for one car, where they broadcast, give the results of all.  What the
data models would refuse is found beforehand, for all variants at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import ValidationError

from models.errors import InputError, input_error
from models.fields import Path, Quantity, described, follow
from models.vehicle import SolidAxle, Vehicle

__all__ = ["allowed", "column", "is_plain", "quantity", "same_parts", "stacked", "varied"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


def quantity(vehicle: Vehicle, path: Path) -> Quantity:
    """Description of the number at a path.

    Raises:
        InputError: the vehicle has no number there.
    """
    try:
        part = follow(vehicle, path[:-1])
        notes = {name: note for name, note, _ in described(type(part))}
        found = notes[str(path[-1])]
    except (AttributeError, IndexError, KeyError, TypeError):
        found = None
    if not isinstance(found, Quantity):
        words = " > ".join(str(step).replace("_", " ") for step in path)
        raise InputError.of(words, "", "the car has no number of this name")
    return found


def is_plain(path: Path) -> bool:
    """Whether the number enters the formulas as it is: not a point of a curve or of a linkage."""
    return all(isinstance(step, str) and not step.endswith("linkage") for step in path)


def varied(vehicle: Vehicle, paths: Sequence[Path], values: Sequence[float] | Array) -> Vehicle:
    """One variant, validated when all its values are in place.

    Raises:
        InputError: a value, or what the values make of the car together, is not allowed.
    """
    fields: Any = vehicle.model_dump()
    for path, value in zip(paths, values, strict=True):
        fields = _exchanged(fields, path, float(value))
    try:
        return Vehicle.model_validate(fields)
    except ValidationError as error:
        raise input_error(error) from error


def allowed(vehicle: Vehicle, paths: Sequence[Path], values: Array) -> Flags:
    """(N,) whether :func:`varied` would give a car.

    Args:
        vehicle: the car.
        paths: plain ones (:func:`is_plain`).
        values: (N, P).
    """
    good = np.ones(len(values), dtype=np.bool_)
    for path, numbers in zip(paths, values.T, strict=True):
        field = quantity(vehicle, path)
        good &= (numbers >= field.low) & (numbers <= field.high)  # False for what is no number
    car = stacked(vehicle, paths, values)
    good &= np.asarray(car.body.cg_to_front_axle < car.wheelbase)
    for axle in (car.front, car.rear):
        if isinstance(axle.wheels, SolidAxle):
            good &= np.asarray(axle.wheels.spring_spacing <= axle.track)
    return good


def same_parts(values: Array) -> Iterator[NDArray[np.intp]]:
    """Rows of ``values`` (N, P) that are 0 at the same places: cars that have the same parts fitted."""
    if not len(values):
        return
    _, kind = np.unique(values == 0, axis=0, return_inverse=True)
    for number in range(int(kind.max()) + 1):
        yield np.flatnonzero(kind.reshape(-1) == number)


def stacked(vehicle: Vehicle, paths: Sequence[Path], values: Array) -> Vehicle:
    """The vehicle with the columns of ``values`` (N, P) in the fields at plain ``paths``."""
    for path, numbers in zip(paths, values.T, strict=True):
        vehicle = _with(vehicle, path, np.ascontiguousarray(numbers))
    return vehicle


def column(value: ArrayLike, count: int) -> Array:
    """(N,) of a field that may hold one number or one per variant."""
    return np.broadcast_to(np.asarray(value, dtype=np.float64), (count,))


def _with(part: Any, path: Path, value: Array) -> Any:
    if not path:
        return value
    return part.model_copy(update={path[0]: _with(follow(part, path[:1]), path[1:], value)})


def _exchanged(fields: Any, path: Path, value: float) -> Any:
    if not path:
        return value
    step, inner = path[0], _exchanged(fields[path[0]], path[1:], value)
    if isinstance(step, int):
        return (*fields[:step], inner, *fields[step + 1 :])
    return {**fields, step: inner}
