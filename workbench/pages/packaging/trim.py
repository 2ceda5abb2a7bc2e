"""Trim tolerances: what parts that are off as built do to the height at which the car stands."""

from __future__ import annotations

from dataclasses import dataclass
from time import perf_counter

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSpinBox, QStackedWidget, QVBoxLayout, QWidget

from models.charts import Chart
from models.charts.trim_tolerance import (
    stack_effects_chart,
    stack_heights_chart,
    stack_pitch_chart,
    stack_shares_chart,
)
from models.errors import InputError
from models.fields import Path
from models.hardware.trim_tolerances import TrimTolerances
from models.judge.packaging_text import number, yield_words
from models.judge.trim_rows import StackRow, left_out, method, stack_rows
from models.judge.trim_tolerance import TrimStack, bar_diameters, trim_stack
from models.units import METRIC, UnitChoice
from workbench.document import Document
from workbench.editor import PartForm
from workbench.pages.packaging.arranged import Arranged
from workbench.pages.packaging.load_box import LoadBox
from workbench.pages.packaging.stack_table import StackTable
from workbench.plots import TitledChart
from workbench.runner import Job, Runner
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["TrimView"]

_LANE = "trim tolerances"
# So many draws are over before a progress bar could be read.
_QUIET = 10_000
_FEWEST, _USUAL, _MOST = 100, 1000, 100_000
_CHARTS = (stack_effects_chart, stack_shares_chart, stack_heights_chart, stack_pitch_chart)
# Width of a histogram, px.
_CHART_WIDTH = 320
_TITLES = (
    "What tolerances do to the height",
    "Which tolerance moves the trim",
    "Height error of the drawn cars",
    "Pitch error of the drawn cars",
)


@dataclass(frozen=True, slots=True, eq=False)
class _Drawn:
    """What is shown of a stack; of many cars it takes longer than a frame to tell."""

    stack: TrimStack
    name: str
    seconds: float
    rows: tuple[StackRow, ...]
    charts: tuple[Chart, ...]


def _drawn(stack: TrimStack, name: str, seconds: float) -> _Drawn:
    if stack.reason:
        return _Drawn(stack, name, seconds, (), ())
    return _Drawn(stack, name, seconds, stack_rows(stack), tuple(chart(stack, name) for chart in _CHARTS))


