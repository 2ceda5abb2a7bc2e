"""The page "Steel"."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from models.analysis import Analysis
from models.charts import Chart
from models.units import UnitChoice
from workbench.document import Document
from workbench.pages.steel.sizes_view import SizesView
from workbench.runner import Runner
from workbench.theme import Theme

__all__ = ["SteelPage"]


class SteelPage(QWidget):
    """The parts behind the rates of the candidate.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
        refused(str): an edit was refused, and why.
    """

    units_changed = Signal(str, str)
    refused = Signal(str)

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sizes = SizesView(document, runner, self)
        self.sizes.units_changed.connect(self.units_changed)
        self.sizes.refused.connect(self.refused)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.sizes)

    def charts(self) -> list[Chart]:
        """Charts on show."""
        return self.sizes.charts()

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Nothing here follows from the results of a run: parts follow the document."""

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self.sizes.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.sizes.set_theme(theme)
