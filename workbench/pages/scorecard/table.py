"""Table of the scorecard: figures by groups, a target that is edited in place, a column per variant."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, isnan

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QContextMenuEvent,
    QFont,
    QFontMetrics,
    QMouseEvent,
    QPainter,
    QStandardItem,
    QStandardItemModel,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QLineEdit,
    QMenu,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from models.charts import CHART_CHOICES
from models.judge import GROUPS
from models.judge.curves import curve_of
from models.judge.practice import PRACTICE, PRACTICE_MEANING
from models.judge.scorecard import Cell, Row, Scorecard
from models.units import METRIC, UnitChoice
from workbench.pages.scorecard.texts import (
    change_words,
    label_of,
    margin_words,
    target_words,
    value_words,
    verdict_words,
)
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["ScoreTable"]

_NAME, _UNIT, _TARGET, _FIRST = range(4)
_BELOW, _VERDICT, _COLOUR, _BELOW_COLOUR = (Qt.ItemDataRole.UserRole + number for number in range(4))
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_MARGIN, _BAR = 6, 3
_WIDEST = {_UNIT: "lbf·in/deg", _TARGET: "0.000 – 0.000"}
_WIDEST_CELL = "−00000 N·m/rad (−100 %)"
_UNKNOWN = "Figures that the run does not have"


@dataclass(frozen=True, slots=True)
class _Sorting:
    column: int
    descending: bool


class ScoreTable(QTableView):
    """Two lines per figure: values, and under them verdict and change.

    Signals:
        picked(object): the row under the cursor, a :class:`Row`, or None.
        curve_wanted(str): a number was clicked: key of the chart of its curve.
        target_typed(object, str): the user typed a target for a row.
    """

    picked = Signal(object)
    curve_wanted = Signal(str)
    target_typed = Signal(object, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._units: UnitChoice = METRIC
        self._theme = LIGHT
        self._card: Scorecard | None = None
        self._candidate = ""
        self._filter = ""
        self._sorting: _Sorting | None = None
        self._shown: list[Row | str] = []
        self.cells = QStandardItemModel(0, _FIRST, self)
        self.setModel(self.cells)
        self._painter = _TwoLines(self)
        self.setItemDelegate(self._painter)
        self._dress()
        self.horizontalHeader().sectionClicked.connect(self._sort_by)
        self.selectionModel().currentChanged.connect(
            lambda index, _old: self.picked.emit(self.row_at(index.row()))
        )

    # -- what is shown -------------------------------------------------------------------------------

    @property
    def rows(self) -> list[Row]:
        """Rows in sight, in their order, without headings."""
        return [row for row in self._shown if isinstance(row, Row)]

    def row_at(self, number: int) -> Row | None:
        """Row of the table; None for a heading."""
        shown = self._shown[number] if 0 <= number < len(self._shown) else None
        return shown if isinstance(shown, Row) else None

    def show_card(self, card: Scorecard, candidate: str) -> None:
        """Show a scorecard; ``candidate`` is the name of the variant that is being tuned."""
        self._card, self._candidate = card, candidate
        self._update()

    def set_filter(self, text: str) -> None:
        """Show only figures whose name, group or meaning holds all these words."""
        self._filter = text.casefold()
        self._update()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = units
        self._painter.units = units
        self._update()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = self._painter.theme = theme
        self._update()
        self.viewport().update()

    def sizeHint(self) -> QSize:
        return QSize(800, 400)

    # -- building ------------------------------------------------------------------------------------

    def _dress(self) -> None:
        font = small_font(self.font())
        self.setFont(font)
        self.setAccessibleName("Scorecard")
        self.setShowGrid(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
        )
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setWordWrap(False)
        metrics = QFontMetrics(font)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(1)
        self.verticalHeader().setDefaultSectionSize(2 * metrics.height() + 6)
        header = self.horizontalHeader()
        header.setFont(font)
        header.setSectionsClickable(True)
        header.setHighlightSections(False)
        header.setMinimumSectionSize(40)

    def _fit_columns(self) -> None:
        metrics = QFontMetrics(self.font())
        for column in range(self.cells.columnCount()):
            widest = _WIDEST.get(column, _WIDEST_CELL)
            self.setColumnWidth(column, metrics.horizontalAdvance(widest) + 2 * _MARGIN)
        names = [label_of(row, self._units) for row in (self._card.rows if self._card else ())]
        width = max(map(metrics.horizontalAdvance, names), default=150) + 2 * _MARGIN + _BAR
        self.setColumnWidth(_NAME, min(width, 260))

    def _update(self) -> None:
        """Write what differs from what stands in the cells; the view paints only those."""
        if self._card is None:
            return
        keys = [_identity(row) for row in self._shown]
        self._shown = self._arranged(self._card)
        columns = _FIRST + len(self._card.variants)
        if keys != [_identity(row) for row in self._shown] or self.cells.columnCount() != columns:
            self._make_rows(columns)
        self._fill_header()
        for number, shown in enumerate(self._shown):
            if isinstance(shown, Row):
                self._fill_row(number, shown)
            else:
                self._write(number, _NAME, shown or _UNKNOWN, self._theme.faint)

    def _arranged(self, card: Scorecard) -> list[Row | str]:
        """Rows that pass the filter, by groups under their headings, sorted inside each."""
        arranged: list[Row | str] = []
        words = self._filter.split()
        groups: dict[str, list[Row]] = {}
        for row in card.rows:
            text = f"{row.figure.label} {row.figure.group} {row.figure.meaning}".casefold()
            if all(word in text for word in words):
                groups.setdefault(row.figure.group, []).append(row)
        for group, rows in groups.items():
            arranged.append(group)
            arranged += self._sorted(rows)
        return arranged

    def _sorted(self, rows: list[Row]) -> list[Row]:
        if self._sorting is None:
            return rows
        column = self._sorting.column
        if column == _NAME:
            return sorted(rows, key=lambda row: row.figure.label.casefold(), reverse=self._sorting.descending)
        if column in (_UNIT, _TARGET):
            return sorted(rows, key=lambda row: row.target is None, reverse=self._sorting.descending)
        place = column - _FIRST
        return sorted(rows, key=lambda row: _badness(row.cells[place]), reverse=self._sorting.descending)

    def _make_rows(self, columns: int) -> None:
        picked = self.row_at(self.currentIndex().row())
        self.clearSpans()
        self.cells.setRowCount(0)
        self.cells.setColumnCount(columns)
        height = QFontMetrics(self.font()).height()
        for number, shown in enumerate(self._shown):
            self.cells.appendRow([QStandardItem() for _ in range(columns)])
            for column in range(columns):
                item = self.cells.item(number, column)
                item.setFlags(_flags(shown, column))
            if not isinstance(shown, Row):
                self.setSpan(number, _NAME, 1, columns)
                self.setRowHeight(number, height + 8)
                item = self.cells.item(number, _NAME)
                strong = QFont(self.font())
                strong.setBold(True)
                item.setFont(strong)
                meaning = PRACTICE_MEANING if shown == PRACTICE else GROUPS.get(shown, "")
                item.setToolTip(meaning)
        self._fit_columns()
        if picked is not None:
            again = [n for n, row in enumerate(self._shown) if isinstance(row, Row) and row.key == picked.key]
            if again:
                self.setCurrentIndex(self.cells.index(again[0], _NAME))

    def _fill_header(self) -> None:
        assert self._card is not None
        texts = ["Figure", "Unit", "Target"]
        for place, name in enumerate(self._card.variants):
            roles = [
                word
                for word, holds in (
                    ("candidate", name == self._candidate),
                    ("baseline", place == self._card.baseline),
                )
                if holds
            ]
            texts.append(f"{name}\n{' · '.join(roles)}" if roles else f"{name}\n")
        for column, text in enumerate(texts):
            item = self.cells.horizontalHeaderItem(column) or QStandardItem()
            arrow = ""
            if self._sorting is not None and self._sorting.column == column:
                arrow = " ▼" if self._sorting.descending else " ▲"
            first, _, second = text.partition("\n")
            item.setText(f"{first}{arrow}\n{second}" if column >= _FIRST else f"{first}{arrow}")
            item.setToolTip(
                _HEADER_TIPS.get(column, "Click to sort inside the groups by how far from the target")
            )
            item.setTextAlignment(_RIGHT if column >= _FIRST else _LEFT)
            self.cells.setHorizontalHeaderItem(column, item)

    def _fill_row(self, number: int, row: Row) -> None:
        theme, units = self._theme, self._units
        unit = units[row.figure.kind]
        self._write(number, _NAME, label_of(row, units), theme.ink, tip=_tip(row))
        self._write(number, _UNIT, "" if unit == "1" else unit, theme.faint)
        target = target_words(row, units)
        editable = row.of_project
        self._write(
            number,
            _TARGET,
            target or ("–" if not editable else ""),
            theme.ink if editable else theme.faint,
            tip=row.problem or (_TARGET_TIP if editable else "Common practice, no source; not edited"),
        )
        self._put(number, _TARGET, _BELOW, "not judged" if row.problem else "")
        self._put(number, _TARGET, _BELOW_COLOUR, theme.mark)
        assert self._card is not None
        for place, cell in enumerate(row.cells):
            self._fill_cell(number, _FIRST + place, row, cell)

    def _fill_cell(self, number: int, column: int, row: Row, cell: Cell) -> None:
        assert self._card is not None
        theme, place = self._theme, column - _FIRST
        chosen = self._card.variants[place] == self._candidate
        colour = theme.candidate if chosen else theme.baseline if place == self._card.baseline else theme.ink
        verdict, margin = verdict_words(cell), margin_words(row, cell, self._units)
        change = "" if place == self._card.baseline else change_words(row, cell, self._units)
        tip = cell.problem or "\n".join(
            line
            for line in (
                f"{verdict}, margin {margin}" if margin else verdict,
                f"change against the baseline: {change}" if change else "",
                _curve_tip(row),
            )
            if line
        )
        self._write(number, column, value_words(row, cell, self._units), colour, tip=tip)
        self._put(number, column, _VERDICT, f"{verdict} {_short(margin)}".strip())
        self._put(
            number,
            column,
            _BELOW,
            _short(change) if verdict else change,
        )
        passed = cell.verdict is not None and cell.verdict.passed
        self._put(number, column, _BELOW_COLOUR, theme.good if passed else theme.mark)

    def _write(self, row: int, column: int, text: str, colour: str, tip: str | None = None) -> None:
        item = self.cells.item(row, column)
        if item.text() != text:
            item.setText(text)
        if tip is not None and item.toolTip() != tip:
            item.setToolTip(tip)
        self._put(row, column, _COLOUR, colour)

    def _put(self, row: int, column: int, role: int, value: str) -> None:
        item = self.cells.item(row, column)
        if item.data(role) != value:
            item.setData(value, role)

    # -- mouse and keys ------------------------------------------------------------------------------

    def _sort_by(self, column: int) -> None:
        """First click the worst or the first on top, second the other way round, third as they are read."""
        before = self._sorting
        if before is None or before.column != column:
            self._sorting = _Sorting(column, False)
        else:
            self._sorting = None if before.descending else _Sorting(column, True)
        self._update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        index = self.indexAt(event.position().toPoint())
        row = self.row_at(index.row())
        if event.button() == Qt.MouseButton.LeftButton and row is not None and index.column() >= _FIRST:
            self._want_curve(row)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        row = self.row_at(self.indexAt(event.pos()).row())
        if row is None:
            return
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        chart = curve_of(row.figure.key)
        if chart is not None:
            menu.addAction(f"Show {CHART_CHOICES[chart].title}", lambda: self._want_curve(row))
        if row.of_project and row.target is not None:
            menu.addAction("Remove the target", lambda: self.target_typed.emit(row, ""))
        if not menu.isEmpty():
            menu.popup(event.globalPos())

    def _want_curve(self, row: Row) -> None:
        chart = curve_of(row.figure.key)
        if chart is not None:
            self.curve_wanted.emit(chart)


_TARGET_TIP = "Double-click or type: ≤ 2, ≥ 2, 1 – 2, with or without unit; empty takes the target away"
_HEADER_TIPS = {
    _NAME: "Click to sort by name inside the groups",
    _UNIT: "Unit of the values and the target",
    _TARGET: "Click to bring the figures with a target to the top of each group",
}


class _TwoLines(QStyledItemDelegate):
    """Paints the value, and under it verdict (left) and change (right); edits targets."""

    def __init__(self, table: ScoreTable) -> None:
        super().__init__(table)
        self._table = table
        self.theme = LIGHT
        self.units: UnitChoice = METRIC

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        theme, rect = self.theme, option.rect
        row = self._table.row_at(index.row())
        chosen = bool(option.state & option.state.State_Selected) and row is not None
        painter.fillRect(rect, QColor(theme.panel if chosen or row is None else theme.raised))
        painter.save()
        if row is None:
            font = QFont(option.font)
            font.setBold(True)
            painter.setFont(font)
            painter.setPen(QColor(theme.faint))
            painter.drawText(rect.adjusted(_MARGIN, 0, -_MARGIN, 0), _LEFT, index.data())
        else:
            self._paint_cell(painter, option, index, chosen)
            painter.setPen(QColor(theme.rule))
            painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        painter.restore()

    def _paint_cell(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
        chosen: bool,
    ) -> None:
        theme, rect, metrics = self.theme, option.rect, option.fontMetrics
        if chosen and index.column() == _NAME:
            painter.fillRect(QRect(rect.left(), rect.top(), _BAR, rect.height()), QColor(theme.candidate))
        painter.setFont(option.font)
        inside = rect.adjusted(_MARGIN, 2, -_MARGIN, -2)
        half = inside.height() // 2
        upper = QRect(inside.left(), inside.top(), inside.width(), half)
        lower = QRect(inside.left(), inside.top() + half, inside.width(), half)
        below, verdict = index.data(_BELOW), index.data(_VERDICT)
        value = index.column() >= _FIRST
        painter.setPen(QColor(index.data(_COLOUR)))
        text = metrics.elidedText(index.data() or "", Qt.TextElideMode.ElideRight, inside.width())
        painter.drawText(upper if value or below else inside, _RIGHT if value else _LEFT, text)
        if verdict:
            painter.setPen(QColor(index.data(_BELOW_COLOUR)))
            painter.drawText(lower, _LEFT, verdict)
        if below:
            painter.setPen(QColor(theme.faint if value else index.data(_BELOW_COLOUR)))
            painter.drawText(lower, _RIGHT if value else _LEFT, below)

    def createEditor(
        self, parent: QWidget, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QWidget:
        editor = QLineEdit(parent)
        editor.setAccessibleName("Target")
        editor.setPlaceholderText("≤ 2, ≥ 2, 1 – 2")
        return editor

    def setEditorData(self, editor: QWidget, index: QModelIndex | QPersistentModelIndex) -> None:
        assert isinstance(editor, QLineEdit)
        editor.setText(index.data())

    def setModelData(
        self, editor: QWidget, model: object, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        assert isinstance(editor, QLineEdit)
        row = self._table.row_at(index.row())
        if row is not None and editor.text() != index.data():
            self._table.target_typed.emit(row, editor.text())


def _identity(row: Row | str) -> object:
    return row if isinstance(row, str) else (row.key, row.of_project)


def _flags(shown: Row | str, column: int) -> Qt.ItemFlag:
    if not isinstance(shown, Row):
        return Qt.ItemFlag.ItemIsEnabled
    flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
    if column == _TARGET and shown.of_project:
        flags |= Qt.ItemFlag.ItemIsEditable
    return flags


def _badness(cell: Cell) -> float:
    """What comes first: the worst miss, then passes by their margin, then what has no target."""
    if cell.verdict is None:
        return inf
    return cell.verdict.margin if isnan(cell.verdict.share) else cell.verdict.share


def _short(words: str) -> str:
    """Only the share, where there is one: "+0.12 deg (24 %)" -> "24 %"."""
    return words[words.index("(") + 1 : -1] if words.endswith(")") else words


def _tip(row: Row) -> str:
    better = "" if row.figure.better == "none" else f"\n{row.figure.better.capitalize()} is better as a rule."
    problem = f"\nNot judged: {row.problem}." if row.problem else ""
    return f"{row.figure.label}\n{row.figure.meaning}{better}{problem}"


def _curve_tip(row: Row) -> str:
    chart = curve_of(row.figure.key)
    return "" if chart is None else f"Click to see {CHART_CHOICES[chart].title}"
