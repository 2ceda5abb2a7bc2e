"""Arguments that several commands share, and what they stand for."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from models.errors import InputError
from models.project import Project, Variant, load, loads
from models.project.file import MOST_BYTES
from models.units import INCH_POUND, METRIC, UnitChoice
from workbench.commands.command import Answer

__all__ = [
    "STDIN",
    "add_project_options",
    "add_variant_option",
    "chosen_variants",
    "printed",
    "project_of",
    "units_of",
]

#: File name that stands for the standard input.
STDIN = Path("-")

_UNITS: dict[str, UnitChoice] = {"metric": METRIC, "inch-pound": INCH_POUND}


def add_project_options(command: argparse.ArgumentParser) -> None:
    """The file, the units and the form of what is printed."""
    command.add_argument("file", type=Path, metavar="FILE", help="project file; - reads the standard input")
    command.add_argument("--units", choices=_UNITS, default="metric", help="units of the figures")
    command.add_argument("--json", action="store_true", help="print JSON instead of a table")


def add_variant_option(command: argparse.ArgumentParser) -> None:
    """The choice of variants."""
    command.add_argument(
        "--variant", action="append", metavar="NAME", help="only this variant; may be given more than once"
    )


def project_of(options: argparse.Namespace) -> Project:
    """The project that is named, or comes by the standard input.

    Raises:
        InputError: it cannot be read.
    """
    return _from_stdin() if options.file == STDIN else load(options.file)


def units_of(options: argparse.Namespace) -> UnitChoice:
    """Units that are asked for."""
    return _UNITS[options.units]


def chosen_variants(project: Project, options: argparse.Namespace) -> list[Variant]:
    """Variants asked for, each once; all where none is."""
    return [project.variant(name) for name in dict.fromkeys(options.variant or project.names)]


_Write = Callable[[Project, Sequence[Variant], UnitChoice], Any]


def printed(
    as_text: Callable[[Project, Sequence[Variant], UnitChoice], str],
    as_data: Callable[[Project, Sequence[Variant], UnitChoice], Mapping[str, Any]],
) -> Callable[[argparse.Namespace], Answer]:
    """The work of a command that prints the chosen variants of a project as a table or as data."""

    def run(options: argparse.Namespace) -> Answer:
        project = project_of(options)
        write: _Write = as_data if options.json else as_text
        return Answer(write(project, chosen_variants(project, options), units_of(options)))

    return run


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
