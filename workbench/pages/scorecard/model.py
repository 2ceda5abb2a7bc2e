"""The scorecard as a table model: what a cell says is made when it is painted, so that size costs nothing."""

from __future__ import annotations

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from models.charts import CHART_CHOICES
from models.judge import GROUPS
from models.judge.curves import curve_of
from models.judge.mix import MIX_GROUP, MIX_MEANING
from models.judge.practice import PRACTICE, PRACTICE_MEANING
from models.judge.scorecard import Row
from models.judge.scorecard_text import (
    change_cell,
    change_words,
    label_of,
    margin_words,
    target_words,
    value_words,
    verdict_words,
)
from models.units import METRIC, UnitChoice
from workbench.help.anchors import figure_place
from workbench.help.context import PLACE, explained
from workbench.theme import LIGHT, Theme

__all__ = [
    "BELOW",
    "BELOW_COLOUR",
    "COLOUR",
    "FIRST",
    "NAME",
    "TARGET",
    "UNIT",
    "VERDICT",
    "ScoreModel",
]

NAME, UNIT, TARGET, FIRST = range(4)

#: Roles: change under the value, verdict under it at the left, and their colours.
BELOW, VERDICT, COLOUR, BELOW_COLOUR = (Qt.ItemDataRole.UserRole + number for number in range(4))

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_GROUP_TIPS = {**GROUPS, MIX_GROUP: MIX_MEANING, PRACTICE: PRACTICE_MEANING}
_UNKNOWN = "Figures that the run does not have"
_TARGET_TIP = "Double-click or type: ≤ 2, ≥ 2, 1 – 2, with or without unit; empty takes the target away"
_HEADS = ("Figure", "Unit", "Target")
_HEAD_TIPS = (
    "Click to sort by name inside the groups",
    "Unit of the values and the target",
    "Click to bring the figures with a target to the top of each group",
    "Click to sort inside the groups by how far from the target",
)

_Index = QModelIndex | QPersistentModelIndex
_NO_INDEX = QModelIndex()


