"""Table of the parameters in which two variants differ; an arrow copies a value from one to the other."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QMouseEvent, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from models.judge.difference import Difference
from models.units import METRIC, UnitChoice
from workbench.copied_table import make_copyable
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["NAME", "TO_BASELINE", "TO_CANDIDATE", "ParameterTable"]

_COLUMNS = 6
NAME, CANDIDATE, TO_CANDIDATE, TO_BASELINE, BASELINE, CHANGE = range(_COLUMNS)
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_ALIGNED = {
    CANDIDATE: _RIGHT,
    TO_CANDIDATE: Qt.AlignmentFlag.AlignCenter,
    TO_BASELINE: Qt.AlignmentFlag.AlignCenter,
}
_ARROWS = {TO_CANDIDATE: "←", TO_BASELINE: "→"}
_WIDEST = {CANDIDATE: "0000 N·m/rad", BASELINE: "0000 N·m/rad", CHANGE: "+000 N·m/rad (+00 %)"}
_CELL_MARGINS = 12


class ParameterTable(QTableView):
    """One row per parameter.

    Signals:
        copy_wanted(object, bool): differences to copy; True: the baseline's values to the candidate,
            False: the candidate's to the baseline.
    """

    copy_wanted = Signal(object, bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._units: UnitChoice = METRIC
        self._theme = LIGHT
        self._names = ("", "")
        self.rows: tuple[Difference, ...] = ()
        self.cells = QStandardItemModel(0, _COLUMNS, self)
        self.setModel(self.cells)
        self._dress()

    def show_rows(self, rows: tuple[Difference, ...], names: tuple[str, str]) -> None:
        """Show the differences of candidate and baseline of these names."""
        same = [row.path for row in rows] == [row.path for row in self.rows]
        self.rows, self._names = rows, names
        if not same:
            self.cells.setRowCount(0)
            for _ in rows:
                self.cells.appendRow([QStandardItem() for _ in range(_COLUMNS)])
        self._fill()

    @property
    def selected(self) -> list[Difference]:
        """Differences of the selected rows."""
        numbers = sorted({index.row() for index in self.selectionModel().selectedRows()})
        return [self.rows[number] for number in numbers]

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = units
        self._fill()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self._fill()

    def _dress(self) -> None:
        font = small_font(self.font())
        metrics = QFontMetrics(font)
        self.setFont(font)
        self.setAccessibleName("Parameters that differ")
        self.setShowGrid(False)
        self.setAlternatingRowColors(True)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setWordWrap(False)
        self.setTextElideMode(Qt.TextElideMode.ElideMiddle)  # where a name begins and ends tells most
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(1)
        self.verticalHeader().setDefaultSectionSize(metrics.height() + 6)
        header = self.horizontalHeader()
        header.setFont(font)
        header.setHighlightSections(False)
        header.setMinimumSectionSize(1)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        for column in _ARROWS:
            self.setColumnWidth(column, metrics.horizontalAdvance("←") + _CELL_MARGINS)
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
        for column, text in _WIDEST.items():
            self.setColumnWidth(column, metrics.horizontalAdvance(text) + _CELL_MARGINS)
        header.setSectionResizeMode(NAME, QHeaderView.ResizeMode.Stretch)
        make_copyable(self)

    def _fill(self) -> None:
        heads = ("Parameter", "Candidate", "", "", "Baseline", "Difference")
        for column, text in enumerate(heads):
            item = self.cells.horizontalHeaderItem(column) or QStandardItem()
            item.setText(text)
            item.setTextAlignment(_ALIGNED.get(column, _LEFT))
            item.setToolTip({CANDIDATE: self._names[0], BASELINE: self._names[1]}.get(column, ""))
            self.cells.setHorizontalHeaderItem(column, item)
        theme = self._theme
        colours = {CANDIDATE: theme.candidate, BASELINE: theme.baseline, CHANGE: theme.ink, NAME: theme.ink}
        for number, row in enumerate(self.rows):
            own, other = row.texts(self._units)
            texts = {
                NAME: row.words,
                CANDIDATE: own,
                BASELINE: other,
                CHANGE: row.change(self._units),
                **_ARROWS,
            }
            tips = {
                TO_CANDIDATE: f"Copy {other} to the candidate, {self._names[0]}",
                TO_BASELINE: f"Copy {own} to the baseline, {self._names[1]}",
            }
            for column, text in texts.items():
                item = self.cells.item(number, column)
                if item.text() != text:
                    item.setText(text)
                item.setTextAlignment(_ALIGNED.get(column, _LEFT))
                item.setToolTip(tips.get(column, f"{row.words}\n{row.meaning}"))
                item.setForeground(QColor(colours.get(column, theme.faint)))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        index = self.indexAt(event.position().toPoint())
        if event.button() == Qt.MouseButton.LeftButton and index.isValid() and index.column() in _ARROWS:
            self.copy_wanted.emit([self.rows[index.row()]], index.column() == TO_CANDIDATE)
