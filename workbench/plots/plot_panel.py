"""A chart with its choice on top."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from models.analysis import Analysis
from models.charts import CHART_CHOICES, Chart, build
from models.units import UnitChoice
from workbench.cursor import TimeCursor
from workbench.help.context import HINT
from workbench.plots.chart_menu import chart_menu
from workbench.plots.chart_view import ChartView
from workbench.theme import Theme

__all__ = ["PlotPanel"]

_MOST_IN_SIGHT = 40


class PlotPanel(QWidget):
    """One chart of the user's choice, with its menu.

    Signals:
        choice_changed(str): key of the chart chosen by the user.
        export_requested(object): the :class:`Chart` that the user wants as a file.
    """

    choice_changed = Signal(str)
    export_requested = Signal(object)

    def __init__(self, choice: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._results: tuple[Analysis, Analysis | None] | None = None
        self._names = ("Candidate", "Baseline")
        self._others: tuple[tuple[str, Analysis], ...] = ()
        self.view = ChartView(self)
        self._combo = self._new_combo()
        self._build()
        self.set_choice(choice)
        self._combo.activated.connect(self._chosen)

    def _new_combo(self) -> QComboBox:
        combo = QComboBox(self)
        combo.setAccessibleName("Chart")
        combo.setToolTip(f"What this chart shows\n{HINT}")
        combo.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        combo.setMaximumWidth(320)
        combo.setMaxVisibleItems(_MOST_IN_SIGHT)
        domain = next(iter(CHART_CHOICES.values())).domain
        for key, choice in CHART_CHOICES.items():
            if choice.domain != domain:
                combo.insertSeparator(combo.count())
                domain = choice.domain
            combo.addItem(choice.title, key)
        return combo

    def _build(self) -> None:
        row = QHBoxLayout()
        row.setContentsMargins(4, 3, 4, 1)
        row.addWidget(self._combo, 1)
        row.addStretch(0)
        menu = chart_menu(self.view, self.export_requested.emit, self)
        row.addWidget(menu, 0, Qt.AlignmentFlag.AlignRight)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(self.view, 1)

    @property
    def choice(self) -> str:
        """Key of the chart now chosen."""
        return str(self._combo.currentData())

    @property
    def chart(self) -> Chart | None:
        """The chart now shown."""
        return self.view.chart

    def help_place(self, at: QPoint | None) -> str:
        """Place of the chart in the handbook."""
        return self.view.help_place(at)

    def fit(self) -> None:
        """Set the axes to the curves."""
        self.view.fit()

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
        others: tuple[tuple[str, Analysis], ...] = (),
    ) -> None:
        """Draw the chosen chart of these results; ``names`` of the two variants, and others behind them."""
        self._results, self._names, self._others = (candidate, baseline), names, others
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
            self.view.set_chart(build(self.choice, *self._results, self._names, self._others))
