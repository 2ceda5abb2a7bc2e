"""The check that a levelling leaves rough roads alone: a button, the result in words, and a chart."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from models.charts import Chart
from models.charts.levelling import actuations_chart
from models.ride.false_actuations import CLASSES, FalseActuations, false_actuations
from models.run import Run
from models.units import METRIC, UnitChoice, format_value
from models.vehicle import Vehicle
from workbench.plots import TitledChart
from workbench.runner import Job, Runner
from workbench.theme import LIGHT, Theme

__all__ = ["FalseCheck"]

_LANE = "levelling check"
_MINUTES = 10.0


class FalseCheck(QWidget):
    """Counts false actuations when asked; a result of another car or another run is taken off the screen.

    Signals:
        export_wanted(object): the chart that the user wants as a file.
    """

    export_wanted = Signal(object)

    def __init__(self, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._runner = runner
        self._subject: tuple[Vehicle, Run] | None = None
        self._found: FalseActuations | None = None
        self._job: Job | None = None
        self._units: UnitChoice = METRIC
        self._theme = LIGHT
        self.view = TitledChart("False actuations over the delay", self)
        self.view.export_wanted.connect(self.export_wanted)
        self.button = QPushButton(self)
        self.button.clicked.connect(self._clicked)
        self.words = QLabel(self)
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setAccessibleName("False actuations")
        self._hint = QLabel("Actuations per minute over the delay are shown here after a count.", self)
        self._hint.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._hint.setWordWrap(True)
        self._hint.setAutoFillBackground(True)
        self._stack = QStackedWidget(self)
        for widget in (self._hint, self.view):
            self._stack.addWidget(widget)
        self._lay_out()
        runner.busy_changed.connect(self._look_at_job)
        self._show()

    def _lay_out(self) -> None:
        # Below each other, so that the page fits a narrow window.
        rows = QVBoxLayout()
        rows.setContentsMargins(6, 4, 6, 4)
        rows.setSpacing(4)
        rows.addWidget(self.words)
        rows.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(rows)
        column.addWidget(self._stack, 1)

    @property
    def found(self) -> FalseActuations | None:
        """Result on show."""
        return self._found

    @property
    def chart(self) -> Chart | None:
        """Chart on show."""
        return self.view.chart if self._found is not None else None

    def set_subject(self, vehicle: Vehicle | None, run: Run | None) -> None:
        """Take the car and the run that a count is of; None for a car without levelling."""
        subject = None if vehicle is None or run is None else (vehicle, run)
        if subject == self._subject:
            return
        self._subject, self._found = subject, None
        self._stop()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = units
        self.view.set_units(units)
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self.view.set_theme(theme)
        self._hint.setStyleSheet(f"background: {theme.paper}; color: {theme.faint};")
        self._show()

    def count(self) -> None:
        """Count false actuations of the car in the worker thread."""
        if self._subject is None:
            return
        vehicle, run = self._subject
        self._job = self._runner.start(
            _LANE,
            "Counting false actuations",
            lambda job: false_actuations(vehicle, run, minutes=_MINUTES, report=job.report),
            self._counted,
            self._failed,
        )
        self._show()

    def _clicked(self) -> None:
        if self._job is None:
            self.count()
        else:
            self._stop()

    def _stop(self) -> None:
        if self._job is not None:
            self._runner.cancel(_LANE)
            self._job = None
        self._show()

    def _look_at_job(self, _title: str) -> None:
        """The count may have been cancelled from elsewhere."""
        if self._job is not None and self._job.cancelled:
            self._job = None
            self._show()

    def _counted(self, found: FalseActuations) -> None:
        self._job, self._found = None, found
        self.view.set_chart(actuations_chart(found))
        self._show()

    def _failed(self, error: Exception) -> None:
        self._job = None
        self._show(f"Not counted. {error}")

    def _show(self, trouble: str = "") -> None:
        found = self._found
        self.button.setText("Count false actuations" if self._job is None else "Cancel")
        self.button.setEnabled(self._subject is not None)
        self._stack.setCurrentWidget(self._hint if found is None else self.view)
        colour = self._theme.ink
        if trouble:
            text, colour = trouble, self._theme.mark
        elif found is not None:
            unit = self._units["speed"]
            text = f"{found.in_words} Driven at {format_value(found.speed, unit, 'm/s')} {unit}."
            colour = self._theme.mark if found.set_counts.any() else self._theme.good
        elif self._job is not None:
            text = "Counting …"
        else:
            text = f"False actuations on classes {', '.join(CLASSES)}: not counted for this car."
            colour = self._theme.faint
        self.words.setText(text)
        self.words.setStyleSheet(f"color: {colour};")
