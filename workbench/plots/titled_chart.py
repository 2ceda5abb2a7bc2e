"""A chart under its title, with its menu."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from models.charts import Chart
from models.units import UnitChoice
from workbench.elided import ElidedLabel
from workbench.plots.chart_menu import chart_menu
from workbench.plots.chart_view import ChartView
from workbench.theme import Theme, small_font

__all__ = ["TitledChart"]


class TitledChart(QWidget):
    """The title tells the unit too, as the legend may leave no room for the axis.

    Signals:
        export_wanted(object): the :class:`Chart` that the user wants as a file.
    """

    export_wanted = Signal(object)

    def __init__(self, title: str, parent: QWidget | None = None, name_others: bool = True) -> None:
        """Make a chart without curves.

        Args:
            title: empty takes that of the chart.
            parent: of the widget.
            name_others: as of :class:`ChartView`.
        """
        super().__init__(parent)
        self._words = title
        self.title, self.view = ElidedLabel(title, self), ChartView(self, name_others)
        self.title.setFont(small_font(self.font()))
        self.title.setContentsMargins(8, 3, 0, 1)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 4, 0)
        row.addWidget(self.title, 1)
        menu = chart_menu(self.view, self.export_wanted.emit, self)
        row.addWidget(menu, 0, Qt.AlignmentFlag.AlignRight)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(self.view, 1)

    @property
    def chart(self) -> Chart | None:
        """Chart on show."""
        return self.view.chart

    def help_place(self, at: QPoint | None) -> str:
        """Place of the chart in the handbook."""
        return self.view.help_place(at)

    def set_chart(self, chart: Chart) -> None:
        """Show a chart."""
        self.view.set_chart(chart)
        self._write()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self.view.set_units(units)
        self._write()

    def set_theme(self, theme: Theme) -> None:
        """Draw in the colours of a theme."""
        self.view.set_theme(theme)

    def _write(self) -> None:
        if self.chart is not None:
            words = self._words or self.chart.title
            self.title.tell(f"{words} ({self.chart.measure.unit_and_sign(self.view.units)})")
