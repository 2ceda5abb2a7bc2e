"""What the page shows where there is no linkage: what turns the bar now, and how to fit one."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from workbench.pages.linkage.words import CHAINS, KIND_WORDS, kind_name
from workbench.scrolled import scrolled
from workbench.theme import Theme

__all__ = ["NoLinkage"]

_WIDTH = 560


class NoLinkage(QWidget):
    """Explains, and offers the ready-made chains.

    Signals:
        wanted(object): type of the chain that the user wants.
    """

    wanted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title, self.text = QLabel(self), QLabel(self)
        self.buttons = {kind: QPushButton(f"Add: {kind_name(kind)}", self) for kind in CHAINS}
        self._notes = [QLabel(KIND_WORDS[kind], self) for kind in CHAINS]
        self._build()

    def _build(self) -> None:
        font = self.title.font()
        font.setBold(True)
        self.title.setFont(font)
        grid = QGridLayout()
        grid.setHorizontalSpacing(12)
        grid.setColumnStretch(1, 1)
        for row, (kind, note) in enumerate(zip(CHAINS, self._notes, strict=True)):
            button = self.buttons[kind]
            button.setToolTip("Starts with usual places of the joints; one step to undo")
            button.clicked.connect(partial(self._want, kind))
            grid.addWidget(button, row, 0)
            grid.addWidget(note, row, 1)
        for label in (self.title, self.text, *self._notes):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        content = QWidget(self)
        content.setMaximumWidth(_WIDTH + 100)
        inner = QVBoxLayout(content)
        inner.setContentsMargins(24, 20, 24, 20)
        inner.setSpacing(12)
        inner.addWidget(self.title)
        inner.addWidget(self.text)
        inner.addLayout(grid)
        inner.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(scrolled(content))

    def _want(self, kind: type, _checked: bool = False) -> None:
        self.wanted.emit(kind)

    def explain(self, title: str, text: str) -> None:
        """Say where there is no linkage, and what turns the bar."""
        self.title.setText(title)
        self.text.setText(text)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        for note in self._notes:
            note.setStyleSheet(f"color: {theme.faint};")