class ScoreModel(QAbstractTableModel):
    """Rows of figures, and strings in their place where a heading stands."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.rows: list[Row | str] = []
        self.variants: tuple[str, ...] = ()
        self._heads: tuple[str, ...] = ()
        self.candidate, self.baseline = "", 0
        self.sorting: tuple[int, bool] | None = None
        self.units: UnitChoice = METRIC
        self.theme: Theme = LIGHT

    def show_rows(self, rows: list[Row | str], variants: tuple[str, ...]) -> bool:
        """Take rows; False where the same figures stand in the same places, with other values at most."""
        alike = variants == self.variants and list(map(_identity, rows)) == list(map(_identity, self.rows))
        if alike:
            self.rows = rows
            self.refresh()
            return False
        self.beginResetModel()
        self.rows, self.variants = rows, variants
        self.endResetModel()
        return True

    def shorten_heads(self, heads: tuple[str, ...]) -> None:
        """Names of the variants as they fit their columns."""
        if heads != self._heads:
            self._heads = heads
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, FIRST, self.columnCount() - 1)

    def refresh(self) -> None:
        """Have everything in sight painted anew."""
        if self.rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self.rows) - 1, self.columnCount() - 1))
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, self.columnCount() - 1)

    # -- Qt's questions ------------------------------------------------------------------------------

    def rowCount(self, parent: _Index = _NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: _Index = _NO_INDEX) -> int:
        return 0 if parent.isValid() else FIRST + len(self.variants)

    def flags(self, index: _Index) -> Qt.ItemFlag:
        row = self.rows[index.row()]
        if isinstance(row, str):
            return Qt.ItemFlag.ItemIsEnabled
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        editable = index.column() == TARGET and row.of_project
        return flags | Qt.ItemFlag.ItemIsEditable if editable else flags

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        row, column = self.rows[index.row()], index.column()
        if isinstance(row, str):
            return self._heading(row, role) if column == NAME else None
        if column >= FIRST:
            return self._value(row, column - FIRST, role)
        return self._words(row, column, role)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _RIGHT if section >= FIRST else _LEFT
        if role == Qt.ItemDataRole.ToolTipRole:
            tip = _HEAD_TIPS[min(section, FIRST)]
            return tip if section < FIRST else f"{self.variants[section - FIRST]}\n{tip}"
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        arrow = ""
        if self.sorting is not None and self.sorting[0] == section:
            arrow = " ▼" if self.sorting[1] else " ▲"
        if section < FIRST:
            return _HEADS[section] + arrow
        place = section - FIRST
        name = self.variants[place]
        roles = [
            word
            for word, holds in (("candidate", name == self.candidate), ("baseline", place == self.baseline))
            if holds
        ]
        shown = self._heads[place] if len(self._heads) == len(self.variants) else name
        return f"{shown}{arrow}\n{' · '.join(roles)}"

    # -- answers -------------------------------------------------------------------------------------

    def _heading(self, group: str, role: int) -> object:
        if role == Qt.ItemDataRole.DisplayRole:
            return group or _UNKNOWN
        if role == Qt.ItemDataRole.ToolTipRole:
            return _GROUP_TIPS.get(group, "")
        return None

    def _words(self, row: Row, column: int, role: int) -> object:
        """Name, unit and target."""
        theme = self.theme
        if role == PLACE:
            return figure_place(row.figure.key)
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            unit = self.units[row.figure.kind]
            texts = (label_of(row, self.units), "" if unit == "1" else unit, target_words(row, self.units))
            return texts[column]
        if role == Qt.ItemDataRole.ToolTipRole:
            if column != TARGET:
                return _tip(row, self.units)
            practice = "Common practice, no source; not edited"
            return row.problem or (_TARGET_TIP if row.of_project else practice)
        if role == COLOUR:
            return theme.faint if column == UNIT or (column == TARGET and not row.of_project) else theme.ink
        if role == BELOW:
            return "not judged" if column == TARGET and row.problem else ""
        return theme.mark if role == BELOW_COLOUR else None

    def _value(self, row: Row, place: int, role: int) -> object:
        theme, cell, units = self.theme, row.cells[place], self.units
        if role == Qt.ItemDataRole.DisplayRole:
            return value_words(row, cell, units)
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._value_tip(row, place)
        if role == COLOUR:
            if self.variants[place] == self.candidate:
                return theme.candidate
            return theme.baseline if place == self.baseline else theme.ink
        if role == VERDICT:
            return f"{verdict_words(cell)} {_short(margin_words(row, cell, units))}".strip()
        if role == BELOW:
            change = "" if place == self.baseline else change_cell(row, cell, units)
            return _short(change) if cell.verdict else change
        if role == BELOW_COLOUR:
            return theme.good if cell.verdict is not None and cell.verdict.passed else theme.mark
        return None

    def _value_tip(self, row: Row, place: int) -> str:
        cell = row.cells[place]
        if cell.problem:
            return cell.problem
        verdict, margin = verdict_words(cell), margin_words(row, cell, self.units)
        change = "" if place == self.baseline else change_words(row, cell, self.units)
        chart = curve_of(row.figure.key)
        lines = (
            f"{verdict}, margin {margin}" if margin else verdict,
            f"change against the baseline: {change}" if change else "",
            "" if chart is None else f"Click to see {CHART_CHOICES[chart].title}",
        )
        return "\n".join(line for line in lines if line)


def _identity(row: Row | str) -> object:
    return row if isinstance(row, str) else (row.key, row.of_project)


def _short(words: str) -> str:
    """Only the share, where there is one: "+0.12 deg (24 %)" -> "24 %"."""
    return words[words.index("(") + 1 : -1] if words.endswith(")") else words


def _tip(row: Row, units: UnitChoice) -> str:
    problem = f"\nNot judged: {row.problem}." if row.problem else ""
    return explained(row.figure, units) + problem
