"""The page of the roads."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from models.analysis import Analysis
from models.charts import Chart
from models.charts.roads import profile_chart, spectrum_chart
from models.errors import InputError
from models.judge.roads import road_figures
from models.roads import Event, MeasuredRoad, RoughSurface
from models.roads.csv_import import CsvGuess, inspect_csv
from models.roads.report import RoadReport, road_report
from models.units import METRIC, UnitChoice
from models.vehicle import Vehicle
from workbench.document import Document
from workbench.editor import PartForm
from workbench.figure_table import FigureTable
from workbench.pages.roads.crg_dialog import CrgDialog
from workbench.pages.roads.csv_dialog import CsvDialog
from workbench.pages.roads.event_form import EVENT, EventForm
from workbench.pages.roads.import_dialog import LANE as IMPORT_LANE
from workbench.pages.roads.import_dialog import ImportDialog
from workbench.pages.roads.library import EVENT_TYPES, RoadLibrary
from workbench.pages.roads.mix_shares import MixShares
from workbench.pages.roads.mix_table import MixTable
from workbench.pages.roads.words import class_text, reach_text, source_text
from workbench.plots import ChartView
from workbench.runner import Runner
from workbench.scrolled import scrolled
from workbench.theme import LIGHT, Theme

__all__ = ["RoadsPage"]

_LANE = "road"
_WIDTH = 310
_CSV_FILTER = "Columns of numbers (*.csv *.txt *.tsv *.dat *.asc);;All files (*)"
_CRG_FILTER = "OpenCRG roads (*.crg);;All files (*)"

_Subject = tuple[Event, RoughSurface, float]


class RoadsPage(QWidget):
    """Kinds of road with the parameters of the one in force, its profile, spectrum and figures, and the mix.

    The road is judged in the worker thread while the page is in sight.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
        shown: the road in force is on the screen.
        asked: a dialog of an import is open, or the file was refused.
    """

    units_changed = Signal(str, str)
    shown = Signal()
    asked = Signal()

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._runner = document, runner
        self._units: UnitChoice = METRIC
        self._theme = LIGHT
        self._subject: _Subject | None = None
        self._kept: dict[str, Event] = {}
        self.report: RoadReport | None = None
        self.dialog: ImportDialog | None = None
        self.library = RoadLibrary(self)
        self.event_form = EventForm(document, self)
        self.surface_form = PartForm(RoughSurface, document, ("run", "surface"), "Random surface")
        self.csv_button, self.crg_button = (
            QPushButton("Import CSV…", self),
            QPushButton("Import OpenCRG…", self),
        )
        self.message, self.words, self.source = QLabel(self), QLabel(self), QLabel(self)
        self.profile, self.spectrum = ChartView(self), ChartView(self)
        self.figures = FigureTable(self, "Figures of the road")
        self.figures.setColumnWidth(2, self.figures.fontMetrics().horizontalAdvance("m/km") + 14)
        self.mix = MixTable(document, self)
        self.shares = MixShares(document, runner, self)
        self.tabs = QTabWidget(self)
        self._build()
        self._connect()
        self.set_theme(LIGHT)
        self._follow()

    # -- building ------------------------------------------------------------------------------------

    def _build(self) -> None:
        for label in (self.message, self.words, self.source):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            label.setContentsMargins(10, 4, 6, 2)
        self.message.hide()
        self.csv_button.setToolTip("Take a measured road from a file of columns: distance, left, right")
        self.crg_button.setToolTip("Take a measured road from a surface in the open format OpenCRG")
        split = QSplitter(Qt.Orientation.Horizontal, self)
        split.addWidget(self._controls())
        split.addWidget(self._results())
        split.setStretchFactor(1, 1)
        split.setSizes([_WIDTH, 3 * _WIDTH])
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.tabs)
        mix = QSplitter(Qt.Orientation.Vertical, self)
        for widget in (self.mix, self.shares):
            mix.addWidget(widget)
        mix.setSizes([_WIDTH, _WIDTH])
        self.tabs.setAccessibleName("Road of the run, or road mix")
        self.tabs.setDocumentMode(True)
        self.tabs.addTab(split, "Road of the run")
        self.tabs.addTab(mix, "Road mix")

    def _controls(self) -> QWidget:
        imports = QHBoxLayout()
        imports.setContentsMargins(10, 4, 6, 4)
        imports.addWidget(self.csv_button)
        imports.addWidget(self.crg_button)
        content = QWidget(self)
        column = QVBoxLayout(content)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.library)
        column.addLayout(imports)
        for widget in (self.message, self.source, self.event_form, self.surface_form):
            column.addWidget(widget)
        column.addStretch(1)
        return scrolled(content, _WIDTH - 30)

    def _results(self) -> QWidget:
        side = QWidget(self)
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.figures)
        column.addWidget(self.words)
        column.addStretch(1)
        row = QSplitter(Qt.Orientation.Horizontal, self)
        row.addWidget(self.spectrum)
        row.addWidget(side)
        row.setStretchFactor(0, 1)
        row.setSizes([2 * _WIDTH, _WIDTH * 4 // 5])
        rows = QSplitter(Qt.Orientation.Vertical, self)
        for widget in (self.profile, row):
            rows.addWidget(widget)
        rows.setSizes([4 * _WIDTH, 5 * _WIDTH])
        return rows

    def _connect(self) -> None:
        self.library.kind_chosen.connect(self._choose_kind)
        self.csv_button.clicked.connect(self._ask_csv)
        self.crg_button.clicked.connect(self._ask_crg)
        for form in (self.event_form, self.surface_form, self.mix.form):
            form.units_changed.connect(self.units_changed)
        self._document.changed.connect(self._follow)
        self._document.opened.connect(self._start_anew)

    # -- showing -------------------------------------------------------------------------------------

    def charts(self) -> list[Chart]:
        """Charts on show."""
        found = [view.chart for view in (self.profile, self.spectrum)]
        return [chart for chart in found if chart is not None and chart.curves]

    def show_results(self, _candidate: Analysis, _baseline: Analysis | None, _names: tuple[str, str]) -> None:
        """Results do not change a road; the page follows the project."""

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = dict(units)
        for part in self._parts():
            part.set_units(units)
        self._show_words()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        for part in (self.library, *self._parts()):
            part.set_theme(theme)
        self.message.setStyleSheet(f"color: {theme.mark};")
        self.source.setStyleSheet(f"color: {theme.faint};")
        self.words.setStyleSheet(f"color: {theme.ink};")

    def _parts(self) -> tuple[EventForm | PartForm | ChartView | FigureTable | MixTable | MixShares, ...]:
        return (
            self.event_form,
            self.surface_form,
            self.profile,
            self.spectrum,
            self.figures,
            self.mix,
            self.shares,
        )

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._follow()

    def _start_anew(self) -> None:
        self._kept.clear()
        self.message.hide()
        self._follow()

    def _follow(self) -> None:
        """Judge the road of the run, if it is another one and the page is in sight."""
        run = self._document.project.run
        self._kept[run.event.kind] = run.event
        self._show_words()
        self.library.show_kind(run.event.kind)
        vehicle = self._document.value(self._document.candidate_path())
        assert isinstance(vehicle, Vehicle)
        subject = (run.event, run.surface, (vehicle.front.track + vehicle.rear.track) / 2)
        if subject == self._subject or not self.isVisible():
            return
        self._subject = subject
        self._runner.start(_LANE, "", lambda _job: road_report(*subject), self._show, self._failed)

    def _show(self, report: RoadReport) -> None:
        before, self.report = self.report, report
        self.profile.set_chart(profile_chart(report))
        self.spectrum.setVisible(bool(report.octaves))
        self.spectrum.set_chart(spectrum_chart(report))
        if before is None or (before.kind, before.length) != (report.kind, report.length):
            self.profile.fit()  # ranges stay while a height is dragged, not from road to road
            self.spectrum.fit()
        self.figures.show_figures(road_figures(report))
        self._show_words()
        self.shown.emit()

    def _show_words(self) -> None:
        run = self._document.project.run
        source = "\n".join(filter(None, (source_text(run.event), reach_text(run, self._units))))
        self.source.setText(source)
        self.source.setVisible(bool(source))
        if self.report is not None:
            text = class_text(self.report, self._units)
            if self.report.no_iri and self.report.no_iri != self.report.no_fit:
                text += f" No roughness index: {self.report.no_iri}."
            self.words.setText(text)

    def _failed(self, error: Exception) -> None:
        self._subject = None
        self.message.setText(str(error))
        self.message.show()
        self.shown.emit()

    # -- editing -------------------------------------------------------------------------------------

    def _choose_kind(self, kind: str) -> None:
        """Drive over another kind of road: the one that was in force last, or a plain one."""
        self._take(self._kept.get(kind) or EVENT_TYPES[kind]())

    def _take(self, event: Event) -> None:
        try:
            self._document.edit(EVENT, event)
        except InputError as error:
            self.message.setText(str(error))
            self.message.show()
        else:
            self.message.hide()

    # -- importing -----------------------------------------------------------------------------------

    def _folder(self) -> str:
        return str(self._document.path.parent) if self._document.path else str(Path.home())

    def _ask_csv(self) -> None:
        name, _ = QFileDialog.getOpenFileName(self, "Import a measured road", self._folder(), _CSV_FILTER)
        if name:
            self.import_csv(Path(name))

    def _ask_crg(self) -> None:
        name, _ = QFileDialog.getOpenFileName(self, "Import a measured road", self._folder(), _CRG_FILTER)
        if name:
            self.import_crg(Path(name))

    def import_csv(self, path: Path) -> None:
        """Look into a file of columns and show what it seems to hold."""

        def show(guess: CsvGuess) -> None:
            self._open(CsvDialog(path, guess, self._runner, self._units, self._theme, self))

        self._runner.start(
            IMPORT_LANE, f"Reading {path.name}", lambda _job: inspect_csv(path), show, self._refuse
        )

    def import_crg(self, path: Path) -> None:
        """Show what tracks a surface has for the car."""
        vehicle = self._document.value(self._document.candidate_path())
        assert isinstance(vehicle, Vehicle)
        track = (vehicle.front.track + vehicle.rear.track) / 2
        self._open(CrgDialog(path, track, self._runner, self._units, self._theme, self))

    def _open(self, dialog: ImportDialog) -> None:
        self.dialog = dialog
        self.message.hide()
        dialog.taken.connect(self._imported)
        dialog.finished.connect(self._dialog_gone)
        dialog.open()
        self.asked.emit()

    def _dialog_gone(self, _result: int) -> None:
        self.dialog = None

    def _imported(self, road: MeasuredRoad) -> None:
        self._take(road)

    def _refuse(self, error: Exception) -> None:
        if not isinstance(error, InputError):
            raise error
        self.message.setText(str(error))
        self.message.show()
        self.asked.emit()
