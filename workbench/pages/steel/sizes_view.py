"""Sizes of the parts in steel of the candidate: at a glance, in full, and which ones would do."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from models.charts import Chart
from models.errors import InputError
from models.fields import Part, replaced
from models.hardware import PLACES, Hardware, Place, apply
from models.judge.part_report import PartReport, part_reports
from models.part_loads import design_loads
from models.project import Project, Variant
from models.units import UnitChoice
from models.vehicle import LoadCase, Vehicle
from workbench.document import Document
from workbench.pages.steel.cautions import CautionsLine
from workbench.pages.steel.find_panel import FindPanel
from workbench.pages.steel.panels import Panels
from workbench.pages.steel.part_editor import PartEditor
from workbench.pages.steel.places_table import PlacesTable
from workbench.pages.steel.stress_panel import StressPanel
from workbench.pages.steel.wishes import with_size
from workbench.runner import Job, Runner
from workbench.scrolled import scrolled
from workbench.theme import LIGHT, Theme

__all__ = ["SizesView"]

_LANE = "steel"
# Pause between an edit and its figures, ms: while a slider moves they follow some times a second.
_PAUSE = 60
# Width from which all panels have room beside each other, px.
_ROOMY = 960


@dataclass(frozen=True)
class _Subject:
    """What the figures depend on."""

    vehicle: Vehicle
    hardware: Hardware
    cases: tuple[LoadCase, ...]


class SizesView(QWidget):
    """Places, the form of the chosen one, what it gives and bears, and standard sizes for it.

    Everything follows the document, in the worker thread, while the view is in sight.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
        refused(str): an edit was refused, and why.
        shown(): fresh figures are on the screen.
    """

    units_changed = Signal(str, str)
    refused = Signal(str)
    shown = Signal()

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._runner = document, runner
        self._reports: dict[Place, PartReport] = {}
        self._known: _Subject | None = None
        self._running: Job | None = None
        self._due = QTimer(self, singleShot=True, interval=_PAUSE)
        self._due.timeout.connect(self._compute)
        self.places = PlacesTable(self)
        self.editor = PartEditor(document, self)
        self.stress = StressPanel(self)
        self.finder = FindPanel(runner, self)
        self.cautions = CautionsLine(_ROOMY, self)
        self.panels = Panels(
            {"Size": scrolled(self.editor, 270), "Stress": self.stress, "Find sizes": self.finder},
            (28, 44, 36),
            _ROOMY,
            self,
        )
        self._build()
        self._show_place()
        self.set_theme(LIGHT)

    def _build(self) -> None:
        split = QSplitter(Qt.Orientation.Vertical, self)
        split.setChildrenCollapsible(False)
        split.addWidget(self.places)
        split.addWidget(self.panels)
        split.setStretchFactor(1, 1)
        split.setSizes([self.places.sizeHint().height(), 10_000])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(split, 1)
        column.addWidget(self.cautions)
        self.places.picked.connect(lambda _place: self._show_place())
        self.stress.apply_wanted.connect(self._apply)
        self.finder.size_taken.connect(self._use)
        for part in (self.editor, self.finder):
            part.units_changed.connect(self.units_changed)
        for signal in (self._document.changed, self._document.opened):
            signal.connect(self._follow)

    # -- showing -------------------------------------------------------------------------------------

    @property
    def reports(self) -> dict[Place, PartReport]:
        """What is on the screen."""
        return self._reports

    def charts(self) -> list[Chart]:
        """Charts on show."""
        return [chart for chart in (self.stress.chart, self.finder.chart) if chart is not None]

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        for part in (self.places, self.editor, self.stress, self.finder):
            part.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        for part in (self.places, self.editor, self.stress, self.finder, self.cautions):
            part.set_theme(theme)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._follow()

    def _show_place(self) -> None:
        place = self.places.chosen
        self.editor.show_place(place)
        self._show_report()

    def _show_report(self) -> None:
        report = self._reports.get(self.places.chosen)
        vehicle = None if self._known is None else self._known.vehicle
        self.stress.show_report(report, vehicle)
        self.finder.show_report(report, vehicle)
        if self._known != self._subject():
            self.stress.wait()

    # -- computing -----------------------------------------------------------------------------------

    def _variant(self) -> Variant:
        project = self._document.project
        return project.variant(project.candidate)

    def _subject(self) -> _Subject:
        variant = self._variant()
        return _Subject(variant.vehicle, variant.hardware, self._document.project.load_cases)

    def _follow(self) -> None:
        """Compute what the document is now, soon, if anyone sees it."""
        if not self.isVisible():
            return
        if self._known != self._subject():
            self.stress.wait()
            if not self._due.isActive():
                self._due.start(0 if self._known is None else _PAUSE)

    def _compute(self) -> None:
        if self._running is not None and not self._running.cancelled:
            return  # its result looks whether it is still the one wanted
        subject = self._subject()
        if subject == self._known or not self.isVisible():
            return

        def work(_job: Job) -> dict[Place, PartReport]:
            return part_reports(subject.vehicle, subject.hardware, subject.cases)

        self._running = self._runner.start(
            _LANE, "", work, lambda reports: self._computed(subject, reports), self._failed
        )

    def _computed(self, subject: _Subject, reports: dict[Place, PartReport]) -> None:
        first = self._known is None
        self._running, self._known, self._reports = None, subject, reports
        self.places.show_reports(reports)
        if first:
            self._choose_described()
        self._show_report()
        self.shown.emit()
        self._follow()

    def _failed(self, error: Exception) -> None:
        self._running, self._known, self._reports = None, self._subject(), {}
        self.places.show_reports({})
        self.finder.show_report(None, None)
        self.stress.show_trouble(f"Not computed. {error}")
        self.shown.emit()

    def _choose_described(self) -> None:
        """Begin with a part that there is."""
        described = (place for place in PLACES if self._reports[place].part is not None)
        if self._reports[self.places.chosen].part is None:
            self.places.choose(next(described, self.places.chosen))

    # -- editing -------------------------------------------------------------------------------------

    def _apply(self) -> None:
        """Give the car what the part at the chosen place gives."""
        place = self.places.chosen
        self._edit(f"apply {self._reports[place].name.lower()}", self._applied(self._document.project, place))

    def _use(self, size: Part, also_apply: bool) -> None:
        """Make the part in another size, and give the car its rate if asked to."""
        place = self.places.chosen
        path = (*self.editor.hardware_path(), place)
        made = with_size(getattr(self._variant().hardware, place), size)
        project = replaced(self._document.project, path, made)
        self._edit(
            f"size of {self._reports[place].name.lower()}",
            self._applied(project, place) if also_apply else project,
        )

    def _edit(self, text: str, project: Project | InputError) -> None:
        if isinstance(project, InputError):
            self.refused.emit(f"Not applied: {project}")
        else:
            self._document.apply(text, project)

    def _applied(self, project: Project, place: Place) -> Project | InputError:
        variant = project.variant(project.candidate)
        try:
            loads = design_loads(variant.vehicle)
            vehicle = apply(variant.vehicle, variant.hardware, place, loads)
            return replaced(project, self._document.candidate_path(), vehicle)
        except InputError as error:
            return error
