"""Four plots beside each other, which the user fills with charts of choice."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from models.analysis import Analysis
from models.charts import CHART_CHOICES, Chart
from models.units import UnitChoice
from workbench.cursor import TimeCursor
from workbench.plots import PlotPanel
from workbench.settings import Settings
from workbench.theme import Theme

__all__ = ["DEFAULT_CHARTS", "PlotGrid"]

#: Pitch and heave, in time and as spectra: how level, and how soft.
DEFAULT_CHARTS = ["time-pitch", "time-heave-acceleration", "psd-pitch", "psd-heave-acceleration"]


class PlotGrid(QWidget):
    """Two rows of two plot panels.

    Signals:
        export_wanted(object): the chart whose export the user asks for.
    """

    export_wanted = Signal(object)

    def __init__(self, cursor: TimeCursor, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._settings = settings
        chosen = [name for name in settings.choices("charts", DEFAULT_CHARTS) if name in CHART_CHOICES]
        if len(chosen) != len(DEFAULT_CHARTS):
            chosen = DEFAULT_CHARTS
        self.panels = [PlotPanel(name, self) for name in chosen]
        rows = QSplitter(Qt.Orientation.Vertical, self)
        for pair in (self.panels[:2], self.panels[2:]):
            row = QSplitter(Qt.Orientation.Horizontal, rows)
            for panel in pair:
                row.addWidget(panel)
                panel.set_cursor(cursor)
                panel.choice_changed.connect(self._keep_choices)
                panel.export_requested.connect(self.export_wanted)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(rows)

    def charts(self) -> list[Chart]:
        """Charts on show."""
        return [panel.chart for panel in self.panels if panel.chart is not None]

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Draw the results of candidate and baseline, which have these names."""
        for panel in self.panels:
            panel.show_analyses(candidate, baseline, names)

    def show_chart(self, key: str) -> None:
        """Show a chart: where it stands already, else in the first panel."""
        if key not in (panel.choice for panel in self.panels):
            self.panels[0].set_choice(key)
            self._keep_choices(key)

    def fit(self) -> None:
        """Set all axes to their curves."""
        for panel in self.panels:
            panel.fit()

    def set_units(self, units: UnitChoice) -> None:
        """Show the axes in other units."""
        for panel in self.panels:
            panel.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        for panel in self.panels:
            panel.set_theme(theme)

    def _keep_choices(self, _choice: str) -> None:
        self._settings.keep_choices("charts", [panel.choice for panel in self.panels])
