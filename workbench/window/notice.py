"""A bar across the window that tells of a refusal or asks a question without stopping the work."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from workbench.theme import LIGHT, Theme

__all__ = ["NoticeBar"]


class NoticeBar(QFrame):
    """Hidden until there is something to say."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.text = QLabel(self)
        self.text.setTextFormat(Qt.TextFormat.PlainText)
        self.text.setWordWrap(True)
        self.text.setAccessibleName("Notice")
        self.text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._layout = QHBoxLayout(self)
        self._layout.setContentsMargins(10, 4, 6, 4)
        self._layout.addWidget(self.text, 1)
        self._buttons: list[QPushButton] = []
        self.setAccessibleName("Notice")
        self.set_theme(LIGHT)
        self.hide()

    def say(self, text: str, answers: dict[str, Callable[[], None]] | None = None) -> None:
        """Show a text with a button per answer and one to dismiss it."""
        for button in self._buttons:
            self._layout.removeWidget(button)
            button.deleteLater()
        self.text.setText(text)
        self._buttons = [self._button(label, act) for label, act in (answers or {}).items()]
        self._buttons.append(self._button("Dismiss", lambda: None))
        self.show()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.setStyleSheet(
            f"NoticeBar {{ background: {theme.raised}; border: 0; border-left: 4px solid {theme.mark}; }}"
        )

    def _button(self, label: str, act: Callable[[], None]) -> QPushButton:
        button = QPushButton(label, self)
        button.clicked.connect(self.hide)
        button.clicked.connect(lambda: act())
        self._layout.addWidget(button)
        return button
