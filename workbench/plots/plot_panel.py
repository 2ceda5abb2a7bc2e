"""A chart with its choice on top."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QMenu, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from models.analysis import Analysis
from models.charts import CHART_CHOICES, Chart, build
from models.units import UnitChoice
from workbench.cursor import TimeCursor
from workbench.plots.chart_view import ChartView
from workbench.theme import Theme

__all__ = ["ExportRequest", "PlotPanel"]


@dataclass(frozen=True, slots=True)
class ExportRequest:
    """What the user wants to have as a file."""

    what: Literal["figure", "data"]
    chart: Chart
    units: UnitChoice


class PlotPanel(QWidget):
    """One chart of the user's choice, with its menu.

    Signals:
        choice_changed(str): key of the chart chosen by the user.
        export_requested(object): an :class:`ExportRequest`.
    """

    choice_changed = Signal(str)
    export_requested = Signal(object)

    def __init__(self, choice: str = "time-pitch", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._results: tuple[Analysis, Analysis | None] | None = None
        self._names = ("Candidate", "Baseline")
        self.view = ChartView(self)
        self._combo = self._new_combo()
        self._build()
        self.set_choice(choice)
        self._combo.activated.connect(self._chosen)

    def _new_combo(self) -> QComboBox:
        combo = QComboBox(self)
        combo.setAccessibleName("Chart")
        combo.setToolTip("What this chart shows")
        combo.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        combo.setMaximumWidth(320)
        combo.setMaxVisibleItems(len(CHART_CHOICES) + 2)
        domain = next(iter(CHART_CHOICES.values())).domain
        for key, choice in CHART_CHOICES.items():
            if choice.domain != domain:
                combo.insertSeparator(combo.count())
                domain = choice.domain
            combo.addItem(choice.title, key)
        return combo

    def _build(self) -> None:
        menu = QMenu(self)
        menu.addAction("Export figure…", lambda: self._request("figure"))
        menu.addAction("Export data (CSV)…", lambda: self._request("data"))
        menu.addAction("Copy image", self._copy)
        menu.addSeparator()
        menu.addAction("Fit axes", self.view.fit)
        button = QToolButton(self)
        button.setText("⋯")
        button.setToolTip("Export, copy, fit")
        button.setAccessibleName("Chart menu")
        button.setMenu(menu)
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        button.setAutoRaise(True)
        button.setStyleSheet("QToolButton::menu-indicator { image: none; }")
        row = QHBoxLayout()
        row.setContentsMargins(4, 3, 4, 1)
        row.addWidget(self._combo, 1)
        row.addStretch(0)
        row.addWidget(button, 0, Qt.AlignmentFlag.AlignRight)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(self.view, 1)

    @property
    def choice(self) -> str:
        """Key of the chart now chosen."""
        return str(self._combo.currentData())

    def set_choice(self, key: str) -> None:
        """Choose a chart; an unknown key leaves the choice as it is."""
        number = self._combo.findData(key)
        if number >= 0:
            self._combo.setCurrentIndex(number)
            self._show()

    def show_analyses(
        self,
        candidate: Analysis,
        baseline: Analysis | None = None,
        names: tuple[str, str] = ("Candidate", "Baseline"),
    ) -> None:
        """Draw the chosen chart of these results; ``names`` are those of the two variants."""
        self._results, self._names = (candidate, baseline), names
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Draw in the colours of a theme."""
        self.view.set_theme(theme)

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self.view.set_units(units)

    def set_cursor(self, cursor: TimeCursor) -> None:
        """Follow a time cursor."""
        self.view.set_cursor(cursor)

    def _chosen(self) -> None:
        self._show()
        self.choice_changed.emit(self.choice)

    def _show(self) -> None:
        if self._results is not None:
            self.view.set_chart(build(self.choice, *self._results, self._names))

    def _request(self, what: Literal["figure", "data"]) -> None:
        if self.view.chart is not None:
            self.export_requested.emit(ExportRequest(what, self.view.chart, self.view.units))

    def _copy(self) -> None:
        QGuiApplication.clipboard().setPixmap(self.view.grab())
