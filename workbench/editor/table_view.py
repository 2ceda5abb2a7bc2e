"""The grid of a table: as high as its rows, worked by keys like a spreadsheet."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QTableView,
    QWidget,
)

from workbench.editor.entry import Themed, tabular
from workbench.editor.plan import Number
from workbench.editor.table_cells import Cells
from workbench.editor.table_head import Head, RowNumbers
from workbench.editor.table_model import TableModel

__all__ = ["TableView"]

_MOST_ROWS = 12  # in sight at once
_NUMBER_COLUMN = 26  # px, of the numbers of the rows
# Share of the width of a column of texts in that of a column of numbers.
_TEXT_SHARE = 1.5
_PAD, _CELL_PAD = 8, 12  # beside the words of a head, and the text of a cell; px


class TableView(QTableView):
    """As high as its rows, up to a limit; Return goes down, Tab to the next cell while one is edited.

    Signals:
        copy_wanted, paste_wanted, add_wanted, remove_wanted: by key.
        unit_chosen(str, str): kind of quantity and unit, from the head of a column.
        abandoned(): the user dropped a text of their own.
    """

    copy_wanted = Signal()
    paste_wanted = Signal()
    add_wanted = Signal()
    remove_wanted = Signal()
    unit_chosen = Signal(str, str)
    abandoned = Signal()

    def __init__(self, host: Themed, model: TableModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._model = model
        self._keys = {
            QKeySequence.StandardKey.Copy: self.copy_wanted,
            QKeySequence.StandardKey.Paste: self.paste_wanted,
            QKeySequence.StandardKey.Delete: self.remove_wanted,
        }
        self.setFont(tabular(self.font()))
        self.setModel(model)
        self.setItemDelegate(Cells(host, model, self))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)  # Tab goes on to the next field of the form
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
        )
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        head = Head(host, model, self)
        head.unit_chosen.connect(self.unit_chosen)
        self.setHorizontalHeader(head)
        head.setSectionsClickable(True)
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        head.setMinimumSectionSize(20)
        numbers = RowNumbers(host, self)
        self.setVerticalHeader(numbers)
        numbers.setSectionsClickable(True)
        numbers.setFixedWidth(_NUMBER_COLUMN)
        numbers.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        numbers.setDefaultSectionSize(self.fontMetrics().height() + 6)
        for changed in (model.rowsInserted, model.rowsRemoved, model.modelReset):
            changed.connect(self.fit)
        model.dataChanged.connect(self._share_width)
        self.fit()

    def chosen_rows(self) -> list[int]:
        """Rows with a chosen cell, else the one that was last gone to."""
        rows = sorted({index.row() for index in self.selectedIndexes()})
        current = self.currentIndex()
        return rows or ([current.row()] if current.isValid() else [])

    def fit(self) -> None:
        """Take the height of the rows, and let each column have the room that it needs."""
        self._share_width()
        rows = min(max(len(self._model.rows), 1), _MOST_ROWS)
        height = rows * self.verticalHeader().defaultSectionSize()
        self.setFixedHeight(height + self.horizontalHeader().sizeHint().height() + 2)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit()

    def _share_width(self) -> None:
        shares = [1.0 if isinstance(f.shape, Number) else _TEXT_SHARE for f in self._model.fields]
        needs = [self._need(column) for column in range(len(shares))]
        left = 0.0
        for column, width in enumerate(_shared(self.viewport().width(), shares, needs)):
            right = left + width
            self.setColumnWidth(column, round(right) - round(left))
            left = right

    def _need(self, column: int) -> int:
        """Width in which no word of the head and no number is cut; texts may be, as they have no end."""
        field, words = self._model.fields[column], self.horizontalHeader().fontMetrics()
        need = max(map(words.horizontalAdvance, field.label.split())) + _PAD
        if not isinstance(field.shape, Number):
            return need
        texts = (self._model.shown(row, column) for row in range(len(self._model.rows)))
        return max(need, *(self.fontMetrics().horizontalAdvance(text) + _CELL_PAD for text in texts), 0)

    def closeEditor(self, editor: QWidget, hint: QAbstractItemDelegate.EndEditHint) -> None:
        row, column = self.currentIndex().row(), self.currentIndex().column()
        super().closeEditor(editor, hint)
        if hint == QAbstractItemDelegate.EndEditHint.RevertModelCache and row >= 0:
            self._model.forget_draft(row, column)
            self.abandoned.emit()
        by_return = hint == QAbstractItemDelegate.EndEditHint.SubmitModelCache
        if by_return and (row, column) not in self._model.drafts and row + 1 < len(self._model.rows):
            self.setCurrentIndex(self._model.index(row + 1, column))

    def event(self, event: QEvent) -> bool:
        # The keys of the table win over those of the window while the table has the focus.
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and any(event.matches(key) for key in self._keys)
        ):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        for key, wanted in self._keys.items():
            if event.matches(key):
                wanted.emit()
                return
        if event.key() == Qt.Key.Key_Insert:
            self.add_wanted.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self.edit(self.currentIndex())
        elif event.key() == Qt.Key.Key_Escape and self._model.drafts:
            self._model.forget_drafts()
            self.abandoned.emit()
        else:
            super().keyPressEvent(event)


def _shared(width: float, shares: Sequence[float], needs: Sequence[float]) -> list[float]:
    """Widths in proportion to ``shares``, but where all needs can be met none below its own."""
    met: dict[int, float] = {}
    while sum(needs) <= width:
        rest = (width - sum(met.values())) / sum(share for n, share in enumerate(shares) if n not in met)
        short = {n: need for n, need in enumerate(needs) if n not in met and shares[n] * rest < need}
        if not short or len(met) + len(short) == len(needs):
            return [met.get(n, share * rest) for n, share in enumerate(shares)]
        met |= short
    return [share / sum(shares) * width for share in shares]
