"""Table of the standard sizes that fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import isnan
from typing import Any

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetrics, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QWidget

from models.figure_text import distance_text, unit_text
from models.hardware import CoilSpring, Size, StabiliserBar, TorsionBar
from workbench.pages.steel.words import number_text
from workbench.table_dress import RIGHT, FilledTable, dress_table

__all__ = ["SizeTable"]


@dataclass(frozen=True, slots=True)
class _Column:
    head: str
    kind: str
    value: Callable[[Size[Any]], float]
    meaning: str


_RATE = _Column("Rate", "torsional rate", lambda size: size.rate, "Rate of this size as it is drawn")
_RESULTS = (
    _Column("Stress", "stress", lambda size: size.stress, "Stress at the greatest load"),
    _Column("Mass", "mass", lambda size: size.mass, "Mass; the lightest stands first"),
    _Column(
        "Life",
        "distance driven",
        lambda size: size.life,
        "Distance over the road mix at the reliability asked for; known once the roads were driven on the "
        "Life tab",
    ),
)
_SECTION = (
    _Column("Diam.", "dimension", lambda size: size.part.diameter, "Outer diameter of the bar"),
    _Column("Bore", "dimension", lambda size: size.part.bore, "Inner diameter; 0 = solid"),
)
_COLUMNS: dict[type, tuple[_Column, ...]] = {
    TorsionBar: (
        *_SECTION,
        _Column("Length", "dimension", lambda size: size.length, "Overall length with both heads"),
        _RATE,
        *_RESULTS,
    ),
    StabiliserBar: (*_SECTION, _RATE, *_RESULTS),
    CoilSpring: (
        _Column("Wire", "dimension", lambda size: size.part.wire_diameter, "Diameter of the wire"),
        _Column("Mean", "dimension", lambda size: size.part.mean_diameter, "Mean diameter of the coil"),
        _Column("Coils", "ratio", lambda size: size.part.active_coils, "Active coils"),
        _Column("Free", "dimension", lambda size: size.length, "Free length"),
        _Column("Rate", "rate", lambda size: size.rate, "Rate of this size as it is drawn"),
        *_RESULTS,
    ),
}
_ROWS = 10
_MARGIN = 8


class SizeTable(FilledTable):
    """One row per size, the lightest first; the present size stands out.

    Signals:
        taken(): the size that is chosen is to be used.
        chosen_changed(): another size is chosen.
    """

    taken = Signal()
    chosen_changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sizes: tuple[Size[Any], ...] = ()
        self._present: object = None
        self.cells = QStandardItemModel(self)
        self.setModel(self.cells)
        dress_table(self, "Standard sizes that fit")
        self._strong = QFont(self.font())
        self._strong.setBold(True)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self.horizontalHeader().setDefaultAlignment(RIGHT)
        self.activated.connect(self._activate)
        self.selectionModel().selectionChanged.connect(lambda _chosen, _left: self.chosen_changed.emit())

    @property
    def chosen(self) -> Size[Any] | None:
        """The size that is chosen."""
        rows = self.selectionModel().selectedRows()
        return self._sizes[rows[0].row()] if rows else None

    def show_sizes(self, sizes: tuple[Size[Any], ...], present: object) -> None:
        """Show what was found; the part in use at present is marked."""
        if sizes == self._sizes and present == self._present:
            return
        self._sizes, self._present = sizes, present
        self._fill()

    def _fill(self) -> None:
        keep = self.currentIndex().row()
        columns = _COLUMNS[type(self._sizes[0].part)] if self._sizes else ()
        self.cells.setRowCount(0)
        self.cells.setColumnCount(len(columns))
        for size in self._sizes:
            self.cells.appendRow([self._item(size, column) for column in columns])
        for number, column in enumerate(columns):
            # No items for the heads: Qt would make them itself, and Python outlives those.
            head = f"{column.head}\n{unit_text(column.kind, self._units)}"
            tip = f"{column.head}\n{column.meaning}."
            self.cells.setHeaderData(number, Qt.Orientation.Horizontal, head)
            self.cells.setHeaderData(number, Qt.Orientation.Horizontal, tip, Qt.ItemDataRole.ToolTipRole)
            self._fit(number, head)
        self._fit_height()
        if 0 <= keep < len(self._sizes):
            self.selectRow(keep)
        self.chosen_changed.emit()

    def _fit_height(self) -> None:
        """As high as its rows, up to a number of them."""
        rows = min(len(self._sizes), _ROWS) * self.verticalHeader().defaultSectionSize()
        self.setFixedHeight(self.horizontalHeader().sizeHint().height() + rows + 2 * self.frameWidth() + 1)
        self.setVisible(bool(self._sizes))

    def _fit(self, column: int, head: str) -> None:
        texts = [*head.split("\n"), *(self.cells.item(row, column).text() for row in range(len(self._sizes)))]
        widest = max(map(QFontMetrics(self._strong).horizontalAdvance, texts))
        self.horizontalHeader().setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
        self.setColumnWidth(column, widest + _MARGIN)

    def _item(self, size: Size[Any], column: _Column) -> QStandardItem:
        in_use = size.part == self._present
        item = QStandardItem(self._text(column.value(size), column.kind))
        item.setTextAlignment(RIGHT)
        item.setForeground(QColor(self._theme.candidate if in_use else self._theme.ink))
        item.setToolTip("The present size" if in_use else f"{column.meaning}.")
        if in_use:
            item.setFont(self._strong)
        return item

    def _text(self, value: float, kind: str) -> str:
        if kind == "distance driven" and not isnan(value):
            return distance_text(value, self._units[kind])
        return number_text(value, kind, self._units)

    def _activate(self, _index: QModelIndex) -> None:
        self.taken.emit()
