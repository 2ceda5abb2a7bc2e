"""Runs studies off the GUI thread, and keeps their results."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from models.errors import InputError
from models.studies import (
    Asked,
    Progress,
    StudyResult,
    Watch,
    Workers,
    ask,
    file_name,
    folder_of,
    load_result,
    local_workers,
    run_study,
    save_result,
)
from models.study import ResultFile, Study
from workbench.document import Document
from workbench.runner import Cancelled, Job, Runner
from workbench.settings import state_folder

__all__ = ["StudyRuns", "read_kept", "results_folder"]

_LANE = "study"
# How often progress is told, and how often what has come is shown, s.
_TOLD_EVERY, _SHOWN_EVERY = 0.1, 0.5


def results_folder(path: Path | None) -> Path:
    """Folder of the results of a project; of one that is not saved, in the state folder of the program."""
    return state_folder() / "studies" if path is None else folder_of(path)


class StudyRuns(QObject):
    """One study at a time, on workers that are kept for the session.

    Signals:
        started: a study runs now.
        told(object): its :class:`Progress`.
        came(object): its :class:`StudyResult`, as far as it has come.
        ended(object, object, str): result (or None), its :class:`ResultFile` (or None), and what went wrong.
    """

    started = Signal()
    told = Signal(object)
    came = Signal(object)
    ended = Signal(object, object, str)
    # The same as the last one, from the thread of the study.
    _over = Signal(object, object, str)

    def __init__(
        self,
        document: Document,
        runner: Runner,
        open_workers: Callable[[], Workers] = local_workers,
        parent: QObject | None = None,
    ) -> None:
        """Run nothing yet; the workers are opened in the worker thread when a study first needs them."""
        super().__init__(parent)
        self._document, self._runner, self._open_workers = document, runner, open_workers
        self._workers: Workers | None = None
        self._dropped = False
        #: Name of the study that runs; empty when none does.
        self.running = ""
        self._over.connect(self._end)

    @property
    def workers(self) -> Workers:
        """Those of the session; they open no process before their first piece of work."""
        if self._workers is None:
            self._workers = self._open_workers()
        return self._workers

    def start(self, study: Study) -> None:
        """Run a study, or go on with what an earlier run has left of it."""
        if self.running:
            return
        project, workers = self._document.project, self.workers
        folders = results_folder(self._document.path), results_folder(None)
        self.running, self._dropped = study.name, False

        def work(job: Job) -> None:
            try:
                asked = ask(project, study)
                self._over.emit(*self._answered(job, asked, _earlier(folders, asked), workers))
            except InputError as error:
                self._over.emit(None, None, str(error))
            except Exception as error:
                self._over.emit(None, None, f"The study broke off: {error}")
                raise

        title = f"Study “{study.name}”"
        # The end is told by a signal of its own: what was stopped is worth keeping too.
        self._runner.start(_LANE, title, work, lambda _none: None, _raise, apart=True)
        self.started.emit()

    def stop(self) -> None:
        """End the study that runs; what has come is kept."""
        self._runner.cancel(_LANE)

    def drop(self) -> None:
        """End the study that runs, whose project is closed; its results are told to nobody."""
        self._dropped = True
        self.stop()

    def close(self) -> None:
        """Let go of the workers, at the end of the program."""
        if self._workers is not None:
            self._workers.close()
            self._workers = None

    def _end(self, result: StudyResult | None, kept: ResultFile | None, trouble: str) -> None:
        self.running = ""
        if self._dropped:
            result = kept = None
            trouble = ""
        self.ended.emit(result, kept, trouble)

    def _answered(
        self, job: Job, asked: Asked, earlier: StudyResult | None, workers: Workers
    ) -> tuple[StudyResult, ResultFile | None, str]:
        last = 0.0

        def tell(progress: Progress) -> None:
            nonlocal last
            if time.monotonic() - last < _TOLD_EVERY and progress.done < progress.total:
                return
            last = time.monotonic()
            self.told.emit(progress)
            with suppress(Cancelled):  # the study sees it itself
                job.report(progress.done / max(progress.total, 1))

        watch = Watch(tell, self.came.emit, lambda: job.cancelled, _SHOWN_EVERY)
        result = run_study(asked, workers, earlier=earlier, watch=watch)
        # Beside the project as it lies now: it may have been saved under another name meanwhile.
        path = results_folder(self._document.path) / file_name(asked)
        try:
            return result, save_result(result, path), result.problem
        except InputError as error:
            return result, None, str(error)


def _earlier(folders: tuple[Path, ...], asked: Asked) -> StudyResult | None:
    """What an earlier run has left, also under another name of the study, where it can be read."""
    names = [file_name(asked)]
    if asked.study.result is not None:
        names.append(asked.study.result.file)
    for path in [folder / name for name in names for folder in folders]:
        with suppress(InputError):
            result = load_result(path) if path.exists() else None
            if result is not None and result.asked.inputs == asked.inputs:
                return result
    return None


def _raise(error: Exception) -> None:
    raise error


def read_kept(study: Study, folders: tuple[Path, ...]) -> StudyResult | None:
    """Result that a project refers to; None where there is none.

    Raises:
        InputError: it is not there, or cannot be read.
    """
    kept = study.result
    if kept is None:
        return None
    path = next((folder / kept.file for folder in folders if (folder / kept.file).exists()), None)
    if path is None:
        reason = "the file of its results is not there any more; start the study again"
        raise InputError.of("results", kept.file, reason)
    return load_result(path, kept)
