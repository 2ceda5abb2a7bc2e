"""Rows of parts as a table: what is in the cells, what is typed and refused, what stands over them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from models.fields import Part
from workbench.editor.numbers import short_number
from workbench.editor.pasted import cell_text, unit_of
from workbench.editor.plan import FieldPlan, Number

__all__ = ["TableModel"]

AnyIndex = QModelIndex | QPersistentModelIndex
_ROOT = QModelIndex()


class TableModel(QAbstractTableModel):
    """Shows a tuple of parts; an edit is handed on, and what was refused stays in its cell as a draft."""

    def __init__(
        self,
        fields: Sequence[FieldPlan],
        units: Callable[[], Mapping[str, str]],
        take: Callable[[int, int, str], bool],
    ) -> None:
        """Make an empty table.

        Args:
            fields: one per column.
            units: unit of display per kind of quantity.
            take: hands on the text typed into a cell (row, column); tells whether it was taken.
        """
        super().__init__()
        self.fields = tuple(fields)
        self.rows: tuple[Part, ...] = ()
        self.drafts: dict[tuple[int, int], str] = {}
        self._units = units
        self._take = take

    def show_rows(self, rows: tuple[Part, ...]) -> None:
        """Show other rows; a draft gives way where its cell has changed."""
        before, count = self.rows, len(rows)
        if count > len(before):
            self.beginInsertRows(_ROOT, len(before), count - 1)
        elif count < len(before):
            self.beginRemoveRows(_ROOT, count, len(before) - 1)
        self.rows = rows
        if count != len(before):
            self.drafts.clear()
        if count > len(before):
            self.endInsertRows()
        elif count < len(before):
            self.endRemoveRows()
        for row, (old, new) in enumerate(zip(before, rows, strict=False)):
            if old is not new and old != new:
                self._show_row(row, old, new)

    def _show_row(self, row: int, old: Part, new: Part) -> None:
        for column, field in enumerate(self.fields):
            if getattr(old, field.name) != getattr(new, field.name):
                self.drafts.pop((row, column), None)
                self._tell(row, column)

    def show_units(self) -> None:
        """Show all numbers in the units now chosen."""
        if self.rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self.rows) - 1, len(self.fields) - 1))
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(self.fields) - 1)

    def forget_drafts(self) -> None:
        """Drop what was typed and refused."""
        cells, self.drafts = list(self.drafts), {}
        for row, column in cells:
            self._tell(row, column)

    def forget_draft(self, row: int, column: int) -> None:
        """Drop what was typed into one cell and refused."""
        if self.drafts.pop((row, column), None) is not None:
            self._tell(row, column)

    def text(self, row: int, column: int) -> str:
        """The value of a cell with all its digits."""
        field = self.fields[column]
        return cell_text(field, getattr(self.rows[row], field.name), self._units())

    def unit(self, column: int) -> str:
        """Unit of a column of quantities; empty for other columns and for plain numbers."""
        shape = self.fields[column].shape
        unit = unit_of(shape.quantity.kind, self._units()) if isinstance(shape, Number) else ""
        return "" if unit == "1" else unit

    # -- as Qt asks ----------------------------------------------------------------------------------

    def rowCount(self, parent: AnyIndex = _ROOT) -> int:
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: AnyIndex = _ROOT) -> int:
        return 0 if parent.isValid() else len(self.fields)

    def flags(self, index: AnyIndex) -> Qt.ItemFlag:
        return super().flags(index) | Qt.ItemFlag.ItemIsEditable

    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        row, column = index.row(), index.column()
        if role == Qt.ItemDataRole.DisplayRole:
            return self.drafts.get((row, column), self.shown(row, column))
        if role == Qt.ItemDataRole.EditRole:
            return self.drafts.get((row, column), self.text(row, column))
        if role == Qt.ItemDataRole.TextAlignmentRole:
            number = isinstance(self.fields[column].shape, Number)
            side = Qt.AlignmentFlag.AlignRight if number else Qt.AlignmentFlag.AlignLeft
            return side | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"{self.text(row, column)} {self.unit(column)}".strip()
        return None

    def setData(self, index: AnyIndex, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        row, column = index.row(), index.column()
        if role != Qt.ItemDataRole.EditRole or row >= len(self.rows):
            return False
        if value == self.text(row, column) and (row, column) not in self.drafts:
            return True
        taken = self._take(row, column, str(value))
        if taken:
            self.drafts.pop((row, column), None)
        else:
            self.drafts[row, column] = str(value)
        self._tell(row, column)
        return taken

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation == Qt.Orientation.Vertical:
            return str(section + 1) if role == Qt.ItemDataRole.DisplayRole else None
        field = self.fields[section]
        if role == Qt.ItemDataRole.DisplayRole:
            return " ".join(part for part in (field.label, self.unit(section)) if part)
        if role == Qt.ItemDataRole.ToolTipRole:
            allowed = ""
            if isinstance(field.shape, Number):
                allowed = f"\nAllowed: {field.shape.quantity.range_text(self.unit(section) or '1')}"
            return f"{field.label}\n{field.meaning}{allowed}"
        return None

    def shown(self, row: int, column: int) -> str:
        """The value of a cell as it is shown."""
        field = self.fields[column]
        value = getattr(self.rows[row], field.name)
        if isinstance(field.shape, Number):
            kind = field.shape.quantity.kind
            return short_number(value, unit_of(kind, self._units()), kind.si)
        return str(value)

    def _tell(self, row: int, column: int) -> None:
        if row < len(self.rows):
            index = self.index(row, column)
            self.dataChanged.emit(index, index)
