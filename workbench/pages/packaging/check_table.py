"""Table of the checks: what is missed on top, then what has the least room, or as the user sorts it."""

from __future__ import annotations

from collections.abc import Callable
from math import inf, isnan

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QSizePolicy, QTableView, QWidget

from models.figure_text import unit_text
from models.judge.packaging import Checked
from models.judge.packaging_text import check_tip, limit_words, number
from models.units import METRIC, UnitChoice
from workbench.table_dress import LEFT, RIGHT, dress_table
from workbench.theme import LIGHT, Theme

__all__ = ["CheckTable"]

_HEADS = ("Check", "Place", "Load case", "Value", "Baseline", "Limit", "Margin", "Unit")
CHECK, PLACE, CASE, VALUE, BASELINE, LIMIT, MARGIN, UNIT = range(len(_HEADS))
_TIPS = {
    VALUE: "Of the candidate",
    BASELINE: "The same of the baseline",
    LIMIT: "From the stops of the axles, and from the limits below",
    MARGIN: "Room left to the limit; below 0 it is missed. Sorted by its share of the limit",
}
_NUMBERS = (VALUE, BASELINE, LIMIT, MARGIN)
_WIDEST = {VALUE: "−0.000", BASELINE: "−0.000", LIMIT: "≥ −0.000", MARGIN: "−0.000", UNIT: "mrad"}
_ROWS = 10
# Beside the texts of a column, and the least width of the names where all columns are to be in sight; px.
_AIR, _LEAST_NAME = 10, 110

_Index = QModelIndex | QPersistentModelIndex
_NO_INDEX = QModelIndex()
_Key = tuple[str, str]


