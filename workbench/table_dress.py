"""The look that all tables of figures share: small type, rows without a grid, quiet heads."""

from __future__ import annotations

from collections.abc import Callable, Container, Sequence

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QFontMetrics, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QAbstractItemView, QFrame, QTableView, QWidget

from models.units import METRIC, UnitChoice
from workbench.copied_table import make_copyable
from workbench.help.context import table_place
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["LEFT", "RIGHT", "FilledTable", "dress_table", "make_rows"]

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter

_AIR = 5


def dress_table(
    table: QTableView, name: str, copied: Callable[[], Sequence[Sequence[str]]] | None = None
) -> QFontMetrics:
    """Dress a table that is read and not typed into; it can be copied.

    Args:
        table: gets the look; its columns keep their widths.
        name: what it is, for those who cannot see it.
        copied: gives head and rows to copy in place of what is shown.

    Returns:
        Metrics of its type, for the widths of the columns.
    """
    font = small_font(table.font())
    metrics = QFontMetrics(font)
    table.setFont(font)
    table.setAccessibleName(name)
    table.setShowGrid(False)
    table.setAlternatingRowColors(True)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setTabKeyNavigation(False)
    table.setFrameShape(QFrame.Shape.NoFrame)
    table.setWordWrap(False)
    table.verticalHeader().hide()
    table.verticalHeader().setMinimumSectionSize(1)
    table.verticalHeader().setDefaultSectionSize(metrics.height() + _AIR)
    header = table.horizontalHeader()
    header.setFont(font)
    header.setHighlightSections(False)
    header.setMinimumSectionSize(1)
    make_copyable(table, copied)
    return metrics


class FilledTable(QTableView):
    """A table whose cells are written anew in other units or colours."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._units: UnitChoice = METRIC
        self._theme = LIGHT

    def set_units(self, units: UnitChoice) -> None:
        """Show in other units."""
        self._units = units
        self._fill()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self._fill()

    def help_place(self, at: QPoint | None) -> str:
        """Place of a row in the handbook."""
        return table_place(self, at)

    def _fill(self) -> None:
        """Write all cells."""
        raise NotImplementedError


def make_rows(cells: QStandardItemModel, count: int, words: Container[int]) -> None:
    """Replace all rows by empty ones, in which columns of words stand left and those of numbers right."""
    cells.setRowCount(0)
    for _ in range(count):
        row = [QStandardItem() for _ in range(cells.columnCount())]
        for column, cell in enumerate(row):
            cell.setTextAlignment(LEFT if column in words else RIGHT)
        cells.appendRow(row)
