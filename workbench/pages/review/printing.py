"""Has reviews made while the window lives on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from models.report.press import Made, Order, Press
from models.report.watch import Watch
from workbench.pages.review.sheets import unpacked
from workbench.runner import Job, Runner

__all__ = ["Make", "Printing"]

_LANE = "review"
_TITLE = "Design review"

Make = Callable[[Order, Watch], Made]


class Printing(QObject):
    """One review at a time, in a process of its own that is kept for the session.

    Signals:
        told(float, str): share that is done, and what comes next.
        made(object, object, object): an :class:`Order`, the :class:`Made` that came of it, pictures of pages.
        failed(str): why nothing came of it.
        running_changed: work began or ended.
    """

    told = Signal(float, str)
    made = Signal(object, object, object)
    failed = Signal(str)
    running_changed = Signal()

    def __init__(self, runner: Runner, make: Make | None = None, parent: QObject | None = None) -> None:
        """Begin no process yet.

        Args:
            runner: waits for it.
            make: carries an order out; by default a :class:`Press`.
            parent: of the object.
        """
        super().__init__(parent)
        self._runner = runner
        self._press = Press()
        self._make: Make = make or self._press.make
        self._job: Job | None = None
        runner.busy_changed.connect(lambda _title: self._notice_cancelling())

    @property
    def running(self) -> bool:
        """Whether a review is being made."""
        return self._job is not None

    def start(self, order: Order) -> None:
        """Have an order carried out; one that runs gives way."""

        def work(job: Job) -> tuple[Made, tuple[QImage, ...]]:
            def tell(share: float, words: str) -> None:
                job.report(share)
                self.told.emit(share, words)

            made = self._make(order, Watch(tell, lambda: job.cancelled))
            return replace(made, pages=()), tuple(map(unpacked, made.pages))

        self._job = self._runner.start(
            _LANE, _TITLE, work, lambda found: self._end(order, *found), self._fail, apart=True
        )
        self.running_changed.emit()

    def stop(self) -> None:
        """Nobody wants it any more."""
        self._runner.cancel(_LANE)
        self._notice_cancelling()

    def close(self) -> None:
        """Let go of the process, at the end of the program."""
        self._press.close()

    def _end(self, order: Order, made: Made, pages: tuple[QImage, ...]) -> None:
        self._job = None
        self.running_changed.emit()
        self.made.emit(order, made, pages)

    def _fail(self, error: Exception) -> None:
        self._job = None
        self.running_changed.emit()
        self.failed.emit(str(error))

    def _notice_cancelling(self) -> None:
        if self._job is not None and self._job.cancelled:
            self._job = None
            self.running_changed.emit()
