"""Keeps a copy of unsaved work in the state folder and offers it after a crash."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from models.errors import system_reason
from models.project.recovery import Autosave as Copy
from models.project.recovery import Session, discard, pending
from workbench.document import Document
from workbench.runner import Job, Runner
from workbench.window.notice import NoticeBar

__all__ = ["Autosave"]

#: Longest time that unsaved work is without a copy, ms.
INTERVAL = 5000


class Autosave(QObject):
    """Writes the copy in the worker thread while edits come, and drops it once the project is saved.

    Signals:
        written(): the copy now holds the project as it stood when the write began.
        failed(str): there is no copy, and why; once until there is one again.
    """

    written = Signal()
    failed = Signal(str)

    def __init__(
        self,
        document: Document,
        runner: Runner,
        folder: Path,
        parent: QObject | None = None,
        interval: int = INTERVAL,
    ) -> None:
        """Watch ``document``; ``interval`` is the longest time in ms that an edit is without a copy."""
        super().__init__(parent)
        self._document = document
        self._runner = runner
        self._folder = folder
        self._session: Session | None = None
        self._told = False
        self._due = QTimer(self, singleShot=True, interval=interval)
        self._due.timeout.connect(self.write_now)
        document.changed.connect(self._edited)
        document.undo_stack.cleanChanged.connect(lambda _clean: self._edited())

    def write_now(self) -> None:
        """Write the copy, or drop it if there is nothing unsaved."""
        project, path, unsaved = self._document.project, self._document.path, self._document.unsaved

        def work(_job: Job) -> None:
            # A folder that cannot be written today may be writable at the next edit.
            session = self._session = self._session or Session(self._folder)
            if unsaved:
                session.write(project, path)
            else:
                session.clear()

        self._runner.start("autosave", "", work, self._done, self._say_failed, writes=True)

    def offer(self, notice: NoticeBar, may_leave: Callable[[], bool]) -> None:
        """Ask what to do with the newest copy of a session that died, one after the other.

        Args:
            notice: where to ask.
            may_leave: whether the project that is open by then may go for the copy.
        """
        copies = pending(self._folder)
        if copies:
            self._ask(copies[0], notice, may_leave)

    def end(self) -> None:
        """Leave nothing to recover: the program ends in order."""
        self._due.stop()
        if self._session is not None:
            self._session.close()

    def _done(self, _none: None) -> None:
        self._told = False
        self.written.emit()

    def _say_failed(self, error: Exception) -> None:
        if not self._told:
            self._told = True
            self.failed.emit(
                f"If the program ended now, unsaved work would be lost: no copy can be kept in "
                f"{self._folder} ({system_reason(error)}). Save often."
            )

    def _ask(self, copy: Copy, notice: NoticeBar, may_leave: Callable[[], bool]) -> None:
        throw_away = {"Throw it away": lambda: self._discard(copy, notice, may_leave)}
        when = copy.saved_at.astimezone().strftime("%Y-%m-%d %H:%M")
        if copy.project is None:
            text = f"Unsaved work of {when} was found, but {copy.damage}."
            notice.say(text, throw_away)
            return
        name = copy.path.name if copy.path else copy.project.name
        newer = " The file itself was changed after that." if _changed_since(copy) else ""
        notice.say(
            f"The program ended before “{name}” was saved. A copy of {when} is here.{newer}",
            {"Recover": lambda: self._recover(copy, notice, may_leave), **throw_away},
        )

    def _recover(self, copy: Copy, notice: NoticeBar, may_leave: Callable[[], bool]) -> None:
        assert copy.project is not None
        if not may_leave():
            self.offer(notice, may_leave)
            return
        self._document.open(copy.project, copy.path)
        self._document.recovered()
        # The copy of the dead session goes only when this session has its own.
        self.written.connect(lambda: discard(copy))
        self.write_now()

    def _discard(self, copy: Copy, notice: NoticeBar, may_leave: Callable[[], bool]) -> None:
        discard(copy)
        self.offer(notice, may_leave)

    def _edited(self) -> None:
        if not self._due.isActive():
            self._due.start()


def _changed_since(copy: Copy) -> bool:
    try:
        return copy.path is not None and copy.path.stat().st_mtime > copy.saved_at.timestamp()
    except OSError:
        return False
