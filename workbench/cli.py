"""The same work without a screen: ``corduroy figures``, ``parts``, ``life``, ``packaging``, ``study`` ..."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from models.analysis import Analysis, analyse
from models.cautions import CAUTIONS, HARDWARE_CAUTIONS
from models.errors import InputError
from models.judge import key_figures
from models.manoeuvre import Straight
from models.project import Project, Variant, choose_load_case, load
from models.roads import road_class
from models.units import INCH_POUND, KINDS, METRIC, UnitChoice, format_value
from workbench.cli_life import life_json, life_text
from workbench.cli_packaging import packaging_json, packaging_text
from workbench.cli_parts import parts_json, parts_text
from workbench.cli_review import add_review_options, review_command
from workbench.cli_study import add_study_options, study_command
from workbench.cli_text import figure_entry, finite, table_lines

__all__ = ["COMMANDS", "main"]

#: First words of a command line that need no window.
COMMANDS = ("figures", "parts", "life", "packaging", "study", "review")

_UNITS: dict[str, UnitChoice] = {"metric": METRIC, "inch-pound": INCH_POUND}

_Write = Callable[[Project, Sequence[Variant], UnitChoice], str]


def main(argv: Sequence[str]) -> int:
    """Run one command; results go to stdout, errors to stderr.

    Returns:
        exit code: 0, or 2 where the arguments or the file are refused.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):  # a console of few letters must not stop a table
            stream.reconfigure(errors="replace")
    try:
        options = _parser().parse_args(argv)
    except SystemExit as stop:  # argparse has said why
        return int(stop.code or 0)
    try:
        print(options.command(options), flush=True)
    except BrokenPipeError:  # the reader has seen enough; a second flush at exit must not fail either
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except InputError as error:
        print(f"corduroy: {error}", file=sys.stderr)
        return 2
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="corduroy", allow_abbrev=False)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    figures = commands.add_parser(
        "figures",
        help="print the key figures of the variants of a project",
        description="Compute every variant of a project in its run and print the key figures side by side.",
        epilog=" ".join(CAUTIONS),
        allow_abbrev=False,
    )
    figures.add_argument("--load", metavar="NAME", help="load case; by default the one chosen in the project")
    parts = commands.add_parser(
        "parts",
        help="print what the parts in steel give and bear",
        description="Rate, stress, mass and more of the springs and bars that are described in a project, in "
        "each load case and at the stops, and where the car differs from them; ! marks what exceeds a limit.",
        epilog=" ".join((*HARDWARE_CAUTIONS, *CAUTIONS)),
        allow_abbrev=False,
    )
    life = commands.add_parser(
        "life",
        help="print how long the parts in steel live over the road mix",
        description="Drive each variant of a project over its road mix, and print the life, the worst road "
        "and the greatest stress of the springs and bars that are described; ! marks what misses its target.",
        epilog=" ".join((*HARDWARE_CAUTIONS, *CAUTIONS)),
        allow_abbrev=False,
    )
    packaging = commands.add_parser(
        "packaging",
        help="print travel and clearance against their limits, and the tolerance stack at trim",
        description="Wheel travel, ground clearance and angles of the variants of a project in its load "
        "cases and its run, and what tolerances do to the height at trim; ! marks what misses its limit.",
        epilog=" ".join(CAUTIONS),
        allow_abbrev=False,
    )
    study = commands.add_parser(
        "study",
        help="answer the studies of a project",
        description="Compute the studies of a project, keep the results in a folder beside it and print "
        "them. What is stopped by Ctrl+C, or by force, goes on with --resume.",
        epilog=" ".join(CAUTIONS),
        allow_abbrev=False,
    )
    for command, work in (
        (figures, _figures),
        (parts, _printed(parts_text, parts_json)),
        (life, _printed(life_text, life_json)),
        (packaging, _printed(packaging_text, packaging_json)),
        (study, _study),
    ):
        command.set_defaults(command=work)
        _add_common(command)
        if command is not study:
            command.add_argument(
                "--variant",
                action="append",
                metavar="NAME",
                help="only this variant; may be given more than once",
            )
    add_study_options(study)
    review = commands.add_parser(
        "review",
        help="write the design review of a project as PDF or HTML",
        description="Compute the candidate of a project against its baseline and write the design review.",
        epilog=" ".join(CAUTIONS),
        allow_abbrev=False,
    )
    review.set_defaults(command=review_command)
    add_review_options(review)
    return parser


def _study(options: argparse.Namespace) -> str:
    return study_command(options, _UNITS[options.units])


def _add_common(command: argparse.ArgumentParser) -> None:
    command.add_argument("file", type=Path, metavar="FILE", help="project file")
    command.add_argument("--units", choices=_UNITS, default="metric", help="units of the figures")
    command.add_argument("--json", action="store_true", help="print JSON instead of a table")


def _chosen(project: Project, options: argparse.Namespace) -> list[Variant]:
    return [project.variant(name) for name in dict.fromkeys(options.variant or project.names)]


def _printed(as_text: _Write, as_json: _Write) -> Callable[[argparse.Namespace], str]:
    """A command that prints the chosen variants of a project as a table or as JSON."""

    def command(options: argparse.Namespace) -> str:
        project = load(options.file)
        write = as_json if options.json else as_text
        return write(project, _chosen(project, options), _UNITS[options.units])

    return command


def _figures(options: argparse.Namespace) -> str:
    project = load(options.file)
    if options.load is not None:
        project = choose_load_case(project, options.load)
    variants = _chosen(project, options)
    analyses = [analyse(variant.vehicle, project.run, project.load) for variant in variants]
    write = _json if options.json else _table
    return write(project, variants, analyses, _UNITS[options.units])


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


def _json(project: Project, variants: list[Variant], analyses: list[Analysis], units: UnitChoice) -> str:
    content = {
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
    return json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False)


def _modes(analysis: Analysis) -> list[dict[str, Any]]:
    found = analysis.modes
    return [
        {"name": name, "frequency_hz": finite(frequency), "damping_ratio": finite(ratio)}
        for name, frequency, ratio in zip(found.names, found.frequency, found.damping_ratio, strict=True)
    ]
