"""One-line field that asks before it changes anything: Return or leaving commits, Escape restores."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol, runtime_checkable

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from workbench.editor.wheel import PointedAt, wheel_steps

__all__ = ["ValueEdit", "commit_input", "undoes"]

_STEPS = {
    Qt.Key.Key_Up: 1,
    Qt.Key.Key_Down: -1,
    Qt.Key.Key_PageUp: 10,
    Qt.Key.Key_PageDown: -10,
}


class ValueEdit(QLineEdit):
    """Shows a text at rest and perhaps a longer one while it has the focus.

    Signals:
        committed: the text the user typed, if it differs from what was shown.
        abandoned: the user pressed Escape on a text of their own, or typed back what was shown.
        stepped: steps by arrow keys or wheel (10 for a page key) and whether they are fine ones.
    """

    committed = Signal(str)
    abandoned = Signal()
    stepped = Signal(float, bool)

    def __init__(self, parent: QWidget | None = None, steps: bool = False) -> None:
        super().__init__(parent)
        self._rest = self._shown = ""
        self._full: Callable[[], str] = lambda: self._rest
        self._has_steps = steps
        self._pointed_at = PointedAt(self)
        self._entered_by_click = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAcceptDrops(False)  # a file that is dropped is for the window to open

    @property
    def pending(self) -> bool:
        """Whether the field holds a text that is not committed."""
        return self.text() != self._shown

    def display(self, rest: str, full: Callable[[], str] | None = None) -> None:
        """Show a value; any text of the user's gives way.

        Args:
            rest: text at rest.
            full: makes the text to be shown while the field has the focus.
        """
        self._rest = rest
        self._full = full or (lambda: rest)
        self._set_shown(self._full() if self.hasFocus() else rest)
        if self.hasFocus():
            self.select_value()

    def select_value(self) -> None:
        """Select all, with the first digits in sight if there are more than fit."""
        self.end(False)
        self.home(True)

    def restore(self) -> None:
        """Drop a text that is not committed."""
        self._set_shown(self._full() if self.hasFocus() else self._rest)

    def commit(self) -> None:
        """Hand over a text that differs from what is shown; who types that back has dropped the other."""
        if self.pending:
            self.committed.emit(self.text())
        elif self.isModified():
            self.setModified(False)
            self.abandoned.emit()

    def _set_shown(self, text: str) -> None:
        self._shown = text
        if text != self.text():
            self.setText(text)

    def event(self, event: QEvent) -> bool:
        if not self.pending and undoes(event):
            event.ignore()
            return False
        return super().event(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        if not self.pending:
            self._set_shown(self._full())
        self._entered_by_click = event.reason() == Qt.FocusReason.MouseFocusReason
        super().focusInEvent(event)
        if not self._entered_by_click and not self.pending:
            self.select_value()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() == Qt.FocusReason.PopupFocusReason:
            return
        pending = self.pending
        self.commit()
        if not pending:
            self._set_shown(self._rest)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._pointed_at.note()
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._pointed_at.note()
        super().mouseMoveEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        # The first click picks the whole value, so that typing replaces it; a second one sets the cursor.
        if self._entered_by_click and not self.hasSelectedText():
            self.select_value()
        self._entered_by_click = False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.commit()
            if not self.pending:
                self.select_value()
        elif key == Qt.Key.Key_Escape and self.pending:
            self.restore()
            self.select_value()
            self.abandoned.emit()
        elif self._has_steps and key in _STEPS:
            self.stepped.emit(_STEPS[key], bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier))
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self._has_steps and self._pointed_at.is_meant:
            self.stepped.emit(*wheel_steps(event))
            event.accept()
        else:
            event.ignore()


def undoes(event: QEvent) -> bool:
    """Whether a field is asked for Undo or Redo: untouched, it leaves them to the edits of the document."""
    return (
        event.type() == QEvent.Type.ShortcutOverride
        and isinstance(event, QKeyEvent)
        and (event.matches(QKeySequence.StandardKey.Undo) or event.matches(QKeySequence.StandardKey.Redo))
    )


@runtime_checkable
class _Typed(Protocol):
    """A field of one line or several whose text waits to be taken."""

    @property
    def pending(self) -> bool: ...

    def commit(self) -> None: ...


def commit_input() -> bool:
    """Commit the text in the field that has the focus, as before a save by key; False if it was refused."""
    field = QApplication.focusWidget()
    if not isinstance(field, _Typed):
        return True
    field.commit()
    return not field.pending
