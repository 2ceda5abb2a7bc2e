"""One figure against speed: its choice, the chart, and what it is where."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QMenu,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from models.charts import Chart
from models.charts.speed_sweep import sweep_chart
from models.judge import Figure
from models.units import METRIC, UnitChoice
from workbench.pages.sweep.words import Swept, sweep_words
from workbench.plots import ChartView
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["SweepPanel"]


class SweepPanel(QWidget):
    """Chart of one figure, chosen by the user.

    Signals:
        choice_changed(str): key of the figure chosen by the user.
        export_wanted(object): the chart that the user wants as a file.
    """

    choice_changed = Signal(str)
    export_wanted = Signal(object)

    def __init__(self, choice: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.choice = choice
        self._figures: Mapping[str, Figure] = {}
        self._swept: Swept | None = None
        self._units: UnitChoice = METRIC
        self.combo = QComboBox(self)
        self.combo.setAccessibleName("Figure")
        self.combo.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.combo.setMaximumWidth(320)
        self.combo.setMaxVisibleItems(40)
        self.combo.activated.connect(self._chosen)
        self.view = ChartView(self)
        self.words = QLabel(self)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        self.words.setFont(small_font(self.font()))
        self.words.setContentsMargins(9, 0, 9, 4)
        row = QHBoxLayout()
        row.setContentsMargins(4, 3, 4, 1)
        row.addWidget(self.combo, 1)
        row.addStretch(0)
        row.addWidget(self._menu_button(), 0, Qt.AlignmentFlag.AlignRight)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(self.view, 1)
        column.addWidget(self.words)
        self.set_theme(LIGHT)

    def _menu_button(self) -> QToolButton:
        menu = QMenu(self)
        menu.addAction("Export figure or data…", self._export)
        menu.addAction("Copy image", lambda: QGuiApplication.clipboard().setPixmap(self.view.grab()))
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
        return button

    @property
    def chart(self) -> Chart | None:
        """The chart now shown."""
        return self.view.chart

    def set_figures(self, figures: Mapping[str, Figure]) -> None:
        """Offer these figures, by key; a choice that is not among them falls to the first."""
        self._figures = figures
        with QSignalBlocker(self.combo):
            self.combo.clear()
            group = next(iter(figures.values())).group
            for key, figure in figures.items():
                if figure.group != group:
                    self.combo.insertSeparator(self.combo.count())
                    group = figure.group
                self.combo.addItem(figure.label, key)
            self.combo.setCurrentIndex(max(self.combo.findData(self.choice), 0))
        self._explain()

    def show_sweeps(self, swept: Swept) -> None:
        """Draw the figure of these sweeps."""
        self._swept = swept
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.view.set_theme(theme)
        self.words.setStyleSheet(f"color: {theme.faint}")

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = units
        self._explain()
        self.view.set_units(units)
        self._say()

    @property
    def _shown_key(self) -> str:
        return str(self.combo.currentData())

    def _explain(self) -> None:
        """What each figure means, at its name and at the choice."""
        tips = {key: figure.explained(self._units[figure.kind]) for key, figure in self._figures.items()}
        for key, tip in tips.items():
            self.combo.setItemData(self.combo.findData(key), tip, Qt.ItemDataRole.ToolTipRole)
        self.combo.setToolTip(tips.get(self._shown_key, ""))

    def _chosen(self) -> None:
        self.choice = self._shown_key
        self._explain()
        self._show()
        self.choice_changed.emit(self.choice)

    def _show(self) -> None:
        if self._swept is None or self._shown_key not in self._figures:
            return
        swept = self._swept
        figure = self._figures[self._shown_key]
        self.view.set_chart(sweep_chart(figure, swept.candidate, swept.baseline, swept.speed, swept.names))
        self._say()

    def _say(self) -> None:
        if self._swept is not None and self._shown_key in self._figures:
            self.words.setText(sweep_words(self._figures[self._shown_key], self._swept, self._units))

    def _export(self) -> None:
        if self.chart is not None:
            self.export_wanted.emit(self.chart)
