"""The page of the studies."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QSignalBlocker, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QMenu,
    QProgressBar,
    QPushButton,
    QSplitter,
    QTabBar,
    QVBoxLayout,
    QWidget,
)

from models.analysis import Analysis
from models.charts import Chart
from models.errors import InputError
from models.judge.figures import key_figures
from models.project import Variant, add_variant, remove_study, set_candidate, set_study
from models.project.project import fresh_name
from models.studies import Cost, Progress, StudyResult, Workers, ask, cost, local_workers, study_figures
from models.study import ResultFile, Study, TunedStart
from models.units import UnitChoice
from workbench.document import Document
from workbench.inset import inset
from workbench.pages.studies.definition import (
    KINDS_OF_STUDY,
    new_study,
    numbers_of,
    remade,
    varied,
    with_entry,
    with_varied,
)
from workbench.pages.studies.figure_tree import FigureTree
from workbench.pages.studies.number_tree import NumberTree
from workbench.pages.studies.plain_form import PlainForm
from workbench.pages.studies.result_view import ResultView
from workbench.pages.studies.situation_rows import SituationRows
from workbench.pages.studies.study_runs import StudyRuns, read_kept, results_folder
from workbench.runner import Job, Runner
from workbench.scrolled import scrolled
from workbench.theme import Theme, small_font

__all__ = ["StudiesPage"]

_LANE = "study look"
# Pause after an edit before the cost is estimated, ms.
_SETTLED = 250
_DEFINITION = 430
# Share of the width that the definition has at first, per cent.
_SHARE = 43
# Width from which definition and results have room beside each other, px.
_ROOMY = 860
_NUMBER = re.compile(r"[-−+]?\d[\d.,]*(e[-+]?\d+)?")
_NO_STUDIES = (
    "No studies yet\n\nA study answers “what if” with many cars: how figures change over a number, which "
    "tolerance costs most, which compromise is best.\nChoose “Add” above to begin one, or “Tick to study” in "
    "the editor of the car."
)


@dataclass(frozen=True, eq=False)
class _Look:
    """What is known of a study before it runs: inputs, cost, what is wrong, and the results that are kept."""

    study: Study
    inputs: str
    cost: Cost | None
    targets: int
    trouble: str
    result: StudyResult | None
    lost: str


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
        self._look: _Look | None = None
        self._theme: Theme | None = None
        self._name = ""
        self._told: Study | None = None
        self._split = False
        self.runs = StudyRuns(document, runner, open_workers, self)
        self.choice, self.add, self.menu = QComboBox(self), QPushButton("Add", self), QMenu(self)
        self.duplicate, self.remove = QPushButton("Duplicate", self), QPushButton("Remove", self)
        self.title, self.variant = QLineEdit(self), QComboBox(self)
        self.numbers, self.situations, self.plain = NumberTree(self), SituationRows(self), PlainForm(self)
        self.figures = FigureTree(self._present_figures, self)
        self.tick_in_editor = QPushButton("Tick in the editor", self)
        self.start, self.stop = QPushButton("Start", self), QPushButton("Stop", self)
        self.progress, self.cost = QProgressBar(self), QLabel(self)
        self.message, self.note, self.empty = QLabel(self), QLabel(self), QLabel(_NO_STUDIES, self)
        #: Under each part of the definition, why what was typed there is refused.
        self.faults = {part: QLabel(self) for part in (self.numbers, self.figures, self.situations)}
        self.figures_head, self.situations_head = QLabel(self), QLabel("Situations", self)
        self.results = ResultView(runner, self)
        self.take = QPushButton("Make it a candidate variant", self)
        self._settled = QTimer(self)
        self._body, self.sides = QSplitter(self), QTabBar(self)
        self._build()
        self._connect()
        self._follow()

    # -- building ------------------------------------------------------------------------------------

    def _build(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(10, 4, 8, 4)
        self.choice.setAccessibleName("Study")
        self.choice.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.choice.setMinimumContentsLength(18)
        for key, title, meaning in KINDS_OF_STUDY:
            action = self.menu.addAction(title, lambda key=key: self.add_study(key))
            action.setToolTip(meaning)
        self.menu.setToolTipsVisible(True)
        self.add.setMenu(self.menu)
        for widget in (self.choice, self.add, self.duplicate, self.remove):
            head.addWidget(widget)
        head.addStretch(1)
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setWordWrap(True)
        self.empty.setMargin(40)
        self._running = self._controls()
        self._halves = (self._definition(), self._results())
        for side in self._halves:
            self._body.addWidget(side)
        self._body.setStretchFactor(1, 1)
        self._body.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        column.addWidget(self._running)
        column.addWidget(self.empty, 1)
        column.addWidget(self._body, 1)

    def _controls(self) -> QWidget:
        """What runs the study on show, in sight beside definition and results alike."""
        controls = QWidget(self)
        row = QHBoxLayout()
        row.setContentsMargins(10, 2, 8, 2)
        self.progress.setTextVisible(True)
        self.progress.setAccessibleName("Progress of the study")
        self.progress.setRange(0, 1000)
        for widget in (self.start, self.stop):
            row.addWidget(widget)
        row.addWidget(self.progress, 1)
        row.addStretch(0)
        self.start.setMaximumWidth(120)
        for label in (self.cost, self.message, self.note):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.cost.setFont(small_font(self.font()))
        self.note.setFont(small_font(self.font()))
        self.message.hide()
        self.sides.addTab("Definition")
        self.sides.addTab("Results")
        self.sides.setDrawBase(False)
        self.sides.setAccessibleName("Definition or results")
        self.sides.currentChanged.connect(self._arrange)
        row.insertWidget(0, self.sides)
        column = QVBoxLayout(controls)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addLayout(inset(self.cost))
        column.addLayout(inset(self.message))
        return controls

    def _arrange(self) -> None:
        """Definition and results beside each other where there is room, else one at a time."""
        narrow = self.width() < _ROOMY
        self.sides.setVisible(narrow)
        for number, side in enumerate(self._halves):
            side.setVisible(not narrow or number == self.sides.currentIndex())
        if not narrow and not self._split:
            self._split = True  # once; then as the user moves it
            self._body.setSizes([_SHARE * self.width() // 100, (100 - _SHARE) * self.width() // 100])

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _definition(self) -> QWidget:
        content = QWidget(self)
        column = QVBoxLayout(content)
        column.setContentsMargins(0, 0, 4, 4)
        column.setSpacing(4)
        names = QHBoxLayout()
        names.setContentsMargins(10, 0, 4, 0)
        self.title.setAccessibleName("Name of the study")
        self.title.setToolTip("Name of the study")
        self.variant.setAccessibleName("Car of the study")
        self.variant.setToolTip("Car that is varied")
        self.variant.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        names.addWidget(self.title, 1)
        names.addWidget(self.variant, 1)
        column.addLayout(names)
        room = QHBoxLayout()
        room.setContentsMargins(10, 0, 4, 0)
        room.addWidget(self.figures)
        numbers_head = QLabel("Numbers that are varied", self)
        for label in (numbers_head, self.figures_head, self.situations_head):
            label.setContentsMargins(10, 4, 0, 0)
        self.tick_in_editor.setCheckable(True)
        self.tick_in_editor.setToolTip("Tick numbers beside their fields in the editor of the car")
        row = QHBoxLayout()
        row.setContentsMargins(0, 2, 4, 0)
        row.addWidget(numbers_head, 1)
        row.addWidget(self.tick_in_editor)
        column.addLayout(row)
        column.addWidget(self.numbers, 3)
        column.addLayout(inset(self.faults[self.numbers]))
        column.addWidget(self.plain)
        column.addWidget(self.figures_head)
        column.addLayout(room, 2)
        column.addLayout(inset(self.faults[self.figures]))
        column.addWidget(self.situations_head)
        column.addWidget(self.situations)
        column.addLayout(inset(self.faults[self.situations]))
        for fault in self.faults.values():
            fault.setWordWrap(True)
            fault.setTextFormat(Qt.TextFormat.PlainText)
            fault.hide()
        return scrolled(content, _DEFINITION)

    def _results(self) -> QWidget:
        side = QWidget(self)
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
        self.choice.activated.connect(lambda _index: self.choose(self.choice.currentText()))
        self.duplicate.clicked.connect(self._duplicate)
        self.remove.clicked.connect(self._remove)
        self.title.editingFinished.connect(self._rename)
        self.variant.activated.connect(lambda _i: self._edit_field("variant", self.variant.currentData()))
        self.numbers.ticked.connect(self._tick)
        self.tick_in_editor.clicked.connect(self.ticking_wanted)
        self.numbers.bounded.connect(self._bound)
        self.plain.edited.connect(self._edit_field)
        self.situations.edited.connect(lambda every: self._edit_field("situations", every))
        self.figures.judged.connect(self._edit)
        for part in (self.numbers, self.figures, self.situations):
            part.refused.connect(partial(self._say_at, self.faults[part]))
        self.start.clicked.connect(self._start)
        self.stop.clicked.connect(self.runs.stop)
        self.take.clicked.connect(self.take_car)
        self.results.export_wanted.connect(self.export_wanted)
        self.results.chosen.connect(self._show_state)
        self.runs.started.connect(self._show_state)
        self.runs.told.connect(self._tell)
        self.runs.came.connect(self._came)
        self.runs.ended.connect(self._ended)
        self._document.changed.connect(self._follow)
        self._document.opened.connect(self._open)

    # -- what the window asks ------------------------------------------------------------------------

    def charts(self) -> list[Chart]:
        """Charts on show."""
        return self.results.charts() if self.study is not None else []

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Take present figures of the candidate, from which wishes begin."""
        self._candidate = candidate

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        for part in (self.numbers, self.figures, self.situations, self.results):
            part.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self.results.set_theme(theme)
        for label in (self.message, *self.faults.values()):
            label.setStyleSheet(f"color: {theme.mark};")
        for label in (self.cost, self.note, self.empty):
            label.setStyleSheet(f"color: {theme.faint};")

    def close_workers(self) -> None:
        """Let go of the processes, at the end of the program."""
        self.runs.close()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._follow()

    # -- the list ------------------------------------------------------------------------------------

    @property
    def study(self) -> Study | None:
        """The study on show."""
        return next((one for one in self._document.project.studies if one.name == self._name), None)

    def choose(self, name: str) -> None:
        """Show another study."""
        if name != self._name:
            self._name, self._look = name, None
            self._say("")
            self.results.show_result(None)
        self._follow()

    def add_study(self, kind: str, places: tuple[str, ...] = ()) -> None:
        """Add a study of a kind, of these numbers of the candidate, and show it."""
        try:
            study = new_study(self._document.project, kind, places)
            self._apply("new study", study)
        except InputError as error:
            self._say(str(error))

    def study_number(self, place: str) -> None:
        """Vary a number of the car too in the study on show; without one, in a sweep of its own."""
        if self.study is None:
            self.add_study("sweep", (place,))
        else:
            self.tick_number(place, True)

    def tick_number(self, place: str, on: bool) -> None:
        """Vary a number of the car in the study on show, or no more.

        The first tick without a study begins one of sensitivity, which takes any number of them.
        """
        study, project = self.study, self._document.project
        if study is None:
            numbers = numbers_of(project, "")
            if on and place in numbers:
                self._change(lambda: with_varied(new_study(project, "sensitivity"), numbers, [place]))
            return
        places = [one for one in varied(study) if one != place]
        self._tick([*places, place] if on else places)

    def tell_studied(self) -> None:
        """Tell which numbers the chosen study varies; afterwards told whenever these are others."""
        study = self._told = self.study
        self.studied.emit(tuple(varied(study)) if study is not None else (), _ticking_words(study))

    def show_ticking(self, on: bool) -> None:
        """Show whether numbers are ticked in the editor."""
        self.tick_in_editor.setChecked(on)

    def _duplicate(self) -> None:
        study = self.study
        if study is not None:
            name = fresh_name(study.name, tuple(one.name for one in self._document.project.studies))
            self._apply("duplicate of study", remade(study, name=name, result=None))

    def _remove(self) -> None:
        study = self.study
        if study is not None:
            self._document.apply("removal of study", remove_study(self._document.project, study.name))

    def _rename(self) -> None:
        study = self.study
        if study is None or self.title.text().strip() == study.name:
            return
        try:
            self._apply("name of study", remade(study, name=self.title.text()), study.name)
        except InputError as error:
            self._say(str(error))
            self.title.setText(study.name)

    def _apply(self, words: str, study: Study, instead_of: str | None = None) -> None:
        project = set_study(self._document.project, study, instead_of)
        if study.name != self._name and self._name != instead_of:
            self.results.show_result(None)
            self._look = None
        self._name = study.name
        self._document.apply(words, project)

    # -- the definition ------------------------------------------------------------------------------

    def _tick(self, places: list[str]) -> None:
        study = self.study
        assert study is not None
        numbers = numbers_of(self._document.project, study.variant)
        self._change(lambda: with_varied(study, numbers, places))
        if self.message.text() and not self.isVisible():
            self.refused.emit(self.message.text())

    def _bound(self, place: str, entry: object) -> None:
        study = self.study
        assert study is not None
        self._change(lambda: with_entry(study, place, entry))  # type: ignore[arg-type]

    def _edit_field(self, name: str, value: object) -> None:
        study = self.study
        if study is not None:
            self._change(lambda: remade(study, **{name: value}))

    def _edit(self, study: Study) -> None:
        self._change(lambda: study)

    def _change(self, make: Callable[[], Study]) -> None:
        """Exchange the study on show as one edit, or say why not."""
        try:
            study = make()
            self._say("")
            self._apply("edit of study", study)
        except InputError as error:
            self._say(str(error))
            self._follow()

    def _present_figures(self) -> dict[str, float]:
        if self._candidate is None:
            return {}
        return {figure.key: figure.value for figure in key_figures(self._candidate)}

    def _open(self) -> None:
        self._name, self._look = "", None
        self.runs.stop()
        self.results.show_result(None)
        self._follow()

    def _follow(self) -> None:
        """Show the definition as it stands."""
        project = self._document.project
        names = [study.name for study in project.studies]
        if self._name not in names:
            self._name, self._look = (names[-1] if names else ""), None
            self.results.show_result(None)
        if self.study is not self._told:
            self.tell_studied()
        if not self.isVisible():
            return
        with QSignalBlocker(self.choice):
            self.choice.clear()
            self.choice.addItems(names)
            self.choice.setCurrentText(self._name)
        study = self.study
        self.empty.setVisible(study is None)
        self._body.setVisible(study is not None)
        self._running.setVisible(study is not None)
        for widget in (self.duplicate, self.remove, self.choice):
            widget.setEnabled(study is not None)
        if study is None:
            return
        self._show_definition(study)
        self._show_state()
        self._settled.start()

    def _show_definition(self, study: Study) -> None:
        project = self._document.project
        self.title.setText(study.name)
        with QSignalBlocker(self.variant):
            self.variant.clear()
            self.variant.addItem("Candidate", "")
            for name in project.names:
                self.variant.addItem(name, name)
            self.variant.setCurrentIndex(max(self.variant.findData(study.variant), 0))
        self.numbers.show_study(study, numbers_of(project, study.variant))
        self.plain.show_study(study)
        heads = {"pareto": "Objectives", "tuned start": "Wishes"}
        self.figures_head.setText(heads.get(study.kind, "Figures; none ticked: all"))
        self.figures.show_study(study, study_figures(project.run.model))
        self.situations.setVisible(not isinstance(study, TunedStart))
        self.situations_head.setVisible(not isinstance(study, TunedStart))
        if not isinstance(study, TunedStart):
            self.situations.show_situations(project, study.situations)

    # -- before the start ----------------------------------------------------------------------------

    def _take_a_look(self) -> None:
        """Estimate the cost, and read the results that are kept, in the worker thread."""
        study, project = self.study, self._document.project
        if study is None or not self.isVisible():
            return
        folders = results_folder(self._document.path), results_folder(None)
        workers, shown = self.runs.workers, self._look
        known = shown.study.result if shown is not None else None

        def work(job: Job) -> _Look:
            result, lost = None, ""
            if study.result is not None and study.result != known:
                try:
                    result = read_kept(study, folders)
                except InputError as error:
                    lost = str(error)
            job.report(0.0)
            try:
                asked = ask(project, study)
                found = cost(asked, workers, lambda: job.cancelled)
                return _Look(study, asked.inputs, found, len(asked.wanted), "", result, lost)
            except InputError as error:
                return _Look(study, "", None, 0, str(error), result, lost)

        self._runner.start(_LANE, "", work, self._looked, _raise)

    def _looked(self, look: _Look) -> None:
        self._look = look
        if look.result is not None and self.runs.running != self._name:
            self.results.show_result(look.result)
        self._show_state()

    def _show_state(self) -> None:
        """Say what the study costs, whether its results are stale, and what may be done."""
        study, look, result = self.study, self._look, self.results.result
        if study is None:
            return
        running = self.runs.running
        here = running == study.name
        self.progress.setVisible(here)
        self.stop.setVisible(here)
        self.start.setVisible(not here)
        self.start.setEnabled(not running and (look is None or not look.trouble))
        unfinished = result is not None and not result.finished and not here
        fresh = look is not None and result is not None and look.inputs == result.asked.inputs
        self.start.setText("Go on" if unfinished and fresh else "Start")
        self.take.setVisible(self.results.row >= 0)
        self.cost.setText(self._cost_words(look, running, here))
        notes = []
        if result is not None:
            notes += _result_notes(result, here)
            if look is not None and not fresh and not here:
                notes.insert(0, "Stale: the car, its run or the definition changed since these results.")
        if look is not None and look.lost:
            notes.append(look.lost)
        if self._document.path is None and (result is not None or here):
            notes.append(f"The project is not saved yet: results are kept in {results_folder(None)}.")
        self.note.setText("\n".join(notes))
        self.note.setVisible(bool(notes))

    def _cost_words(self, look: _Look | None, running: str, here: bool) -> str:
        if running and not here:
            return f"“{running}” is running; one study runs at a time."
        if look is None:
            return "Estimating the cost…"
        if look.cost is None:
            return look.trouble
        targets = "no target" if look.targets == 0 else f"{look.targets} targets"
        if look.targets == 1:
            targets = "1 target"
        of = "" if look.cost.judgements == look.cost.cars else f" ({look.cost.judgements:,} judgements)"
        return f"{look.cost.cars:,} cars{of}, about {_duration(look.cost.seconds)}; {targets} in reach."

    # -- running -------------------------------------------------------------------------------------

    def _start(self) -> None:
        study = self.study
        if study is not None and not self.runs.running:
            self._say("")
            self.progress.setValue(0)
            self.progress.setFormat("starting…")
            self.sides.setCurrentIndex(1)
            self.runs.start(study)

    def _tell(self, progress: Progress) -> None:
        self.progress.setValue(round(1000 * progress.done / max(progress.total, 1)))
        left = "" if progress.remaining is None else f", {_duration(progress.remaining)} left"
        refused = f", {progress.refused:,} refused" if progress.refused else ""
        self.progress.setFormat(f"{progress.done:,} of {progress.total:,}{refused}{left}")

    def _came(self, result: StudyResult) -> None:
        if result.asked.study.name == self._name and self.runs.running:
            self.results.show_result(result)
            self._show_state()

    def _ended(self, result: StudyResult | None, kept: ResultFile | None, trouble: str) -> None:
        """Keep what came by one edit of the project, where the study is still there."""
        if trouble:
            self._say(trouble)
        if result is not None:
            name, project = result.asked.study.name, self._document.project
            study = next((one for one in project.studies if one.name == name), None)
            if name == self._name:
                self.results.show_result(result)
            if study is not None and kept is not None:
                after = set_study(project, remade(study, result=kept))
                self._document.apply("results of study", after)
        self._show_state()

    def take_car(self) -> None:
        """Make the chosen car a variant of its own and the candidate, as one edit."""
        result, row = self.results.result, self.results.row
        if result is None or row < 0:
            return
        project = self._document.project
        name = f"{result.asked.study.name} {row + 1}"
        if name in project.names:
            name = fresh_name(name, project.names)
        try:
            car = result.car(row)
            old = next((one for one in project.variants if one.name == result.asked.variant), None)
            note = f"Car {row + 1} of the study “{result.asked.study.name}”"
            made = Variant(name=name, note=note, vehicle=car)
            if old is not None:
                made = remade(made, hardware=old.hardware)
            after = set_candidate(add_variant(project, made), name)
        except InputError as error:
            self._say(str(error))
            return
        self._document.apply("candidate from study", after)

    def _say(self, words: str) -> None:
        """Say why something is refused, or with no words that nothing is any more."""
        self._say_at(self.message, words)

    def _say_at(self, label: QLabel, words: str) -> None:
        for one in (self.message, *self.faults.values()):
            one.setText(words if one is label else "")
            one.setVisible(bool(one.text()))


