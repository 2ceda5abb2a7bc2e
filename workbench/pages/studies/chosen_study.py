"""The study that is chosen, and every edit of it as one step of the document."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from models.errors import InputError
from models.project import Variant, add_variant, remove_study, set_candidate, set_study
from models.project.project import fresh_name
from models.studies import StudyResult
from models.study import Parameter, ResultFile, Study, Tolerance
from workbench.document import Document
from workbench.pages.studies.definition import new_study, numbers_of, remade, varied, with_entry, with_varied

__all__ = ["ChosenStudy"]


class ChosenStudy(QObject):
    """Which study of the project is on show; edits leave it as it was where they are refused.

    Signals:
        exchanged: another study is chosen, which has results of its own.
        said(str): why an edit is refused; empty once one is taken.
    """

    exchanged = Signal()
    said = Signal(str)

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        #: Its name; empty where the project has no studies.
        self.name = ""

    @property
    def study(self) -> Study | None:
        """The study itself."""
        return next((one for one in self._document.project.studies if one.name == self.name), None)

    def choose(self, name: str) -> None:
        """Choose another study."""
        if name != self.name:
            self.name = name
            self.exchanged.emit()

    def follow(self) -> None:
        """Where the study has gone, choose the last one of the project."""
        names = [study.name for study in self._document.project.studies]
        if self.name not in names:
            self.choose(names[-1] if names else "")

    # -- the list ------------------------------------------------------------------------------------

    def add(self, kind: str, places: tuple[str, ...] = ()) -> None:
        """Add a study of a kind, of these numbers of the candidate, and choose it."""
        self._say_of(lambda: self._apply("new study", new_study(self._document.project, kind, places)))

    def duplicate(self) -> None:
        """Add a copy without results, and choose it."""
        study = self.study
        if study is not None:
            name = fresh_name(study.name, tuple(one.name for one in self._document.project.studies))
            self._say_of(lambda: self._apply("duplicate of study", remade(study, name=name, result=None)))

    def remove(self) -> None:
        """Remove it."""
        study = self.study
        if study is not None:
            self._document.apply("removal of study", remove_study(self._document.project, study.name))

    def rename(self, name: str) -> None:
        """Give it another name."""
        study = self.study
        if study is not None and name.strip() != study.name:
            self._say_of(lambda: self._apply("name of study", remade(study, name=name), study.name))

    # -- the definition ------------------------------------------------------------------------------

    def exchange(self, make: Callable[[], Study]) -> None:
        """Put the study that ``make`` gives in place of the chosen one, or say why it is refused."""
        self._say_of(lambda: self._apply("edit of study", make()))

    def set_field(self, name: str, value: object) -> None:
        """Give a field another value."""
        study = self.study
        if study is not None:
            self.exchange(lambda: remade(study, **{name: value}))

    def vary(self, places: list[str]) -> None:
        """Vary just these numbers of the car."""
        study = self.study
        if study is not None:
            self.exchange(
                lambda: with_varied(study, numbers_of(self._document.project, study.variant), places)
            )

    def bound(self, place: str, entry: Parameter | Tolerance) -> None:
        """Give a number other bounds or another tolerance."""
        study = self.study
        if study is not None:
            self.exchange(lambda: with_entry(study, place, entry))

    def tick(self, place: str, on: bool) -> None:
        """Vary a number of the car too, or no more.

        The first tick without a study begins one of sensitivity, which takes any number of them.
        """
        study, project = self.study, self._document.project
        if study is not None:
            places = [one for one in varied(study) if one != place]
            self.vary([*places, place] if on else places)
            return
        numbers = numbers_of(project, "")
        if on and place in numbers:
            self.exchange(lambda: with_varied(new_study(project, "sensitivity"), numbers, [place]))

    # -- what came of studies ------------------------------------------------------------------------

    def keep(self, name: str, kept: ResultFile) -> None:
        """Note where the results of a study are, if the project still has it."""
        project = self._document.project
        study = next((one for one in project.studies if one.name == name), None)
        if study is not None:
            self._document.apply("results of study", set_study(project, remade(study, result=kept)))

    def take_car(self, result: StudyResult, row: int) -> None:
        """Make a car of a result a variant of its own and the candidate."""
        self._say_of(lambda: self._take_car(result, row))

    def _take_car(self, result: StudyResult, row: int) -> None:
        project, study = self._document.project, result.asked.study.name
        name = f"{study} {row + 1}"
        if name in project.names:
            name = fresh_name(name, project.names)
        old = next((one for one in project.variants if one.name == result.asked.variant), None)
        made = Variant(name=name, note=f"Car {row + 1} of the study “{study}”", vehicle=result.car(row))
        if old is not None:
            made = remade(made, hardware=old.hardware)
        self._document.apply("candidate from study", set_candidate(add_variant(project, made), name))

    def _apply(self, words: str, study: Study, instead_of: str | None = None) -> None:
        project = set_study(self._document.project, study, instead_of)
        if self.name != instead_of:
            self.choose(study.name)
        self.name = study.name
        self._document.apply(words, project)

    def _say_of(self, edit: Callable[[], None]) -> None:
        try:
            edit()
        except InputError as error:
            self.said.emit(str(error))
        else:
            self.said.emit("")
