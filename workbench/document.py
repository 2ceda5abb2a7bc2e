"""The one open project: its edits, its undo stack, its file."""

from __future__ import annotations

import itertools
import weakref
from pathlib import Path as FilePath

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack
from shiboken6 import isValid

from models.fields import Path, follow, replaced
from models.project import Project

__all__ = ["Document", "next_gesture"]

_MERGE_ID = 1
_gestures = itertools.count(1)


def next_gesture() -> int:
    """Number of a new gesture, such as one slider drag; its edits become one undo step."""
    return next(_gestures)


class Document(QObject):
    """Holds the project; every edit is one command on the undo stack.

    The project is frozen, so a command keeps the project before and after; parts that an edit does not
    touch are shared between them.  ``changed`` is emitted once for each real change, ``opened`` in its
    place where another project took the stage, ``path_changed`` when the file became another.
    """

    changed = Signal()
    opened = Signal()
    path_changed = Signal()

    def __init__(self, project: Project, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._project = project
        self._path: FilePath | None = None
        self.undo_stack = QUndoStack(self)
        # The binding counts commands among the parts of the stack, and a round of the garbage collector may
        # take them from a stack that still lists them.  So they go before anything else of a document does.
        weakref.finalize(self, _let_go, self.undo_stack).atexit = False

    @property
    def project(self) -> Project:
        """The project as it stands."""
        return self._project

    @property
    def path(self) -> FilePath | None:
        """File of the project; None before the first save."""
        return self._path

    @property
    def unsaved(self) -> bool:
        """Whether the project differs from what was opened or saved."""
        return not self.undo_stack.isClean()

    def open(self, project: Project, path: FilePath | None) -> None:
        """Take another project; its history starts anew."""
        self._project = project
        self._path = path
        self.undo_stack.clear()
        self.undo_stack.setClean()
        self.path_changed.emit()
        self.opened.emit()

    def saved(self, path: FilePath) -> None:
        """Note that the project now lies in ``path``."""
        self.undo_stack.setClean()
        if path != self._path:
            self._path = path
            self.path_changed.emit()

    def recovered(self) -> None:
        """Mark a project that was opened from an autosave as unsaved."""
        self.undo_stack.resetClean()

    def candidate_path(self) -> Path:
        """Path of the candidate's vehicle in the project."""
        names = [variant.name for variant in self._project.variants]
        return ("variants", names.index(self._project.candidate), "vehicle")

    def value(self, path: Path) -> object:
        """Value at ``path`` of the project."""
        return follow(self._project, path)

    def edit(self, path: Path, value: object, gesture: int | None = None) -> None:
        """Exchange the value at ``path``.

        Args:
            path: field names and tuple indices from the project down.
            value: SI number, quantity text, or part.
            gesture: edits of one path with the same number (one slider drag) become one undo step.

        Raises:
            InputError: the value is refused; the project stays as it was.
        """
        self.apply(_edit_text(path), replaced(self._project, path, value), path, gesture)

    def apply(
        self, text: str, project: Project, path: Path | None = None, gesture: int | None = None
    ) -> None:
        """Make ``project`` the present state as one undoable edit named ``text``."""
        if project != self._project:
            self.undo_stack.push(_Edit(self, text, project, path, gesture))

    def _set(self, project: Project) -> None:
        self._project = project
        self.changed.emit()


class _Edit(QUndoCommand):
    def __init__(
        self, document: Document, text: str, after: Project, path: Path | None, gesture: int | None
    ) -> None:
        super().__init__(text)
        self._document = weakref.ref(document)  # which owns this
        self._before = document.project
        self._after = after
        self._key = None if gesture is None else (path, gesture)

    def redo(self) -> None:
        self._give(self._after)

    def undo(self) -> None:
        self._give(self._before)

    def _give(self, project: Project) -> None:
        document = self._document()
        if document is not None:
            document._set(project)

    def id(self) -> int:
        return -1 if self._key is None else _MERGE_ID

    def mergeWith(self, other: QUndoCommand) -> bool:
        if not isinstance(other, _Edit) or other._key != self._key:
            return False
        self._after = other._after
        # A drag that came back to where it began is no edit; Qt then drops the command.
        self.setObsolete(self._after == self._before)
        return True


def _let_go(stack: QUndoStack) -> None:
    if isValid(stack):
        stack.blockSignals(True)
        stack.clear()


def _edit_text(path: Path) -> str:
    words = [step for step in path if isinstance(step, str) and step not in ("variants", "vehicle", "run")]
    return "edit of " + " ".join(words).replace("_", " ").replace("cg", "CG")
