"""One figure against speed: its choice, the chart, and what it is where."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QStandardItemModel
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from models.charts import Axis, Chart
from models.charts.speed_sweep import sweep_chart
from models.judge import Figure
from models.units import METRIC, UnitChoice
from workbench.pages.sweep.words import Swept, sweep_words
from workbench.plots import ChartView
from workbench.plots.chart_menu import chart_menu
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["SweepPanel"]


class SweepPanel(QWidget):
    """Chart of one figure, chosen by the user: of the random road, or of the time runs over the event.

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
        self._of_runs: Mapping[str, Figure] = {}
        self._swept: Swept | None = None
        self._runs: Swept | None = None
        self._note = ""
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
        menu = chart_menu(self.view, self.export_wanted.emit, self)
        row.addWidget(menu, 0, Qt.AlignmentFlag.AlignRight)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(self.view, 1)
        column.addWidget(self.words)
        self.set_theme(LIGHT)

    @property
    def chart(self) -> Chart | None:
        """The chart now shown."""
        return self.view.chart

    @property
    def wants_runs(self) -> bool:
        """Whether the figure on show comes from time runs."""
        return self._shown_key in self._of_runs

    def set_figures(self, figures: Mapping[str, Figure], of_runs: Mapping[str, Figure]) -> None:
        """Offer these figures, by key; a choice that is not among them falls to the first.

        Args:
            figures: of the random road.
            of_runs: of the time run.
        """
        self._figures, self._of_runs = {**figures, **of_runs}, of_runs
        with QSignalBlocker(self.combo):
            self.combo.clear()
            self._offer(figures)
            self._head("From time runs over the event")
            self._offer(of_runs)
            self.combo.setCurrentIndex(max(self.combo.findData(self.choice), 0))
        self._explain()

    def _offer(self, figures: Mapping[str, Figure]) -> None:
        group = next(iter(figures.values())).group
        for key, figure in figures.items():
            if figure.group != group:
                self.combo.insertSeparator(self.combo.count())
                group = figure.group
            self.combo.addItem(figure.label, key)

    def _head(self, text: str) -> None:
        """A line that cannot be chosen."""
        self.combo.insertSeparator(self.combo.count())
        self.combo.addItem(text)
        rows = self.combo.model()
        assert isinstance(rows, QStandardItemModel)
        rows.item(self.combo.count() - 1).setFlags(Qt.ItemFlag.NoItemFlags)

    def choose(self, key: str) -> None:
        """Show a figure, now or as soon as it is offered."""
        self.choice = key
        place = self.combo.findData(key)
        if place >= 0:
            self.combo.setCurrentIndex(place)
            self._explain()
            self._show()
        self.choice_changed.emit(key)

    def show_sweeps(self, swept: Swept) -> None:
        """Draw the figure of these sweeps of the random road."""
        self._swept = swept
        if not self.wants_runs:
            self._show()

    def show_runs(self, swept: Swept | None, note: str) -> None:
        """Draw the figure of these time runs.

        Args:
            swept: over the speeds that have been driven; None before there are enough: then the curves of the
                car as it was before stay, as they would flicker in a drag.
            note: what they are, and how many are still to come.
        """
        self._note = note
        self._runs = swept or self._runs
        if self.wants_runs:
            self._show()
            if swept is None:
                self.words.setText(note)

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
        self.choose(self._shown_key)

    @property
    def _drawn(self) -> Swept | None:
        """What the figure on show is drawn from; None before it is there."""
        swept = self._runs if self.wants_runs else self._swept
        return swept if swept is not None and self._shown_key in swept.candidate.values else None

    def _show(self) -> None:
        swept, figure = self._drawn, self._figures.get(self._shown_key)
        if figure is None:
            return
        if swept is None:
            # Another subject than the curves to come, which then find ranges of their own.
            axes = Axis("Speed", "speed"), Axis(figure.label, figure.kind)
            self.view.set_chart(Chart("speed-nothing", f"{figure.label} · speed", *axes, ()))
        else:
            self.view.set_chart(
                sweep_chart(figure, swept.candidate, swept.baseline, swept.speed, swept.names)
            )
        self._say()

    def _say(self) -> None:
        swept, figure = self._drawn, self._figures.get(self._shown_key)
        words = "" if swept is None or figure is None else sweep_words(figure, swept, self._units)
        self.words.setText(f"{words} {self._note}".strip() if self.wants_runs else words)
