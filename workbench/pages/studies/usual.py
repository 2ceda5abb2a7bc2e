"""Between which values a number of the car is usually tried, and how far off it is as built."""

from __future__ import annotations

from models.studies import CarNumber
from models.study import Parameter, Tolerance

__all__ = ["usual_parameter", "usual_tolerance"]

# Share of its value to either side between which a number is tried, and by which one is off as built.
_TRIED, _OFF = 0.3, 0.05


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
