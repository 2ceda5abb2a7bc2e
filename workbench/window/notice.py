"""A bar across the window that tells of a refusal or asks a question without stopping the work."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from workbench.theme import LIGHT, Theme

__all__ = ["NoticeBar"]

_Answers = Mapping[str, Callable[[], None]]


class NoticeBar(QFrame):
    """Hidden until there is something to say.

    A statement takes the place of the one before it.  A question waits behind statements and other
    questions until it is answered or dismissed.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.text = QLabel(self)
        self.text.setTextFormat(Qt.TextFormat.PlainText)
        self.text.setWordWrap(True)
        self.text.setAccessibleName("Notice")
        self.text.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self._layout = QHBoxLayout(self)
        self._layout.setContentsMargins(10, 4, 6, 4)
        self._layout.addWidget(self.text, 1)
        self._buttons: list[QPushButton] = []
        self._shown: tuple[str, _Answers] | None = None
        self._waiting: list[tuple[str, _Answers]] = []
        self.setAccessibleName("Notice")
        self.set_theme(LIGHT)
        self.hide()

    def say(self, text: str, answers: _Answers | None = None) -> None:
        """Show a text with a button per answer and one to dismiss it."""
        if self._shown is not None and self._shown[1] and self._shown[0] != text and not self.isHidden():
            self._waiting.append(self._shown)
        self._waiting = [(other, acts) for other, acts in self._waiting if other != text]
        self._show(text, answers or {})

    def settle(self) -> None:
        """Take back a statement, since what it was about is past; a question stays."""
        if self._shown is not None and not self._shown[1]:
            self._next()

    def take_back(self, text: str) -> None:
        """Forget one text, shown or waiting, since it holds no more."""
        self._waiting = [(other, acts) for other, acts in self._waiting if other != text]
        if self._shown is not None and self._shown[0] == text:
            self._next()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.setStyleSheet(
            f"NoticeBar {{ background: {theme.raised}; border: 0; border-left: 4px solid {theme.mark}; }}"
        )

    def _show(self, text: str, answers: _Answers) -> None:
        for button in self._buttons:
            self._layout.removeWidget(button)
            button.deleteLater()
        self._shown = text, answers
        self.text.setText(text)
        self._buttons = [self._button(label, act) for label, act in answers.items()]
        self._buttons.append(self._button("Dismiss", lambda: None))
        self.show()
        QAccessible.updateAccessibility(QAccessibleEvent(self.text, QAccessible.Event.Alert))

    def _next(self) -> None:
        self._shown = None
        if self._waiting:
            self._show(*self._waiting.pop())
        else:
            self.hide()

    def _button(self, label: str, act: Callable[[], None]) -> QPushButton:
        button = QPushButton(label, self)
        button.clicked.connect(self._next)
        button.clicked.connect(lambda: act())
        self._layout.addWidget(button)
        return button
