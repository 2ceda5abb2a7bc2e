"""``corduroy review FILE``: the design review of a project as PDF, as HTML, or both."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from models.cautions import CAUTIONS, HARDWARE_CAUTIONS
from models.errors import InputError, input_error
from models.project import Project, ReviewOptions, load
from models.report import SECTION_TITLES, Document, Watch, kept_studies, review, to_html, to_pdf
from workbench.commands.command import Answer, Command
from workbench.commands.options import add_json_option

__all__ = ["COMMAND"]

_ALL = "all"


def _add_options(command: argparse.ArgumentParser) -> None:
    """What is not given is as the project has it."""
    command.add_argument("file", type=Path, metavar="FILE", help="project file")
    add_json_option(command)
    command.add_argument("--pdf", type=Path, metavar="OUT", help="PDF file; FILE with .pdf if none is named")
    command.add_argument("--html", type=Path, metavar="OUT", help="HTML file, in place of the PDF or beside")
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
    project = load(options.file)
    chosen = _chosen(project, options)
    files = _files(options)
    told = _Told(len(files) + 1)
    studies = kept_studies(project, options.file, chosen.studies)
    document = review(project, studies, chosen, told.watch("Computing"))
    for path, write in files:
        try:
            write(document, path, told.watch(f"Writing {path.name}"))
        except OSError as error:
            reason = f"the review is not written: {error.strerror or error}"
            raise InputError.of(str(path), "", reason) from error
    told.end()
    paths = [str(path) for path, _ in files]
    if options.json:
        return Answer({"project": project.name, "files": paths, "inputs": document.inputs})
    return Answer("\n".join([*paths, f"Inputs: {document.inputs}"]))


_Writer = Callable[[Document, Path, Watch], None]


def _files(options: argparse.Namespace) -> list[tuple[Path, _Writer]]:
    pdf = options.pdf
    if pdf is None and options.html is None:
        pdf = options.file.with_suffix(".pdf")
    pairs: tuple[tuple[Path | None, _Writer], ...] = ((pdf, to_pdf), (options.html, to_html))
    files = [(path, write) for path, write in pairs if path is not None]
    for path, _ in files:
        if path.resolve() == options.file.resolve():
            raise InputError.of("file", str(path), "the review would take the place of the project")
    return files


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


@dataclass
class _Told:
    """One line of a terminal that says how far it is."""

    steps: int
    step: int = 0

    def watch(self, words: str) -> Watch:
        """Watch of the next step."""
        start = self.step / self.steps
        self.step += 1

        def progress(share: float, part: str) -> None:
            if sys.stderr.isatty():
                done = 100 * (start + share / self.steps)
                line = f"{words}: {part}" if part else words
                print(f"\r{done:3.0f} % {line[:70]:70}", end="", file=sys.stderr, flush=True)

        return Watch(progress)

    def end(self) -> None:
        """Clear the line."""
        if sys.stderr.isatty():
            print(f"\r{'':80}\r", end="", file=sys.stderr, flush=True)


COMMAND = Command(
    help="write the design review of a project as PDF or HTML",
    description="Write a document for the design review, candidate against baseline: the same inputs give "
    "the same file to the letter.  What is not given is as the project has it.",
    example="my_car.corduroy --pdf review.pdf --paper letter --note 'second draft'",
    add_options=_add_options,
    run=_run,
    cautions=(*HARDWARE_CAUTIONS, *CAUTIONS),
)
