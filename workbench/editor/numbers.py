"""Numbers of a quantity as the editor shows, reads and steps them in a chosen unit."""

from __future__ import annotations

import math

from models.errors import InputError
from models.fields import Quantity
from models.units import UnitError, factor, format_value, from_text

__all__ = ["at_fraction", "fraction", "full_number", "read", "short_number", "stepped"]

_DIGITS = 4


def short_number(value: float, unit: str, si: str) -> str:
    """Number with four significant digits, or all before the point, and no idle zeros."""
    size = abs(value / factor(unit, si))
    before_point = math.floor(math.log10(size)) + 1 if size >= 1 else 1
    text = format_value(value, unit, si, max(_DIGITS, before_point))
    number, e, power = text.partition("e")
    return (number.rstrip("0").rstrip(".") if "." in number else number) + e + power


def full_number(value: float, unit: str, si: str) -> str:
    """Number with all digits that mean anything; twelve leave out the dust of conversions."""
    return f"{value / factor(unit, si):.12g}"


def read(quantity: Quantity, text: str, unit: str, name: str = "") -> float:
    """SI value of what the user typed; a bare number is in ``unit``, ``name`` is what the row is called.

    Raises:
        InputError: no number, a wrong unit or outside the allowed range, which is named in ``unit``.
    """
    allowed = f"({quantity.range_text(unit)})"
    name = name or quantity.label
    try:
        value = from_text(text, quantity.kind.si, default_unit=unit)
    except UnitError as error:
        typed = text.strip()[:40]
        reason = f"{error}" if typed in f"{error}" else f"{typed}: {error}"
        raise InputError.of(name, text, f"{name}: {reason} {allowed}") from error
    if not quantity.low <= value <= quantity.high:
        shown = f"{short_number(value, unit, quantity.kind.si)} {unit}".removesuffix(" 1")
        raise InputError.of(name, text, f"{name}: {shown} is outside the allowed range {allowed}")
    return value


def stepped(quantity: Quantity, value: float, unit: str, steps: float) -> float:
    """SI value after ``steps`` steps of about 1 % of the typical range, a round number in ``unit``."""
    scale = factor(unit, quantity.kind.si)
    moved = value / scale + steps * _round_step(_span(quantity) / 100 / scale)
    return min(max(_tidy(moved) * scale, quantity.low), quantity.high)


def fraction(quantity: Quantity, value: float) -> float:
    """Place of a value in the typical range, 0 to 1; values beyond stand at its ends."""
    return min(max((value - quantity.typical[0]) / _span(quantity), 0.0), 1.0)


def at_fraction(quantity: Quantity, place: float, unit: str) -> float:
    """SI value at a place of the typical range, a round number in ``unit`` but for the two ends."""
    low, high = quantity.typical
    if place <= 0.0 or place >= 1.0:
        return low if place <= 0.0 else high
    scale = factor(unit, quantity.kind.si)
    grain = _round_step(_span(quantity) / 1000 / scale)
    rounded = _tidy(round((low + place * _span(quantity)) / scale / grain) * grain) * scale
    return min(max(rounded, low), high)


def _span(quantity: Quantity) -> float:
    return quantity.typical[1] - quantity.typical[0]


def _round_step(size: float) -> float:
    """1, 2 or 5 times a power of ten, the nearest to ``size`` on a logarithmic scale."""
    power = 10.0 ** math.floor(math.log10(size))
    return min((1 * power, 2 * power, 5 * power, 10 * power), key=lambda step: abs(math.log(step / size)))


def _tidy(number: float) -> float:
    """Number without the dust of binary fractions (12.600000000000001)."""
    return float(f"{number:.12g}") + 0.0
