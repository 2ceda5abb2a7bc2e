"""``corduroy figures FILE``: the key figures of the variants side by side."""

from __future__ import annotations

import argparse
from typing import Any

from models.analysis import Analysis
from models.cautions import CAUTIONS
from models.judge import key_figures
from models.units import KINDS, format_value
from workbench.commands.command import Answer, Command
from workbench.commands.driven import Driven, add_run_options, driven, run_head
from workbench.commands.text import figure_entry, finite, table_lines

__all__ = ["COMMAND"]


def _run(options: argparse.Namespace) -> Answer:
    found = driven(options)
    if options.json:
        return Answer(_data(found))
    return Answer("\n".join([*found.lines, "", *_table(found), "", "Cautions: " + " ".join(CAUTIONS)]))


def _table(found: Driven) -> list[str]:
    baseline, units = found.project.baseline, found.units
    names = [
        f"{variant.name} (baseline)" if variant.name == baseline else variant.name
        for variant in found.variants
    ]
    rows = [["Figure", "Unit", *names]]
    for line in zip(*map(key_figures, found.analyses), strict=True):
        unit, si = units[line[0].kind], KINDS[line[0].kind].si
        values = [format_value(figure.value, unit, si) for figure in line]
        rows.append([line[0].label, "" if unit == "1" else unit, *values])
    return table_lines(rows, 2)


def _data(found: Driven) -> dict[str, Any]:
    return {
        **run_head(found.project),
        "variants": {
            variant.name: {
                "does_not_stand": analysis.stand.reason or None,
                "figures": {
                    figure.key: figure_entry(figure, found.units) for figure in key_figures(analysis)
                },
                "modes": _modes(analysis),
            }
            for variant, analysis in zip(found.variants, found.analyses, strict=True)
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
    add_options=add_run_options,
    run=_run,
)
