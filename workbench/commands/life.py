"""``corduroy life FILE``: how long the parts in steel live over the road mix."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from models.cautions import CAUTIONS, HARDWARE_CAUTIONS
from models.errors import InputError
from models.figure_text import distance_text, value_text
from models.hardware.fatigue import NOT_COVERED
from models.hardware.life_target import LifeTarget
from models.judge.fatigue import Life
from models.judge.road_loads import road_loads
from models.judge.steel_life import FatiguePart, fatigue_parts, left_out, steel_life_figures, steel_lives
from models.project import Project, Variant
from models.units import UnitChoice, factor
from workbench.commands.command import Command
from workbench.commands.driven import add_run_options
from workbench.commands.options import printed
from workbench.commands.text import figure_entry, finite, head_of, table_lines

__all__ = ["COMMAND"]

_CAUTIONS = (*HARDWARE_CAUTIONS, *CAUTIONS)
_WORDS = 3

_PartLives = list[tuple[FatiguePart, Life]]


def _text(project: Project, variants: Sequence[Variant], units: UnitChoice) -> str:
    """Table of the lives of each variant.

    A car that cannot drive the mix has the reason in place of lives.

    Raises:
        InputError: the project has no road mix.
    """
    roads = ", ".join(_roads(project))
    lines = [project.name, f"Over the road mix: {roads}; load: {project.load.name}"]
    for variant in variants:
        lines += ["", variant.name, "=" * len(variant.name), ""]
        lives, trouble = _lives_or_reason(project, variant)
        if trouble:
            lines.append(f"Not driven: {trouble}.")
        elif lives:
            lines += _table(lives, variant.hardware.life_target, units)
        else:
            lines.append("No part in steel that is described carries load in this car.")
        lines += left_out(variant.vehicle, variant.hardware)
    notes = ("Not covered: " + " ".join(NOT_COVERED), "Cautions: " + " ".join(_CAUTIONS))
    return "\n".join([*lines, "", *notes])


def _data(project: Project, variants: Sequence[Variant], units: UnitChoice) -> dict[str, Any]:
    """The same as data.

    Raises:
        InputError: as for the text.
    """
    return {
        "project": head_of(project),
        "load_case": project.load.name,
        "road_mix": _roads(project),
        "variants": {variant.name: _variant(project, variant, units) for variant in variants},
        "not_covered": list(NOT_COVERED),
        "cautions": list(_CAUTIONS),
    }


def _variant(project: Project, variant: Variant, units: UnitChoice) -> dict[str, Any]:
    lives, trouble = _lives_or_reason(project, variant)
    return {
        "target": _target(variant.hardware.life_target, units),
        "parts": [_entry(part, life, units) for part, life in lives],
        "left_out": list(left_out(variant.vehicle, variant.hardware)),
        **({"not_driven": trouble} if trouble else {}),
    }


def _roads(project: Project) -> list[str]:
    roads = [road.name for road in project.road_mix if road.share > 0]
    if not roads:
        raise InputError.of(
            "road mix", "none", "lives are reckoned over the road mix, and the project has none"
        )
    return roads


def _lives(project: Project, variant: Variant) -> _PartLives:
    parts = fatigue_parts(variant.vehicle, variant.hardware)
    if not parts:
        return []
    loads = road_loads(variant.vehicle, project.run, project.load, project.road_mix)
    return list(zip(parts, steel_lives(loads, variant.vehicle, variant.hardware), strict=True))


def _lives_or_reason(project: Project, variant: Variant) -> tuple[_PartLives, str]:
    """Lives, or why the car cannot drive the mix."""
    try:
        return _lives(project, variant), ""
    except InputError as error:
        return [], error.problems[0].reason


def _table(lives: _PartLives, target: LifeTarget, units: UnitChoice) -> list[str]:
    distance, sure = units["distance driven"], f"{100 * target.reliability:.4g} %"
    head = ["Part", "Side", "Worst road", f"Life {sure}, {distance}", f"Target, {distance}", "Stress margin"]
    head += ["Worst road, %", f"Stress, {units['stress']}", "Used, %"]
    return table_lines([head, *(_row(part, life, units) for part, life in lives)], _WORDS)


def _row(part: FatiguePart, life: Life, units: UnitChoice) -> list[str]:
    figures = {figure.key: figure for figure in steel_life_figures(part, life)}
    distance, shares = units["distance driven"], life.shares
    worst, used = shares.max(initial=0.0), figures["steel_use"].value
    return [
        part.name,
        part.side or "-",
        life.roads[int(shares.argmax())].name if worst > 0 else "-",
        _marked(distance_text(life.distance, distance), life.distance < life.target.distance),
        distance_text(life.target.distance, distance),
        value_text(figures["fatigue_margin"], units),
        f"{100 * worst:.0f}",
        value_text(figures["steel_peak"], units),
        _marked(f"{100 * used:.0f}", used > 1),
    ]


def _marked(text: str, missed: bool) -> str:
    return f"! {text}" if missed else text


def _target(target: LifeTarget, units: UnitChoice) -> dict[str, Any]:
    unit = units["distance driven"]
    return {
        "distance": target.distance / factor(unit, "m"),
        "unit": unit,
        "reliability": target.reliability,
    }


def _entry(part: FatiguePart, life: Life, units: UnitChoice) -> dict[str, Any]:
    return {
        "place": part.place,
        "side": part.side or None,
        "label": part.stressed.name,
        "meets_target": life.distance >= life.target.distance,
        "figures": {figure.key: figure_entry(figure, units) for figure in steel_life_figures(part, life)},
        "roads": [
            {"name": road.name, "distance_share": road.share, "damage_share": finite(share)}
            for road, share in zip(life.roads, life.shares.tolist(), strict=True)
        ],
    }


COMMAND = Command(
    help="print how long the parts in steel live over the road mix",
    description="Drive each variant of a project over its road mix, and print the life, the worst road and "
    "the greatest stress of the springs and bars that are described; ! marks what misses its "
    "target.",
    example="large_saloon.corduroy --variant 'joined torsion bars'",
    add_options=add_run_options,
    run=printed(_text, _data),
    cautions=_CAUTIONS,
)
