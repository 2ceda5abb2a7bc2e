"""From an edit to fresh results: what is stale is computed again, once per turn of the event loop.

A run short enough for one frame is computed at once, so that a drag shows in the same frame; one of more
time or of more steps goes to a worker thread.  A newer edit makes its result stale; while a drag goes on,
results are shown as they come, each followed by that of the car as it is by then.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property, partial

from PySide6.QtCore import QObject, QTimer, Signal

from models.analysis import Analysis, TooLong, begin_analysis, prepare
from models.project import Project
from models.run import Run
from models.vehicle import LoadCase, Vehicle
from workbench.document import Document
from workbench.runner import Job, Runner

__all__ = ["DIRECT_DURATION", "DIRECT_STEPS", "Engine"]

#: Runs up to this length are computed in the GUI thread: they take some 6 ms (tests/benchmarks).
DIRECT_DURATION = 6.0

#: And up to this many steps of the nonlinear run: 4000 take some 4 ms; stiff wheels or a narrow friction need
#: many within a sample.
DIRECT_STEPS = 8000

_KEPT = 24


@dataclass(frozen=True)
class _Key:
    """What an analysis depends on."""

    vehicle: Vehicle
    run: Run
    load: LoadCase
    compiled: bool

    @cached_property
    def _hash(self) -> int:
        return hash((self.vehicle, self.run, self.load, self.compiled))

    def __hash__(self) -> int:
        return self._hash  # which takes a walk through the car; a look-up asks several times


class Engine(QObject):
    """Keeps the analyses of candidate and baseline in step with the document.

    Until the code of the nonlinear run is compiled or loaded, the time responses are linear ones;
    :meth:`prepare` brings it in and then computes again.

    Signals:
        results_changed: ``candidate`` and ``baseline`` are fresh.
        failed(str): an analysis could not be made; the last results stay.
    """

    results_changed = Signal()
    failed = Signal(str)

    def __init__(self, document: Document, runner: Runner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._runner = runner
        self._cache: OrderedDict[_Key, Analysis] = OrderedDict()
        self._compiled = False
        self._asked: tuple[Project, bool, tuple[_Key, _Key]] | None = None
        self._shown: tuple[_Key, _Key] | None = None
        self._step = -1  # of the undo stack, when the results on show came
        self._background: tuple[Job, tuple[_Key, _Key]] | None = None
        self.candidate: Analysis | None = None
        self.baseline: Analysis | None = None
        self._begun: tuple[_Key, Callable[[], Analysis]] | None = None
        self._due = QTimer(self, singleShot=True, interval=0)
        self._due.timeout.connect(self.update_now)
        document.changed.connect(self._begin)
        document.changed.connect(self._due.start)
        document.opened.connect(self._due.start)

    def prepare(self) -> None:
        """Make the nonlinear run ready in the worker thread; at the first start that takes a while."""
        self._runner.start(
            "preparing",
            "Preparing the nonlinear run; time responses are linear until then",
            lambda _job: prepare(),
            lambda _none: self._prepared(),
            lambda error: self.failed.emit(f"The nonlinear run is not available: {error}"),
        )

    @property
    def stale(self) -> bool:
        """Whether the results on show are not those of the document as it stands."""
        return self._shown != self._wanted()

    def _begin(self) -> None:
        """Let the candidate's run go while the editor still shows the edit."""
        key = self._wanted()[0]
        self._begun = None
        if key not in self._cache and key.run.duration <= DIRECT_DURATION:
            try:
                self._begun = key, _begin_analysis(key, DIRECT_STEPS)
            except (TooLong, ValueError, ArithmeticError) as error:
                self._begun = key, partial(_raise, error)  # for the update, which deals with it

    def update_now(self) -> None:
        """Compute what is stale."""
        self._due.stop()
        keys = self._wanted()
        if self._shown == keys:
            self._runner.cancel("analysis")
            return
        missing = [key for key in dict.fromkeys(keys) if key not in self._cache]
        if missing and keys[0].run.duration > DIRECT_DURATION:
            self._compute_in_background(missing, keys)
            return
        try:
            found = [self._finish(key) for key in missing]
        except TooLong:
            self._compute_in_background(missing, keys)
            return
        except (ValueError, ArithmeticError) as error:
            self._runner.cancel("analysis")
            self.failed.emit(str(error))
            return
        self._runner.cancel("analysis")
        for key, analysis in zip(missing, found, strict=True):
            self._keep(key, analysis)
        self._publish(keys)

    def _finish(self, key: _Key) -> Analysis:
        begun, self._begun = self._begun, None
        if begun is not None and begun[0] == key:
            return begun[1]()
        return _begin_analysis(key, DIRECT_STEPS)()

    def _compute_in_background(self, missing: list[_Key], keys: tuple[_Key, _Key]) -> None:
        if self._background and not self._background[0].cancelled and _same_run(self._background[1], keys):
            return  # its results are shown, then these are computed

        def work(job: Job) -> list[Analysis]:
            return [_reported(job, number / len(missing), key) for number, key in enumerate(missing)]

        def done(analyses: list[Analysis]) -> None:
            self._background = None
            for key, analysis in zip(missing, analyses, strict=True):
                self._keep(key, analysis)
            self._publish(keys)
            self._follow(keys)

        def failed(error: Exception) -> None:
            self._background = None
            self.failed.emit(str(error))
            self._follow(keys)

        self._background = self._runner.start("analysis", "Computing the run", work, done, failed), keys

    def _follow(self, keys: tuple[_Key, _Key]) -> None:
        """Compute again where edits came in meanwhile."""
        if keys != self._wanted():
            self._due.start()

    def _prepared(self) -> None:
        self._compiled = True
        self.update_now()

    def _wanted(self) -> tuple[_Key, _Key]:
        project: Project = self._document.project
        if self._asked is None or self._asked[0] is not project or self._asked[1] != self._compiled:
            key = partial(_Key, run=project.run, load=project.load, compiled=self._compiled)
            candidate, baseline = (project.variant(name) for name in (project.candidate, project.baseline))
            keys = key(vehicle=candidate.vehicle), key(vehicle=baseline.vehicle)
            self._asked = project, self._compiled, keys
        return self._asked[2]

    def _keep(self, key: _Key, analysis: Analysis) -> None:
        self._cache[key] = analysis
        while len(self._cache) > _KEPT:
            self._cache.popitem(last=False)

    def _publish(self, keys: tuple[_Key, _Key]) -> None:
        self._drop_passed(keys)
        self._shown = keys
        self.candidate, self.baseline = (self._cache[key] for key in keys)
        self._cache.move_to_end(keys[1])
        self.results_changed.emit()

    def _drop_passed(self, keys: tuple[_Key, _Key]) -> None:
        """Drop what a drag has passed through: no undo step leads back to it.

        Its memory, some 10 MB, is used again by the next step while it is still in the processor's cache.
        """
        step = self._document.undo_stack.index()
        if self._shown and step == self._step and self._shown[0] not in keys:
            self._cache.pop(self._shown[0], None)
        self._step = step


def _begin_analysis(key: _Key, most_steps: int | None = None) -> Callable[[], Analysis]:
    return begin_analysis(key.vehicle, key.run, key.load, compiled=key.compiled, most_steps=most_steps)


def _raise(error: Exception) -> Analysis:
    raise error


def _same_run(one: tuple[_Key, _Key], other: tuple[_Key, _Key]) -> bool:
    """Whether two pairs differ in nothing but the candidate's car, as in a drag."""
    return one[1] == other[1] and replace(one[0], vehicle=other[0].vehicle) == other[0]


def _reported(job: Job, share: float, key: _Key) -> Analysis:
    job.report(share)
    return _begin_analysis(key)()
