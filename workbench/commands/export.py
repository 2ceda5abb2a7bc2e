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
from models.project import Project, set_candidate
from models.project.write_file import write_file
from models.units import UnitChoice
from workbench.commands.command import Answer, Command
from workbench.commands.options import (
    add_car_options,
    add_load_option,
    add_project_options,
    project_of,
    units_of,
)

__all__ = ["COMMAND"]


def _add_options(command: argparse.ArgumentParser) -> None:
    add_project_options(command)
    add_car_options(command)
    add_load_option(command)
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
        "ride-psd-pitch.svg; the candidate is shown, or the one --variant ('review --figures' writes those "
        "of the review)",
    )


def _run(options: argparse.Namespace) -> Answer:
    """Write what is asked for; gives the names of the files, a line each.

    A file takes its place when it is whole; until then the old one stays.

    Raises:
        InputError: an option does not fit the others, or a file cannot be written.
    """
    project, units, missing = project_of(options), units_of(options), list[str]()
    if options.figures is None:
        files = _data(project, options, units)
    else:
        files = _figures(project, options, units, missing)
    if options.json:
        return Answer({"project": project.name, "files": [str(file) for file in files], "left_out": missing})
    return Answer("\n".join([*map(str, files), *(f"Left out: {reason}" for reason in missing)]))


def _form(options: argparse.Namespace, of_what: str, allowed: Sequence[str]) -> str:
    """Format asked for, or the first of those that fit."""
    form: str = options.format or allowed[0]
    if form not in allowed:
        raise InputError.of("--format", form, f"'{form}' is no format of {of_what}; use {', '.join(allowed)}")
    return form


def _data(project: Project, options: argparse.Namespace, units: UnitChoice) -> Sequence[Path]:
    form = _form(options, "data", tuple(FORMATS))
    wanted = DataWish(
        tuple(dict.fromkeys(options.variant or project.names)),
        tuple(dict.fromkeys(options.what or ["time"])),
        form,
        units,
    )
    out: Path = options.out
    if out.suffix.lower() != FORMATS[form].suffix:
        return write_data(project, wanted, out)
    count = len(wanted.variants) * len(wanted.kinds)
    if count > 1:
        reason = f"{count} files do not go into one; name a folder, or one --variant and one --what"
        raise InputError.of("--out", out, reason)
    ((_, content),) = data_files(project, wanted)
    write_file(out, content)
    return (out,)


def _figures(
    project: Project, options: argparse.Namespace, units: UnitChoice, missing: list[str]
) -> Sequence[Path]:
    form = cast(FigureForm, _form(options, "figures", FIGURE_FORMS))
    if options.what:
        raise InputError.of("--what", ", ".join(options.what), "--figures writes all figures; leave it out")
    shown = options.variant or [project.candidate]
    if len(shown) > 1:
        raise InputError.of("--variant", ", ".join(shown), "figures show one variant beside the baseline")
    subject = Subject(set_candidate(project, shown[0]), options.file, units)
    return write_figures(subject, options.figures, form, missing=missing)


COMMAND = Command(
    help="write data and figures of a project as files",
    description="Write time histories, spectra, frequency responses and speed sweeps as CSV, MAT or ASAM "
    "MDF, or all figures of a project, as files for other tools.",
    example="my_car.corduroy --what time --format mdf --out data",
    add_options=_add_options,
    run=_run,
)
