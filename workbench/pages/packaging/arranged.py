"""Controls beside results where there is room, else below them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from workbench.scrolled import scrolled

__all__ = ["Arranged"]

# Width from which controls have room beside the results, and that of a chart beside another; px.
_ROOMY = 860
_CONTROLS, _LOW = 340, 230


class Arranged(QWidget):
    """A head over all, then controls, results in a column, and rows of charts; what is too high scrolls."""

    def __init__(
        self,
        head: QWidget,
        controls: QWidget,
        results: Sequence[QWidget],
        charts: Sequence[Sequence[QWidget]],
        chart_width: int,
        parent: QWidget | None = None,
    ) -> None:
        """Put the parts together; charts of a row stand beside each other where each has ``chart_width``."""
        super().__init__(parent)
        self._controls, self._chart_width = controls, chart_width
        self._roomy: bool | None = None
        content = QWidget(self)
        self._column = QVBoxLayout(content)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)
        for widget in results:
            self._column.addWidget(widget)
        self._rows = [self._row(row) for row in charts]
        self._side = scrolled(QWidget(self), _CONTROLS)
        self._side.setFixedWidth(_CONTROLS)
        self._main = scrolled(content)
        row = QHBoxLayout()
        row.setSpacing(0)
        row.addWidget(self._side)
        row.addWidget(self._main, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(head)
        column.addLayout(row, 1)

    def _row(self, charts: Sequence[QWidget]) -> QBoxLayout:
        row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        row.setSpacing(4)
        for chart in charts:
            chart.setMinimumHeight(_LOW)
            chart.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
            row.addWidget(chart, 1)
        self._column.addLayout(row, 1)
        return row

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        roomy = self.width() >= _ROOMY
        if roomy != self._roomy:
            self._roomy = roomy
            self._place_controls(roomy)
        left = self.width() - roomy * _CONTROLS
        for row in self._rows:
            beside = left >= row.count() * self._chart_width
            row.setDirection(QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom)

    def _place_controls(self, roomy: bool) -> None:
        if roomy:
            self._column.removeWidget(self._controls)
            self._side.setWidget(self._controls)
        else:
            if self._side.widget() is self._controls:
                self._side.takeWidget()
            self._column.addWidget(self._controls)
        self._side.setVisible(roomy)
        self._controls.show()
