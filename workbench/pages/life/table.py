"""Table of the parts and their lives."""

from __future__ import annotations

from PySide6.QtCore import QItemSelection, QSize, Qt, Signal
from PySide6.QtGui import QColor, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QSizePolicy, QWidget

from workbench.pages.life.lives import Lives, PartLife
from workbench.pages.life.texts import COLUMNS, LAST_OF_WORDS, cells, heads, misses, tips
from workbench.table_dress import LEFT, RIGHT, FilledTable, dress_table, make_rows

__all__ = ["LifeTable"]

_WIDEST = ("Interconnection bars", "right", "9.99·10⁶", "9.99·10⁶", "margin", "", "0000.0", "000 %")
_WORST, _MARGIN = 5, 9
_WORDS = (*range(LAST_OF_WORDS + 1), _WORST)


class LifeTable(FilledTable):
    """One row per part and side; as high as its rows.

    Signals:
        picked: another row was chosen.
    """

    picked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._stale = False
        self._parts: tuple[PartLife, ...] = ()
        self._chosen: tuple[str, str] | None = None
        self.rows = QStandardItemModel(0, len(COLUMNS), self)
        self.setModel(self.rows)
        self._dress()
        self.selectionModel().selectionChanged.connect(self._selected)

    @property
    def chosen(self) -> PartLife | None:
        """The part that is chosen."""
        return next((part for part in self._parts if part.key == self._chosen), None)

    def show_lives(self, lives: Lives) -> None:
        """Show these parts; the choice stays on its part, or falls to the one that lives shortest."""
        self._parts = lives.parts
        if self.chosen is None and self._parts:
            self._chosen = min(self._parts, key=lambda part: part.life.distance).key
        self._fill()

    def set_stale(self, stale: bool) -> None:
        """Whether the lives are those of a car that has changed since: then they are drawn faint."""
        if stale != self._stale:
            self._stale = stale
            self._fill()

    def sizeHint(self) -> QSize:
        rows = max(self.rows.rowCount(), 1) * self.verticalHeader().defaultSectionSize()
        bar = self.horizontalScrollBar()
        below = bar.sizeHint().height() if bar.maximum() > 0 else 0
        return QSize(520, self.horizontalHeader().sizeHint().height() + rows + below + 2)

    def _dress(self) -> None:
        metrics = dress_table(self, "Lives of the parts")
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        header = self.horizontalHeader()
        for column, ((title, _), widest) in enumerate(zip(COLUMNS, _WIDEST, strict=True)):
            texts = (*title.split("\n"), "Life, 99.99 %" if title == "Life" else widest)
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            self.setColumnWidth(column, max(map(metrics.horizontalAdvance, texts)) + _MARGIN)
        header.setSectionResizeMode(_WORST, QHeaderView.ResizeMode.Stretch)

    def _fill(self) -> None:
        if not self._parts:
            self.rows.setRowCount(0)
            return
        if self.rows.rowCount() != len(self._parts):
            make_rows(self.rows, len(self._parts), _WORDS)
            self.updateGeometry()
        for column, (title, tip) in enumerate(heads(self._parts[0], self._units)):
            head = QStandardItem(title)
            head.setToolTip(tip)
            head.setTextAlignment(LEFT if column in _WORDS else RIGHT)
            self.rows.setHorizontalHeaderItem(column, head)
        for number, part in enumerate(self._parts):
            marked = misses(part)
            texts, explained = cells(part, self._units), tips(part, self._units)
            for column, (text, tip) in enumerate(zip(texts, explained, strict=True)):
                cell = self.rows.item(number, column)
                cell.setText(text)
                cell.setToolTip(tip)
                cell.setForeground(QColor(self._colour(column, column in marked)))
        self._select()

    def _colour(self, column: int, missed: bool) -> str:
        if self._stale:
            return self._theme.faint
        if missed:
            return self._theme.mark
        plain = column <= LAST_OF_WORDS or not COLUMNS[column][1]
        return self._theme.ink if plain else self._theme.candidate

    def _select(self) -> None:
        keys = [part.key for part in self._parts]
        if self._chosen in keys and self.currentIndex().row() != keys.index(self._chosen):
            self.selectRow(keys.index(self._chosen))

    def _selected(self, selected: QItemSelection, _deselected: QItemSelection) -> None:
        rows = selected.indexes()
        if rows and self._parts[rows[0].row()].key != self._chosen:
            self._chosen = self._parts[rows[0].row()].key
            self.picked.emit()
