"""All figures of a project into a folder, by names that stay the same."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Literal, get_args

from models.charts.chart import Chart
from models.errors import InputError
from models.exports.figure_groups import GROUPS, Named, Subject
from models.exports.names import unique_stems
from models.project.write_file import make_folder, write_file
from models.units import UnitChoice

__all__ = ["FIGURE_FORMS", "FigureForm", "project_figures", "write_charts", "write_figures"]

FigureForm = Literal["svg", "pdf", "png"]
#: Formats of figures, the usual one first.
FIGURE_FORMS: tuple[FigureForm, ...] = get_args(FigureForm)

Report = Callable[[float], object]


def project_figures(subject: Subject, missing: list[str] | None = None) -> list[Named]:
    """Every chart that has something to show, named by group and chart: "ride-psd-heave-acceleration".

    The same project has the same names each time.

    Args:
        subject: what is drawn.
        missing: gets a sentence for each group that this car cannot have, such as the life of one that does
            not stand.
    """
    found: list[Named] = []
    for group, charts in GROUPS.items():
        subject.go_on()
        try:
            named = [(name, chart) for name, chart in charts(subject) if _shows_something(chart)]
        except InputError as error:
            if missing is not None:
                missing.append(f"{group}: {error}")
            continue
        names = unique_stems(f"{group} {name}" for name, _ in named)
        found += zip(names, (chart for _, chart in named), strict=True)
    return found


def write_figures(
    subject: Subject,
    folder: Path,
    form: FigureForm,
    report: Report = lambda _share: None,
    missing: list[str] | None = None,
) -> list[Path]:
    """Write all figures of a project; gives the files.

    A file that is there already is replaced as soon as its successor is whole; other files stay.

    Args:
        subject: what is drawn; its units are those of the figures.
        folder: made where it is missing.
        form: "svg", "pdf" or "png".
        report: told the share that is done, 0 to 1; what it raises ends the work.
        missing: as of :func:`project_figures`.

    Raises:
        InputError: a file cannot be written.
    """
    make_folder(folder)
    report(0.0)
    subject = replace(subject, go_on=partial(report, 0.0))
    heading = "{}: {} against {}".format(subject.project.name, *subject.names)
    return write_charts(project_figures(subject, missing), folder, form, subject.units, heading, report)


def write_charts(
    charts: Sequence[Named],
    folder: Path,
    form: FigureForm,
    units: UnitChoice,
    heading: str,
    report: Report = lambda _share: None,
) -> list[Path]:
    """Write charts into a folder, each by its name; gives the files.

    Args:
        charts: names without suffix, and what they are of.
        folder: made where it is missing.
        form: "svg", "pdf" or "png".
        units: of the figures.
        heading: over each of them.
        report: told the share that is done, 0 to 1; what it raises ends the work.

    Raises:
        InputError: a file cannot be written.
    """
    from models.charts.figure import figure_bytes  # matplotlib takes a second to import: only when needed

    make_folder(folder)
    files = []
    for number, (name, chart) in enumerate(charts):
        report(number / len(charts))
        files.append(folder / f"{name}.{form}")
        write_file(files[-1], figure_bytes(chart, form, units, heading))
    return files


def _shows_something(chart: Chart) -> bool:
    """Whether a curve, limits aside, leaves zero: a part that is not fitted has a law of nothing."""
    return any(bool((curve.y != 0).any()) for curve in chart.curves if curve.role != "limit")
