"""Table of the scorecard: figures by groups, a target that is edited in place, a column per variant."""

from __future__ import annotations

from math import inf, isnan

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QContextMenuEvent, QFont, QFontMetrics, QMouseEvent, QPainter, QResizeEvent
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
from models.judge.curves import curve_of
from models.judge.event_sweep import EVENT_KEYS
from models.judge.scorecard import Cell, Row, Scorecard
from models.judge.scorecard_text import label_of
from models.judge.speed_sweep import SURFACE_KEYS
from models.units import UnitChoice
from workbench.help.context import table_place
from workbench.pages.scorecard.model import (
    BELOW,
    BELOW_COLOUR,
    COLOUR,
    FIRST,
    NAME,
    TARGET,
    UNIT,
    VERDICT,
    ScoreModel,
)
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["ScoreTable", "over_speed"]

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_MARGIN, _BAR = 6, 3
_WIDEST = {UNIT: "lbf·in/deg", TARGET: "0.000 – 0.000"}
_WIDEST_CELL = "−00000 (−100 %)"
_NAME_LEAST, _NAME_LIMIT, _HEAD_MARGINS = 140, 260, 24


class ScoreTable(QTableView):
    """Two lines per figure: values, and under them verdict and change.

    Signals:
        picked(object): the row under the cursor, a :class:`Row`, or None.
        curve_wanted(str): a number was clicked: key of the chart of its curve.
        speeds_wanted(str): the user wants this figure against speed.
        target_typed(object, str): the user typed a target for a row.
    """

    picked = Signal(object)
    curve_wanted = Signal(str)
    speeds_wanted = Signal(str)
    target_typed = Signal(object, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._card: Scorecard | None = None
        self._filter = ""
        self._name_width = 0
        self.cells = ScoreModel(self)
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
        return [row for row in self.cells.rows if isinstance(row, Row)]

    def row_at(self, number: int) -> Row | None:
        """Row of the table; None for a heading."""
        rows = self.cells.rows
        shown = rows[number] if 0 <= number < len(rows) else None
        return shown if isinstance(shown, Row) else None

    def help_place(self, at: QPoint | None) -> str:
        """Place of a figure in the handbook."""
        return table_place(self, at)

    def show_card(self, card: Scorecard, candidate: str) -> None:
        """Show a scorecard; ``candidate`` is the name of the variant that is being tuned."""
        self._card = card
        self.cells.candidate, self.cells.baseline = candidate, card.baseline
        self._update()

    def set_filter(self, text: str) -> None:
        """Show only figures whose name, group or meaning holds all these words."""
        self._filter = text.casefold()
        self._update()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self.cells.units = units
        self.cells.refresh()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.cells.theme = self._painter.theme = theme
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
        for column, widest in _WIDEST.items():
            self.setColumnWidth(column, metrics.horizontalAdvance(widest) + 2 * _MARGIN)
        names = [label_of(row, self.cells.units) for row in self.rows]
        width = max(map(metrics.horizontalAdvance, names), default=150) + 2 * _MARGIN + _BAR
        self._name_width = min(max(width, self._name_width), _NAME_LIMIT)
        self._share_width()

    def _share_width(self) -> None:
        """Room beyond the numbers first for the names of the figures, then for those of the variants."""
        metrics, variants = QFontMetrics(self.font()), self.cells.variants
        least = metrics.horizontalAdvance(_WIDEST_CELL) + 2 * _MARGIN
        left = self.viewport().width() - sum(self.columnWidth(column) for column in _WIDEST)
        name = max(min(self._name_width, left - len(variants) * least), _NAME_LEAST)
        self.setColumnWidth(NAME, name)
        share = (left - name) // max(len(variants), 1)
        heads = []
        for place, variant in enumerate(variants):
            width = max(min(metrics.horizontalAdvance(variant) + _HEAD_MARGINS, share), least)
            self.setColumnWidth(FIRST + place, width)
            room = width - 2 * _MARGIN
            heads.append(metrics.elidedText(variant, Qt.TextElideMode.ElideMiddle, room))
        self.cells.shorten_heads(tuple(heads))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_width()

    def _update(self) -> None:
        if self._card is None:
            return
        picked = self.row_at(self.currentIndex().row())
        if self.cells.show_rows(self._arranged(self._card), self._card.variants):
            self._lay_out()
            self._pick_again(picked)

    def _lay_out(self) -> None:
        """Headings are one low cell over the whole width."""
        self.clearSpans()
        low = QFontMetrics(self.font()).height() + 8
        for number, shown in enumerate(self.cells.rows):
            heading = isinstance(shown, str)
            if heading:
                self.setSpan(number, NAME, 1, self.cells.columnCount())
            self.setRowHeight(number, low if heading else self.verticalHeader().defaultSectionSize())
        self._fit_columns()

    def _pick_again(self, picked: Row | None) -> None:
        for number, row in enumerate(self.cells.rows):
            if picked is not None and isinstance(row, Row) and row.key == picked.key:
                self.setCurrentIndex(self.cells.index(number, NAME))
                return
        self.picked.emit(None)

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
        if self.cells.sorting is None:
            return rows
        column, descending = self.cells.sorting
        if column == NAME:
            return sorted(rows, key=lambda row: row.figure.label.casefold(), reverse=descending)
        if column in (UNIT, TARGET):
            return sorted(rows, key=lambda row: row.target is None, reverse=descending)
        return sorted(rows, key=lambda row: _badness(row.cells[column - FIRST]), reverse=descending)

    # -- mouse and keys ------------------------------------------------------------------------------

    def _sort_by(self, column: int) -> None:
        """First click the worst or the first on top, second the other way round, third as they are read."""
        before = self.cells.sorting
        if before is None or before[0] != column:
            self.cells.sorting = (column, False)
        else:
            self.cells.sorting = None if before[1] else (column, True)
        self._update()
        self.cells.refresh()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        index = self.indexAt(event.position().toPoint())
        row = self.row_at(index.row())
        if event.button() == Qt.MouseButton.LeftButton and row is not None and index.column() >= FIRST:
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
        if over_speed(row):
            menu.addAction("Against speed", lambda: self.speeds_wanted.emit(row.figure.key))
        if row.of_project and row.target is not None:
            menu.addAction("Remove the target", lambda: self.target_typed.emit(row, ""))
        menu.addSeparator()
        menu.addActions(self.actions())
        menu.popup(event.globalPos())

    def _want_curve(self, row: Row) -> None:
        chart = curve_of(row.figure.key)
        if chart is not None:
            self.curve_wanted.emit(chart)


def over_speed(row: Row | None) -> bool:
    """Whether the figure of a row can be had against speed."""
    return row is not None and row.figure.key in (*SURFACE_KEYS, *EVENT_KEYS)


class _TwoLines(QStyledItemDelegate):
    """Paints the value, and under it verdict (left) and change (right); edits targets."""

    def __init__(self, table: ScoreTable) -> None:
        super().__init__(table)
        self._table = table
        self.theme = LIGHT

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
        if chosen and index.column() == NAME:
            painter.fillRect(QRect(rect.left(), rect.top(), _BAR, rect.height()), QColor(theme.candidate))
        painter.setFont(option.font)
        inside = rect.adjusted(_MARGIN, 2, -_MARGIN, -2)
        half = inside.height() // 2
        upper = QRect(inside.left(), inside.top(), inside.width(), half)
        lower = QRect(inside.left(), inside.top() + half, inside.width(), half)
        below, verdict = index.data(BELOW), index.data(VERDICT)
        value = index.column() >= FIRST
        painter.setPen(QColor(index.data(COLOUR)))
        text = metrics.elidedText(index.data() or "", Qt.TextElideMode.ElideRight, inside.width())
        painter.drawText(upper if value or below else inside, _RIGHT if value else _LEFT, text)
        if verdict:
            painter.setPen(QColor(index.data(BELOW_COLOUR)))
            painter.drawText(lower, _LEFT, verdict)
        if below:
            painter.setPen(QColor(theme.faint if value else index.data(BELOW_COLOUR)))
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


def _badness(cell: Cell) -> float:
    """What comes first: the worst miss, then passes by their margin, then what has no target."""
    if cell.verdict is None:
        return inf
    return cell.verdict.margin if isnan(cell.verdict.share) else cell.verdict.share
