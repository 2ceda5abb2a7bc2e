"""``corduroy figures FILE``: the key figures of the variants side by side."""

from __future__ import annotations

import argparse
from typing import Any

from models.analysis import Analysis, analyse
from models.cautions import CAUTIONS
from models.judge import key_figures
from models.project import Project, Variant
from models.units import KINDS, UnitChoice, format_value
from workbench.commands.command import Answer, Command
from workbench.commands.options import (
    add_car_options,
    add_load_option,
    add_project_options,
    chosen_variants,
    project_of,
    settings_lines,
    units_of,
)
from workbench.commands.text import do_not_stand, figure_entry, finite, head_of, run_text, table_lines

__all__ = ["COMMAND"]


def _add_options(command: argparse.ArgumentParser) -> None:
    add_project_options(command)
    add_car_options(command)
    add_load_option(command)


def _run(options: argparse.Namespace) -> Answer:
    project = project_of(options)
    variants = chosen_variants(project, options)
    analyses = [analyse(variant.vehicle, project.run, project.load) for variant in variants]
    if options.json:
        return Answer(_data(project, variants, analyses, units_of(options)))
    head = [project.name, run_text(project, units_of(options)), *do_not_stand(variants, analyses)]
    head += settings_lines(options)
    return Answer("\n".join([*head, "", *_table_lines(project, variants, analyses, units_of(options))]))


def _table_lines(
    project: Project, variants: list[Variant], analyses: list[Analysis], units: UnitChoice
) -> list[str]:
    names = [
        f"{variant.name} (baseline)" if variant.name == project.baseline else variant.name
        for variant in variants
    ]
    rows = [["Figure", "Unit", *names]]
    for line in zip(*map(key_figures, analyses), strict=True):
        unit, si = units[line[0].kind], KINDS[line[0].kind].si
        values = [format_value(figure.value, unit, si) for figure in line]
        rows.append([line[0].label, "" if unit == "1" else unit, *values])
    return [*table_lines(rows, 2), "", "Cautions: " + " ".join(CAUTIONS)]


def _data(
    project: Project, variants: list[Variant], analyses: list[Analysis], units: UnitChoice
) -> dict[str, Any]:
    return {
        "project": head_of(project),
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
