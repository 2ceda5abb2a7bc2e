"""A few sentences under a title that folds them away; open at first."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QVBoxLayout, QWidget

from workbench.editor.title import Title
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["FoldedNotes"]


class FoldedNotes(QWidget):
    """What a reader has to know of the figures beside it."""

    def __init__(self, title: str, notes: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self.title = Title(self, title, 1)
        self.title.clicked.connect(lambda: self.set_open(not self.title.open))
        self.text = QLabel(self)
        self.text.setTextFormat(Qt.TextFormat.PlainText)
        self.text.setWordWrap(True)
        self.text.setFont(small_font(self.font()))
        self.text.setContentsMargins(24, 0, 8, 6)
        self.text.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.MinimumExpanding)
        self.text.setAlignment(Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.title)
        column.addWidget(self.text)
        column.addStretch(1)
        self.set_notes(notes)
        self.set_theme(LIGHT)

    @property
    def theme(self) -> Theme:
        """Colours in use."""
        return self._theme

    def set_notes(self, notes: Sequence[str]) -> None:
        """Say other sentences."""
        self.text.setText("\n".join(f"• {note}" for note in notes))

    def set_open(self, shown: bool) -> None:
        """Unfold or fold."""
        self.title.set_open(shown)
        self.text.setVisible(shown)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self.text.setStyleSheet(f"color: {theme.ink};")
        self.title.update()
