"""Units at the edges of the program: quantity text to SI and back, and units of display.

Inside the program every number is in SI.  pint knows the units; this module keeps the one
registry, caches conversion factors (a factor costs pint some 100 us) and names, for each kind of
quantity, the SI unit and the units in which an engineer may want to read it.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import pint

__all__ = [
    "INCH_POUND",
    "KINDS",
    "METRIC",
    "NUMBER_PATTERN",
    "SI",
    "UNIT_CHOICES",
    "Kind",
    "UnitChoice",
    "UnitError",
    "factor",
    "format_value",
    "from_text",
    "quantity",
    "registry",
    "to_text",
]

# Text as engineers write it -> text as pint reads it.
_SPELLING = {"·": "*", "°": "deg", "%": "percent", "g₀": "standard_gravity", "²": "**2", "³": "**3"}
_SPELLING |= {"⁴": "**4", "−": "-", "µ": "micro", "μ": "micro"}


def _spelled(text: str) -> str:
    for mine, theirs in _SPELLING.items():
        text = text.replace(mine, theirs)
    return text


#: The units of the program, in its spelling too: ``registry.Quantity(18, "N·m/rad")``.
registry: pint.UnitRegistry[Any] = pint.UnitRegistry(cache_folder=None, preprocessors=[_spelled])

_DIGITS = r"[-+−]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{1,3})?"
_NUMBER = re.compile(rf"\s*({_DIGITS})\s*(.*?)\s*", re.DOTALL)
#: How the text of a quantity begins, for a JSON schema.
NUMBER_PATTERN = rf"^\s*{_DIGITS}\s*"
_UNIT = re.compile(r"[A-Za-z_0-9*/()^ -]{0,60}")


class UnitError(ValueError):
    """Text that is no number with a unit, or a unit of another dimension."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity.

    Attributes:
        name: what the trade calls it.
        si: the SI unit, in which the program computes.
        units: units of choice for display; the first is the usual one.
    """

    name: str
    si: str
    units: tuple[str, ...]

    @property
    def usual(self) -> str:
        """Unit in which the quantity is usually shown and stored."""
        return self.units[0]


KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("mass", "kg", ("kg", "t", "lb")),
        Kind("moment of inertia", "kg·m²", ("kg·m²", "lb·ft²")),
        Kind("length", "m", ("m", "mm", "ft", "in")),
        Kind("travel", "m", ("mm", "m", "in")),
        Kind("dimension", "m", ("mm", "m", "in")),
        Kind("rate", "N/m", ("N/mm", "N/m", "kN/m", "lbf/in")),
        Kind("torsional rate", "N·m/rad", ("N·m/rad", "N·m/deg", "kN·m/rad", "lbf·in/deg")),
        Kind("lever ratio", "rad/m", ("rad/m", "deg/mm", "deg/in")),
        Kind("lever ratio growth", "rad/m²", ("rad/m²", "deg/mm²", "deg/in²")),
        Kind("force per torque", "1/m", ("1/m", "1/ft")),
        Kind("damping", "N·s/m", ("N·s/m", "kN·s/m", "lbf·s/in")),
        Kind("ratio", "1", ("1",)),
        Kind("share", "1", ("%", "1")),
        Kind("speed", "m/s", ("km/h", "m/s", "mph")),
        Kind("damper speed", "m/s", ("m/s", "mm/s", "in/s")),
        Kind("angle", "rad", ("deg", "rad", "mrad")),
        Kind("angular velocity", "rad/s", ("deg/s", "rad/s")),
        Kind("angular acceleration", "rad/s²", ("rad/s²", "deg/s²")),
        Kind("frequency", "Hz", ("Hz",)),
        Kind("event rate", "1/s", ("1/min", "1/h")),
        Kind("time", "s", ("s", "ms")),
        Kind("acceleration", "m/s²", ("m/s²", "g₀", "ft/s²")),
        Kind("angle per acceleration", "rad·s²/m", ("deg/g₀", "rad·s²/m", "deg·s²/m")),
        # Powers that no unit of another system has; written as in ISO 2631-1.
        Kind("vibration dose", "m/s^1.75", ("m/s^1.75",)),
        Kind("motion sickness dose", "m/s^1.5", ("m/s^1.5",)),
        Kind("force", "N", ("N", "kN", "lbf")),
        Kind("torque", "N·m", ("N·m", "kN·m", "lbf·ft")),
        Kind("torque per current", "N·m/A", ("N·m/A", "lbf·ft/A")),
        Kind("current", "A", ("A",)),
        Kind("voltage", "V", ("V",)),
        Kind("power", "W", ("W", "kW")),
        Kind("energy", "J", ("J", "kJ", "W·h", "lbf·ft")),
        Kind("rate growth", "N/m²", ("N/mm²", "N/m²", "lbf/in²")),
        Kind("cubic rate", "N/m³", ("N/mm³", "N/m³", "lbf/in³")),
        Kind("stress", "Pa", ("MPa", "Pa", "ksi")),
        Kind("elastic modulus", "Pa", ("GPa", "MPa", "Mpsi")),
        Kind("pressure", "Pa", ("bar", "MPa", "kPa", "psi")),
        Kind("density", "kg/m³", ("kg/m³", "g/cm³", "lb/in³")),
        Kind("resistance", "ohm", ("ohm",)),
        Kind("area", "m²", ("cm²", "m²", "in²")),
        Kind("volume", "m³", ("cm³", "m³", "L", "in³")),
        Kind("flow resistance", "Pa·s/m³", ("MPa·s/m³", "Pa·s/m³")),
        Kind("road roughness", "m³", ("cm³", "m³")),
        Kind("wavenumber", "1/m", ("1/m", "1/ft")),
        Kind("roughness index", "1", ("m/km", "in/mi")),
        Kind("distance driven", "m", ("km", "mi")),
        Kind("cycles per distance", "1/m", ("1/km", "1/mi")),
    )
}

#: Unit of display per kind of quantity.
UnitChoice = Mapping[str, str]

METRIC: UnitChoice = {name: kind.usual for name, kind in KINDS.items()}
SI: UnitChoice = {name: kind.si for name, kind in KINDS.items()}
INCH_POUND: UnitChoice = {
    **METRIC,
    "mass": "lb",
    "moment of inertia": "lb·ft²",
    "length": "in",
    "travel": "in",
    "dimension": "in",
    "stress": "ksi",
    "elastic modulus": "Mpsi",
    "pressure": "psi",
    "density": "lb/in³",
    "area": "in²",
    "volume": "in³",
    "energy": "lbf·ft",
    "rate": "lbf/in",
    "rate growth": "lbf/in²",
    "cubic rate": "lbf/in³",
    "torsional rate": "lbf·in/deg",
    "lever ratio": "deg/in",
    "lever ratio growth": "deg/in²",
    "force per torque": "1/ft",
    "damping": "lbf·s/in",
    "speed": "mph",
    "damper speed": "in/s",
    "acceleration": "ft/s²",
    "force": "lbf",
    "torque": "lbf·ft",
    "torque per current": "lbf·ft/A",
    "distance driven": "mi",
    "cycles per distance": "1/mi",
}
#: Units of display by the names that users give them.
UNIT_CHOICES: dict[str, UnitChoice] = {"metric": METRIC, "inch-pound": INCH_POUND, "si": SI}


@lru_cache(maxsize=4096)
def _unit(text: str) -> pint.Unit:
    plain = _spelled(text)
    if not _UNIT.fullmatch(plain) or "**" in re.sub(r"\*\*-?[1-9](?![0-9*])", "", plain):
        raise UnitError(f"'{text}' is not a unit")
    if plain in ("", "1"):
        return registry.Unit("dimensionless")
    try:
        # Only products, quotients and small powers of names reach pint (see _UNIT above).
        return registry.Unit(plain)
    except Exception as error:  # pint raises a dozen types on text that is no unit
        raise UnitError(f"'{text}' is not a unit") from error


@lru_cache(maxsize=4096)
def factor(unit: str, si: str) -> float:
    """SI value of one ``unit``; ``si`` is the SI unit of the same dimension.

    Raises:
        UnitError: the text is no unit, or one of another dimension.
    """
    if unit == si:
        return 1.0
    try:
        return _tidy(float(registry.Quantity(1.0, _unit(unit)).m_as(_unit(si))))
    except pint.PintError as error:
        raise UnitError(f"'{unit}' does not measure the same as '{si}'") from error


@lru_cache(maxsize=256)
def _display_unit(text: str) -> pint.Unit:
    """A unit of :data:`KINDS`; of those, unlike of a user's, some have powers that are no whole numbers."""
    return registry.Unit("dimensionless" if text == "1" else _spelled(text))


