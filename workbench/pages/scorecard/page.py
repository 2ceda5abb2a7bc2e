"""The page "Scorecard"."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from models.errors import InputError
from models.judge.scorecard import Case, Outcome, Row, Scorecard, outcome, scorecard, wanted_cases
from models.judge.scorecard_text import table_rows, table_text
from models.judge.target_input import limits_of
from models.project import Project, set_target
from models.target import Target, made
from models.units import METRIC, UnitChoice
from workbench.copied_table import copy_rows, make_copyable
from workbench.document import Document
from workbench.pages.scorecard.table import ScoreTable, over_speed
from workbench.pages.scorecard.target_bar import TargetBar
from workbench.runner import Job, Runner
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["ScorecardPage"]

_LANE = "scorecard"
# Edits of a drag come faster than all variants are computed, ms.
_PAUSE = 80
_KEPT = 1000
_HOW = (
    "No targets yet. Double-click a cell of the column Target and type a limit such as ≤ 0.3, or choose a "
    "figure and use the fields below. Each variant is then judged: pass or miss, and by what margin."
)


class ScorecardPage(QWidget):
    """All figures of all variants, computed in the worker while the page is in sight.

    What was computed is kept by its input; an edit makes running work stale.

    Signals:
        curve_wanted(str): a number was clicked: key of the chart of its curve.
        speeds_wanted(str): the user wants the figure of this key against speed.
        refused(str): an edit was refused, and why.
        shown: a scorecard without gaps is on the screen.
        export_wanted(str): the table as CSV, to be written to a file.
    """

    curve_wanted = Signal(str)
    speeds_wanted = Signal(str)
    refused = Signal(str)
    shown = Signal()
    export_wanted = Signal(str)

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._runner = document, runner
        self._units: UnitChoice = METRIC
        self._kept: dict[Case, Outcome] = {}
        self._computing: tuple[Case, ...] = ()
        self._frame: object = None
        self.card: Scorecard | None = None
        self.filter = QLineEdit(self)
        self.table = ScoreTable(self)
        self.bar = TargetBar(self)
        self.hint, self.count = QLabel(self), QLabel(self)
        self.speeds_button = QPushButton("Against speed", self)
        self.copy_button, self.save_button = QPushButton("Copy table", self), QPushButton("Save CSV…", self)
        self._due = QTimer(self, singleShot=True, interval=_PAUSE)
        self._due.timeout.connect(self._compute)
        self._build()
        self._connect()
        self.set_theme(LIGHT)

    def _build(self) -> None:
        font = small_font(self.font())
        self.filter.setPlaceholderText("Filter figures")
        self.filter.setAccessibleName("Filter figures")
        self.filter.setClearButtonEnabled(True)
        self.filter.setFixedWidth(200)
        self.hint.setText(_HOW)
        for label in (self.hint, self.count):
            label.setFont(font)
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setContentsMargins(9, 2, 9, 4)
        self.copy_button.setToolTip(
            "The figures in sight, tab separated, for a spreadsheet (Ctrl+C in the table)"
        )
        self.save_button.setToolTip("The figures in sight as comma separated values")
        self.speeds_button.setToolTip(
            "The chosen figure over vehicle speed: RMS values of the random road, and figures of the time run"
        )
        self.speeds_button.setEnabled(False)
        for widget in (self.filter, self.speeds_button, self.copy_button, self.save_button):
            widget.setFont(font)
        row = QHBoxLayout()
        row.setContentsMargins(9, 4, 9, 2)
        row.setSpacing(8)
        row.addWidget(self.filter)
        row.addStretch(1)
        row.addWidget(self.speeds_button)
        row.addWidget(self.copy_button)
        row.addWidget(self.save_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(self.hint)
        column.addWidget(self.count)
        column.addWidget(self.table, 1)
        column.addWidget(self.bar)

    def _connect(self) -> None:
        self.filter.textChanged.connect(self.table.set_filter)
        self.table.picked.connect(self._picked)
        self.table.speeds_wanted.connect(self.speeds_wanted)
        self.speeds_button.clicked.connect(self._want_speeds)
        self.table.curve_wanted.connect(self.curve_wanted)
        self.table.target_typed.connect(self._typed)
        self.bar.wanted.connect(self._set_target)
        self.bar.refused.connect(self.refused)
        self.copy_button.clicked.connect(self.copy)
        self.save_button.clicked.connect(lambda: self.export_wanted.emit(self.text()))
        make_copyable(self.table, self._rows)
        self.table.setContextMenuPolicy(Qt.ContextMenuPolicy.DefaultContextMenu)  # it has more to offer
        for changed in (self._document.changed, self._document.opened):
            changed.connect(self._update)

    # -- what is shown -------------------------------------------------------------------------------

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        for part in (self.table, self.bar):
            part.set_theme(theme)
        for label in (self.hint, self.count):
            label.setStyleSheet(f"color: {theme.faint}")

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = units
        for part in (self.table, self.bar):
            part.set_units(units)

    def show_results(self, _candidate: object, _baseline: object, _names: tuple[str, str]) -> None:
        """Bring the table up to date; the figures follow the document, not the results on show."""
        self._update()

    def text(self) -> str:
        """The rows in sight as CSV."""
        return table_text(self._rows())

    def copy(self) -> None:
        """Put the rows in sight on the clipboard for a spreadsheet."""
        copy_rows(self._rows())

    def _rows(self) -> list[list[str]]:
        return table_rows(self.card, self.table.rows, self._units) if self.card else []

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._update()

    def _update(self) -> None:
        if not self.isVisible():
            return
        missing, frame = self._missing(), _frame(self._document.project)
        # While a drag goes on, the last values stay instead of flickering.
        if not missing or frame != self._frame:
            self._frame = frame
            self._show()
        if not missing:
            self._due.stop()
            self._runner.cancel(_LANE)
            self._computing = ()
        elif missing != self._computing:
            self._say("Computing…")
            self._due.start()

    def _show(self) -> None:
        project = self._document.project
        self.card = scorecard(project, self._kept)
        self.bar.show_project(project)
        self.hint.setVisible(not project.targets)
        self.table.show_card(self.card, project.candidate)
        self._picked(self.table.row_at(self.table.currentIndex().row()))
        self._say(_count(self.card))
        if not self._missing():
            self.shown.emit()

    def _picked(self, row: Row | None) -> None:
        self.bar.show_row(row)
        self.speeds_button.setEnabled(over_speed(row))

    def _want_speeds(self) -> None:
        row = self.table.row_at(self.table.currentIndex().row())
        if row is not None:
            self.speeds_wanted.emit(row.figure.key)

    def _say(self, text: str) -> None:
        self.count.setText(text)
        self.count.setVisible(bool(text))

    # -- computing -----------------------------------------------------------------------------------

    def _missing(self) -> tuple[Case, ...]:
        return tuple(case for case in wanted_cases(self._document.project) if case not in self._kept)

    def _compute(self) -> None:
        missing = self._missing()
        if not missing or not self.isVisible():
            return
        self._computing = missing

        def work(job: Job) -> list[Outcome]:
            found = []
            for number, case in enumerate(missing):
                job.report(number / len(missing))
                found.append(outcome(case))
            return found

        self._runner.start(
            _LANE,
            "Computing the scorecard",
            work,
            lambda found: self._keep(missing, found),
            lambda error: self.refused.emit(f"The scorecard could not be computed. {error}"),
        )

    def _keep(self, cases: tuple[Case, ...], found: list[Outcome]) -> None:
        self._computing = ()
        self._kept.update(zip(cases, found, strict=True))
        wanted = set(wanted_cases(self._document.project))
        spare = [case for case in self._kept if case not in wanted]
        for case in spare[: max(len(self._kept) - _KEPT, 0)]:
            del self._kept[case]
        self._update()

    # -- targets -------------------------------------------------------------------------------------

    def _typed(self, row: Row, text: str) -> None:
        """Take a target that was typed in the table; an empty text takes it away."""
        figure, old = row.figure, row.target
        scope = ("", "", None) if old is None else old.scope
        try:
            limits = limits_of(text, figure.kind, self._units, figure.better)
            target = None if limits == (None, None) else made(figure.key, figure.kind, limits, scope)
        except InputError as error:
            self.refused.emit(str(error))
            return
        self._set_target(target, old)

    def _set_target(self, target: Target | None, old: Target | None) -> None:
        if target is None and old is None:
            return
        project = self._document.project
        metric = (target or old).metric.replace("_", " ")  # type: ignore[union-attr]
        word = "removal of the target of" if target is None else "target of"
        try:
            self._document.apply(f"{word} {metric}", set_target(project, target, old))
        except InputError as error:
            self.refused.emit(str(error))


def _frame(project: Project) -> object:
    """All that the table shows beside computed values."""
    return project.names, project.baseline, project.candidate, project.targets


def _count(card: Scorecard) -> str:
    """How many targets each variant meets: "soft 3 of 4, stiff 1 of 4"."""
    judged = [row for row in card.rows if row.of_project and row.target is not None]
    if not judged:
        return ""
    words = []
    for place, name in enumerate(card.variants):
        passed = sum(1 for row in judged if (verdict := row.cells[place].verdict) and verdict.passed)
        words.append(f"{name}: {passed} of {len(judged)}")
    return "Targets met – " + ", ".join(words)
