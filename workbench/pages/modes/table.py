"""Table of all modes of candidate and baseline."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QItemSelection, QItemSelectionModel, QSize, Qt, Signal
from PySide6.QtGui import QColor, QStandardItemModel
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QSizePolicy, QWidget

from models.ride.mode_shape import ModeShapes
from models.ride.modes import Modes
from workbench.pages.modes.words import damped_text, number, ratio_text, shape_text
from workbench.table_dress import LEFT, RIGHT, FilledTable, dress_table, make_rows

__all__ = ["ModesTable"]

_COLUMNS = (
    *("Mode", "Frequency, Hz", "baseline", "Damping ζ", "baseline", "Damped, Hz", "baseline"),
    *("", "Shape of the candidate"),
)
_NAME, _GAP, _SHAPE = 0, 7, 8
_TIPS = {
    1: "Undamped natural frequency, Hz",
    3: "Damping over critical damping, ζ = -Re λ / |λ|; 1 and more is overdamped: it creeps back",
    5: "Frequency of the damped motion, f √(1 - ζ²), Hz",
    _SHAPE: "Shares of the kinetic energy, and the point at which the body stands still",
}
_MARGIN = 16
# A brush is dear to compare: the name of its colour is kept beside it.
_COLOUR_NAME = Qt.ItemDataRole.UserRole


@dataclass(frozen=True, slots=True, eq=False)
class _Shown:
    candidate: Modes
    shapes: ModeShapes
    baseline: Modes | None


class ModesTable(FilledTable):
    """One row per mode of the candidate, slowest first; an update writes only the cells that change.

    Signals:
        picked(str): name of the mode that was selected.
    """

    picked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: _Shown | None = None
        self._chosen = ""
        self.cells = QStandardItemModel(0, len(_COLUMNS), self)
        self.cells.setHorizontalHeaderLabels(_COLUMNS)
        self.setModel(self.cells)
        self._dress()
        self.selectionModel().selectionChanged.connect(self._selected)

    def show_modes(self, candidate: Modes, shapes: ModeShapes, baseline: Modes | None) -> None:
        """Show the modes of the candidate, and those of the baseline of the same names."""
        self._shown = _Shown(candidate, shapes, baseline)
        self._fill()

    def choose(self, name: str) -> None:
        """Select the row of a mode."""
        self._chosen = name
        self._select()

    def sizeHint(self) -> QSize:
        rows = max(self.cells.rowCount(), 7)
        height = (
            self.horizontalHeader().sizeHint().height() + rows * self.verticalHeader().defaultSectionSize()
        )
        return QSize(700, height + 2)

    def _dress(self) -> None:
        metrics = dress_table(self, "Modes")
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        header = self.horizontalHeader()
        header.setDefaultAlignment(RIGHT)
        widest = {
            _NAME: "occupant on cushion",
            1: "Frequency, Hz",
            2: "baseline",
            3: "Damping ζ",
            4: "baseline",
        }
        for column in range(_SHAPE):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            text = "" if column == _GAP else widest.get(column, "overdamped")
            self.setColumnWidth(column, metrics.horizontalAdvance(text) + _MARGIN)
        header.setSectionResizeMode(_SHAPE, QHeaderView.ResizeMode.Stretch)
        for column in (_NAME, _SHAPE):
            self.cells.horizontalHeaderItem(column).setTextAlignment(LEFT)
        for column, tip in _TIPS.items():
            self.cells.horizontalHeaderItem(column).setToolTip(tip)

    def _fill(self) -> None:
        if self._shown is None:
            return
        names = self._shown.candidate.names
        if self.cells.rowCount() != len(names):
            make_rows(self.cells, len(names), (_NAME, _SHAPE))
            self.updateGeometry()
        ink, candidate, baseline = self._theme.ink, self._theme.candidate, self._theme.baseline
        for row in range(len(names)):
            for column, text in enumerate(self._texts(self._shown, row)):
                colour = ink if column in (_NAME, _SHAPE) else (baseline, candidate)[column % 2]
                self._write(row, column, text, colour)
        self._select()

    def _texts(self, shown: _Shown, mode: int) -> tuple[str, ...]:
        modes, other = shown.candidate, shown.baseline
        name = modes.names[mode]
        # A baseline of another kind of model may have no mode of that name.
        twin = other.names.index(name) if other is not None and name in other.names else None
        return (
            name,
            number(float(modes.frequency[mode])),
            "" if other is None or twin is None else number(float(other.frequency[twin])),
            ratio_text(modes, mode),
            "" if other is None or twin is None else ratio_text(other, twin),
            damped_text(modes, mode),
            "" if other is None or twin is None else damped_text(other, twin),
            "",
            shape_text(shown.shapes, mode, self._units),
        )

    def _write(self, row: int, column: int, text: str, colour: str) -> None:
        item = self.cells.item(row, column)
        if item.text() != text:
            item.setText(text)
            if column == _SHAPE:
                item.setToolTip(text)
        if item.data(_COLOUR_NAME) != colour:
            item.setData(colour, _COLOUR_NAME)
            item.setForeground(QColor(colour))

    def _select(self) -> None:
        """Keep the choice on its mode where modes change their order."""
        if self._shown is None or self._chosen not in self._shown.candidate.names:
            return
        row = self._shown.candidate.names.index(self._chosen)
        if self.currentIndex().row() != row:
            self.selectionModel().setCurrentIndex(
                self.cells.index(row, _NAME),
                QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows,
            )

    def _selected(self, selected: QItemSelection, _deselected: QItemSelection) -> None:
        rows = selected.indexes()
        if rows and self._shown is not None:
            name = self._shown.candidate.names[rows[0].row()]
            if name != self._chosen:
                self._chosen = name
                self.picked.emit(name)
