"""Which further variants are drawn behind candidate and baseline, and their results."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QObject, Signal

from models.analysis import Analysis, analyse
from models.project import Project
from models.run import Run
from models.vehicle import LoadCase, Vehicle
from workbench.runner import Job, Runner

__all__ = ["Others"]

_LANE = "compare"
_KEPT = 24


class _Key(NamedTuple):
    vehicle: Vehicle
    run: Run
    load: LoadCase


class Others(QObject):
    """Computes the chosen variants in the worker; a newer wish makes an older one stale.

    Signals:
        ready: results of all that is wanted are there, and are others than before.
        failed(str): they could not be computed.
    """

    ready = Signal()
    failed = Signal(str)

    def __init__(self, runner: Runner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._runner = runner
        self._kept: dict[_Key, Analysis] = {}
        self._told: tuple[tuple[str, _Key], ...] = ()
        self._project: Project | None = None
        self.chosen: set[str] = set()

    @property
    def names(self) -> list[str]:
        """Variants on offer: neither the candidate nor the baseline."""
        if self._project is None:
            return []
        roles = (self._project.candidate, self._project.baseline)
        return [name for name in self._project.names if name not in roles]

    @property
    def results(self) -> tuple[tuple[str, Analysis], ...]:
        """Names and results of the chosen variants that are computed."""
        wanted = self._wanted()
        return tuple((name, self._kept[key]) for name, key in wanted.items() if key in self._kept)

    def show_project(self, project: Project) -> None:
        """Take the project as it stands, and compute what is missing."""
        self._project = project
        self.chosen &= set(project.names)
        self._compute()

    def choose(self, name: str, drawn: bool) -> None:
        """Draw a variant, or no more."""
        (self.chosen.add if drawn else self.chosen.discard)(name)
        self._compute()

    def _wanted(self) -> dict[str, _Key]:
        if self._project is None:
            return {}
        project = self._project
        return {
            name: _Key(project.variant(name).vehicle, project.run, project.load)
            for name in self.names
            if name in self.chosen
        }

    def _compute(self) -> None:
        missing = [key for key in dict.fromkeys(self._wanted().values()) if key not in self._kept]
        if not missing:
            self._runner.cancel(_LANE)
            self._tell()
            return

        def work(job: Job) -> list[Analysis]:
            found = []
            for number, key in enumerate(missing):
                job.report(number / len(missing))
                found.append(analyse(*key))
            return found

        def done(found: list[Analysis]) -> None:
            self._kept.update(zip(missing, found, strict=True))
            wanted = set(self._wanted().values())
            spare = [key for key in self._kept if key not in wanted]
            for key in spare[: max(len(self._kept) - _KEPT, 0)]:
                del self._kept[key]
            self._tell()

        self._runner.start(
            _LANE,
            "Computing further variants",
            work,
            done,
            lambda error: self.failed.emit(f"A further variant could not be computed. {error}"),
        )

    def _tell(self) -> None:
        wanted = tuple(self._wanted().items())
        if wanted != self._told:
            self._told = wanted
            self.ready.emit()
