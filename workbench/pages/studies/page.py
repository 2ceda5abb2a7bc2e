"""The page of the studies."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSplitter, QVBoxLayout, QWidget

from models.analysis import Analysis
from models.charts import Chart
from models.judge.figures import key_figures
from models.studies import Asked, Cost, StudyResult, Workers, cost, local_workers
from models.study import ResultFile, Study
from models.units import UnitChoice
from workbench.document import Document
from workbench.inset import inset
from workbench.pages.studies.chosen_study import ChosenStudy
from workbench.pages.studies.definition import figures_now, varied
from workbench.pages.studies.definition_side import DefinitionSide
from workbench.pages.studies.result_view import ResultView
from workbench.pages.studies.run_bar import RunBar
from workbench.pages.studies.state_words import cost_words, ticking_words
from workbench.pages.studies.study_list import StudyList
from workbench.pages.studies.study_look import StudyLook, looked_at
from workbench.pages.studies.study_runs import StudyRuns, results_folder
from workbench.runner import Job, Runner
from workbench.scrolled import scrolled
from workbench.theme import Theme, small_font

__all__ = ["StudiesPage"]

_LOOK, _COST = "study look", "study cost"
# Pause after an edit before the cost is estimated, ms.
_SETTLED = 250
_DEFINITION = 430
# Share of the width that the definition has at first, per cent.
_SHARE = 43
# Width from which definition and results have room beside each other, px.
_ROOMY = 860
_NO_STUDIES = (
    "No studies yet\n\nA study answers “what if” with many cars: how figures change over a number, which "
    "tolerance costs most, which compromise is best.\nChoose “Add” above to begin one, or “Tick to study” in "
    "the editor of the car."
)


class StudiesPage(QWidget):
    """Studies of the project, their definitions, and what came of them.

    Signals:
        export_wanted(object): the chart whose export the user asks for.
        studied(object, str): places of the numbers that the chosen study varies, and words for it.
        ticking_wanted(bool): the user wants to tick numbers in the editor of the car, or no more.
        refused(str): a number that was ticked there is refused while the page is out of sight.
    """

    export_wanted = Signal(object)
    studied = Signal(object, str)
    ticking_wanted = Signal(bool)
    refused = Signal(str)

    def __init__(
        self,
        document: Document,
        runner: Runner,
        parent: QWidget | None = None,
        open_workers: Callable[[], Workers] = local_workers,
    ) -> None:
        super().__init__(parent)
        self._document, self._runner = document, runner
        self._candidate: Analysis | None = None
        self._look: StudyLook | None = None
        self._cost: Cost | None = None
        # File of the results on show; None where they are in none.
        self._kept: ResultFile | None = None
        self._told: Study | None = None
        self._split = False
        self.runs = StudyRuns(document, runner, open_workers, self)
        self.chosen = ChosenStudy(document, self)
        self.list, self.bar = StudyList(self.chosen, self), RunBar(self)
        self.definition = DefinitionSide(self.chosen, self._present_figures, self)
        self.results = ResultView(runner, self)
        self.take = QPushButton("Make it a candidate variant", self)
        self.note, self.empty = QLabel(self), QLabel(_NO_STUDIES, self)
        self._settled = QTimer(self)
        self._body = QSplitter(self)
        self._build()
        self._connect()
        self._follow()

    # -- building ------------------------------------------------------------------------------------

    def _build(self) -> None:
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setWordWrap(True)
        self.empty.setMargin(40)
        self._halves = (scrolled(self.definition, _DEFINITION), self._results())
        for side in self._halves:
            self._body.addWidget(side)
        self._body.setStretchFactor(1, 1)
        self._body.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.list)
        column.addWidget(self.bar)
        column.addWidget(self.empty, 1)
        column.addWidget(self._body, 1)

    def _results(self) -> QWidget:
        side = QWidget(self)
        self.note.setWordWrap(True)
        self.note.setTextFormat(Qt.TextFormat.PlainText)
        self.note.setFont(small_font(self.font()))
        end = QHBoxLayout()
        end.setContentsMargins(10, 0, 8, 6)
        end.addWidget(self.take)
        end.addStretch(1)
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(inset(self.note))
        column.addWidget(self.results, 1)
        column.addLayout(end)
        column.addStretch(0)
        return side

    def _connect(self) -> None:
        self._settled.setSingleShot(True)
        self._settled.setInterval(_SETTLED)
        self._settled.timeout.connect(self._take_a_look)
        self.list.choice.activated.connect(lambda _index: self.choose(self.list.choice.currentText()))
        self.chosen.exchanged.connect(self._forget)
        self.chosen.said.connect(self._say)
        self.definition.refused.connect(self._say_at)
        self.definition.tick_in_editor.clicked.connect(self.ticking_wanted)
        self.bar.sides.currentChanged.connect(self._arrange)
        self.bar.start.clicked.connect(self._start)
        self.bar.stop.clicked.connect(self.runs.stop)
        self.take.clicked.connect(self._take)
        self.results.export_wanted.connect(self.export_wanted)
        for signal in (self.results.chosen, self.results.shown):
            signal.connect(self._show_state)
        self.runs.started.connect(self._show_state)
        self.runs.told.connect(self.bar.tell)
        self.runs.came.connect(self._came)
        self.runs.ended.connect(self._ended)
        self._document.changed.connect(self._follow)
        self._document.opened.connect(self._open)

    def _arrange(self) -> None:
        """Definition and results beside each other where there is room, else one at a time."""
        narrow = self.width() < _ROOMY
        self.bar.sides.setVisible(narrow)
        for number, side in enumerate(self._halves):
            side.setVisible(not narrow or number == self.bar.sides.currentIndex())
        if not narrow and not self._split:
            self._split = True  # once; then as the user moves it
            self._body.setSizes([_SHARE * self.width() // 100, (100 - _SHARE) * self.width() // 100])

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._follow()

    # -- what the window asks ------------------------------------------------------------------------

    @property
    def study(self) -> Study | None:
        """The study on show."""
        return self.chosen.study

    def charts(self) -> list[Chart]:
        """Charts on show."""
        return self.results.charts() if self.study is not None else []

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Take present figures of the candidate, from which wishes begin."""
        self._candidate = candidate

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        for part in (self.definition, self.results):
            part.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        for part in (self.definition, self.bar, self.results):
            part.set_theme(theme)
        for label in (self.note, self.empty):
            label.setStyleSheet(f"color: {theme.faint};")

    def close_workers(self) -> None:
        """Let go of the processes, at the end of the program."""
        self.runs.close()

    def choose(self, name: str) -> None:
        """Show another study."""
        self.chosen.choose(name)
        self._follow()
        self._settled.stop()
        self._take_a_look()  # at once, as no edit is going on

    def study_number(self, place: str) -> None:
        """Vary a number of the car too in the study on show; without one, in a sweep of its own."""
        if self.study is None:
            self.chosen.add("sweep", (place,))
        else:
            self.tick_number(place, True)

    def tick_number(self, place: str, on: bool) -> None:
        """Vary a number of the car in the study on show, or no more."""
        self.chosen.tick(place, on)
        if self.bar.message.text() and not self.isVisible():
            self.refused.emit(self.bar.message.text())

    def tell_studied(self) -> None:
        """Tell which numbers the chosen study varies; afterwards told whenever these are others."""
        study = self._told = self.study
        self.studied.emit(tuple(varied(study)) if study is not None else (), ticking_words(study))

    def show_ticking(self, on: bool) -> None:
        """Show whether numbers are ticked in the editor."""
        self.definition.tick_in_editor.setChecked(on)

    def _present_figures(self) -> dict[str, float]:
        study, project = self.study, self._document.project
        if study is not None and study.variant not in ("", project.candidate):
            return figures_now(project, study.variant)
        if self._candidate is None:
            return {}
        return {figure.key: figure.value for figure in key_figures(self._candidate)}

    # -- what is on show -----------------------------------------------------------------------------

    def _open(self) -> None:
        self.chosen.choose("")
        self._forget()
        self.runs.drop()
        self._follow()

    def _forget(self) -> None:
        """Show nothing of what was known of another study."""
        self._look = self._cost = self._kept = None
        self._runner.cancel(_LOOK)
        self._runner.cancel(_COST)
        self._say("")
        self.results.show_result(None)

    def _follow(self) -> None:
        """Show the definition as it stands."""
        self.chosen.follow()
        study, project = self.study, self._document.project
        if study is not self._told:
            self.tell_studied()
        if not self.isVisible():
            return
        self.list.show_names([one.name for one in project.studies], self.chosen.name)
        self.empty.setVisible(study is None)
        for part in (self._body, self.bar):
            part.setVisible(study is not None)
        if study is not None:
            self.definition.show_study(project, study)
            self._show_state()
            self._settled.start()

    def _take_a_look(self) -> None:
        """Look the study up, and read the results that are kept, in the worker thread."""
        study, project, known = self.study, self._document.project, self._kept
        if study is None or not self.isVisible():
            return
        folders = results_folder(self._document.path), results_folder(None)

        def work(job: Job) -> StudyLook:
            return looked_at(project, study, folders, known)

        self._runner.start(_LOOK, "", work, self._looked, _raise)

    def _looked(self, look: StudyLook) -> None:
        if look.study != self.study:
            return  # the next look is on its way
        before, self._look = self._look, look
        if self.runs.running != self.chosen.name:
            undone = look.study.result is None and self._kept is not None
            if look.result is not None or undone:
                self._kept = look.study.result
                self.results.show_result(look.result)
            self._judge_again(look)
        if look.asked is not None:
            if before is None or before.asked is None or before.asked.inputs != look.asked.inputs:
                self._cost = None
            if self._cost is None:
                self._estimate(look.asked)
        self._show_state()

    def _judge_again(self, look: StudyLook) -> None:
        """Judge results by the targets as they stand now, where these have not steered a search."""
        result, asked = self.results.result, look.asked
        if result is None or asked is None or not look.is_of(result):
            return
        if result.asked.wanted != asked.wanted:
            self.results.show_result(replace(result, asked=asked))

    def _estimate(self, asked: Asked) -> None:
        """Estimate the cost beside the worker thread, which others wait for; not while a study runs."""
        workers = self.runs.workers
        if self.runs.running:
            return

        def work(job: Job) -> Cost:
            return cost(asked, workers, lambda: job.cancelled)

        self._runner.start(_COST, "", work, self._estimated, _raise, apart=True)

    def _estimated(self, found: Cost) -> None:
        self._cost = found
        self._show_state()

    def _show_state(self) -> None:
        """Say what the study costs, whether its results are stale, and what may be done."""
        study, look, result = self.study, self._look, self.results.result
        if study is None:
            return
        running = self.runs.running
        here = running == study.name
        self.bar.progress.setVisible(here)
        self.bar.stop.setVisible(here)
        self.bar.start.setVisible(not here)
        self.bar.start.setEnabled(not running and (look is None or not look.trouble))
        self.definition.title.setEnabled(not here)  # by which its results find it again
        unfinished = result is not None and not result.finished and not here
        fresh = look is not None and result is not None and look.is_of(result)
        self.bar.start.setText("Go on" if unfinished and fresh else "Start")
        self.take.setVisible(self.results.row >= 0)
        self.bar.cost.setText(self._cost_words(look, running, here))
        notes = []
        if result is not None:
            if not result.finished and not here:
                done = result.columns.done
                notes.append(f"Stopped after {done:,} of {result.total:,} cars; what came is kept.")
            notes += self.results.refusals
            if look is not None and not fresh and not here:
                notes.insert(0, "Stale: the car, its run or the definition changed since these results.")
        if look is not None and look.lost:
            notes.append(look.lost)
        if self._document.path is None and (result is not None or here):
            notes.append(f"The project is not saved yet: results are kept in {results_folder(None)}.")
        self.note.setText("\n".join(notes))
        self.note.setVisible(bool(notes))

    def _cost_words(self, look: StudyLook | None, running: str, here: bool) -> str:
        if running and not here:
            return f"“{running}” is running; one study runs at a time."
        if look is None:
            return "Looking at the study…"
        return look.trouble if look.asked is None else cost_words(look.asked, self._cost)

    def _say(self, words: str) -> None:
        """Say why something is refused, or with no words that nothing is any more."""
        self._say_at(self.bar.message, words)
        if words:
            self._follow()  # what was typed or ticked jumps back

    def _say_at(self, label: QLabel, words: str) -> None:
        for one in (self.bar.message, *self.definition.faults.values()):
            one.setText(words if one is label else "")
            one.setVisible(bool(one.text()))

    # -- running -------------------------------------------------------------------------------------

    def _start(self) -> None:
        study = self.study
        if study is not None and not self.runs.running:
            self._say("")
            self._runner.cancel(_COST)
            self.bar.begin()
            self.bar.sides.setCurrentIndex(1)
            self.runs.start(study)

    def _came(self, result: StudyResult) -> None:
        if result.asked.study.name == self.chosen.name and self.runs.running:
            self.results.show_result(result)
            self._show_state()

    def _ended(self, result: StudyResult | None, kept: ResultFile | None, trouble: str) -> None:
        """Keep what came by one edit of the project, where the study is still there."""
        if trouble:
            self._say(trouble)
        if result is not None:
            name = result.asked.study.name
            if name == self.chosen.name:
                self._kept = kept or (self.study.result if self.study is not None else None)
                self.results.show_result(result)
            if kept is not None:
                self.chosen.keep(name, kept)
        self._settled.start()
        self._show_state()

    def _take(self) -> None:
        """Make the chosen car a variant of its own and the candidate."""
        result, row = self.results.result, self.results.row
        if result is not None and row >= 0:
            self.chosen.take_car(result, row)


def _raise(error: Exception) -> None:
    raise error