def quantity(value: Any, kind: str, units: UnitChoice = METRIC, form: str = "value") -> pint.Quantity[Any]:
    """Number or array of SI values as a pint quantity in its unit of display.

    Args:
        value: SI.
        kind: key in :data:`KINDS`.
        units: unit of display per kind.
        form: "value", or "psd" of its square per Hz.
    """
    text, si = units[kind], KINDS[kind].si
    unit, scale = _display_unit(text), factor(text, si)
    if form == "psd":
        unit, scale = unit**2 / registry.Unit("Hz"), scale**2
    return registry.Quantity(value / scale, unit)


def _tidy(number: float) -> float:
    """Drop what pint's own arithmetic adds in the last place: 1 cm³ is 1e-6 m³, not 1.0000000000000002e-6."""
    near = float(f"{number:.14g}")
    return near if abs(near - number) <= 2 * math.ulp(number) else number


def from_text(text: str, si: str, default_unit: str | None = None) -> float:
    """SI value of a quantity text such as ``"26 N/mm"``.

    Args:
        text: a number, a space if you like, and a unit.
        si: SI unit wanted.
        default_unit: unit of a bare number; None refuses a bare number unless ``si`` is "1".

    Raises:
        UnitError: no number, no unit, or a unit of another dimension.
    """
    match = _NUMBER.fullmatch(text)
    if match is None:
        raise UnitError(f"'{text[:40]}' is not a number with a unit")
    unit = match[2] or default_unit or ("1" if si == "1" else "")
    if not unit:
        raise UnitError(f"'{text[:40]}' has no unit; write for example '{match[1]} {si}'")
    value = float(match[1].replace("−", "-")) * factor(unit, si)
    if not math.isfinite(value):
        raise UnitError(f"'{text[:40]}' is not a finite number")
    return value


