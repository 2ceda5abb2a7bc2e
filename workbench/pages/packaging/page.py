"""The page of the packaging."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QTabWidget, QVBoxLayout, QWidget

from models.analysis import Analysis
from models.charts import Chart
from models.units import UnitChoice
from workbench.document import Document
from workbench.pages.packaging.travel import TravelView
from workbench.pages.packaging.trim import TrimView
from workbench.runner import Runner
from workbench.theme import Theme

__all__ = ["PackagingPage"]


class PackagingPage(QWidget):
    """Travel and clearance, or trim tolerances.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
        room_wanted(bool): the user wants travel and clearance shown on the stage, or no longer.
        export_wanted(object): the chart whose export the user asks for.
    """

    units_changed = Signal(str, str)
    room_wanted = Signal(bool)
    export_wanted = Signal(object)

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.travel = TravelView(document, runner, self)
        self.trim = TrimView(document, runner, self)
        self.tabs = QTabWidget(self)
        self.tabs.setAccessibleName("Travel and clearance, or trim tolerances")
        self.tabs.setDocumentMode(True)
        self.tabs.addTab(self.travel, "Travel and clearance")
        self.tabs.addTab(self.trim, "Trim tolerances")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.tabs)
        self.travel.room_wanted.connect(self.room_wanted)
        for view in (self.travel, self.trim):
            view.units_changed.connect(self.units_changed)
            view.export_wanted.connect(self.export_wanted)

    def charts(self) -> list[Chart]:
        """Charts on show."""
        return (self.travel if self.tabs.currentWidget() is self.travel else self.trim).charts()

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Check the cars of these results; the tolerances follow the project."""
        self.travel.show_results(candidate, baseline, names)

    def show_room(self, on: bool) -> None:
        """Tell whether the stage shows travel and clearance."""
        self.travel.show_room(on)

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        for view in (self.travel, self.trim):
            view.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        for view in (self.travel, self.trim):
            view.set_theme(theme)
