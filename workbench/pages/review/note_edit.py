"""A field of several lines that is taken when it is left, or by Ctrl+Return."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QPlainTextEdit, QWidget

from workbench.editor.value_edit import undoes

__all__ = ["NoteEdit"]


class NoteEdit(QPlainTextEdit):
    """Shows a note; Escape drops what was typed.

    Signals:
        committed(str): the text of the user, where it differs from what was shown.
    """

    committed = Signal(str)

    def __init__(self, lines: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown = ""
        self.setTabChangesFocus(True)
        self.setFixedHeight(lines * self.fontMetrics().lineSpacing() + 14)

    @property
    def pending(self) -> bool:
        """Whether it holds a text that is not taken."""
        return self.toPlainText() != self._shown

    def display(self, text: str) -> None:
        """Show a text; any of the user's gives way where the text is another one than before."""
        if text != self._shown:
            self._shown = text
            self.setPlainText(text)

    def commit(self) -> None:
        """Hand over what was typed."""
        if self.pending:
            self.committed.emit(self.toPlainText())

    def restore(self) -> None:
        """Drop what was typed."""
        self.setPlainText(self._shown)

    def event(self, event: QEvent) -> bool:
        if not self.pending and undoes(event):
            event.ignore()
            return False
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if enter and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.commit()
        elif event.key() == Qt.Key.Key_Escape and self.pending:
            self.restore()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.commit()
