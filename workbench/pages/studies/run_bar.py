"""What runs the study on show, in sight beside its definition and results alike."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QTabBar, QVBoxLayout, QWidget

from models.studies import Progress
from workbench.inset import inset
from workbench.pages.studies.state_words import duration
from workbench.theme import Theme, small_font

__all__ = ["RunBar"]


class RunBar(QWidget):
    """Start, stop, progress, cost, and what is wrong; in a narrow window the tabs of the two sides."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.start, self.stop = QPushButton("Start", self), QPushButton("Stop", self)
        self.progress, self.sides = QProgressBar(self), QTabBar(self)
        self.cost, self.message = QLabel(self), QLabel(self)
        self.progress.setTextVisible(True)
        self.progress.setAccessibleName("Progress of the study")
        self.progress.setRange(0, 1000)
        self.start.setMaximumWidth(120)
        for title in ("Definition", "Results"):
            self.sides.addTab(title)
        self.sides.setDrawBase(False)
        self.sides.setAccessibleName("Definition or results")
        for label in (self.cost, self.message):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.cost.setFont(small_font(self.font()))
        self.message.hide()
        row = QHBoxLayout()
        row.setContentsMargins(10, 2, 8, 2)
        for widget in (self.sides, self.start, self.stop):
            row.addWidget(widget)
        row.addWidget(self.progress, 1)
        row.addStretch(0)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addLayout(inset(self.cost))
        column.addLayout(inset(self.message))

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.message.setStyleSheet(f"color: {theme.mark};")
        self.cost.setStyleSheet(f"color: {theme.faint};")

    def begin(self) -> None:
        """Show that a study begins."""
        self.progress.setValue(0)
        self.progress.setFormat("starting…")

    def tell(self, progress: Progress) -> None:
        """Show how far the study is."""
        self.progress.setValue(round(1000 * progress.done / max(progress.total, 1)))
        left = "" if progress.remaining is None else f", {duration(progress.remaining)} left"
        refused = f", {progress.refused:,} refused" if progress.refused else ""
        self.progress.setFormat(f"{progress.done:,} of {progress.total:,}{refused}{left}")
