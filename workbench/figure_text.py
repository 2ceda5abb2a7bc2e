"""A figure as it is written for a reader."""

from __future__ import annotations

from models.figure import Figure
from models.units import KINDS, UnitChoice, format_value

__all__ = ["unit_text", "value_text"]


def value_text(figure: Figure, units: UnitChoice) -> str:
    """Value in its unit of display, without the unit; a count has no decimals."""
    if figure.kind == "ratio" and float(figure.value).is_integer():
        return f"{figure.value:.0f}"
    return format_value(figure.value, units[figure.kind], KINDS[figure.kind].si)


def unit_text(kind: str, units: UnitChoice) -> str:
    """Unit of display of a kind of quantity; empty for a pure number."""
    return "" if units[kind] == "1" else units[kind]
