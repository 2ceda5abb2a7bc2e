"""``corduroy export FILE``: data and figures of a project as files for other tools."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import cast

from models.errors import InputError
from models.exports import DATA, FORMATS
from models.exports.batch import DataWish, data_files, write_data
from models.exports.figure_groups import Subject
from models.exports.figures import FIGURE_FORMS, FigureForm, write_figures
from models.project import Project, choose_load_case, load, set_candidate
from models.project.write_file import write_file
from models.units import UnitChoice

__all__ = ["add_export_options", "export_command"]


def add_export_options(command: argparse.ArgumentParser) -> None:
    """Options of the command beside FILE, --units and --variant."""
    kinds = "; ".join(f"{name}: {choice.meaning}" for name, choice in DATA.items())
    command.add_argument(
        "--what",
        action="append",
        choices=DATA,
        metavar="|".join(DATA),
        help=f"data to write; may be given more than once (default time). {kinds}",
    )
    command.add_argument(
        "--format",
        choices=(*FORMATS, *FIGURE_FORMS),
        metavar="|".join((*FORMATS, *FIGURE_FORMS)),
        help="of data csv, mat (level 5) or mdf (ASAM MDF 4; needs the extra corduroy[measured]), by default "
        "csv; of figures svg, pdf or png, by default svg",
    )
    command.add_argument(
        "--out",
        type=Path,
        default=Path(),
        metavar="PATH",
        help="folder of the data files, WHAT-VARIANT.SUFFIX each (default here); or, with the suffix of the "
        "format and for one file, that file",
    )
    command.add_argument(
        "--figures",
        type=Path,
        metavar="FOLDER",
        help="write every figure of the project in place of data, by names that stay the same, such as "
        "ride-psd-pitch.svg; the candidate is shown, or the one --variant",
    )


def export_command(options: argparse.Namespace, units: UnitChoice) -> str:
    """Write what is asked for; gives the names of the files, a line each.

    A file takes its place when it is whole; until then the old one stays.

    Raises:
        InputError: an option does not fit the others, or a file cannot be written.
    """
    project = load(options.file)
    if options.load is not None:
        project = choose_load_case(project, options.load)
    if options.figures is not None:
        return _figures(project, options, units)
    return _data(project, options, units)


def _form(options: argparse.Namespace, of_what: str, allowed: Sequence[str]) -> str:
    """Format asked for, or the first of those that fit."""
    form: str = options.format or allowed[0]
    if form not in allowed:
        raise InputError.of("--format", form, f"'{form}' is no format of {of_what}; use {', '.join(allowed)}")
    return form


def _data(project: Project, options: argparse.Namespace, units: UnitChoice) -> str:
    form = _form(options, "data", tuple(FORMATS))
    wanted = DataWish(
        tuple(dict.fromkeys(options.variant or project.names)),
        tuple(dict.fromkeys(options.what or ["time"])),
        form,
        units,
    )
    out: Path = options.out
    if out.suffix.lower() != FORMATS[form].suffix:
        return "\n".join(map(str, write_data(project, wanted, out)))
    count = len(wanted.variants) * len(wanted.kinds)
    if count > 1:
        reason = f"{count} files do not go into one; name a folder, or one --variant and one --what"
        raise InputError.of("--out", out, reason)
    ((_, content),) = data_files(project, wanted)
    write_file(out, content)
    return str(out)


def _figures(project: Project, options: argparse.Namespace, units: UnitChoice) -> str:
    form = cast(FigureForm, _form(options, "figures", FIGURE_FORMS))
    if options.what:
        raise InputError.of("--what", ", ".join(options.what), "--figures writes all figures; leave it out")
    shown = options.variant or [project.candidate]
    if len(shown) > 1:
        raise InputError.of("--variant", ", ".join(shown), "figures show one variant beside the baseline")
    missing: list[str] = []
    subject = Subject(set_candidate(project, shown[0]), options.file, units)
    files = write_figures(subject, options.figures, form, missing=missing)
    return "\n".join([*map(str, files), *(f"Left out: {reason}" for reason in missing)])