def _ticking_words(study: Study | None) -> str:
    if study is None:
        return "The first tick begins a study of sensitivity."
    takes = {"sweep": ", which varies one", "map": ", which varies two"}.get(study.kind, "")
    return f"Ticked: numbers of the study “{study.name}”{takes}."


def _result_notes(result: StudyResult, running: bool) -> list[str]:
    notes = []
    if not result.finished and not running:
        notes.append(f"Stopped after {result.columns.done:,} of {result.total:,} cars; what came is kept.")
    if result.columns.refused:
        notes.append(f"{result.columns.refused:,} cars were refused:")
        alike: dict[str, list[tuple[str, int]]] = {}
        for reason, count in result.refusals().items():  # each tells a value of its own
            alike.setdefault(_NUMBER.sub("", reason), []).append((" ".join(reason.split()), count))
        kinds = sorted(alike.values(), key=lambda own: -sum(count for _, count in own))
        for own in kinds[:3]:
            such = " such as" if len(own) > 1 else ""
            notes.append(f"{sum(count for _, count in own):,} ×{such} {own[0][0]}")
    return notes


def _duration(seconds: float) -> str:
    if seconds < 1:
        return "1 s"
    if seconds < 100:
        return f"{seconds:.0f} s"
    return f"{seconds / 60:.0f} min" if seconds < 6000 else f"{seconds / 3600:.1f} h"


def _raise(error: Exception) -> None:
    raise error
