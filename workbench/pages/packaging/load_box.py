"""Choice of a load case."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker
from PySide6.QtWidgets import QComboBox, QWidget

from models.project import Project
from models.vehicle import AS_DESIGNED, LoadCase

__all__ = ["LoadBox"]


class LoadBox(QComboBox):
    """The car as designed and the load cases of a project.

    It goes where the project's own choice goes, and stays where the user puts it meanwhile.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._cases: tuple[LoadCase, ...] = (AS_DESIGNED,)
        self._followed = ""
        self.setAccessibleName("Load case")
        self.setToolTip("What the nominal car and the drawn cars carry")

    @property
    def load(self) -> LoadCase:
        """The load case that is chosen."""
        return self._cases[max(self.currentIndex(), 0)]

    def follow(self, project: Project) -> None:
        """Take the load cases of a project."""
        names = [AS_DESIGNED.name, *(case.name for case in project.load_cases)]
        wanted = self.load.name if project.load_case == self._followed else project.load_case
        self._cases, self._followed = (AS_DESIGNED, *project.load_cases), project.load_case
        with QSignalBlocker(self):
            if names != [self.itemText(number) for number in range(self.count())]:
                self.clear()
                self.addItems(names)
            self.setCurrentIndex(names.index(wanted) if wanted in names else names.index(project.load_case))
