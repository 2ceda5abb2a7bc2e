"""The design review: sections in the order that the user wants."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from models.cautions import CAUTIONS
from models.errors import InputError
from models.program import PROGRAM
from models.project import Project
from models.project.review import ReviewOptions, SectionKey
from models.report.bench import Bench, ShownStudy
from models.report.document import Block, Cautions, Document, Fact, Section
from models.report.inputs import inputs_hash
from models.report.sections.car import car
from models.report.sections.differences import differences
from models.report.sections.drive import drive
from models.report.sections.handling import handling
from models.report.sections.hardware import hardware
from models.report.sections.job import job, verdict_sentence
from models.report.sections.method import method
from models.report.sections.rates import rates
from models.report.sections.roads import roads
from models.report.sections.scorecard import scorecard
from models.report.sections.speed import speed
from models.report.sections.studies import studies as studies_section
from models.report.sections.trim import trim
from models.report.sections.warnings import warnings
from models.report.watch import Watch
from models.units import INCH_POUND, METRIC, UnitChoice

__all__ = ["SECTION_TITLES", "review"]

_SECTIONS: dict[SectionKey, tuple[str, Callable[[Bench], Iterator[Block]]]] = {
    "job": ("The job and its targets", job),
    "car": ("Car and load cases", car),
    "differences": ("What differs from the baseline", differences),
    "rates": ("Mode rates and modes", rates),
    "run": ("The run", drive),
    "roads": ("Ride on the roads", roads),
    "speed": ("Ride over speed", speed),
    "trim": ("Travel, trim and clearance", trim),
    "handling": ("Roll, dive and squat", handling),
    "hardware": ("Parts in steel", hardware),
    "studies": ("Studies", studies_section),
    "scorecard": ("Scorecard", scorecard),
    "cautions": ("Cautions", warnings),
    "method": ("Method, assumptions and sources", method),
}

#: Key of a section -> its title, for choosing.
SECTION_TITLES: dict[SectionKey, str] = {key: title for key, (title, _) in _SECTIONS.items()}

# About what the sections cost beside one unit each, for the progress.
_COST: dict[SectionKey, float] = {"hardware": 12.0, "job": 3.0}


def review(
    project: Project,
    studies: tuple[ShownStudy, ...] = (),
    options: ReviewOptions | None = None,
    watch: Watch | None = None,
    window: UnitChoice = METRIC,
) -> Document:
    """Compute everything that the review shows and write it down.

    A section that cannot be computed holds the reason.

    Args:
        project: what is reviewed: its candidate against its baseline.
        studies: to be shown, as :func:`models.report.kept_studies` gives them.
        options: by default those of the project.
        watch: told the progress, and asked whether to go on.
        window: units of options that want those of the window.

    Raises:
        Stopped: the watch said so.
    """
    options = project.review if options is None else options
    watch = Watch() if watch is None else watch
    whole = Bench(project, options, studies, watch, window)
    costs = [_COST.get(key, 1.0) for key in options.sections]
    sections, done = [], 0.0
    for key, cost in zip(options.sections, costs, strict=True):
        start, done = done, done + cost / sum(costs)
        watch.tell(start, SECTION_TITLES[key])
        whole.watch = watch.part(start, done)
        sections.append(_section(whole, key))
    cover, summary = _cover(whole)
    watch.tell(1.0, "")
    return Document(
        kind="Design review",
        title=project.name,
        subtitle=whole.names[0],
        running=(f"{project.name} · {whole.names[0]}", options.date),
        cover=cover,
        summary=summary,
        sections=tuple(sections),
        program=PROGRAM,
        inputs=inputs_hash(project, options, studies, window),
        paper=options.paper,
        units=whole.units,
    )


def _section(bench: Bench, key: SectionKey) -> Section:
    title, write = _SECTIONS[key]
    try:
        return Section(key, title, tuple(write(bench)))
    except InputError as error:
        problem = str(error).rstrip(".")
        blocks = (Cautions((f"This section could not be computed: {problem}.",)),)
        return Section(key, title, blocks, problem)


def _cover(bench: Bench) -> tuple[tuple[Fact, ...], tuple[str, ...]]:
    options, project = bench.options, bench.project
    facts = (
        Fact("Project", project.name),
        Fact("Candidate", bench.names[0]),
        Fact("Baseline", "" if bench.baseline is None else bench.names[1]),
        Fact("Load case", project.load.name),
        Fact("Author", options.author),
        Fact("Date", options.date),
        Fact("Revision note", options.revision.strip()),
        Fact("Units", _units_words(bench.units)),
    )
    try:
        summary = verdict_sentence(bench)
    except InputError as error:
        summary = f"The candidate could not be judged: {error}."
    return tuple(fact for fact in facts if fact.text), (summary, *CAUTIONS)


def _units_words(units: UnitChoice) -> str:
    if units == METRIC:
        return "SI"
    return "Inch-pound" if units == INCH_POUND else "As chosen, beside each number"