class CheckTable(QTableView):
    """One row per check; a click on a head sorts by it, a third one as the checks are read."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.cells = _Model(self)
        self.setModel(self.cells)
        self._dress()
        self.horizontalHeader().sectionClicked.connect(self._sort_by)

    @property
    def rows(self) -> list[Checked]:
        """Checks in the order in which they are shown."""
        return self.cells.rows

    def show_checks(self, checks: tuple[Checked, ...], baseline: tuple[Checked, ...]) -> None:
        """Show the checks of the candidate, and the values of a baseline, which may have none."""
        self.cells.take(checks, {(row.figure.key, row.case): row.figure.value for row in baseline})
        self.setColumnHidden(BASELINE, not baseline)
        self._fit()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self.cells.units = units
        self.cells.refresh()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.cells.theme = theme
        self.viewport().update()

    def sizeHint(self) -> QSize:
        rows = _ROWS * self.verticalHeader().defaultSectionSize()
        return QSize(700, self.horizontalHeader().sizeHint().height() + rows)

    def minimumSizeHint(self) -> QSize:
        return QSize(200, self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _dress(self) -> None:
        dress_table(self, "Checks of travel and clearance")
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTextElideMode(Qt.TextElideMode.ElideMiddle)  # where a name begins and ends tells most
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        header = self.horizontalHeader()
        header.setSectionsClickable(True)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)

    def _fit(self) -> None:
        """Columns as wide as what they say; room beyond that goes to the names."""
        metrics = QFontMetrics(self.font())
        texts: dict[int, list[str]] = {
            CHECK: [row.figure.label for row in self.rows],
            PLACE: [row.place for row in self.rows],
            CASE: [row.case for row in self.rows],
        }
        widths = {}
        for column in range(len(_HEADS)):
            if not self.isColumnHidden(column):
                words = {*texts.get(column, ()), self.cells.head(column), _WIDEST.get(column, "")}
                widths[column] = max(map(metrics.horizontalAdvance, words)) + _AIR
        spare = self.viewport().width() - sum(widths.values())
        widths[CHECK] = max(widths[CHECK] + spare, min(widths[CHECK], _LEAST_NAME))
        for column, width in widths.items():
            self.setColumnWidth(column, width)

    def _sort_by(self, column: int) -> None:
        before = self.cells.sorting
        if before is None or before[0] != column:
            self.cells.sort_by((column, False))
        else:
            self.cells.sort_by(None if before[1] else (column, True))
        self._fit()


class _Model(QAbstractTableModel):
    """What a cell says is made when it is painted."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.rows: list[Checked] = []
        self._checks: tuple[Checked, ...] = ()
        self._baseline: dict[_Key, float] = {}
        self.sorting: tuple[int, bool] | None = MARGIN, False
        self.units: UnitChoice = METRIC
        self.theme: Theme = LIGHT

    def take(self, checks: tuple[Checked, ...], baseline: dict[_Key, float]) -> None:
        """Take other checks; where as many are shown in the same order only the cells are painted anew."""
        self._checks, self._baseline = checks, baseline
        self._arrange()

    def sort_by(self, sorting: tuple[int, bool] | None) -> None:
        """Sort by a column, descending or not; None as the checks are read."""
        self.sorting = sorting
        self._arrange()
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(_HEADS) - 1)

    def refresh(self) -> None:
        """Have everything in sight painted anew."""
        if self.rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self.rows) - 1, len(_HEADS) - 1))

    def _arrange(self) -> None:
        missed = sorted((row for row in self._checks if row.met is False), key=_room)
        rows = self._sorted(missed) + self._sorted([row for row in self._checks if row.met is not False])
        if len(rows) == len(self.rows):
            self.rows = rows
            self.refresh()
            return
        self.beginResetModel()
        self.rows = rows
        self.endResetModel()

    def _sorted(self, rows: list[Checked]) -> list[Checked]:
        """As the user sorts them; those without a number in that column stay below the others."""
        if self.sorting is None:
            return rows
        column, descending = self.sorting
        key = self._key(column)
        told = sorted((row for row in rows if not isnan(key(row)[1])), key=key, reverse=descending)
        return told + [row for row in rows if isnan(key(row)[1])]

    def _key(self, column: int) -> Callable[[Checked], tuple[str, float]]:
        keys: dict[int, Callable[[Checked], tuple[str, float]]] = {
            CHECK: lambda row: (row.figure.label.casefold(), 0.0),
            PLACE: lambda row: (row.place.casefold(), 0.0),
            CASE: lambda row: (row.case.casefold(), 0.0),
            VALUE: lambda row: (row.figure.kind, row.figure.value),
            BASELINE: lambda row: (row.figure.kind, self._other(row)),
            LIMIT: lambda row: (row.figure.kind, row.limit),
            MARGIN: lambda row: ("", _room(row)),
            UNIT: lambda row: (row.figure.kind, 0.0),
        }
        return keys[column]

    def _other(self, row: Checked) -> float:
        return self._baseline.get((row.figure.key, row.case), float("nan"))

    # -- Qt's questions ------------------------------------------------------------------------------

    def rowCount(self, parent: _Index = _NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: _Index = _NO_INDEX) -> int:
        return 0 if parent.isValid() else len(_HEADS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return RIGHT if section in _NUMBERS else LEFT
        if role == Qt.ItemDataRole.ToolTipRole:
            return _TIPS.get(section, "Click to sort")
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        return self.head(section)

    def head(self, column: int) -> str:
        """Name of a column, with an arrow where the rows are sorted by it."""
        if self.sorting is None or self.sorting[0] != column:
            return _HEADS[column]
        return f"{_HEADS[column]} {'▼' if self.sorting[1] else '▲'}"

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        row, column = self.rows[index.row()], index.column()
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(row, column)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return RIGHT if column in _NUMBERS else LEFT
        if role == Qt.ItemDataRole.ToolTipRole:
            return check_tip(row, self.units)
        if role == Qt.ItemDataRole.ForegroundRole:
            return QColor(self._colour(row, column))
        return None

    def _text(self, row: Checked, column: int) -> str:
        kind, units = row.figure.kind, self.units
        if column in (VALUE, BASELINE):
            return number(row.figure.value if column == VALUE else self._other(row), kind, units)
        if column == LIMIT:
            return limit_words(row, units)
        if column == MARGIN:
            return "" if isnan(row.limit) else number(row.margin, kind, units)
        words = {CHECK: row.figure.label, PLACE: row.place, CASE: row.case, UNIT: unit_text(kind, units)}
        return words[column]

    def _colour(self, row: Checked, column: int) -> str:
        theme = self.theme
        if column == BASELINE:
            return theme.baseline
        if row.met is False:
            return theme.mark
        if column == VALUE:
            return theme.candidate
        if column == MARGIN and row.met:
            return theme.good
        return theme.faint if column in (LIMIT, UNIT) else theme.ink


def _room(row: Checked) -> float:
    """Margin as a share of the limit, so that kinds of quantity compare."""
    return row.margin / abs(row.limit) if row.limit else inf if row.margin > 0 else -inf