class TrimView(QWidget):
    """Tolerance stack of the candidate in a load case.

    It is drawn in the worker thread while the view is in sight.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
        export_wanted(object): the chart whose export the user asks for.
        shown: a stack is on the screen, or the reason why there is none.
    """

    units_changed = Signal(str, str)
    export_wanted = Signal(object)
    shown = Signal()

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._runner = document, runner
        self._asked: tuple[object, ...] = ()
        self._job: Job | None = None
        self._seconds = 0.0
        self._units: UnitChoice = METRIC
        self._name = ""
        self.stack: TrimStack | None = None
        self.load_box = LoadBox(self)
        self.draws, self.seed = QSpinBox(self), QSpinBox(self)
        self.form = PartForm(TrimTolerances, document, self._path, "Tolerances")
        self.words, self.method, self.message, self.empty = (QLabel(self) for _ in range(4))
        self.table = StackTable(self)
        self.views = tuple(TitledChart(title, self) for title in _TITLES)
        self._stack = QStackedWidget(self)
        self._build()
        self.form.units_changed.connect(self.units_changed)
        for view in self.views:
            view.export_wanted.connect(self.export_wanted)
        self.load_box.activated.connect(lambda _index: self._follow())
        self.draws.valueChanged.connect(lambda _value: self._follow())
        self.seed.valueChanged.connect(lambda _value: self._follow())
        runner.busy_changed.connect(self._look_at_job)
        document.changed.connect(self._follow)
        document.opened.connect(self._follow)
        self._follow()
        self.set_theme(LIGHT)

    # -- building ------------------------------------------------------------------------------------

    def _build(self) -> None:
        for label in (self.words, self.method, self.message, self.empty):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            label.setContentsMargins(10, 2, 6, 4)
        self.words.setAccessibleName("Yield")
        self.message.hide()
        self.method.setFont(small_font(self.font()))
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setMargin(40)
        controls = QWidget(self)
        column = QVBoxLayout(controls)
        column.setContentsMargins(0, 0, 8, 0)
        column.addWidget(self.form)
        column.addWidget(self.method)
        column.addStretch(1)
        effects, shares, heights, pitch = self.views
        charts = ((effects,), (shares,), (heights, pitch))  # names of tolerances need width
        results = (self.message, self.words, self.table)
        for widget in (self.empty, Arranged(QWidget(self), controls, results, charts, _CHART_WIDTH, self)):
            self._stack.addWidget(widget)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self._head())
        layout.addWidget(self._stack, 1)

    def _head(self) -> QWidget:
        head = QWidget(self)
        row = QHBoxLayout(head)
        row.setContentsMargins(10, 4, 8, 4)
        row.setSpacing(6)
        for text, box in (("Load &case", self.load_box), ("Dra&ws", self.draws), ("See&d", self.seed)):
            label = QLabel(text, self)
            label.setBuddy(box)
            row.addWidget(label)
            row.addWidget(box)
        row.addStretch(1)
        self.draws.setRange(_FEWEST, _MOST)
        self.draws.setValue(_USUAL)
        self.draws.setSingleStep(_USUAL)
        self.draws.setGroupSeparatorShown(True)
        self.seed.setRange(0, 99_999)
        self.seed.setValue(1)
        self.seed.setToolTip("The same seed draws the same cars")
        for box, name in ((self.draws, "Draws"), (self.seed, "Seed")):
            box.setAccessibleName(name)
            box.setKeyboardTracking(False)
        self._tell_cost()
        return head

    # -- showing -------------------------------------------------------------------------------------

    def charts(self) -> list[Chart]:
        """Charts on show."""
        if self.stack is None or self.stack.reason:
            return []
        return [view.chart for view in self.views if view.chart is not None]

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = dict(units)
        for part in self._parts():
            part.set_units(units)
        self._say()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        for part in self._parts():
            part.set_theme(theme)
        self.message.setStyleSheet(f"color: {theme.mark};")
        for label in (self.method, self.empty):
            label.setStyleSheet(f"color: {theme.faint};")

    def _parts(self) -> tuple[PartForm | StackTable | TitledChart, ...]:
        return (self.form, self.table, *self.views)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._follow()

    def _path(self) -> Path:
        return (*self._document.candidate_path()[:-1], "hardware", "trim_tolerances")

    def _follow(self) -> None:
        """Draw anew what another car, other tolerances or another choice have made stale."""
        project = self._document.project
        self.form.set_reference(project.variant(project.baseline).hardware.trim_tolerances)
        self.load_box.follow(project)
        if not self.isVisible():
            return
        variant, load = project.variant(project.candidate), self.load_box.load
        vehicle, tolerances = variant.vehicle, variant.hardware.trim_tolerances
        diameters, draws, seed = bar_diameters(variant.hardware), self.draws.value(), self.seed.value()
        name = variant.name
        asked = (name, vehicle, tolerances, load, diameters, draws, seed)
        if asked == self._asked:
            return
        self._asked = asked

        def work(job: Job) -> _Drawn:
            start = perf_counter()
            stack = trim_stack(
                vehicle, tolerances, load, diameters=diameters, draws=draws, seed=seed, report=job.report
            )
            return _drawn(stack, name, perf_counter() - start)

        title = "Drawing cars" if draws > _QUIET else ""
        self._job = None  # what a newer draw makes stale is not cancelled by the user
        self._job = self._runner.start(_LANE, title, work, self._show, self._failed)

    def _look_at_job(self, _title: str) -> None:
        """The draw may have been cancelled from elsewhere."""
        if self._job is not None and self._job.cancelled:
            self._job, self._asked = None, ()
            self._tell("Cancelled; what is shown is from before the last edit.")

    def _show(self, drawn: _Drawn) -> None:
        self._job = None
        self.stack, self._name, self._seconds = drawn.stack, drawn.name, drawn.seconds
        self.message.hide()
        self._tell_cost()
        self._say()
        if not self.stack.reason:
            self.table.show_rows(drawn.rows)
            for view, chart in zip(self.views, drawn.charts, strict=True):
                view.set_chart(chart)
        self.shown.emit()

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, InputError):
            raise error
        self._job = None
        self._tell(f"No stack of this car in this load case; what is shown is the last one. {error}")
        self.shown.emit()

    def _tell(self, trouble: str) -> None:
        self.message.setText(trouble)
        self.message.show()

    def _say(self) -> None:
        stack = self.stack
        if stack is None:
            return
        if stack.reason:
            self.empty.setText(
                f"“{self._name}” does not stand\n\nIn the load case “{stack.load}”: {stack.reason}.\n"
                "A height at trim needs a car that stands: give it springs that carry it."
            )
        else:
            cost = f"Drawn in {number(self._seconds, 'time', {'time': 'ms'})} ms."
            self.words.setText(f"{yield_words(stack, self._units)} {cost}")
            self.method.setText(f"{method(stack)}\n\n{left_out()}")
        self._stack.setCurrentIndex(0 if stack.reason else 1)

    def _tell_cost(self) -> None:
        tip = f"Cars that are drawn, {_FEWEST:,} to {_MOST:,}; more of them tell rare errors better"
        if self.stack is not None and len(self.stack.draws):
            whole = number(self._seconds * _MOST / len(self.stack.draws), "time", {"time": "s"})
            tip += f".\nAt the speed of the last draw {_MOST:,} cars take {whole} s"
        self.draws.setToolTip(tip)
