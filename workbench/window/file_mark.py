"""Tells a second running program that a project file is open already."""

from __future__ import annotations

import hashlib
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from models.project.lock import Lock, is_held
from workbench.document import Document

__all__ = ["FileMark"]


class FileMark(QObject):
    """Holds a lock named after the file of the document, in the state folder that all programs share.

    The lock keeps nobody from reading or writing; it lets the second program say so.  Where no lock can
    be made nothing is said: saving still asks before it writes over another's change.

    Signals:
        shared(str): another running program has the file open, in words.
    """

    shared = Signal(str)

    def __init__(self, document: Document, folder: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._folder = folder / "open"
        self._lock: Lock | None = None
        self._marked: Path | None = None
        document.path_changed.connect(self._follow)
        self._follow()

    def end(self) -> None:
        """Let go: the program ends in order."""
        if self._lock is not None:
            self._lock.release()
        self._lock = self._marked = None

    def _follow(self) -> None:
        path = self._document.path
        if path is not None and path == self._marked:
            return
        self.end()
        if path is None:
            return
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            file = self._folder / f"{_name(path)}.lock"
            if is_held(file):
                self.shared.emit(
                    f"{path.name} is open in another window of Corduroy as well. Whichever saves second "
                    "is asked before it writes over the work of the first."
                )
            else:
                self._lock, self._marked = Lock(file), path
        except OSError:
            self._lock = None


def _name(path: Path) -> str:
    return hashlib.sha256(str(path.resolve()).encode()).hexdigest()[:32]
