"""Small charts in as many columns as have room."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from models.charts import Chart
from models.charts.linkage import LINKAGE_CHARTS
from models.units import UnitChoice
from workbench.plots.small_chart import SmallChart
from workbench.theme import Theme

__all__ = ["ChartSheet"]

_COLUMN = 170


class ChartSheet(QWidget):
    """Charts of a chain; each is computed when it is painted, and those without curves are left out.

    Signals:
        export_wanted(object): the :class:`Chart` that the user wants as a file.
    """

    export_wanted = Signal(object)

    def __init__(
        self,
        source: Callable[[str], Chart],
        units: Callable[[], UnitChoice],
        theme: Callable[[], Theme],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.views: dict[str, SmallChart] = {}
        self._columns = 0
        self._left_out: frozenset[str] = frozenset()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(2)
        for key, subject in LINKAGE_CHARTS.items():
            view = SmallChart(lambda key=key: source(key), units, theme, self)  # type: ignore[misc]
            view.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
            view.setAccessibleName(subject.title)
            view.setAccessibleDescription(subject.meaning)
            view.setToolTip(f"{subject.title}\n{subject.meaning}")
            view.export_wanted.connect(self.export_wanted)
            self.views[key] = view

    def leave_out(self, keys: frozenset[str]) -> None:
        """Show all charts but these."""
        if keys != self._left_out or not self._columns:
            self._left_out, self._columns = keys, 0
            self._arrange()

    @property
    def shown(self) -> list[str]:
        """Keys of the charts that are not left out."""
        return [key for key in self.views if key not in self._left_out]

    def invalidate(self) -> None:
        """Draw all anew."""
        for key in self.shown:
            self.views[key].invalidate()

    def sizeHint(self) -> QSize:
        return QSize(3 * _COLUMN, super().sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        columns = min(max(self.width() // _COLUMN, 1), 4)
        if columns == self._columns:
            return
        self._columns = columns
        for view in self.views.values():
            self._grid.removeWidget(view)
            view.hide()
        for number, key in enumerate(self.shown):
            self._grid.addWidget(self.views[key], number // columns, number % columns)
            self.views[key].show()
        for column in range(4):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)
