"""From an edit to fresh results: what is stale is computed again, once per turn of the event loop.

A run short enough for one frame is computed at once, so that a drag shows in the same frame; a longer
one goes to a worker thread, and a newer edit makes its result stale.
"""

from __future__ import annotations

from collections import OrderedDict

from PySide6.QtCore import QObject, QTimer, Signal

from models.analysis import Analysis, analyse
from models.project import Project
from models.run import Run
from models.vehicle import Vehicle
from workbench.document import Document
from workbench.runner import Job, Runner

__all__ = ["Engine"]

#: Runs up to this length are computed in the GUI thread: they take some 6 ms (tests/benchmarks).
DIRECT_DURATION = 6.0

_KEPT = 24


class Engine(QObject):
    """Keeps the analyses of candidate and baseline in step with the document.

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
        self._cache: OrderedDict[tuple[Vehicle, Run], Analysis] = OrderedDict()
        self.candidate: Analysis | None = None
        self.baseline: Analysis | None = None
        self._due = QTimer(self, singleShot=True, interval=0)
        self._due.timeout.connect(self.update_now)
        document.changed.connect(self._due.start)
        document.opened.connect(self._due.start)

    def update_now(self) -> None:
        """Compute what is stale."""
        self._due.stop()
        project = self._document.project
        wanted = _wanted(project)
        if self._shown() == wanted:
            self._runner.cancel("analysis")
            return
        missing = [
            vehicle for vehicle in dict.fromkeys(wanted[:2]) if (vehicle, wanted[2]) not in self._cache
        ]
        if not missing or wanted[2].duration <= DIRECT_DURATION:
            self._runner.cancel("analysis")
            try:
                for vehicle in missing:
                    self._keep(analyse(vehicle, wanted[2]))
            except (ValueError, ArithmeticError) as error:
                self.failed.emit(str(error))
                return
            self._publish(wanted)
        else:
            self._compute_in_background(missing, wanted)

    def _compute_in_background(self, missing: list[Vehicle], wanted: tuple[Vehicle, Vehicle, Run]) -> None:
        def work(job: Job) -> list[Analysis]:
            analyses = []
            for number, vehicle in enumerate(missing):
                job.report(number / len(missing))
                analyses.append(analyse(vehicle, wanted[2]))
            return analyses

        def done(analyses: list[Analysis]) -> None:
            for analysis in analyses:
                self._keep(analysis)
            self._publish(wanted)

        self._runner.start(
            "analysis", "Computing the run", work, done, lambda error: self.failed.emit(str(error))
        )

    def _shown(self) -> tuple[Vehicle, Vehicle, Run] | None:
        if self.candidate is None or self.baseline is None:
            return None
        return self.candidate.vehicle, self.baseline.vehicle, self.candidate.run

    def _keep(self, analysis: Analysis) -> None:
        self._cache[analysis.vehicle, analysis.run] = analysis
        while len(self._cache) > _KEPT:
            self._cache.popitem(last=False)

    def _publish(self, wanted: tuple[Vehicle, Vehicle, Run]) -> None:
        candidate, baseline, run = wanted
        self.candidate = self._cache[candidate, run]
        self.baseline = self._cache[baseline, run]
        self._cache.move_to_end((baseline, run))
        self.results_changed.emit()


def _wanted(project: Project) -> tuple[Vehicle, Vehicle, Run]:
    vehicles = {variant.name: variant.vehicle for variant in project.variants}
    return vehicles[project.candidate], vehicles[project.baseline], project.run
