"""The page "Compare"."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QSizePolicy,
    QSplitter,
    QTabWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from models.analysis import Analysis
from models.charts import CHART_CHOICES, Chart
from models.errors import InputError
from models.fields import replaced
from models.judge import key_figures
from models.judge.difference import Difference, differences, taken_over
from models.project import Project, set_baseline, set_candidate
from models.units import UnitChoice
from workbench.cursor import TimeCursor
from workbench.document import Document
from workbench.pages.compare.others import Others
from workbench.pages.compare.parameters import ParameterTable
from workbench.plots import PlotPanel
from workbench.runner import Runner
from workbench.settings import Settings
from workbench.theme import LIGHT, Theme, small_font
from workbench.window.figures_panel import FiguresPanel

__all__ = ["DEFAULT_CHARTS", "ComparePage"]

#: What the candidate changes: in the event, and over the frequencies.
DEFAULT_CHARTS = ["difference-time-pitch", "ratio-psd-pitch"]

_SAME = "Candidate and baseline are the same variant. Choose another one above to compare it with."
_ALIKE = "No parameter differs between these two variants."

#: Width from which table and charts have room side by side, px.
_ROOMY = 1000


class ComparePage(QWidget):
    """Choice of the two variants, what differs in them, what that changes, and charts of it.

    Nothing is computed for the page while it is hidden.

    Signals:
        refused(str): an edit was refused, and why.
        export_wanted(object): the chart that the user wants as a file.
    """

    refused = Signal(str)
    export_wanted = Signal(object)

    def __init__(
        self,
        document: Document,
        runner: Runner,
        cursor: TimeCursor,
        settings: Settings,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._document, self._settings = document, settings
        self._results: tuple[Analysis, Analysis | None, tuple[str, str]] | None = None
        self._stale = False
        self.others = Others(runner, self)
        self.candidate, self.baseline = QComboBox(self), QComboBox(self)
        self.swap = QToolButton(self)
        self.others_button = QToolButton(self)
        self._others_menu = QMenu(self)
        self.parameters = ParameterTable(self)
        self.message = QLabel(self)
        self.to_candidate, self.to_baseline = QPushButton(self), QPushButton(self)
        self.figures = FiguresPanel(self)
        self.tabs = QTabWidget(self)
        self.tabs.setAccessibleName("Comparison")
        chosen = [key for key in settings.choices("compare charts", DEFAULT_CHARTS) if key in CHART_CHOICES]
        chosen = chosen if len(chosen) == len(DEFAULT_CHARTS) else DEFAULT_CHARTS
        self.panels = tuple(PlotPanel(key, self) for key in chosen)
        self._build(cursor)
        self._connect()
        self.set_theme(LIGHT)

    # -- building ------------------------------------------------------------------------------------

    def _build(self, cursor: TimeCursor) -> None:
        self._charts = QSplitter(Qt.Orientation.Vertical, self)
        for panel in self.panels:
            panel.set_cursor(cursor)
            self._charts.addWidget(panel)
        self.tabs.addTab(self._parameters_tab(), "What differs")
        self.tabs.addTab(self.figures, "Key figures")
        self.tabs.setDocumentMode(True)
        self.tabs.setAccessibleName("Parameters and figures")
        self._split = QSplitter(Qt.Orientation.Horizontal, self)
        self._split.addWidget(self.tabs)
        self._split.addWidget(self._charts)
        self._split.setStretchFactor(0, 1)
        self._split.setStretchFactor(1, 1)
        self._split.setSizes([560, 540])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(self._choice_row())
        column.addWidget(self._split, 1)

    def _choice_row(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setContentsMargins(9, 4, 9, 4)
        row.setSpacing(6)
        for text, combo in (("Candidate", self.candidate), ("Baseline", self.baseline)):
            label = QLabel(text, self)
            label.setBuddy(combo)
            combo.setAccessibleName(text)
            combo.setMaximumWidth(260)
            combo.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
            row.addWidget(label)
            row.addWidget(combo, 1)
            if combo is self.candidate:
                row.addWidget(self.swap)
        self.swap.setText("⇄")
        self.swap.setAccessibleName("Swap candidate and baseline")
        self.swap.setToolTip("Swap candidate and baseline")
        self.swap.setAutoRaise(True)
        self.others_button.setText("Draw also")
        self.others_button.setToolTip("Further variants behind candidate and baseline in the charts")
        self.others_button.setMenu(self._others_menu)
        self.others_button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        row.addStretch(0)
        row.addWidget(self.others_button)
        return row

    def _parameters_tab(self) -> QWidget:
        tab = QWidget(self)
        self.message.setWordWrap(True)
        self.message.setTextFormat(Qt.TextFormat.PlainText)
        self.message.setContentsMargins(9, 12, 9, 4)
        font = small_font(self.font())
        buttons = QHBoxLayout()
        buttons.setContentsMargins(9, 4, 9, 4)
        for button, text, tip in (
            (self.to_candidate, "Copy selected to candidate", "The baseline's values of the selected rows"),
            (self.to_baseline, "Copy selected to baseline", "The candidate's values of the selected rows"),
        ):
            button.setText(text)
            button.setToolTip(tip)
            button.setFont(font)
            buttons.addWidget(button)
        buttons.addStretch(1)
        column = QVBoxLayout(tab)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.message)
        column.addWidget(self.parameters, 1)
        column.addLayout(buttons)
        return tab

    def _connect(self) -> None:
        self.candidate.activated.connect(self._choose_candidate)
        self.baseline.activated.connect(self._choose_baseline)
        self.swap.clicked.connect(self._swap)
        self.parameters.copy_wanted.connect(self._copy)
        self.parameters.selectionModel().selectionChanged.connect(lambda *_: self._show_able())
        self.to_candidate.clicked.connect(lambda: self._copy(self.parameters.selected, True))
        self.to_baseline.clicked.connect(lambda: self._copy(self.parameters.selected, False))
        self.others.ready.connect(self._draw)
        self.others.failed.connect(self.refused)
        self.tabs.currentChanged.connect(lambda _place: self._show_figures())
        for panel in self.panels:
            panel.choice_changed.connect(self._keep_choices)
            panel.export_requested.connect(self.export_wanted)
        for changed in (self._document.changed, self._document.opened):
            changed.connect(self._update)

    # -- what is shown -------------------------------------------------------------------------------

    def charts(self) -> list[Chart]:
        """Charts on show."""
        return [panel.chart for panel in self.panels if panel.chart is not None]

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Draw these results and what they change; ``names`` of candidate and baseline."""
        self._results = candidate, baseline, names
        self._stale = True
        if self.isVisible():
            self._draw()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.parameters.set_theme(theme)
        self.figures.set_theme(theme)
        for panel in self.panels:
            panel.set_theme(theme)
        self.message.setStyleSheet(f"color: {theme.faint}")

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self.parameters.set_units(units)
        self.figures.set_units(units)
        for panel in self.panels:
            panel.set_units(units)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._update()
        self._draw()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        """Charts beside the table where there is room, else below it and beside each other."""
        across, down = Qt.Orientation.Horizontal, Qt.Orientation.Vertical
        wanted = across if self.width() >= _ROOMY else down
        if self._split.orientation() != wanted:
            self._split.setOrientation(wanted)
            self._charts.setOrientation(down if wanted == across else across)
            self._split.setSizes([_ROOMY, _ROOMY])
            self._charts.setSizes([_ROOMY, _ROOMY])

    def _update(self) -> None:
        if not self.isVisible():
            return
        project = self._document.project
        names = project.candidate, project.baseline
        for combo, name in zip((self.candidate, self.baseline), names, strict=True):
            with QSignalBlocker(combo):
                if [combo.itemText(place) for place in range(combo.count())] != list(project.names):
                    combo.clear()
                    combo.addItems(list(project.names))
                combo.setCurrentIndex(project.index(name))
        found = differences(*(project.variant(name).vehicle for name in names))
        self.parameters.show_rows(found, names)
        self.message.setText("" if found else _SAME if names[0] == names[1] else _ALIKE)
        self.message.setVisible(not found)
        self.tabs.setTabText(0, f"What differs ({len(found)})")
        self._show_able()
        self.others.show_project(project)
        self._fill_others()

    def _fill_others(self) -> None:
        names = self.others.names
        shown = [action.text() for action in self._others_menu.actions()]
        if shown != names:
            self._others_menu.clear()
            for name in names:
                action = self._others_menu.addAction(name)
                action.setCheckable(True)
                action.setChecked(name in self.others.chosen)
                action.toggled.connect(partial(self.others.choose, name))
        self.others_button.setEnabled(bool(names))

    def _show_able(self) -> None:
        for button in (self.to_candidate, self.to_baseline):
            button.setEnabled(bool(self.parameters.selected))

    def _draw(self) -> None:
        if self._results is None or not self.isVisible():
            return
        for panel in self.panels:
            panel.show_analyses(*self._results, self.others.results)
        self._stale = True
        self._show_figures()

    def _show_figures(self) -> None:
        """The table of the figures, where it is in sight and out of date."""
        if self._results is None or not self._stale or not self.figures.isVisible():
            return
        self._stale = False
        candidate, baseline, _ = self._results
        own = key_figures(candidate)
        self.figures.show_figures(own, own if baseline is None else key_figures(baseline))

    # -- edits ---------------------------------------------------------------------------------------

    def _choose_candidate(self, place: int) -> None:
        project = self._document.project
        name = project.names[place]
        self._document.apply(f"choice of {name}", set_candidate(project, name))

    def _choose_baseline(self, place: int) -> None:
        project = self._document.project
        self._document.apply("choice of baseline", set_baseline(project, project.names[place]))

    def _swap(self) -> None:
        project = self._document.project
        swapped = set_baseline(set_candidate(project, project.baseline), project.candidate)
        self._document.apply("swap of candidate and baseline", swapped)

    def _copy(self, rows: list[Difference], to_candidate: bool) -> None:
        """Copy values to the candidate, or to the baseline, as one edit."""
        if not rows:
            return
        project = self._document.project
        names = (project.candidate, project.baseline)
        target, source = names if to_candidate else names[::-1]
        try:
            car = taken_over(
                project.variant(target).vehicle, project.variant(source).vehicle, [row.path for row in rows]
            )
            edited: Project = replaced(project, ("variants", project.index(target), "vehicle"), car)
        except InputError as error:
            self.refused.emit(str(error))
            return
        what = rows[0].words.split(" › ")[-1] if len(rows) == 1 else f"{len(rows)} parameters"
        self._document.apply(f"copy of {what} to {target}", edited)

    def _keep_choices(self, _choice: str) -> None:
        self._settings.keep_choices("compare charts", [panel.choice for panel in self.panels])
