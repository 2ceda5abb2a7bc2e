"""Key figures of candidate and baseline, and what the one changes against the other."""

from __future__ import annotations

import math
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QVBoxLayout, QWidget

from models.judge.figures import Figure
from models.units import KINDS, METRIC, UnitChoice, format_value
from workbench.theme import LIGHT, Theme

__all__ = ["FiguresPanel", "change_text"]

_COLUMNS = ("", "Candidate", "Baseline", "Change")
# A change below this share is not worth a colour.
_EVEN = 0.005
_Index = QModelIndex | QPersistentModelIndex


def change_text(candidate: float, baseline: float, kind: str, units: UnitChoice) -> str:
    """Change against the baseline: in per cent, or in the unit where a percentage has no meaning."""
    if not (math.isfinite(candidate) and math.isfinite(baseline)):
        return "–"
    if candidate == baseline:
        return "="
    if kind in ("length", "share") or baseline == 0:
        unit = units[kind]
        sign = "+" if candidate > baseline else "−"
        text = format_value(abs(candidate - baseline), unit, KINDS[kind].si, 2)
        return f"{sign}{text}" + ("" if unit == "1" else f" {unit}")
    share = (candidate - baseline) / abs(baseline) * 100
    return f"{share:+.0f} %".replace("-", "−") if abs(share) >= 0.5 else "="


class _FiguresModel(QAbstractTableModel):
    def __init__(self) -> None:
        super().__init__()
        self.units: UnitChoice = METRIC
        self.theme: Theme = LIGHT
        self._candidate: tuple[Figure, ...] = ()
        self._baseline: tuple[Figure, ...] = ()

    def show(self, candidate: tuple[Figure, ...], baseline: tuple[Figure, ...]) -> None:
        """Show two sets of the same figures; rows are rebuilt only if the set is another."""
        same_rows = [figure.key for figure in candidate] == [figure.key for figure in self._candidate]
        if not same_rows:
            self.beginResetModel()
        self._candidate, self._baseline = candidate, baseline
        if not same_rows:
            self.endResetModel()
        self.refresh()

    def refresh(self) -> None:
        if self._candidate:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self._candidate) - 1, len(_COLUMNS) - 1))

    def rowCount(self, parent: _Index = QModelIndex()) -> int:  # noqa: B008 - Qt's signature
        return 0 if parent.isValid() else len(self._candidate)

    def columnCount(self, parent: _Index = QModelIndex()) -> int:  # noqa: B008 - Qt's signature
        return 0 if parent.isValid() else len(_COLUMNS)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:
        if orientation == Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return _COLUMNS[section]
        return None

    def data(self, index: _Index, role: int = 0) -> Any:
        figure, reference = self._candidate[index.row()], self._baseline[index.row()]
        column = index.column()
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(figure, reference, column)
        if role == Qt.ItemDataRole.TextAlignmentRole and column:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.ForegroundRole:
            return self._colour(figure, reference, column)
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"{figure.label}\n{figure.meaning}"
        return None

    def _text(self, figure: Figure, reference: Figure, column: int) -> str:
        kind = KINDS[figure.kind]
        unit = self.units[figure.kind]
        if column == 0:
            return figure.label + ("" if unit == "1" else f"  ({unit})")
        if column == 3:
            return change_text(figure.value, reference.value, figure.kind, self.units)
        return format_value((figure if column == 1 else reference).value, unit, kind.si)

    def _colour(self, figure: Figure, reference: Figure, column: int) -> QColor | None:
        if column == 1:
            return QColor(self.theme.candidate)
        if column == 2:
            return QColor(self.theme.baseline)
        if column == 3 and figure.better != "none":
            step = figure.value - reference.value
            if math.isfinite(step) and abs(step) > _EVEN * abs(reference.value):
                gain = (step < 0) == (figure.better == "lower")
                return QColor(self.theme.good if gain else self.theme.mark)
        return None


class FiguresPanel(QWidget):
    """Table of the key figures."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._model = _FiguresModel()
        self.table = QTableView(self)
        self.table.setModel(self._model)
        self.table.setAccessibleName("Key figures")
        self.table.setShowGrid(False)
        self.table.setAlternatingRowColors(True)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setFrameShape(QTableView.Shape.NoFrame)
        self.table.setWordWrap(False)
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 7)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for column in range(1, len(_COLUMNS)):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            self.table.setColumnWidth(column, self.fontMetrics().horizontalAdvance("Candidate") + 12)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        header.setHighlightSections(False)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.table)

    def show_figures(self, candidate: tuple[Figure, ...], baseline: tuple[Figure, ...]) -> None:
        """Show the figures of both variants (same figures in the same order)."""
        self._model.show(candidate, baseline)

    def set_units(self, units: UnitChoice) -> None:
        """Show the figures in other units."""
        self._model.units = units
        self._model.refresh()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._model.theme = theme
        self._model.refresh()
