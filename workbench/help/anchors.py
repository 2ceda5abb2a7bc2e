"""Which section of the handbook tells of what: one rule each for fields, figures, charts, terms and pages.

A place is an address inside the built handbook, ``page.html#anchor``.  The same rules write the anchors when
the handbook is built (:mod:`workbench.help.reference`) and find them when help is asked for.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, get_args

from pydantic import BaseModel

from models.fields import Part, Path, described

__all__ = [
    "CONTENTS",
    "FIGURES",
    "GLOSSARY",
    "PARAMETER_PAGES",
    "THEORY",
    "TUTORIAL",
    "VERIFICATION",
    "chart_anchor",
    "chart_place",
    "field_anchor",
    "field_place",
    "figure_anchor",
    "figure_family",
    "figure_place",
    "page_place",
    "parameter_page",
    "part_anchor",
    "part_types",
    "parts_below",
    "path_place",
    "slug",
    "theory_of",
]

CONTENTS, TUTORIAL, THEORY = "index.html", "tutorial.html", "theory/index.html"
GLOSSARY, VERIFICATION = "glossary.html", "verification.html"
FIGURES, CHARTS, WINDOW = "figures.html", "charts.html", "window.html"

#: Page of parameters -> its title, and the modules whose parts stand there.
PARAMETER_PAGES: dict[str, tuple[str, tuple[str, ...]]] = {
    "parameters-car": ("Parameters of the car", ("models.vehicle", "models.linkage")),
    "parameters-run": (
        "Parameters of runs and roads",
        ("models.run", "models.manoeuvre", "models.roads", "models.ride"),
    ),
    "parameters-steel": ("Parameters of parts in steel", ("models.hardware",)),
    "parameters-project": (
        "Parameters of projects, targets and studies",
        ("models.project", "models.target", "models.study"),
    ),
}

#: Beginning of a module -> label of the section on what its parts do; the longest beginning counts.
_THEORY = {
    "models.vehicle": "theory-elements",
    "models.vehicle.axle": "theory-axles",
    "models.vehicle.body": "theory-body",
    "models.vehicle.damper": "theory-dampers",
    "models.vehicle.geometry": "theory-geometry",
    "models.vehicle.inertia": "theory-inertia",
    "models.vehicle.levelling": "theory-levelling",
    "models.vehicle.load_case": "theory-load-cases",
    "models.vehicle.packaging": "theory-packaging",
    "models.vehicle.side": "theory-interconnection",
    "models.vehicle.spring": "theory-springs",
    "models.vehicle.stop": "theory-stops",
    "models.linkage": "theory-linkage",
    "models.run": "theory-time",
    "models.manoeuvre": "theory-manoeuvres",
    "models.roads": "theory-events",
    "models.roads.surface": "theory-surface",
    "models.roads.mix": "theory-mix",
    "models.ride.levelling_event": "theory-levelling",
    "models.hardware": "theory-steel",
    "models.hardware.coil": "theory-coils",
    "models.hardware.gas_spring": "theory-gas-springs",
    "models.hardware.leaf": "theory-leaves",
    "models.hardware.lever": "theory-levers",
    "models.hardware.life_target": "theory-fatigue",
    "models.hardware.materials": "theory-steel",
    "models.hardware.motor": "theory-motor",
    "models.hardware.sn_curve": "theory-fatigue",
    "models.hardware.stabiliser_bar": "theory-stabiliser-bars",
    "models.hardware.torsion_bar": "theory-torsion-bars",
    "models.hardware.trim_tolerances": "theory-trim-tolerance",
    "models.project": "theory-judged",
    "models.target": "theory-judged",
    "models.study": "theory-studies",
}

#: Beginnings of keys of figures that come once per state, point, part or stage.
_FAMILIES = (
    "bending_stress",
    "clearance",
    "clocking",
    "corner_load",
    "deflection",
    "force",
    "leaf_friction",
    "length",
    "lever_angle",
    "link_angle",
    "link_force",
    "link_lean",
    "margin",
    "pressure",
    "shear_stress",
    "swing",
    "torque",
    "transmission",
    "travel_jounce",
    "travel_rebound",
    "wind_up",
)
#: What goes before the key of a figure that tells the same over the road mix, or over the run.
_OVER = ("mix_", "run_")

_CHART_FAMILIES = (
    "law-cushion",
    "law",
    "levelling",
    "fatigue",
    "linkage",
    "packaging",
    "road",
    "speed",
    "stabiliser",
    "stack",
    "steel-size",
    "study",
)


def slug(words: str) -> str:
    """Words as an anchor: small letters and digits, joined by hyphens."""
    spaced = re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "-", words)
    return re.sub(r"[^a-z0-9]+", "-", spaced.lower()).strip("-")


# -- fields ----------------------------------------------------------------------------------------------


def part_anchor(part_type: type[BaseModel]) -> str:
    """Anchor of a kind of part."""
    return f"part-{slug(part_type.__name__)}"


def field_anchor(part_type: type[BaseModel], name: str) -> str:
    """Anchor of a field of a kind of part."""
    return f"field-{slug(part_type.__name__)}-{slug(name)}"


def parameter_page(part_type: type[BaseModel]) -> str:
    """Page on which a kind of part stands, without its ending; empty for one that is not of a project."""
    for page, (_, modules) in PARAMETER_PAGES.items():
        if any(_is_in(part_type.__module__, module) for module in modules):
            return page
    return ""


def field_place(part_type: type[BaseModel], name: str) -> str:
    """Place of a field of a kind of part; that of the part itself where the field has no description.

    Empty for a part that stands on no page.
    """
    page = parameter_page(part_type)
    if not page:
        return ""
    known = any(field == name and note is not None for field, note, _ in described(part_type))
    anchor = field_anchor(part_type, name) if known else part_anchor(part_type)
    return f"{page}.html#{anchor}"


def path_place(root: Any, path: Path) -> str:
    """Place of the field at a path in a whole part, such as a project: that of the last field on the way."""
    holder, name = root, ""
    found = ""
    for step in path:
        if isinstance(holder, BaseModel):
            name = str(step)
            found = field_place(type(holder), name)
            holder = getattr(holder, name)
        else:
            holder = holder[int(step)]
    return found


def part_types(root: type[BaseModel]) -> list[type[Part]]:
    """Kinds of part that a kind of part may hold, itself first, in the order of their fields."""
    found: dict[type[Part], None] = {}
    _gather(root, found)
    return list(found)


def _gather(annotation: Any, found: dict[type[Part], None]) -> None:
    if isinstance(annotation, type) and issubclass(annotation, Part):
        if annotation not in found:
            found[annotation] = None
            for info in annotation.model_fields.values():
                _gather(info.annotation, found)
        return
    for inner in get_args(annotation):
        _gather(inner, found)


def parts_below(annotation: Any) -> Iterator[type[Part]]:
    """Kinds of part that the type of a field names."""
    if isinstance(annotation, type) and issubclass(annotation, Part):
        yield annotation
        return
    for inner in get_args(annotation):
        yield from parts_below(inner)


def theory_of(part_type: type[BaseModel]) -> str:
    """Label of the section of the theory on what a kind of part does."""
    module = part_type.__module__
    return _THEORY[max((known for known in _THEORY if _is_in(module, known)), key=len)]


def _is_in(module: str, beginning: str) -> bool:
    return module == beginning or module.startswith(f"{beginning}.")


# -- figures and charts ----------------------------------------------------------------------------------


def figure_family(key: str) -> str:
    """Key under which a figure is told: its own, or the one that it shares with others of its family."""
    for over in _OVER:
        key = key.removeprefix(over)
    families = (family for family in _FAMILIES if key.startswith(f"{family}_"))
    return max(families, key=len, default=key)


def figure_anchor(key: str) -> str:
    """Anchor of a figure."""
    return f"figure-{slug(figure_family(key))}"


def figure_place(key: str) -> str:
    """Place of a figure."""
    return f"{FIGURES}#{figure_anchor(key)}"


def chart_anchor(key: str) -> str:
    """Anchor of a chart: its own, or that of its family."""
    families = (family for family in _CHART_FAMILIES if key == family or key.startswith(f"{family}-"))
    return f"chart-{max(families, key=len, default=key)}"


def chart_place(key: str) -> str:
    """Place of a chart."""
    return f"{CHARTS}#{chart_anchor(key)}"


def page_place(title: str) -> str:
    """Place of a page or panel of the window."""
    return f"{WINDOW}#window-{slug(title)}"
