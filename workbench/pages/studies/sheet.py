"""A table of a result: what stands in it, and the widget that shows it."""

from __future__ import annotations

from dataclasses import dataclass
from math import isnan, nan
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics
from PySide6.QtWidgets import QHeaderView, QTableView, QWidget

from workbench.table_dress import LEFT, RIGHT, dress_table
from workbench.theme import LIGHT, Theme

__all__ = ["Cell", "Sheet", "SheetTable"]

_Index = QModelIndex | QPersistentModelIndex

# Beside a text, px; rows after which widths are not looked for; rows that are always in sight.
_AIR, _LOOKED_AT, _IN_SIGHT = 16, 60, 7
# Strongest ground of a cell.
_STRONGEST = 0.45


@dataclass(frozen=True, slots=True)
class Cell:
    """A text, the number behind it for sorting, and how strong its ground is (-1 to 1)."""

    text: str
    value: float = nan
    shade: float = 0.0


@dataclass(frozen=True, eq=False)
class Sheet:
    """A table.

    Attributes:
        name: for those who cannot see it.
        heads: of the columns; the first one holds words, as do those of :attr:`words`.
        rows: cells of each row.
        keys: what each row stands for.
        words: numbers of further columns of words.
    """

    name: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    keys: tuple[object, ...]
    words: frozenset[int] = frozenset()


class _Model(QAbstractTableModel):
    """Reads the sheet, so that thousands of rows cost nothing until they are in sight."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.sheet = Sheet("", (), (), ())
        self.order: list[int] = []
        self.theme = LIGHT
        self._sorted: tuple[int, Qt.SortOrder] = (-1, Qt.SortOrder.AscendingOrder)

    def show_sheet(self, sheet: Sheet) -> None:
        self.beginResetModel()
        self.sheet = sheet
        self.order = self._in_order()
        self.endResetModel()

    def rowCount(self, parent: _Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self.order)

    def columnCount(self, parent: _Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self.sheet.heads)

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        cell = self.sheet.rows[self.order[index.row()]][index.column()]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return cell.text
            case Qt.ItemDataRole.TextAlignmentRole:
                return LEFT if self._of_words(index.column()) else RIGHT
            case Qt.ItemDataRole.ToolTipRole if index.column() == 0:
                return cell.text
            case Qt.ItemDataRole.BackgroundRole if cell.shade and not isnan(cell.shade):
                colour = QColor(self.theme.candidate if cell.shade > 0 else self.theme.mark)
                colour.setAlphaF(_STRONGEST * min(abs(cell.shade), 1.0))
                return colour
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation == Qt.Orientation.Horizontal and section < len(self.sheet.heads):
            if role == Qt.ItemDataRole.DisplayRole:
                return self.sheet.heads[section]
            if role == Qt.ItemDataRole.ToolTipRole:
                return self.sheet.heads[section].replace("\n", " ")
            if role == Qt.ItemDataRole.TextAlignmentRole:
                return LEFT if self._of_words(section) else RIGHT
        return None

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        self.layoutAboutToBeChanged.emit()
        before = self.order
        self._sorted = column, order
        self.order = self._in_order()
        places = {row: place for place, row in enumerate(self.order)}
        old = self.persistentIndexList()
        new = [self.index(places[before[one.row()]], one.column()) for one in old]
        self.changePersistentIndexList(old, new)
        self.layoutChanged.emit()

    def _in_order(self) -> list[int]:
        rows, (column, order) = range(len(self.sheet.rows)), self._sorted
        if not 0 <= column < len(self.sheet.heads):
            return list(rows)
        down = order == Qt.SortOrder.DescendingOrder

        def place(row: int) -> tuple[bool, float, str]:
            cell = self.sheet.rows[row][column]
            return isnan(cell.value), -cell.value if down else cell.value, cell.text

        if all(isnan(cells[column].value) for cells in self.sheet.rows):
            return sorted(rows, key=lambda row: self.sheet.rows[row][column].text, reverse=down)
        return sorted(rows, key=place)

    def _of_words(self, column: int) -> bool:
        return column == 0 or column in self.sheet.words


class SheetTable(QTableView):
    """Shows a sheet; a click on a head sorts by it.

    Signals:
        picked(object): the user went to a row: what it stands for.
    """

    picked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._model = _Model(self)
        self._metrics: QFontMetrics = dress_table(self, "Table of the study")
        self.setModel(self._model)
        self.setSelectionMode(QTableView.SelectionMode.SingleSelection)
        self.setHorizontalScrollMode(QTableView.ScrollMode.ScrollPerPixel)
        head = self.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        head.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        head.setSortIndicatorClearable(True)
        self.setSortingEnabled(True)
        self.selectionModel().currentRowChanged.connect(self._moved)

    @property
    def sheet(self) -> Sheet:
        """The sheet on show."""
        return self._model.sheet

    def show_sheet(self, sheet: Sheet, chosen: object = None) -> None:
        """Show a sheet, with the row of ``chosen`` selected."""
        other = sheet.heads != self.sheet.heads
        place = self.horizontalScrollBar().value(), self.verticalScrollBar().value()
        with QSignalBlocker(self.selectionModel()):
            self._model.show_sheet(sheet)
            rows = [row for row in self._model.order if sheet.keys[row] == chosen]
            if rows and chosen is not None:
                self.selectRow(self._model.order.index(rows[0]))
        self.setAccessibleName(sheet.name)
        self._set_widths(grow=not other)
        if not other:
            self.horizontalScrollBar().setValue(place[0])
            self.verticalScrollBar().setValue(place[1])
        row, head = self.verticalHeader().defaultSectionSize(), self.horizontalHeader().sizeHint().height()
        bar = self.horizontalScrollBar().sizeHint().height()
        count = len(sheet.rows)
        self.setMinimumHeight(head + min(count, _IN_SIGHT) * row + bar)
        self.setMaximumHeight(head + count * row + bar)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._model.theme = theme
        self.viewport().update()

    def _set_widths(self, grow: bool) -> None:
        """Make room for heads and texts; while the heads stay, columns only grow."""
        for column, head in enumerate(self.sheet.heads):
            texts = [*head.split("\n"), *(row[column].text for row in self.sheet.rows[:_LOOKED_AT])]
            widest = max(map(self._metrics.horizontalAdvance, texts))
            wanted = widest + _AIR
            if not grow or wanted > self.columnWidth(column):
                self.setColumnWidth(column, wanted)

    def _moved(self, index: QModelIndex) -> None:
        if index.isValid():
            self.picked.emit(self.sheet.keys[self._model.order[index.row()]])