def to_text(value: float, unit: str, si: str) -> str:
    """Quantity text in ``unit`` that reads back as exactly ``value``.

    A value that no decimal number of that unit gives back to the bit is written in the SI unit.
    """
    scale = factor(unit, si)
    near = value / scale
    for digits in (15, 16, 17):
        number = float(f"{near:.{digits}g}")
        if number * scale == value:
            return f"{number!r}".removesuffix(".0") + _suffix(unit)
    return f"{value!r}".removesuffix(".0") + _suffix(si)


def format_value(value: float, unit: str, si: str, digits: int = 3) -> str:
    """Number of ``unit`` with ``digits`` significant digits and no unit, for a reader."""
    shown = value / factor(unit, si)
    if not math.isfinite(shown):
        return "–"
    if shown == 0:
        return "0"
    places = digits - 1 - math.floor(math.log10(abs(shown)))
    rounded = round(shown, places)
    places = digits - 1 - math.floor(math.log10(abs(rounded)))  # 9.996 has become 10.0
    if abs(rounded) >= 1e6 or abs(rounded) < 1e-4:
        return f"{shown:.{digits - 1}e}"
    return f"{rounded:.{max(places, 0)}f}"


def _suffix(unit: str) -> str:
    return "" if unit == "1" else f" {unit}"
