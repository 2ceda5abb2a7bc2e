"""``corduroy figures FILE``: the key figures of the variants side by side."""

from __future__ import annotations

import argparse
from typing import Any

from models.analysis import Analysis, analyse
from models.cautions import CAUTIONS
from models.judge import key_figures
from models.manoeuvre import Straight
from models.project import Project, Variant, choose_load_case
from models.roads import road_class
from models.units import KINDS, UnitChoice, format_value
from workbench.commands.command import Answer, Command
from workbench.commands.options import (
    add_project_options,
    add_variant_option,
    chosen_variants,
    project_of,
    units_of,
)
from workbench.commands.text import figure_entry, finite, table_lines

__all__ = ["COMMAND"]


def _add_options(command: argparse.ArgumentParser) -> None:
    add_project_options(command)
    add_variant_option(command)
    command.add_argument("--load", metavar="NAME", help="load case; by default the one chosen in the project")


def _run(options: argparse.Namespace) -> Answer:
    project = project_of(options)
    if options.load is not None:
        project = choose_load_case(project, options.load)
    variants = chosen_variants(project, options)
    analyses = [analyse(variant.vehicle, project.run, project.load) for variant in variants]
    if options.json:
        return Answer(_data(project, variants, analyses, units_of(options)))
    return Answer(_table(project, variants, analyses, units_of(options)))


def _table(project: Project, variants: list[Variant], analyses: list[Analysis], units: UnitChoice) -> str:
    names = [
        f"{variant.name} (baseline)" if variant.name == project.baseline else variant.name
        for variant in variants
    ]
    rows = [["Figure", "Unit", *names]]
    for line in zip(*map(key_figures, analyses), strict=True):
        unit, si = units[line[0].kind], KINDS[line[0].kind].si
        values = [format_value(figure.value, unit, si) for figure in line]
        rows.append([line[0].label, "" if unit == "1" else unit, *values])
    lines = table_lines(rows, 2)
    head = [project.name, _run_text(project, units), *_do_not_stand(variants, analyses), ""]
    return "\n".join([*head, *lines, "", "Cautions: " + " ".join(CAUTIONS)])


def _do_not_stand(variants: list[Variant], analyses: list[Analysis]) -> list[str]:
    return [
        f"{variant.name}: does not stand, {analysis.stand.reason}; linear results only"
        for variant, analysis in zip(variants, analyses, strict=True)
        if not analysis.stand.stable
    ]


def _run_text(project: Project, units: UnitChoice) -> str:
    run = project.run
    speed = format_value(run.speed, units["speed"], "m/s")
    surface = f"class {road_class(run.surface.roughness)} surface"
    driven = (
        run.event.kind if isinstance(run.manoeuvre, Straight) else f"{run.event.kind}, {run.manoeuvre.kind}"
    )
    return (
        f"{run.model}, {speed} {units['speed']}, {surface}, {driven}, {run.laws} time response, "
        f"load: {project.load.name}"
    )


def _data(
    project: Project, variants: list[Variant], analyses: list[Analysis], units: UnitChoice
) -> dict[str, Any]:
    return {
        "project": project.model_dump(mode="json", include={"name", "note", "baseline", "candidate"}),
        "run": project.run.model_dump(mode="json"),
        "load_case": project.load.name,
        "variants": {
            variant.name: {
                "does_not_stand": analysis.stand.reason or None,
                "figures": {figure.key: figure_entry(figure, units) for figure in key_figures(analysis)},
                "modes": _modes(analysis),
            }
            for variant, analysis in zip(variants, analyses, strict=True)
        },
        "cautions": list(CAUTIONS),
    }


def _modes(analysis: Analysis) -> list[dict[str, Any]]:
    found = analysis.modes
    return [
        {"name": name, "frequency_hz": finite(frequency), "damping_ratio": finite(ratio)}
        for name, frequency, ratio in zip(found.names, found.frequency, found.damping_ratio, strict=True)
    ]


COMMAND = Command(
    help="print the key figures of the variants of a project",
    description="Compute every variant of a project in its run and print the key figures side by side.",
    example="large_saloon.corduroy --variant 'joined torsion bars' --units inch-pound",
    add_options=_add_options,
    run=_run,
)
