"""Every parameter, from the data models: name, meaning, unit, range and default."""

from __future__ import annotations

from types import NoneType
from typing import Any, Literal, get_args, get_origin

from models.fields import Label, Part, Quantity, described
from models.project import Project
from models.ride.levelling_event import LevellingEvent
from models.units import KINDS, factor
from workbench.help.anchors import (
    PARAMETER_PAGES,
    field_anchor,
    parameter_page,
    part_anchor,
    part_types,
    parts_below,
    theory_of,
)
from workbench.help.reference.markdown import entry, page, section, words

__all__ = ["documented_parts", "parameters_page", "part_title"]

_LEAD = """Written from the program's own data models: each field with its meaning, its unit, the range that
is allowed, the range that is usual (that of the slider) and the value that a new one begins with. The name
in `this type` is the field's name in a project file, where a quantity is text with its unit, such as `"26
N/mm"`."""


def documented_parts() -> tuple[type[Part], ...]:
    """All kinds of part that a user can describe."""
    return tuple(dict.fromkeys([*part_types(Project), *part_types(LevellingEvent)]))


def part_title(part_type: type[Part]) -> str:
    """Name of a kind of part in words: "Digressive damper"."""
    return part_anchor(part_type).removeprefix("part-").replace("-", " ").capitalize()


def parameters_page(name: str) -> str:
    """One of the pages of parameters."""
    parts = [part for part in documented_parts() if parameter_page(part) == name]
    others = [other for other in PARAMETER_PAGES if other != name]
    links = ", ".join(f"[{PARAMETER_PAGES[other][0]}]({other}.md)" for other in others)
    return page(PARAMETER_PAGES[name][0], _LEAD, f"Elsewhere: {links}.", *map(_part, parts))


def _part(part_type: type[Part]) -> str:
    summary = " ".join(str(part_type.__doc__ or "").partition("\n\n")[0].split())
    theory = f"{{ref}}`Theory <{theory_of(part_type)}>`"
    entries = [
        _field(part_type, name, note, annotation)
        for name, note, annotation in described(part_type)
        if note is not None
    ]
    return section(part_anchor(part_type), part_title(part_type), f"{words(summary)} {theory}", *entries)


def _field(part_type: type[Part], name: str, note: Quantity | Label, annotation: Any) -> str:
    facts = [f"`{name}`"]
    info = part_type.model_fields[name]
    default = None if info.is_required() else info.get_default(call_default_factory=True)
    if isinstance(note, Quantity):
        facts += _facts_of_quantity(note, default)
    else:
        facts += _facts_of_label(annotation, default)
    line = " · ".join(facts)
    return entry(field_anchor(part_type, name), note.label, [words(note.meaning), f"[{line}]{{.facts}}"])


def _facts_of_quantity(note: Quantity, default: Any) -> list[str]:
    unit, si = note.kind.usual, note.kind.si
    low, high = (_number(value, unit, si) for value in note.typical)
    facts = [f"allowed {words(note.range_text())}", f"usual {words(_with_unit(f'{low} to {high}', unit))}"]
    if isinstance(default, (int, float)):
        facts.append(f"at first {words(_with_unit(_number(default, unit, si), unit))}")
    units = [other for other in KINDS[note.kind_name].units if other not in ("1", unit)]
    return [*facts, f"also in {words(', '.join(units))}"] if units else facts


def _facts_of_label(annotation: Any, default: Any) -> list[str]:
    facts = []
    parts = list(parts_below(annotation))
    if parts:
        links = [f"[{part_title(part)}]({parameter_page(part)}.md#{part_anchor(part)})" for part in parts]
        many = get_origin(annotation) is tuple
        optional = NoneType in get_args(annotation)
        facts.append(
            ("any number of " if many else "") + " or ".join(links) + (" or none" if optional else "")
        )
    elif get_origin(annotation) is Literal:
        facts.append("one of " + ", ".join(f"`{option or ' '}`" for option in get_args(annotation)))
    if isinstance(default, (int, str)) and str(default) and len(str(default)) < 40:
        facts.append(f"at first {words(str(default))}")
    return facts


def _number(value: float, unit: str, si: str) -> str:
    return f"{value / factor(unit, si):.6g}"


def _with_unit(text: str, unit: str) -> str:
    return text if unit == "1" else f"{text} {unit}"
