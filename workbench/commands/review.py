"""``corduroy review FILE``: the design review of a project as PDF, as HTML, or both."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from models.cautions import CAUTIONS, HARDWARE_CAUTIONS
from models.errors import InputError, input_error
from models.exports.figures import FIGURE_FORMS
from models.project import Project, ReviewOptions
from models.report import SECTION_TITLES, Watch
from models.report.press import Order, make
from workbench.commands.command import Answer, Command
from workbench.commands.options import STDIN, add_json_option, project_of
from workbench.commands.progress_line import ProgressLine

__all__ = ["COMMAND"]

_ALL = "all"


def _add_options(command: argparse.ArgumentParser) -> None:
    """What is not given is as the project has it."""
    command.add_argument("file", type=Path, metavar="FILE", help="project file; - reads the standard input")
    add_json_option(command)
    command.add_argument("--pdf", type=Path, metavar="OUT", help="PDF file; FILE with .pdf if none is named")
    command.add_argument("--html", type=Path, metavar="OUT", help="HTML file, in place of the PDF or beside")
    command.add_argument(
        "--figures",
        type=Path,
        metavar="FOLDER",
        help="write every figure of the review into a folder, in place of the PDF or beside, by names that "
        "stay the same, such as run-time-pitch.svg; 'export --figures' writes every figure of the project",
    )
    command.add_argument(
        "--format", choices=FIGURE_FORMS, default=FIGURE_FORMS[0], help="of figures; by default svg"
    )
    command.add_argument("--paper", choices=("a4", "letter"), help="size of the pages")
    command.add_argument("--units", choices=("metric", "inch-pound"), help="units of all numbers")
    command.add_argument(
        "--sections",
        metavar="NAMES",
        help=f"sections in their order, with commas between: {', '.join(SECTION_TITLES)}",
    )
    command.add_argument("--author", metavar="NAME", help="who answers for the review")
    command.add_argument("--date", metavar="TEXT", help="date of the review; by default the present day")
    command.add_argument("--note", metavar="TEXT", help="revision note")
    command.add_argument(
        "--study",
        action="append",
        metavar="NAME",
        help=f"study whose kept results are shown; may be given more than once; '{_ALL}' for each",
    )


def _run(options: argparse.Namespace) -> Answer:
    """Write the files and give what is to be printed.

    Raises:
        InputError: file, study or options are refused, or a file cannot be written.
    """
    project = project_of(options)
    chosen = _chosen(project, options)
    with ProgressLine() as line:
        watch = Watch(lambda share, part: line.tell(f"{100 * share:3.0f} % {part}"))
        made = make(_order(project, chosen, options), watch)
    paths = [str(path) for path in made.files]
    if options.json:
        return Answer({"project": project.name, "files": paths, "inputs": made.inputs})
    return Answer("\n".join([*paths, f"Inputs: {made.inputs}"]))


def _order(project: Project, chosen: ReviewOptions, options: argparse.Namespace) -> Order:
    pdf, file = options.pdf, None if options.file == STDIN else options.file
    if pdf is None and options.html is None and options.figures is None:
        if file is None:
            reason = "a project from the standard input needs --pdf, --html or --figures"
            raise InputError.of("pdf", "none", reason)
        pdf = file.with_suffix(".pdf")
    for path in (pdf, options.html):
        if path is not None and file is not None and path.resolve() == file.resolve():
            raise InputError.of("file", str(path), "the review would take the place of the project")
    return Order(
        project,
        chosen,
        file,
        pdf=pdf,
        html=options.html,
        figures=options.figures,
        form=options.format,
    )


def _chosen(project: Project, options: argparse.Namespace) -> ReviewOptions:
    """Options of the project with those of the command line in their place."""
    saved = project.review
    given: dict[str, Any] = {
        "paper": options.paper,
        "units": options.units,
        "sections": None if options.sections is None else _names(options.sections),
        "author": options.author,
        "date": options.date if options.date is not None else saved.date or date.today().isoformat(),
        "revision": options.note,
        "studies": _studies(project, options.study),
    }
    fields = {**saved.model_dump(), **{name: value for name, value in given.items() if value is not None}}
    try:
        return ReviewOptions.model_validate(fields)
    except ValidationError as error:
        raise input_error(error) from error


def _names(text: str) -> tuple[str, ...]:
    names = tuple(name.strip() for name in text.split(",") if name.strip())
    for name in names:
        if name not in SECTION_TITLES:
            known = ", ".join(SECTION_TITLES)
            raise InputError.of("sections", name, f"'{name[:40]}' is no section (allowed: {known})")
    return names


def _studies(project: Project, names: list[str] | None) -> tuple[str, ...] | None:
    if names == [_ALL]:
        return tuple(study.name for study in project.studies)
    return None if names is None else tuple(dict.fromkeys(names))


COMMAND = Command(
    help="write the design review of a project as PDF or HTML",
    description="Write a document for the design review, candidate against baseline: the same inputs give "
    "the same file to the letter.  What is not given is as the project has it.",
    example="my_car.corduroy --pdf review.pdf --paper letter --note 'second draft'",
    add_options=_add_options,
    run=_run,
    cautions=(*HARDWARE_CAUTIONS, *CAUTIONS),
)
