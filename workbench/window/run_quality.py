"""One line on how far the time responses on show can be trusted."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from models.analysis import Analysis
from models.judge.run_quality import RunQuality, run_quality, step_error
from models.ride.nonlinear import StepError
from workbench.runner import Job, Runner
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["RunQualityLine", "quality_text"]

#: Pause after the last new result before the step is halved, ms: a drag is over by then.
PAUSE = 300

_LANE = "quality"
_LIMIT_TEXT = "Over 0.1 % it is said in words."


@dataclass(frozen=True, slots=True, eq=False)
class _Run:
    """One analysis on show."""

    name: str
    analysis: Analysis


class RunQualityLine(QLabel):
    """Audits of the candidate's run in short; warnings of both runs in words and in the colour of marks.

    The error of the time step takes three runs: it is found in the worker thread once results have stayed
    for a while.

    Signals:
        audited(): the errors of the steps of both runs are known.
    """

    audited = Signal()

    def __init__(self, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._runner = runner
        self._theme = LIGHT
        self._runs: tuple[_Run, ...] = ()
        self._steps: dict[Analysis, StepError | None] = {}
        self._audits: dict[Analysis, RunQuality] = {}
        self._trouble = ""
        self._whole = ""
        self._due = QTimer(self, singleShot=True, interval=PAUSE)
        self._due.timeout.connect(self._audit)
        self.setFont(small_font(self.font()))
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setAccessibleName("Quality of the run")

    def show_results(
        self,
        candidate: Analysis,
        baseline: Analysis | None,
        names: tuple[str, str] = ("Candidate", "Baseline"),
    ) -> None:
        """Audit these results; ``names`` are those of the two variants."""
        runs = [_Run(names[0], candidate)]
        if baseline is not None:
            runs.append(_Run(names[1], baseline))
        self._runs = tuple(runs)
        shown = {run.analysis for run in runs}
        # The baseline stays through a drag of the candidate, and so does what is known of it.
        self._steps = {analysis: step for analysis, step in self._steps.items() if analysis in shown}
        self._audits = {analysis: audit for analysis, audit in self._audits.items() if analysis in shown}
        self._trouble = ""
        self._runner.cancel(_LANE)
        if self._missing():
            self._due.start()
        else:
            self._due.stop()
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self._show()

    @property
    def whole_text(self) -> str:
        """The line, also where it is not wide enough."""
        return self._whole

    def minimumSizeHint(self) -> QSize:
        return QSize(60, super().minimumSizeHint().height())

    def sizeHint(self) -> QSize:
        return QSize(self.fontMetrics().horizontalAdvance(self._whole) + 8, super().sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._elide()

    def _missing(self) -> list[Analysis]:
        return [
            run.analysis
            for run in self._runs
            if run.analysis.nonlinear is not None and run.analysis not in self._steps
        ]

    def _audit(self) -> None:
        missing = self._missing()

        def work(job: Job) -> list[StepError | None]:
            return [
                _reported(job, number / len(missing), analysis) for number, analysis in enumerate(missing)
            ]

        def done(steps: list[StepError | None]) -> None:
            self._steps.update(zip(missing, steps, strict=True))
            self._audits.clear()
            self._show()
            self.audited.emit()

        self._runner.start(_LANE, "", work, done, self._failed)

    def _failed(self, error: Exception) -> None:
        self._trouble = f"The error of the time step cannot be found: {error}"
        self._show()

    def _show(self) -> None:
        if not self._runs:
            return
        audits = [self._quality(run.analysis) for run in self._runs]
        warnings = [
            warning if number == 0 else f"{run.name}: {warning}"
            for number, (run, audit) in enumerate(zip(self._runs, audits, strict=True))
            for warning in audit.warnings
        ]
        warnings += [self._trouble] if self._trouble else []
        self._whole = "  ".join([quality_text(audits[0]), *warnings])
        colour = self._theme.mark if warnings else self._theme.faint
        sheet = f"color: {colour};"
        if sheet != self.styleSheet():
            self.setStyleSheet(sheet)
        lines = dict.fromkeys(check.meaning for audit in audits for check in audit.checks)
        words = [*warnings, *lines, _LIMIT_TEXT] if lines else warnings
        tip = "<qt>" + "<br>".join(map(escape, words)) + "</qt>" if words else ""
        if tip != self.toolTip():
            self.setToolTip(tip)
        self.setAccessibleDescription(self._whole)
        self._elide()

    def _quality(self, analysis: Analysis) -> RunQuality:
        if analysis not in self._audits:
            self._audits[analysis] = run_quality(analysis, self._steps.get(analysis))
        return self._audits[analysis]

    def _elide(self) -> None:
        width = max(self.width() - 4, 0)
        text = self.fontMetrics().elidedText(self._whole, Qt.TextElideMode.ElideRight, width)
        if text != self.text():
            self.setText(text)


def quality_text(quality: RunQuality) -> str:
    """The audits in short: "nonlinear · energy 2e-8 · step 3e-6 · parts 4e-4 · laws 0"."""
    parts = ["nonlinear" if quality.nonlinear else "linear"]
    for check in quality.checks:
        if check.key == "curves":
            continue  # they have their sentences
        parts.append(f"{check.key} {'…' if check.value is None else _power(check.value)}")
    return " · ".join(parts)


def _power(share: float) -> str:
    if share == 0:
        return "0"
    digits, power = f"{share:.0e}".split("e")
    return f"{digits}e{int(power)}".replace("e-", "e−")


def _reported(job: Job, share: float, analysis: Analysis) -> StepError | None:
    job.report(share)
    return step_error(analysis)
