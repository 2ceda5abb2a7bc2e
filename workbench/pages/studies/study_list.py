"""The list of studies, and what adds to it and takes from it."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QMenu, QPushButton, QWidget

from workbench.pages.studies.chosen_study import ChosenStudy
from workbench.pages.studies.definition import KINDS_OF_STUDY

__all__ = ["StudyList"]


class StudyList(QWidget):
    """Chooses, adds, duplicates and removes studies."""

    def __init__(self, chosen: ChosenStudy, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.choice, self.add, self.menu = QComboBox(self), QPushButton("Add", self), QMenu(self)
        self.duplicate, self.remove = QPushButton("Duplicate", self), QPushButton("Remove", self)
        self.choice.setAccessibleName("Study")
        self.choice.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.choice.setMinimumContentsLength(18)
        for key, title, meaning in KINDS_OF_STUDY:
            action = self.menu.addAction(title, lambda key=key: chosen.add(key))
            action.setToolTip(meaning)
        self.menu.setToolTipsVisible(True)
        self.add.setMenu(self.menu)
        row = QHBoxLayout(self)
        row.setContentsMargins(10, 4, 8, 4)
        for widget in (self.choice, self.add, self.duplicate, self.remove):
            row.addWidget(widget)
        row.addStretch(1)
        self.duplicate.clicked.connect(chosen.duplicate)
        self.remove.clicked.connect(chosen.remove)

    def show_names(self, names: list[str], chosen: str) -> None:
        """Show the names of all studies and which one is chosen."""
        with QSignalBlocker(self.choice):
            self.choice.clear()
            self.choice.addItems(names)
            self.choice.setCurrentText(chosen)
        for widget in (self.duplicate, self.remove, self.choice):
            widget.setEnabled(bool(names))
