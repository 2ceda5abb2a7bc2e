"""Table of what a part bears in each state of the car."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFontMetrics, QStandardItemModel
from PySide6.QtWidgets import QHeaderView, QWidget

from models.figure import Figure
from models.figure_text import unit_text, value_text
from models.judge.part_report import StateTable, is_exceeded
from workbench.help.anchors import figure_place
from workbench.help.context import PLACE, explained
from workbench.table_dress import LEFT, RIGHT, FilledTable, dress_table, make_rows

__all__ = ["StatesView"]

_MARGIN = 10


class StatesView(FilledTable):
    """One row per state, as high as its rows."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._table = StateTable((), ())
        self._shape: tuple[object, ...] = ()
        self.cells = QStandardItemModel(self)
        self.setModel(self.cells)
        self._metrics: QFontMetrics = dress_table(self, "Loads and stresses by state")
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.horizontalHeader().setDefaultAlignment(RIGHT)

    def show_table(self, table: StateTable) -> None:
        """Show a table."""
        self._table = table
        self._fill()

    def _heads(self) -> list[str]:
        if not self._table.rows:
            return []
        # The unit below the name, so that all columns are to be seen in a narrow window.
        return [
            f"{column}\n{unit_text(cell.kind, self._units)}"
            for column, cell in zip(self._table.columns, self._table.rows[0].cells, strict=True)
        ]

    def _make(self) -> None:
        heads, rows = self._heads(), self._table.rows
        shape = (tuple(heads), tuple(row.name for row in rows))
        if shape == self._shape:
            return
        self._shape = shape
        self.cells.setRowCount(0)
        self.cells.setColumnCount(len(heads) + 1)
        # No items for the heads: Qt would make them itself, and Python outlives those.
        for column, head in enumerate(("State", *heads)):
            self.cells.setHeaderData(column, Qt.Orientation.Horizontal, head)
        self.cells.setHeaderData(0, Qt.Orientation.Horizontal, LEFT, Qt.ItemDataRole.TextAlignmentRole)
        make_rows(self.cells, len(rows), (0,))
        for number, row in enumerate(rows):
            self.cells.item(number, 0).setText(_short(row.name))
            self.cells.item(number, 0).setToolTip(row.name)
        self._size(heads)

    def _size(self, heads: list[str]) -> None:
        header = self.horizontalHeader()
        for column, head in enumerate(heads, 1):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            widest = max(map(self._metrics.horizontalAdvance, (*head.split("\n"), "−00000")))
            self.setColumnWidth(column, widest + _MARGIN)
        if heads:
            header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        height = (
            header.sizeHint().height() + len(self._table.rows) * self.verticalHeader().defaultSectionSize()
        )
        self.setFixedHeight(height + 2 * self.frameWidth())

    def _fill(self) -> None:
        self._make()
        for number, row in enumerate(self._table.rows):
            wrong = any(map(is_exceeded, row.cells))
            self.cells.item(number, 0).setForeground(QColor(self._theme.mark if wrong else self._theme.ink))
            for column, figure in enumerate(row.cells, 1):
                self._write(number, column, figure)

    def _write(self, row: int, column: int, figure: Figure) -> None:
        item, theme = self.cells.item(row, column), self._theme
        item.setText(value_text(figure, self._units).replace("-", "−"))
        item.setToolTip(explained(figure, self._units))
        item.setData(figure_place(figure.key), PLACE)
        item.setForeground(QColor(theme.mark if is_exceeded(figure) else theme.candidate))


def _short(name: str) -> str:
    """Name of a state without what it says in brackets, which the tooltip has."""
    return name.partition(" (")[0]
