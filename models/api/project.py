"""Projects and cars as handles that hold a value and exchange it."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from pathlib import Path as FilePath
from typing import Any

import pint

from models import findings as _findings
from models import project as _project
from models.analysis import analyse
from models.api.choices import known, unit_choice
from models.api.comparison import Comparison
from models.api.result import Result
from models.errors import InputError
from models.exports import DATA, FORMATS
from models.exports.batch import DataWish, write_data
from models.exports.figure_groups import Subject
from models.exports.figures import FIGURE_FORMS, FigureForm, write_figures
from models.fields import Path, Quantity, follow, replaced
from models.judge.comparison import compare
from models.project.places import numbers_of, path_in, quantity_at
from models.report.press import Made, Order, make
from models.studies import (
    StudyResult,
    Watch,
    Workers,
    ask,
    file_name,
    folder_of,
    local_workers,
    run_study,
    save_result,
    this_thread,
)
from models.study import Study
from models.units import quantity
from models.vehicle import Vehicle

__all__ = ["Car", "Project", "new_project", "open_project"]


def open_project(path: str | os.PathLike[str]) -> Project:
    """Project of a file.

    Raises:
        InputError: the file cannot be read; every wrong field is listed with its allowed range and unit.
    """
    return Project(_project.load(path), FilePath(path))


def new_project(name: str = "Untitled") -> Project:
    """Project of one plain car, which is its baseline and candidate."""
    return Project(replaced(_project.new_project(), ("name",), name))


class Project:
    """Variants of a car, the run that they drive, load cases, road mix, targets and studies.

    ``project[place]`` reads and sets a value by its place in the project file ("run.speed", "load_case",
    "variants.0.note", list entries by their number from 0); ``project.car(name)`` is a variant.

    Attributes:
        data: the project as the program has it; never changed, but exchanged.  May be set.
        path: file that it comes from or was saved to; None for a new one.
    """

    def __init__(self, data: _project.Project, path: FilePath | None = None) -> None:
        self.data = data
        self.path = path

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the variants."""
        return self.data.names

    @property
    def cars(self) -> Mapping[str, Car]:
        """The variants by name."""
        return {name: self.car(name) for name in self.names}

    def car(self, name: str = "") -> Car:
        """Variant of that name; without a name the candidate, which is the one being tuned.

        Raises:
            InputError: no variant has that name.
        """
        return Car(self, self.data.variant(name or self.data.candidate).name)

    def __getitem__(self, place: str) -> Any:
        """Value at a place: a quantity where it is a number with a unit, else a word or a part.

        Raises:
            InputError: nothing stands there; says what does.
        """
        return self._get(path_in(self.data, place))

    def __setitem__(self, place: str, value: object) -> None:
        """Set the value at a place: a text as in the file, a quantity, or an SI number.

        Raises:
            InputError: nothing stands there, or the value is refused; says allowed range and unit.
        """
        self._set(path_in(self.data, place), value)

    def analyse(self) -> dict[str, Result]:
        """Results of all variants by name; errors as of :meth:`Car.analyse`."""
        return {name: car.analyse() for name, car in self.cars.items()}

    def compare(self, *names: str) -> Comparison:
        """Variants (all, where none is named) against the baseline; raises InputError for an unknown name."""
        return Comparison(compare(self.data, names))

    def check(self) -> tuple[_findings.Finding, ...]:
        """What is wrong with the project: cars that do not stand, targets that cannot be judged and so on."""
        return _findings.findings(self.data)

    def study(
        self,
        study: str | Study,
        *,
        workers: int | Workers = 0,
        watch: Watch | None = None,
        keep: bool = False,
    ) -> StudyResult:
        """Answer a study.

        Args:
            study: name of one of the project, or a study made here from :mod:`models.study`.
            workers: processes of this machine; 0 computes in this one.  Or workers that are there already,
                such as those of :func:`models.studies.cluster_workers`, which stay open.
            watch: told of the progress; may stop it.
            keep: whether the results are kept beside the project file, where the window and :meth:`review`
                look for them.

        Returns:
            parameters and figures of every car, in SI; :func:`models.studies.built_cars`, ``front``,
            ``tuned`` and the like read the answer off it.

        Raises:
            InputError: there is no such study, it does not fit the project, or its results cannot be kept.
        """
        asked = ask(self.data, _project.study_of(self.data, study) if isinstance(study, str) else study)
        if keep and self.path is None:
            raise InputError.of(
                "path", "", "results are kept beside the project file; save the project first"
            )
        if isinstance(workers, Workers):
            result = run_study(asked, workers, watch=watch)
        else:
            with local_workers(workers) if workers else this_thread() as own:
                result = run_study(asked, own, watch=watch)
        if keep and self.path is not None:
            save_result(result, folder_of(self.path) / file_name(asked))
        return result

    def export(
        self,
        folder: str | os.PathLike[str],
        *names: str,
        what: Iterable[str] = ("time",),
        form: str = "csv",
        units: str = "metric",
    ) -> list[FilePath]:
        """Write data of variants into a folder, a file each: "time-softer-rear.csv"; gives the files.

        Args:
            folder: made where it is missing.
            names: of the variants; all where none is named.
            what: of "time", "spectrum", "response", "sweep".
            form: "csv", "mat" (level 5) or "mdf" (ASAM MDF 4, which needs the extra ``measured``).
            units: "metric", "inch-pound" or "si".

        Raises:
            InputError: a name is not known, a car cannot be computed, or a file cannot be written.
        """
        known("format", form, FORMATS)
        kinds = (what,) if isinstance(what, str) else tuple(what)
        for kind in kinds:
            known("data", kind, DATA)
        for name in names:
            self.data.variant(name)
        wish = DataWish(names or self.names, kinds, form, unit_choice(units))
        return write_data(self.data, wish, FilePath(folder))

    def export_figures(
        self, folder: str | os.PathLike[str], *, form: FigureForm = "svg", units: str = "metric"
    ) -> list[FilePath]:
        """Write every figure of the candidate beside the baseline, by names that stay the same.

        Args:
            folder: made where it is missing.
            form: "svg", "pdf" or "png".
            units: "metric", "inch-pound" or "si".

        Raises:
            InputError: a name is not known, or a file cannot be written.
        """
        known("format", form, dict.fromkeys(FIGURE_FORMS))
        return write_figures(Subject(self.data, self.path, unit_choice(units)), FilePath(folder), form)

    def review(
        self,
        pdf: str | os.PathLike[str] | None = None,
        html: str | os.PathLike[str] | None = None,
        *,
        figures: str | os.PathLike[str] | None = None,
        form: FigureForm = "svg",
        **options: object,
    ) -> Made:
        """Make the design review, candidate against baseline.

        Args:
            pdf, html: files that are written.
            figures, form: folder into which every figure of the review is written, as "svg", "pdf" or "png".
            options: fields of :class:`models.project.review.ReviewOptions` in place of those of the project
                (``project["review.paper"]`` and so on): sections, author, date (by default the present day),
                revision, paper, units, studies.

        Returns:
            the files, the hash of the inputs, and what became of each section.

        Raises:
            InputError: neither file nor folder is named, an option is refused, or a file cannot be written.
        """
        wanted = [None if path is None else FilePath(path) for path in (pdf, html, figures)]
        if not any(wanted):
            raise InputError.of(
                "review", "", "name a file for the pdf or the html, or a folder for the figures"
            )
        known("format", form, dict.fromkeys(FIGURE_FORMS))
        chosen = self.data.review
        for field, value in options.items():
            known("option", field, type(chosen).model_fields)
            chosen = replaced(chosen, (field,), value)
        if not chosen.date:
            chosen = replaced(chosen, ("date",), date.today().isoformat())
        order = Order(
            self.data, chosen, self.path, pdf=wanted[0], html=wanted[1], figures=wanted[2], form=form
        )
        return make(order)

    def save(self, path: str | os.PathLike[str] | None = None) -> FilePath:
        """Write the project file, by default where it comes from; what was there is kept as ``NAME.bak``.

        Raises:
            InputError: no path is known, or the file cannot be written; what was there is as it was.
        """
        target = self.path if path is None else FilePath(path)
        if target is None:
            raise InputError.of("path", "", "a new project needs a path to be saved to")
        _project.save(self.data, target)
        self.path = target
        return target

    def _get(self, path: Path) -> Any:
        value, note = follow(self.data, path), quantity_at(self.data, path)
        return value if note is None or not isinstance(value, float) else quantity(value, note.kind_name)

    def _set(self, path: Path, value: object) -> None:
        self.data = replaced(self.data, path, _plain(value))

    def __repr__(self) -> str:
        return f"<Project '{self.data.name}': {', '.join(self.names)}>"


