"""A short table of figures of one variant: name, value, unit."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QStandardItemModel
from PySide6.QtWidgets import QHeaderView, QWidget

from models.figure_text import unit_text, value_text
from models.judge.figure import Figure
from workbench.help.anchors import figure_place
from workbench.help.context import PLACE, explained
from workbench.table_dress import FilledTable, dress_table, make_rows

__all__ = ["FigureTable"]

_NAME, _VALUE, _UNIT = range(3)


class FigureTable(FilledTable):
    """As high as its rows; an edit writes only the texts that change."""

    def __init__(
        self,
        parent: QWidget | None,
        name: str,
        is_wrong: Callable[[Figure], bool] = lambda _figure: False,
    ) -> None:
        """Make the table.

        Args:
            parent: of the table.
            name: for those who cannot see it.
            is_wrong: whether a figure is to be marked.
        """
        super().__init__(parent)
        self._name, self._is_wrong = name, is_wrong
        self._figures: tuple[Figure, ...] = ()
        self.rows = QStandardItemModel(0, 3, self)
        self.rows.setHorizontalHeaderLabels(("Figure", "Value", "Unit"))  # out of sight; for a copy
        self.setModel(self.rows)
        self._dress()

    def _dress(self) -> None:
        metrics = dress_table(self, self._name)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.horizontalHeader().hide()
        self.horizontalHeader().setSectionResizeMode(_NAME, QHeaderView.ResizeMode.Stretch)
        for column, widest in ((_VALUE, "−1000.0"), (_UNIT, "lbf·in/deg")):
            self.horizontalHeader().setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            self.setColumnWidth(column, metrics.horizontalAdvance(widest) + 10)

    def show_figures(self, figures: tuple[Figure, ...]) -> None:
        """Show figures."""
        before = [figure.key for figure in self._figures]
        self._figures = figures
        if before != [figure.key for figure in figures]:
            self._make_rows()
        self._fill()

    def _make_rows(self) -> None:
        make_rows(self.rows, len(self._figures), (_NAME, _UNIT))
        height = len(self._figures) * self.verticalHeader().defaultSectionSize()
        self.setFixedHeight(height + 2 * self.frameWidth())

    def _fill(self) -> None:
        for row, figure in enumerate(self._figures):
            text = value_text(figure, self._units)
            self.rows.item(row, _NAME).setData(figure_place(figure.key), PLACE)
            colour = self._theme.mark if self._is_wrong(figure) else self._theme.candidate
            colours = {_NAME: self._theme.ink, _VALUE: colour, _UNIT: self._theme.faint}
            texts = {
                _NAME: figure.label,
                _VALUE: text.replace("-", "−"),
                _UNIT: unit_text(figure.kind, self._units),
            }
            for column, colour in colours.items():
                cell = self.rows.item(row, column)
                if cell.text() != texts[column]:
                    cell.setText(texts[column])
                cell.setToolTip(explained(figure, self._units))
                cell.setForeground(QColor(colour))
