"""One line to ask for damping ratios: solved in the worker thread, told, then set."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from models.analysis import Analysis
from models.errors import InputError
from models.fields import replaced
from models.ride.damping import DamperProposal, dampers_for
from models.ride.modes import Modes
from models.vehicle import LoadCase, Vehicle
from workbench.document import Document
from workbench.editor.style import dress
from workbench.pages.modes.ratio_edit import RatioEdit
from workbench.pages.modes.words import number, ratio_text
from workbench.runner import Runner
from workbench.theme import LIGHT, Theme

__all__ = ["DampRow"]

#: Pause after the last edit before the dampers are solved, ms: a drag is not slowed down.
PAUSE = 150

_LANE = "damping"
_FIRST = ("pitch", "bounce")
_USUAL = 0.3


@dataclass(frozen=True)
class _Wish:
    """What is asked for, of which car."""

    vehicle: Vehicle
    load: LoadCase
    model: str
    targets: tuple[tuple[str, float], ...]

    def solve(self) -> DamperProposal:
        return dampers_for(self.vehicle, self.load, dict(self.targets), self.model)


class DampRow(QWidget):
    """Modes, wanted damping ratios, "Apply", and a sentence on what would change.

    Signals:
        previewed(): the sentence is up to date.
    """

    previewed = Signal()

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._runner = document, runner
        self._theme = LIGHT
        self._candidate: Analysis | None = None
        self._solved: tuple[_Wish, DamperProposal] | None = None
        self._asked: _Wish | None = None
        self._apply_when_solved = self._refused = False
        self.modes = (QComboBox(self), QComboBox(self))
        self.ratios = (RatioEdit(_USUAL, self), RatioEdit(_USUAL, self))
        self.apply_button = QPushButton("Apply", self)
        self.sentence = QLabel(self)
        self._due = QTimer(self, singleShot=True, interval=PAUSE)
        self._due.timeout.connect(self._solve)
        self._build()

    def _build(self) -> None:
        row = QHBoxLayout()
        row.setSpacing(6)
        for number_, (combo, ratio) in enumerate(zip(self.modes, self.ratios, strict=True)):
            text = QLabel("and" if number_ else "Damp", self)
            text.setBuddy(combo)
            combo.setAccessibleName(("First", "Second")[number_] + " mode to damp")
            combo.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            ratio.setAccessibleName(f"Damping ratio wanted of the {('first', 'second')[number_]} mode")
            combo.activated.connect(self._wish_changed)
            ratio.changed.connect(self._wish_changed)
            ratio.refused.connect(self._refuse)
            to = QLabel("to ζ", self)
            to.setEnabled(number_ == 0)
            for widget in (text, combo, to, ratio):
                row.addWidget(widget)
        self._second_to = to
        self.apply_button.setToolTip("Set the dampers of the candidate; one step to undo")
        self.apply_button.clicked.connect(self._apply)
        row.addSpacing(6)
        row.addWidget(self.apply_button)
        row.addStretch(1)
        self.sentence.setWordWrap(True)
        self.sentence.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.sentence.setAccessibleName("What would change")
        grid = QGridLayout(self)
        grid.setContentsMargins(10, 6, 10, 6)
        grid.addLayout(row, 0, 0)
        grid.addWidget(self.sentence, 1, 0)
        self.setToolTip(
            "Starting values for the dampers: they are multiplied by one factor per axle, so that the split "
            "between jounce and rebound stays.\nOne mode: both axles by the same factor; a wheel hop or axle "
            "tramp takes its own axle.  Two modes: a factor for each axle.\n"
            "Damping ratios count with the mean slope of the dampers at rest."
        )

    def show_candidate(self, candidate: Analysis) -> None:
        """Work on these results from now on."""
        before, self._candidate = self._candidate, candidate
        if before is None or before.modes.names != candidate.modes.names:
            self._fill_combos(candidate.modes.names)
        self._wish_changed()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        for ratio in self.ratios:
            dress(ratio, theme)
        self._say(self.sentence.text(), self._refused)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._wish_changed()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self._due.stop()
        self._runner.cancel(_LANE)
        self._asked = None

    def _fill_combos(self, names: tuple[str, ...]) -> None:
        first = self.modes[0].currentText() or next((name for name in _FIRST if name in names), names[0])
        second = self.modes[1].currentText()
        ordered = sorted(names)
        for combo, chosen, items in (
            (self.modes[0], first, ordered),
            (self.modes[1], second, ["nothing else", *ordered]),
        ):
            combo.clear()
            combo.addItems(items)
            combo.setCurrentIndex(max(combo.findText(chosen), 0))

    def _wish(self) -> _Wish | None:
        if self._candidate is None:
            return None
        targets = [(self.modes[0].currentText(), self.ratios[0].value)]
        if self.modes[1].currentIndex() > 0:
            targets.append((self.modes[1].currentText(), self.ratios[1].value))
        analysis = self._candidate
        return _Wish(analysis.vehicle, analysis.load, analysis.run.model, tuple(targets))

    def _wish_changed(self) -> None:
        two = self.modes[1].currentIndex() > 0
        self.ratios[1].setEnabled(two)
        self._second_to.setEnabled(two)
        wish = self._wish()
        if wish is None or wish == self._asked:
            return
        self._asked = None
        self._apply_when_solved = False
        self._runner.cancel(_LANE)
        if self.isVisible():
            self._due.start()

    def _solve(self) -> None:
        wish = self._wish()
        if wish is None:
            return
        self._asked = wish
        if len({name for name, _ in wish.targets}) < len(wish.targets):
            self._refuse("Choose two different modes.")
            return
        self._runner.start(
            _LANE, "", lambda _job: wish.solve(), lambda proposal: self._show(wish, proposal), self._failed
        )

    def _show(self, wish: _Wish, proposal: DamperProposal) -> None:
        self._solved = (wish, proposal)
        assert self._candidate is not None  # its car is the one that was solved
        self._say(_sentence(self._candidate.modes, proposal, [name for name, _ in wish.targets]))
        self.apply_button.setEnabled(proposal.vehicle != wish.vehicle)
        self.previewed.emit()
        if self._apply_when_solved:
            self._apply()

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, InputError):
            raise error
        self._refuse("\n".join(_capital(problem.reason) for problem in error.problems))

    def _refuse(self, reason: str) -> None:
        self._apply_when_solved = False
        self.apply_button.setEnabled(False)
        self._say(reason, refused=True)
        self.previewed.emit()

    def _say(self, text: str, refused: bool = False) -> None:
        self._refused = refused
        self.sentence.setText(text)
        self.sentence.setStyleSheet(f"color: {self._theme.mark if refused else self._theme.ink};")

    def _apply(self) -> None:
        """Set the dampers now, or as soon as those of the present car are found."""
        wish = self._wish()
        if self._solved is None or self._solved[0] != wish:
            self._apply_when_solved = True
            return
        self._apply_when_solved = False
        path = self._document.candidate_path()
        if self._document.value(path) != wish.vehicle:
            return  # an edit is on its way; the sentence will follow
        aims = " and ".join(f"{name} {number(ratio)}" for name, ratio in wish.targets)
        project = replaced(self._document.project, path, self._solved[1].vehicle)
        self._document.apply(f"dampers for {aims}", project)


def _sentence(before: Modes, proposal: DamperProposal, wanted: list[str]) -> str:
    after = proposal.modes
    others = [name for name in ("bounce", "pitch", "roll") if name in after.names and name not in wanted]
    changes = ", ".join(
        f"{name} {ratio_text(before, before.index(name))} → {ratio_text(after, after.index(name))}"
        for name in (*wanted, *others)
    )
    front, rear = (f"×{number(factor)}" for factor in proposal.factors)
    return f"Front dampers {front}, rear {rear}: {changes}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
