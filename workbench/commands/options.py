"""Arguments that several commands share, and what they stand for."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from models.errors import InputError
from models.fields import replaced
from models.project import Project, Variant, choose_load_case, load, loads
from models.project.file import MOST_BYTES
from models.project.places import path_in
from models.units import UNIT_CHOICES, UnitChoice
from workbench.commands.command import Answer

__all__ = [
    "STDIN",
    "add_car_options",
    "add_json_option",
    "add_load_option",
    "add_project_options",
    "add_units_option",
    "chosen_variants",
    "printed",
    "project_of",
    "settings_lines",
    "units_of",
]

#: File name that stands for the standard input.
STDIN = Path("-")


def add_project_options(command: argparse.ArgumentParser) -> None:
    """The file, the units and the form of what is printed."""
    command.add_argument("file", type=Path, metavar="FILE", help="project file; - reads the standard input")
    add_units_option(command)
    add_json_option(command)


def add_units_option(command: argparse.ArgumentParser) -> None:
    """The units of display."""
    command.add_argument("--units", choices=UNIT_CHOICES, default="metric", help="units of the figures")


def add_json_option(command: argparse.ArgumentParser) -> None:
    """The form of what is printed."""
    command.add_argument("--json", action="store_true", help="print JSON instead of text")


def add_car_options(command: argparse.ArgumentParser) -> None:
    """The choice of variants, and values that are tried in them."""
    command.add_argument(
        "--variant", action="append", metavar="NAME", help="only this variant; may be given more than once"
    )
    command.add_argument(
        "--set",
        action="append",
        metavar="PLACE=VALUE",
        help="try another value without touching the file: --set front.spring.rate='18 N/mm', --set "
        "run.speed='100 km/h'; of the car, it is set in each --variant named, else in the candidate; a place "
        "is written in the names of the project file, entries of lists by number from 0; a whole part as "
        "JSON, or null",
    )


def add_load_option(command: argparse.ArgumentParser) -> None:
    """The choice of the load case."""
    command.add_argument("--load", metavar="NAME", help="load case; by default the one chosen in the project")


def project_of(options: argparse.Namespace) -> Project:
    """The project that is named, or comes by the standard input, with the values that are set.

    Raises:
        InputError: it cannot be read, or a value is refused.
    """
    project = _from_stdin() if options.file == STDIN else load(options.file)
    asked = vars(options)
    for setting in asked.get("set") or ():
        project = _with_setting(project, setting, asked["variant"])
    if asked.get("load") is not None:
        project = choose_load_case(project, options.load)
    return project


def settings_lines(options: argparse.Namespace) -> list[str]:
    """What was set by hand, a line each, for a reader of the results."""
    return [f"Set by hand: {setting}" for setting in options.set or ()]


def units_of(options: argparse.Namespace) -> UnitChoice:
    """Units that are asked for."""
    return UNIT_CHOICES[options.units]


def chosen_variants(project: Project, options: argparse.Namespace) -> list[Variant]:
    """Variants asked for, each once; all where none is."""
    return [project.variant(name) for name in dict.fromkeys(options.variant or project.names)]


def printed(
    as_text: Callable[[Project, Sequence[Variant], UnitChoice], str],
    as_data: Callable[[Project, Sequence[Variant], UnitChoice], Mapping[str, Any]],
) -> Callable[[argparse.Namespace], Answer]:
    """The work of a command that prints the chosen variants of a project as a table or as data."""

    def run(options: argparse.Namespace) -> Answer:
        project = project_of(options)
        variants, units = chosen_variants(project, options), units_of(options)
        if options.json:
            return Answer(as_data(project, variants, units))
        return Answer("\n".join([as_text(project, variants, units), *settings_lines(options)]))

    return run


def _with_setting(project: Project, setting: str, variants: Sequence[str] | None) -> Project:
    place, equals, text = (part.strip() for part in setting.partition("="))
    if not equals:
        raise InputError.of("set", setting, f"'{setting}' is no setting, such as front.spring.rate='18 N/mm'")
    value = _value(place, text)
    paths = {path_in(project, place, name) for name in variants or (project.candidate,)}
    for path in sorted(paths, key=str):
        project = replaced(project, path, value)
    return project


def _value(place: str, text: str) -> object:
    """A text as it stands; a whole part, a list or null from JSON."""
    if text != "null" and text[:1] not in ("{", "["):
        return text
    try:
        return json.loads(text)
    except (ValueError, RecursionError) as error:
        raise InputError.of(place, text[:80], f"{place}: this is no JSON: {error}") from error


def _from_stdin() -> Project:
    content = sys.stdin.buffer.read(MOST_BYTES + 1)
    if len(content) > MOST_BYTES:
        raise InputError.of(
            "standard input", "", f"more than {MOST_BYTES // 1_000_000} MB is no project file"
        )
    try:
        return loads(content.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        reason = f"the text is damaged: byte {error.start + 1} is no UTF-8 text"
        raise InputError.of("standard input", "", reason) from error
