"""Travel and clearance: the checks, the charts, and the limits as a form."""

from __future__ import annotations

from math import isnan

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from models.analysis import Analysis
from models.charts import Chart
from models.charts.packaging import clearance_chart, envelope_chart
from models.errors import InputError
from models.fields import Path
from models.hardware import Hardware
from models.judge.packaging import PackagingReport, packaging
from models.judge.packaging_text import reasons, verdict
from models.units import UnitChoice
from models.vehicle import AS_DESIGNED, LoadCase, Packaging
from workbench.document import Document
from workbench.editor import PartForm
from workbench.pages.packaging.arranged import Arranged
from workbench.pages.packaging.check_table import CheckTable
from workbench.plots import TitledChart
from workbench.runner import Runner
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["TravelView"]

_LANE = "packaging"
_NO_CASES = (
    "The project has no load cases, so only the car as designed and the run are checked. Add some on the "
    "page “Load cases”: full seats and boot are what takes travel and clearance."
)
_NOTE = (
    "Heights and travels count from design trim. Link angles are those of chains of rockers and links, and "
    "of the end links of stabiliser bars that are described in steel."
)

_TITLES = ("Wheel travel between the stops", "Ground clearance along the car")

# Width of a chart that names its load cases, px.
_CHART_WIDTH = 480

_Subject = tuple[Analysis, Hardware]


class TravelView(QWidget):
    """Checks of the candidate, with the baseline's values beside them.

    They are made in the worker thread while the view is in sight.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
        room_wanted(bool): the user wants travel and clearance shown on the stage, or no longer.
        export_wanted(object): the chart whose export the user asks for.
        shown: checks are on the screen, or the reason why there are none.
    """

    units_changed = Signal(str, str)
    room_wanted = Signal(bool)
    export_wanted = Signal(object)
    shown = Signal()

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._runner = document, runner
        self._results: tuple[Analysis, Analysis | None, tuple[str, str]] | None = None
        self._asked: tuple[object, ...] = ()
        self._theme = LIGHT
        self.report: PackagingReport | None = None
        self.verdict, self.reasons, self.hint = QLabel(self), QLabel(self), QLabel(self)
        self.on_stage = QCheckBox("Show on the stage", self)
        self.table = CheckTable(self)
        self.views = tuple(TitledChart(title, self) for title in _TITLES)
        self.form = PartForm(Packaging, document, self._path, "Limits")
        self._build()
        self.on_stage.toggled.connect(self.room_wanted)
        self.form.units_changed.connect(self.units_changed)
        for view in self.views:
            view.export_wanted.connect(self.export_wanted)
        document.changed.connect(self._follow)
        document.opened.connect(self._follow)
        self.set_theme(LIGHT)

    # -- building ------------------------------------------------------------------------------------

    def _build(self) -> None:
        for label in (self.verdict, self.reasons, self.hint):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        self.verdict.setAccessibleName("Outcome of the checks")
        self.reasons.setContentsMargins(10, 0, 6, 2)
        self.hint.setContentsMargins(10, 4, 6, 6)
        self.hint.setFont(small_font(self.font()))
        self.on_stage.setToolTip(
            "Mark the travel left to the stops, the ground clearance of the points, and the angles of levers "
            "and links on the stage"
        )
        head = QWidget(self)
        row = QHBoxLayout(head)
        row.setContentsMargins(10, 4, 8, 4)
        row.addWidget(self.verdict, 1)
        row.addWidget(self.on_stage)
        controls = QWidget(self)
        column = QVBoxLayout(controls)
        column.setContentsMargins(0, 0, 8, 0)
        column.addWidget(self.form)
        column.addWidget(self.hint)
        column.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(
            Arranged(head, controls, (self.reasons, self.table), (self.views,), _CHART_WIDTH, self)
        )

    # -- showing -------------------------------------------------------------------------------------

    def charts(self) -> list[Chart]:
        """Charts on show."""
        return [view.chart for view in self.views if view.chart is not None]

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Check the cars of these results; names of candidate and baseline."""
        self._results = (candidate, baseline, names)
        self._follow()

    def show_room(self, on: bool) -> None:
        """Tell whether the stage shows travel and clearance."""
        with QSignalBlocker(self.on_stage):
            self.on_stage.setChecked(on)

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        for part in self._parts():
            part.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        for part in self._parts():
            part.set_theme(theme)
        self.reasons.setStyleSheet(f"color: {theme.mark};")
        self.hint.setStyleSheet(f"color: {theme.faint};")
        self._colour_verdict()

    def _parts(self) -> tuple[PartForm | CheckTable | TitledChart, ...]:
        return (self.form, self.table, *self.views)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._follow()

    def _path(self) -> Path:
        return (*self._document.candidate_path(), "packaging")

    def _follow(self) -> None:
        """Check anew what another car, other hardware or other load cases have made stale."""
        project = self._document.project
        self.form.set_reference(project.variant(project.baseline).vehicle.packaging)
        self.hint.setText(_NOTE if project.load_cases else f"{_NO_CASES}\n\n{_NOTE}")
        if self._results is None or not self.isVisible():
            return
        candidate, baseline, names = self._results
        cars = [(candidate, project.variant(project.candidate).hardware)]
        if baseline is not None:
            cars.append((baseline, project.variant(project.baseline).hardware))
        cases = (AS_DESIGNED, *project.load_cases)
        asked = (*cars, cases, names)
        if asked == self._asked:
            return
        self._asked = asked
        self._runner.start(_LANE, "", lambda _job: _checked(cars, cases), self._show, self._failed)

    def _show(self, reports: list[PackagingReport]) -> None:
        assert self._results is not None
        names, self.report = self._results[2], reports[0]
        other = reports[1] if len(reports) > 1 else None
        self.table.show_checks(self.report.checks, other.checks if other else ())
        envelope, clearance = self.views
        behind = (other.envelope, names[1]) if other else None
        envelope.set_chart(envelope_chart(self.report.envelope, names[0], behind))
        clearance.set_chart(clearance_chart(self.report, names[0], (other, names[1]) if other else None))
        self._say(verdict(self.report.checks), reasons(self.report))
        self.shown.emit()

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, InputError):
            raise error
        self._asked = ()
        self._say("Not checked; what is shown is from before the last edit.", str(error))
        self.shown.emit()

    def _say(self, verdict: str, reasons: str) -> None:
        self.verdict.setText(verdict)
        self.reasons.setText(reasons)
        self.reasons.setVisible(bool(reasons))
        self._colour_verdict()

    def _colour_verdict(self) -> None:
        met = [row.met for row in self.table.rows if not isnan(row.limit)]
        colour = self._theme.good if met and all(met) else self._theme.mark
        self.verdict.setStyleSheet(f"color: {colour};")


def _checked(cars: list[_Subject], cases: tuple[LoadCase, ...]) -> list[PackagingReport]:
    return [packaging(analysis, cases, hardware) for analysis, hardware in cars]
