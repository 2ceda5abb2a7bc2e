"""A figure as it is written for a reader."""

from __future__ import annotations

from math import floor, log10

from models.figure import Figure
from models.units import KINDS, UnitChoice, factor, format_value

__all__ = ["distance_text", "unit_text", "value_text"]

# Beyond that an S-N line says nothing, in the unit of display.
_MOST = 1e9
_SUPERSCRIPTS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_THIN = "\u202f"


def value_text(figure: Figure, units: UnitChoice) -> str:
    """Value in its unit of display, without the unit; a count has no decimals."""
    if figure.kind == "ratio" and float(figure.value).is_integer():
        return f"{figure.value:.0f}"
    return format_value(figure.value, units[figure.kind], KINDS[figure.kind].si)


def unit_text(kind: str, units: UnitChoice) -> str:
    """Unit of display of a kind of quantity; empty for a pure number."""
    return "" if units[kind] == "1" else units[kind]


def distance_text(distance: float, unit: str) -> str:
    """Three digits of a distance (m) in ``unit``: "84 300", "1.23·10⁶", "> 10⁹"."""
    shown = distance / factor(unit, "m")
    if shown > _MOST:
        return "> 10⁹"
    if shown < 1000:
        return format_value(distance, unit, "m")
    rounded = float(f"{shown:.3g}")
    if rounded < 1e6:
        return f"{rounded:,.0f}".replace(",", _THIN)
    power = floor(log10(rounded))
    return f"{rounded / 10**power:.2f}·10{str(power).translate(_SUPERSCRIPTS)}"
