"""What the part at a place gives and bears, and the button that gives the car its rate."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from models.charts import Chart
from models.charts.stabiliser import bar_stress_chart
from models.hardware import StabiliserBar, stabiliser_beam
from models.judge.part_report import PartReport, differing, is_exceeded
from models.part_loads import roll_travel
from models.units import METRIC, UnitChoice
from models.vehicle import Vehicle
from workbench.figure_table import FigureTable
from workbench.pages.steel.state_table import StatesView
from workbench.pages.steel.words import HINT, apply_text
from workbench.plots import TitledChart
from workbench.scrolled import scrolled
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["StressPanel"]

_GROUPS = ("Clocking", "Motor")
_CHART_HEIGHT = 210
_UNLOADED = "The car has no rate here, so that the part carries nothing: apply it to see its stress."


class StressPanel(QWidget):
    """Figures, figures by state and, of a stabiliser bar, the stress along it.

    Signals:
        apply_wanted(): the car is to have what the part gives.
        export_wanted(object): the chart that the user wants as a file.
    """

    apply_wanted = Signal()
    export_wanted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._report: PartReport | None = None
        self._vehicle: Vehicle | None = None
        self._trouble = ""
        self._units: UnitChoice = METRIC
        self._theme = LIGHT
        self.apply_button = QPushButton("Apply to the car", self)
        self.apply_button.setToolTip("Give the candidate what this part gives; one step to undo")
        self.apply_button.clicked.connect(self.apply_wanted)
        self.sentence = QLabel(self)
        self.unloaded = QLabel(_UNLOADED, self)
        self.figures = FigureTable(self, "Figures of the part", is_exceeded)
        self.states = StatesView(self)
        self.view = TitledChart(
            "Stress along the bar, one wheel at its bump stop, the other at rebound", self
        )
        self.view.export_wanted.connect(self.export_wanted)
        self.groups = {title: FigureTable(self, title, is_exceeded) for title in _GROUPS}
        self._titles = {title: QLabel(title, self) for title in _GROUPS}
        self._build()

    def _build(self) -> None:
        for label in (self.sentence, self.unloaded):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        self.sentence.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.sentence.setAccessibleName("What applying changes")
        self.view.setMinimumHeight(_CHART_HEIGHT)
        for label in self._titles.values():
            label.setFont(small_font(self.font()))
            label.setContentsMargins(4, 8, 0, 1)
        row = QHBoxLayout()
        row.setContentsMargins(6, 4, 6, 6)
        row.setSpacing(10)
        row.addWidget(self.sentence, 1)
        row.addWidget(self.apply_button, 0, Qt.AlignmentFlag.AlignTop)
        content = QWidget(self)
        column = QVBoxLayout(content)
        column.setContentsMargins(4, 0, 4, 4)
        column.setSpacing(6)
        for widget in (self.unloaded, self.states, self.figures, self.view):
            column.addWidget(widget)
        for title in _GROUPS:
            column.addWidget(self._titles[title])
            column.addWidget(self.groups[title])
        column.addStretch(1)
        self._area = scrolled(content)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addLayout(row)
        whole.addWidget(self._area, 1)
        whole.addStretch(0)
        self.show_report(None, None)

    @property
    def chart(self) -> Chart | None:
        """Chart on show."""
        return self.view.chart if self._is_stabiliser() else None

    def show_report(self, report: PartReport | None, vehicle: Vehicle | None) -> None:
        """Show a place of a car; None where nothing is known yet."""
        self._report, self._vehicle, self._trouble = report, vehicle, ""
        described = report is not None and report.part is not None
        self._area.setVisible(described)
        if report is not None and described:
            self.figures.show_figures(report.figures)
            self.states.show_table(report.states)
            self.states.setVisible(bool(report.states.rows))
            self.unloaded.setVisible(not report.loads and not self._is_stabiliser())
            groups = dict(report.groups)
            for title in _GROUPS:
                self.groups[title].show_figures(groups.get(title, ()))
                for widget in (self.groups[title], self._titles[title]):
                    widget.setVisible(title in groups)
            self._draw()
        self._show_sentence()

    def wait(self) -> None:
        """What is shown is no longer of the car: nothing can be applied until it is."""
        self.apply_button.setEnabled(False)

    def show_trouble(self, text: str) -> None:
        """Say why there are no figures."""
        self.show_report(None, None)
        self._trouble = text
        self._show_sentence()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = units
        for part in self._parts():
            part.set_units(units)
        self._show_sentence()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        for part in self._parts():
            part.set_theme(theme)
        for label in (self.unloaded, *self._titles.values()):
            label.setStyleSheet(f"color: {theme.faint};")
        self._show_sentence()

    def _parts(self) -> tuple[FigureTable | StatesView | TitledChart, ...]:
        return (self.figures, self.states, self.view, *self.groups.values())

    def _is_stabiliser(self) -> bool:
        return self._report is not None and isinstance(self._report.part, StabiliserBar)

    def _draw(self) -> None:
        shown = self._is_stabiliser()
        self.view.setVisible(shown)
        if shown and self._report is not None and self._vehicle is not None:
            part = self._report.part
            assert isinstance(part, StabiliserBar)
            travel = roll_travel(self._vehicle, self._report.place)
            self.view.set_chart(bar_stress_chart(stabiliser_beam(part), travel, names=("whole", "")))

    def _show_sentence(self) -> None:
        report, vehicle = self._report, self._vehicle
        colour, enabled = self._theme.faint, False
        if self._trouble:
            text, colour = self._trouble, self._theme.mark
        elif report is None or vehicle is None:
            text = ""
        elif report.part is None:
            text = f"{report.name} are not described. {HINT}" if report.name.endswith("s") else ""
            text = text or f"{report.name} is not described. {HINT}"
        else:
            wanted = differing(report, vehicle)
            enabled, text = bool(wanted), apply_text(wanted, self._units)
            colour = self._theme.ink if wanted else self._theme.good
            text = text or "The car has what this part gives."
        self.sentence.setText(text)
        self.sentence.setStyleSheet(f"color: {colour};")
        self.apply_button.setEnabled(enabled)
        self.apply_button.setVisible(report is not None and report.part is not None)
