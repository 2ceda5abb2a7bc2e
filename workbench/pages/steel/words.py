"""Words of the page."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable

from models.figure_text import unit_text
from models.hardware import (
    BarSpring,
    Change,
    CoilSpring,
    GasStrut,
    InterconnectionBar,
    MultiLeafSpring,
    ParabolicLeafSpring,
    StabiliserBar,
    TorsionBar,
    TrimBar,
)
from models.hardware.torsion_bar import bar_length
from models.units import KINDS, UnitChoice, format_value

__all__ = ["HINT", "apply_text", "number_text", "off_text", "part_text", "value_with_unit"]

HINT = (
    "Tick the part to describe it in steel; nothing of the car changes until you apply it.\n"
    "Then its rate, its stress in every load case and at the stops, and its mass are shown here."
)


def number_text(value: float, kind: str, units: UnitChoice) -> str:
    """Number without its unit; a dash for no number."""
    return format_value(value, units[kind], KINDS[kind].si).replace("-", "−")


def value_with_unit(value: float, kind: str, units: UnitChoice, digits: int = 3) -> str:
    """Number and unit; a dash for no number."""
    if not math.isfinite(value):
        return "–"
    text = format_value(value, units[kind], KINDS[kind].si, digits).replace("-", "−")
    return f"{text} {unit_text(kind, units)}".rstrip()


def part_text(part: object, units: UnitChoice) -> str:
    """What a part is made as, in a few words."""

    def size(value: float) -> str:
        return value_with_unit(value, "dimension", units)

    match part:
        case CoilSpring():
            wire, mean = size(part.wire_diameter), size(part.mean_diameter)
            return f"coil, wire {wire}, mean diameter {mean}, {part.active_coils:.3g} coils"
        case BarSpring() | InterconnectionBar() | TrimBar():
            bar, lever = part.bar, "levers" if isinstance(part, InterconnectionBar) else "lever"
            geared = ", motor" if isinstance(part, TrimBar) and part.motor is not None else ""
            return f"torsion bar {_section(bar, size)}, {size(bar_length(bar))} long, {lever}{geared}"
        case StabiliserBar():
            return f"bent bar {_section(part, size)}"
        case MultiLeafSpring():
            return f"{part.full_leaves + part.graduated_leaves} leaves of {size(part.thickness)}"
        case ParabolicLeafSpring():
            return f"{part.leaves} parabolic leaves of {size(part.thickness)}"
        case GasStrut():
            return f"gas, {value_with_unit(part.area, 'area', units)}"
    return ""


def _section(bar: TorsionBar | StabiliserBar, size: Callable[[float], str]) -> str:
    return f"{size(bar.diameter)}, " + (f"bore {size(bar.bore)}" if bar.bore > 0 else "solid")


def off_text(change: Change) -> str:
    """How far the steel is off the car."""
    share = change.difference
    if not math.isfinite(share):
        return "–"
    return "=" if abs(share) < 5e-4 else f"{100 * share:+.1f} %".replace("-", "−")


def apply_text(wanted: Iterable[Change], units: UnitChoice) -> str:
    """What applying changes: old → new with the unit, one per line."""
    return "\n".join(_one(change, units) for change in wanted)


def _one(change: Change, units: UnitChoice) -> str:
    unit, si = units[change.kind], KINDS[change.kind].si
    for digits in (3, 4, 5, 6, 9):  # as many as it takes to see a difference
        old, new = (
            format_value(value, unit, si, digits).replace("-", "−") for value in (change.car, change.steel)
        )
        if old != new:
            break
    old = "another kind" if math.isnan(change.car) else old
    new = "this part" if math.isnan(change.steel) else new
    # A unit is not torn from its number, nor in two.
    unit_word = unit_text(change.kind, units).replace("/", "/\u2060")
    return f"{change.label}: {old} → {new}\u00a0{unit_word}".rstrip()
