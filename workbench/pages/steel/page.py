"""The page "Steel"."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QTabWidget, QWidget

from models.analysis import Analysis
from models.charts import Chart
from models.units import UnitChoice
from workbench.document import Document
from workbench.pages.life import LifeView
from workbench.pages.steel.sizes_view import SizesView
from workbench.runner import Runner
from workbench.theme import Theme

__all__ = ["SteelPage"]


class SteelPage(QTabWidget):
    """The parts behind the rates of the candidate: their sizes, and how long they live.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
        export_wanted(object): the chart that the user wants as a file.
        refused(str): an edit was refused, and why.
    """

    units_changed = Signal(str, str)
    export_wanted = Signal(object)
    refused = Signal(str)

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sizes = SizesView(document, runner, self)
        self.life = LifeView(document, runner, self)
        self.setDocumentMode(True)
        self.setAccessibleName("Parts in steel")
        for title, view in (("Sizes", self.sizes), ("Life", self.life)):
            self.addTab(view, title)
            view.units_changed.connect(self.units_changed)
            view.export_wanted.connect(self.export_wanted)
        self.sizes.refused.connect(self.refused)
        # Lives of the sizes come from the roads that are driven for the lives of the parts.
        self.sizes.shown.connect(self._pass_loads)
        self.life.runs.came.connect(self._pass_loads)

    def _pass_loads(self) -> None:
        self.sizes.set_driven(self.life.driven)

    def charts(self) -> list[Chart]:
        """Charts on show."""
        return self.life.charts() if self.currentWidget() is self.life else self.sizes.charts()

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Nothing here follows from the results of a run: both views follow the project."""

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self.sizes.set_units(units)
        self.life.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.sizes.set_theme(theme)
        self.life.set_theme(theme)