class Car:
    """One variant of a project: reads and changes it there.

    ``car["front.spring.rate"]`` is a pint quantity; ``car["front.spring.rate"] = "18 N/mm"`` exchanges it.
    Parts in steel stand under ``hardware``: ``car["hardware.front_spring.wire_diameter"]``.

    Attributes:
        project: that it belongs to.
        name: of the variant.
    """

    def __init__(self, project: Project, name: str) -> None:
        self.project = project
        self.name = name

    @property
    def vehicle(self) -> Vehicle:
        """The car as the program has it, numbers in SI."""
        return self.project.data.variant(self.name).vehicle

    @property
    def numbers(self) -> Mapping[str, Quantity]:
        """Places of all numbers of the car with label, meaning, unit and allowed range."""
        return dict(numbers_of(self.vehicle))

    def __getitem__(self, place: str) -> Any:
        """Value at a place; errors as of :meth:`Project.__getitem__`."""
        return self.project._get(path_in(self.project.data, place, self.name))

    def __setitem__(self, place: str, value: object) -> None:
        """Set the value at a place; values and errors as of :meth:`Project.__setitem__`."""
        self.project._set(path_in(self.project.data, place, self.name), value)

    def __iter__(self) -> Iterator[str]:
        return iter(self.numbers)

    def copy(self, name: str) -> Car:
        """A further variant of the project that is as this one.

        Raises:
            InputError: the name is taken, empty or too long, or there are too many variants.
        """
        self.project.data = _project.duplicate_variant(self.project.data, self.name, name)
        return self.project.car(self.project.names[self.project.data.index(self.name) + 1])

    def analyse(self, changes: Mapping[str, object] | None = None) -> Result:
        """Compute the car in the run and the load case of the project.

        Args:
            changes: values by place that are tried without changing the project, of the car or the run:
                ``{"front.spring.rate": "20 N/mm", "run.speed": "120 km/h"}``.

        Raises:
            InputError: a change is refused, the load leaves no mass in the body, or the run grew beyond all
                bounds.
        """
        tried = Project(self.project.data)
        for place, value in (changes or {}).items():
            tried._set(path_in(tried.data, place, self.name), value)
        data = tried.data
        analysis = analyse(data.variant(self.name).vehicle, data.run, data.load)
        return Result(analysis, data.name, self.name)

    def __repr__(self) -> str:
        return f"<Car '{self.name}' of '{self.project.data.name}'>"


def _plain(value: object) -> object:
    """What a data model takes in place of a quantity: its text, which is read as that of a file is."""
    if not isinstance(value, pint.Quantity):
        return value
    try:
        return f"{float(value.magnitude)!r} {value.units:C}"
    except (TypeError, ValueError) as error:
        raise InputError.of("value", value, f"'{str(value)[:40]}' is no single number") from error
