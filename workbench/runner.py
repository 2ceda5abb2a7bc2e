"""Long work off the GUI thread: one place for progress, cancelling and stale results."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

from PySide6.QtCore import QEventLoop, QObject, Qt, Signal

__all__ = ["Cancelled", "Job", "Runner"]


class Cancelled(Exception):  # noqa: N818 - it is a way to stop, not an error
    """Raised inside work whose result nobody wants any more."""


class Job:
    """One piece of work, handed to the work itself so that it can report and be cancelled."""

    def __init__(
        self,
        title: str,
        work: Callable[[Job], Any],
        done: Callable[[Any], None],
        failed: Callable[[Exception], None],
        progressed: Callable[[float], None],
    ) -> None:
        self.title = title
        self.work = work
        self.done = done
        self.failed = failed
        self._progressed = progressed
        self._cancel = threading.Event()

    @property
    def cancelled(self) -> bool:
        """Whether the result is no longer wanted."""
        return self._cancel.is_set()

    def cancel(self) -> None:
        """Stop at the next report; whatever comes is dropped."""
        self._cancel.set()

    def report(self, share: float) -> None:
        """Tell how much is done (0 to 1).

        Raises:
            Cancelled: nobody wants the result any more.
        """
        if self.cancelled:
            raise Cancelled
        self._progressed(share)


class Runner(QObject):
    """Runs jobs in a worker thread; a newer job of the same ``lane`` makes the older one stale.

    Signals:
        busy_changed(str): another title of the job that runs now, empty when there is none.
        progressed(float): share done of that job.
    """

    busy_changed = Signal(str)
    progressed = Signal(float)
    _settled = Signal(object, object, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        # Writing to disk has a thread of its own: it must not wait for a long computation.
        # Threads of Python's, as a pool of Qt's waits for its work while it is deleted, and then holds the
        # lock of the interpreter that this work needs.
        self._computing, self._writing = ThreadPoolExecutor(1), ThreadPoolExecutor(1)
        # What waits for processes of its own keeps nobody from computing meanwhile; a study of hours does not
        # keep others of its kind waiting either.
        self._apart = ThreadPoolExecutor(2)
        self._ended = False
        self._lanes: dict[str, Job] = {}
        self._announced = ""
        # Emitted in the worker, received here: the queue between the threads keeps the order.
        self._settled.connect(self._settle, Qt.ConnectionType.QueuedConnection)

    @property
    def idle(self) -> bool:
        """Whether no work runs or waits whose result is wanted."""
        return not self._lanes

    def start(
        self,
        lane: str,
        title: str,
        work: Callable[[Job], Any],
        done: Callable[[Any], None],
        failed: Callable[[Exception], None],
        *,
        writes: bool = False,
        apart: bool = False,
    ) -> Job:
        """Run ``work(job)`` and hand its result to ``done`` in this thread, unless it went stale.

        After :meth:`stop` the job comes back cancelled.

        Args:
            lane: a newer job of the same lane makes this one stale.
            title: what the status bar says meanwhile; empty to say nothing.
            work: called in the worker thread.
            done, failed: called here with the result or the error.
            writes: the work is mainly waiting for the disk.
            apart: the work is long and mainly waiting for processes of its own.
        """
        self._drop(lane)
        job = Job(title, work, done, failed, self.progressed.emit)
        if self._ended:
            job.cancel()
            return job
        self._lanes[lane] = job
        self._announce()
        pool = self._writing if writes else self._apart if apart else self._computing
        pool.submit(self._work, job)
        return job

    def wait_for(self, title: str, work: Callable[[Job], Any]) -> Any:
        """Result of ``work``; until it is there the window lives on but takes no input.

        For the few things that must be over before the user goes on, such as saving before closing.

        Raises:
            Cancelled: the program is at its end.
            Exception: what ``work`` raised.
        """
        loop = QEventLoop()
        outcome: list[Any] = []

        def end(value: object) -> None:
            outcome.append(value)
            loop.quit()

        if self.start("wait", title, work, end, end, writes=True).cancelled:
            raise Cancelled
        loop.exec(QEventLoop.ProcessEventsFlag.ExcludeUserInputEvents)
        if isinstance(outcome[0], Exception):
            raise outcome[0]
        return outcome[0]

    def cancel(self, lane: str | None = None) -> None:
        """Cancel the job of a lane, or all."""
        lanes = list(self._lanes) if lane is None else [lane] if lane in self._lanes else []
        for name in lanes:
            self._drop(name)
        if lanes:
            self._announce()

    def stop(self) -> None:
        """Cancel everything, wait for what runs, and take nothing more; for the end of the program."""
        self._ended = True
        self.cancel()
        for pool in (self._computing, self._writing, self._apart):
            pool.shutdown(cancel_futures=True)

    def _work(self, job: Job) -> None:
        if job.cancelled:
            return
        try:
            result = job.work(job)
        except Cancelled:
            return
        except Exception as error:
            self._settled.emit(job, None, error)
        else:
            self._settled.emit(job, result, None)

    def _settle(self, job: Job, result: object, error: Exception | None) -> None:
        lane = next((name for name, running in self._lanes.items() if running is job), None)
        if lane is None or job.cancelled:
            return
        del self._lanes[lane]
        try:
            if error is None:
                job.done(result)
            else:
                job.failed(error)
        finally:
            self._announce()  # after, so that work in many pieces is one to the user

    def _drop(self, lane: str) -> None:
        job = self._lanes.pop(lane, None)
        if job is not None:
            job.cancel()

    def _announce(self) -> None:
        title = next(reversed(self._lanes.values())).title if self._lanes else ""
        if title != self._announced:
            self._announced = title
            self.busy_changed.emit(title)
