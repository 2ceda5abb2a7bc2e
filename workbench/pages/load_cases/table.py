"""Table of the load cases: the candidate's figures, with the baseline's faint under them."""

from __future__ import annotations

from PySide6.QtCore import QItemSelection, QModelIndex, QPersistentModelIndex, QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QSizePolicy,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from models.judge.statics import LoadCaseRow
from models.units import METRIC, UnitChoice
from workbench.copied_table import make_copyable, shown_rows
from workbench.pages.load_cases.texts import COLUMNS, LAST, cells, remarks
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["LoadCaseTable"]

_BASELINE = Qt.ItemDataRole.UserRole
_COLOUR = Qt.ItemDataRole.UserRole + 1
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_MARGIN, _BAR = 4, 3
_NAME = "full boot only"
_WIDEST = {"force": "00000", "travel": "−000", "angle": "down 0.000"}
_MOST_ROWS = 12


class LoadCaseTable(QTableView):
    """One row per load case; an update writes only the cells that change.

    Signals:
        picked(str): a row was chosen by click or key: name of its load case.
    """

    picked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._units: UnitChoice = METRIC
        self._rows: tuple[tuple[LoadCaseRow, LoadCaseRow | None], ...] = ()
        self._chosen = ""
        self._theme = LIGHT
        self.cells = QStandardItemModel(0, len(COLUMNS), self)
        self.setModel(self.cells)
        self._pair = _Pair(self)
        self.setItemDelegate(self._pair)
        self._dress()
        self.selectionModel().selectionChanged.connect(self._selected)

    def show_rows(
        self, candidate: tuple[LoadCaseRow, ...], baseline: tuple[LoadCaseRow, ...], chosen: str
    ) -> None:
        """Show the load cases; ``baseline`` has the same load cases, or none."""
        others = baseline or (None,) * len(candidate)
        self._rows = tuple(zip(candidate, others, strict=True))
        self._chosen = chosen
        self._fill()

    def set_units(self, units: UnitChoice) -> None:
        """Show the figures in other units."""
        self._units = units
        self._fill()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self._pair.theme = theme
        self._fill()
        self.viewport().update()

    def sizeHint(self) -> QSize:
        rows = min(max(self.cells.rowCount(), 1), _MOST_ROWS)
        height = (
            self.horizontalHeader().sizeHint().height() + rows * self.verticalHeader().defaultSectionSize()
        )
        return QSize(700, height + 4)

    def _dress(self) -> None:
        font = small_font(self.font())
        self.setFont(font)
        self.setAccessibleName("Load cases")
        self.setShowGrid(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setWordWrap(False)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        metrics = QFontMetrics(font)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(2 * metrics.height() + 8)
        header = self.horizontalHeader()
        header.setFont(font)
        header.setHighlightSections(False)
        # As narrow as numbers and heads allow: all columns are to be seen in a narrow window.
        for column, (heading, kind, _) in enumerate(COLUMNS):
            texts = (*heading.split("\n"), _WIDEST[kind] if kind else _NAME)
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            self.setColumnWidth(column, max(map(metrics.horizontalAdvance, texts)) + 2 * _MARGIN)
        header.setMinimumSectionSize(metrics.horizontalAdvance("Stands") + 2 * _MARGIN)
        header.setSectionResizeMode(LAST, QHeaderView.ResizeMode.Stretch)
        make_copyable(self, self._copied)

    def _copied(self) -> list[list[str]]:
        """Head and rows of the candidate, then the baseline's faint lines as columns of their own."""
        head, *rows = shown_rows(self)
        if all(other is None for _, other in self._rows):
            return [head, *rows]
        faint = [self._below(other)[1:] for _, other in self._rows]
        heads = [*head, *(f"{name}, baseline" for name in head[1:])]
        return [heads, *([*row, *below] for row, below in zip(rows, faint, strict=True))]

    def _below(self, other: LoadCaseRow | None) -> tuple[str, ...]:
        return ("", *cells(other, self._units)[1:]) if other else ("",) * len(COLUMNS)

    def _fill(self) -> None:
        self._fill_header()
        if self.cells.rowCount() != len(self._rows):
            self._make_rows(len(self._rows))
        for number, (row, other) in enumerate(self._rows):
            texts = cells(row, self._units)
            below = self._below(other)
            for column, (text, faint) in enumerate(zip(texts, below, strict=True)):
                marked = not row.stable or (column == LAST and bool(row.warnings))
                self._write(number, column, text, faint, self._colour(column, marked))
            self.cells.item(number, LAST).setToolTip(remarks(row))
        self._select()

    def _colour(self, column: int, marked: bool) -> str:
        if marked:
            return self._theme.mark
        return self._theme.candidate if COLUMNS[column][1] else self._theme.ink

    def _fill_header(self) -> None:
        for column, (heading, kind, tip) in enumerate(COLUMNS):
            gap = " " if "\n" in heading else "\n"
            unit = f"{heading}{gap}{self._units[kind]}" if kind else heading
            item = self.cells.horizontalHeaderItem(column) or QStandardItem()
            if item.text() != unit or item.model() is None:
                item.setText(unit)
                item.setToolTip(tip)
                item.setTextAlignment(_RIGHT if kind else _LEFT)
                self.cells.setHorizontalHeaderItem(column, item)

    def _make_rows(self, count: int) -> None:
        self.cells.setRowCount(0)
        for _ in range(count):
            self.cells.appendRow([QStandardItem() for _ in COLUMNS])
        self.updateGeometry()

    def _write(self, row: int, column: int, text: str, faint: str, colour: str) -> None:
        item = self.cells.item(row, column)
        if item.text() != text:
            item.setText(text)
        for role, value in ((_BASELINE, faint), (_COLOUR, colour)):
            if item.data(role) != value:
                item.setData(value, role)

    def _select(self) -> None:
        names = [row.name for row, _ in self._rows]
        if self._chosen in names and self.currentIndex().row() != names.index(self._chosen):
            self.selectRow(names.index(self._chosen))

    def _selected(self, selected: QItemSelection, _deselected: QItemSelection) -> None:
        rows = selected.indexes()
        if rows and self._rows[rows[0].row()][0].name != self._chosen:
            self._chosen = self._rows[rows[0].row()][0].name
            self.picked.emit(self._chosen)


class _Pair(QStyledItemDelegate):
    """Paints the candidate's text and the baseline's faint under it; the chosen row by a bar at its left."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = LIGHT

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        theme, rect = self.theme, option.rect
        chosen = bool(option.state & option.state.State_Selected)
        painter.fillRect(rect, QColor(theme.panel if chosen else theme.raised))
        if chosen and index.column() == 0:
            painter.fillRect(QRect(rect.left(), rect.top(), _BAR, rect.height()), QColor(theme.candidate))
        painter.setFont(option.font)
        inside = rect.adjusted(_MARGIN + (_BAR if index.column() == 0 else 0), 3, -_MARGIN, -3)
        right = bool(COLUMNS[index.column()][1])
        faint, half = index.data(_BASELINE), inside.height() // 2
        upper = QRect(inside.left(), inside.top(), inside.width(), half)
        lower = QRect(inside.left(), inside.top() + half, inside.width(), half)
        metrics = option.fontMetrics
        for area, text, colour in (
            (upper if faint else inside, index.data(), index.data(_COLOUR)),
            (lower, faint, theme.faint),
        ):
            painter.setPen(QColor(colour))
            short = metrics.elidedText(text, Qt.TextElideMode.ElideRight, area.width())
            painter.drawText(area, _RIGHT if right else _LEFT, short)
        painter.setPen(QColor(theme.rule))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
