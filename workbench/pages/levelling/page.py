"""The page of the levelling."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from models.analysis import Analysis
from models.charts import Chart
from models.charts.levelling import levelling_charts
from models.judge.levelling import levelling_figures
from models.ride.levelling import LevellingRun, level
from models.ride.levelling_car import why_not_fitted
from models.ride.levelling_event import LevellingEvent
from models.units import UnitChoice
from models.vehicle import LoadCase
from workbench.document import Document
from workbench.editor import PartForm, PartHolder
from workbench.figure_table import FigureTable
from workbench.pages.levelling.false_check import FalseCheck
from workbench.plots import TitledChart
from workbench.runner import Job, Runner
from workbench.scrolled import scrolled
from workbench.theme import LIGHT, Theme

__all__ = ["LevellingPage"]

_LANE = "levelling"
# An event up to this length is over before a progress bar could be read, s.
_QUIET = 300.0
_WIDTH = 300
# Width of the page from which two charts have room beside each other, and what a chart needs of height, px.
_ROOMY, _LOW = 960, 170
_TITLES = ("Height of the axles over design trim", "Wind-up of the trim springs", "Motor")
_ADVICE = (
    "A levelling needs, in the Car panel:\n"
    "Levelling > Winding speed above 0, a few deg/s;\n"
    "Front to rear, each side > Trim spring > Trim spring rate above 0, at the axle to be kept level."
)


class LevellingPage(QWidget):
    """Event, charts, figures and the check on false actuations of the candidate.

    The event is run again in the worker thread when car, load or event change, while the page is in sight;
    a run that a newer one makes stale is dropped.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
        export_wanted(object): the chart that the user wants as a file.
        shown: a run is on the screen, or the reason why there is none.
    """

    units_changed = Signal(str, str)
    export_wanted = Signal(object)
    shown = Signal()

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._runner = runner
        self._candidate: Analysis | None = None
        self._name = ""
        self._stale = True
        self.run: LevellingRun | None = None
        self.holder = PartHolder(LevellingEvent(), self)
        self.load_box = QComboBox(self)
        self.form = PartForm(LevellingEvent, self.holder)
        self.figures = FigureTable(self, "Figures of the levelling")
        self.views = tuple(TitledChart(title, self) for title in _TITLES)
        self.check = FalseCheck(runner, self)
        self.message = QLabel(self)
        self.empty = QLabel(self)
        self._stack = QStackedWidget(self)
        self._rows: list[QSplitter] = []
        self._build()
        self.holder.changed.connect(self._run_again)
        self.load_box.activated.connect(lambda _index: self._run_again())
        self.form.units_changed.connect(self.units_changed)
        self.check.export_wanted.connect(self.export_wanted)
        for view in self.views:
            view.export_wanted.connect(self.export_wanted)
        document.changed.connect(self._fill_loads)
        document.opened.connect(self._fill_loads)
        self._fill_loads()
        self.set_theme(LIGHT)

    # -- building ------------------------------------------------------------------------------------

    def _build(self) -> None:
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setTextFormat(Qt.TextFormat.PlainText)
        self.empty.setWordWrap(True)
        self.empty.setMargin(40)
        self.message.setTextFormat(Qt.TextFormat.PlainText)
        self.message.setWordWrap(True)
        self.message.hide()
        split = QSplitter(Qt.Orientation.Horizontal, self)
        split.addWidget(self._controls())
        split.addWidget(self._plots())
        split.setStretchFactor(1, 1)
        split.setSizes([_WIDTH, 3 * _WIDTH])
        for widget in (self.empty, split):
            self._stack.addWidget(widget)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._stack)

    def _controls(self) -> QWidget:
        label = QLabel("Load &case", self)
        label.setBuddy(self.load_box)
        self.load_box.setAccessibleName("Load case")
        self.load_box.setToolTip("What is put in and taken out again")
        row = QHBoxLayout()
        row.setContentsMargins(10, 6, 4, 2)
        row.addWidget(label)
        row.addWidget(self.load_box, 1)
        self.message.setContentsMargins(10, 4, 4, 4)
        content = QWidget(self)
        column = QVBoxLayout(content)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addLayout(row)
        column.addWidget(self.form)
        column.addWidget(self.message)
        column.addWidget(self.figures)
        column.addStretch(1)
        return scrolled(content, _WIDTH - 40)

    def _plots(self) -> QWidget:
        height, wind_up, current = self.views
        for widget, least in ((height, _LOW), (wind_up, _LOW), (current, _LOW), (self.check, _LOW + 60)):
            widget.setMinimumHeight(least)
        rows = QSplitter(Qt.Orientation.Vertical, self)
        # The heights have the longest legend.
        for pair, shares in (((height, wind_up), (11, 9)), ((current, self.check), (1, 1))):
            row = QSplitter(Qt.Orientation.Horizontal, rows)
            row.setChildrenCollapsible(False)
            for widget in pair:
                row.addWidget(widget)
            row.setSizes([share * _WIDTH for share in shares])
            self._rows.append(row)
        rows.setChildrenCollapsible(False)
        rows.setSizes([_WIDTH, _WIDTH])
        return scrolled(rows)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        """Charts beside each other where they have room, else all below each other, to be scrolled."""
        roomy = self.width() >= _ROOMY
        wanted = Qt.Orientation.Horizontal if roomy else Qt.Orientation.Vertical
        for row in self._rows:
            if row.orientation() != wanted:
                row.setOrientation(wanted)
                row.setSizes([_WIDTH, _WIDTH])

    # -- showing -------------------------------------------------------------------------------------

    def charts(self) -> list[Chart]:
        """Charts on show."""
        if self.run is None:
            return []
        found = [view.chart for view in self.views] + [self.check.chart]
        return [chart for chart in found if chart is not None]

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Take the candidate of these results; the baseline has no part in an event."""
        same = self._candidate is not None and candidate.vehicle == self._candidate.vehicle
        renamed, self._name = self._name != names[0], names[0]
        self._candidate = candidate
        fitted = not why_not_fitted(candidate.vehicle)
        self.check.set_subject(candidate.vehicle if fitted else None, candidate.run)
        if not same:
            self._run_again()
        elif renamed:
            self._draw()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        for part in self._parts():
            part.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        for part in self._parts():
            part.set_theme(theme)
        self.empty.setStyleSheet(f"color: {theme.faint};")
        self.message.setStyleSheet(f"color: {theme.mark};")

    def _parts(self) -> tuple[PartForm | FigureTable | FalseCheck | TitledChart, ...]:
        return (self.form, self.figures, self.check, *self.views)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._stale:
            self._run_again()

    def load(self) -> LoadCase | None:
        """Load case that is chosen."""
        cases = self._document.project.load_cases
        return next((case for case in cases if case.name == self.load_box.currentText()), None)

    def _fill_loads(self) -> None:
        """Follow the load cases of the project; a choice stays while its case is there."""
        project = self._document.project
        names, before = [case.name for case in project.load_cases], self.load()
        shown = [self.load_box.itemText(index) for index in range(self.load_box.count())]
        if names != shown:
            chosen = self.load_box.currentText()
            with QSignalBlocker(self.load_box):
                self.load_box.clear()
                self.load_box.addItems(names)
                wanted = chosen if chosen in names else project.load_case
                self.load_box.setCurrentIndex(names.index(wanted) if wanted in names else len(names) - 1)
        self.load_box.setEnabled(bool(names))
        if self.load() != before or self.run is None or self.run.load != self.load():
            self._run_again()

    # -- running -------------------------------------------------------------------------------------

    def _run_again(self) -> None:
        """Run the event, or remember to do so once the page is in sight."""
        if self._candidate is None or not self.isVisible():
            self._stale = True
            return
        self._stale = False
        vehicle, load, event = self._candidate.vehicle, self.load(), self.holder.part
        lacking = why_not_fitted(vehicle)
        if lacking or load is None:
            self._runner.cancel(_LANE)
            self._say_empty(lacking)
            return
        self._stack.setCurrentIndex(1)

        def work(job: Job) -> LevellingRun:
            return level(vehicle, load, event, job.report)

        title = "Running the levelling" if event.duration > _QUIET else ""
        self._runner.start(_LANE, title, work, self._ran, self._failed)

    def _say_empty(self, lacking: str) -> None:
        self.run = None
        title, advice = (
            (f"“{self._name}” has no levelling", f"{lacking}\n\n{_ADVICE}")
            if lacking
            else (
                "No load case to put in",
                "Add a load case to the project, such as four people and luggage.",
            )
        )
        self.empty.setText(f"{title}\n\n{advice}")
        self._stack.setCurrentIndex(0)
        self.shown.emit()

    def _ran(self, run: LevellingRun) -> None:
        self.run = run
        self.message.hide()
        self._draw()
        self.shown.emit()

    def _failed(self, error: Exception) -> None:
        self.message.setText(f"This event cannot be run; what is shown is the last one. {error}")
        self.message.show()
        self.shown.emit()

    def _draw(self) -> None:
        if self.run is None:
            return
        for view, chart in zip(self.views, levelling_charts(self.run, self._name), strict=True):
            view.set_chart(chart)
        self.figures.show_figures(levelling_figures(self.run))
