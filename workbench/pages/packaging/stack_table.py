"""Table of a tolerance stack: each tolerance, then all together."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QColor, QResizeEvent, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QWidget

from models.figure_text import unit_text
from models.judge.figure import Figure
from models.judge.packaging_text import number, with_unit
from models.judge.trim_rows import COLUMNS, StackRow
from models.judge.trim_tolerance import OUTPUTS
from workbench.table_dress import LEFT, RIGHT, FilledTable, dress_table, make_rows

__all__ = ["StackTable"]

_HEADS = ("Front", "Rear", "Pitch")
_COUNT = 2 + 2 * len(_HEADS)
_NAME, _TOLERANCE, _CHANGE, _SHARE = 0, 1, 2, 2 + len(_HEADS)
_MARGIN = 10


class StackTable(FilledTable):
    """As high as its rows; an edit writes only the texts that change."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[StackRow, ...] = ()
        self._too_wide = False
        self.cells = QStandardItemModel(0, _COUNT, self)
        self.setModel(self.cells)
        self._fill_head()
        self._metrics = dress_table(self, "Tolerance stack at trim")
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)

    def show_rows(self, rows: tuple[StackRow, ...]) -> None:
        """Show a stack."""
        before = [row.key for row in self._rows]
        self._rows = rows
        if before != [row.key for row in rows]:
            self._make_rows()
        self._fill()

    def minimumSizeHint(self) -> QSize:
        return QSize(200, self.sizeHint().height())

    def sizeHint(self) -> QSize:
        rows = max(len(self._rows), 1) * self.verticalHeader().defaultSectionSize()
        bar = self._too_wide * self.horizontalScrollBar().sizeHint().height()
        return QSize(600, self.horizontalHeader().sizeHint().height() + rows + bar)

    def _make_rows(self) -> None:
        make_rows(self.cells, len(self._rows), (_NAME,))
        self.updateGeometry()

    def _fill(self) -> None:
        self._fill_head()
        theme = self._theme
        for place, row in enumerate(self._rows):
            together = row.tolerance is None
            self._write(place, _NAME, row.label, self._tip(row), theme.ink)
            figures: list[Figure | None] = [row.tolerance, *row.change, *(row.share or (None,) * 3)]
            for column, figure in enumerate(figures, 1):
                told = column >= _CHANGE and (column < _SHARE or together)
                colour = theme.candidate if told else theme.faint if column == _TOLERANCE else theme.ink
                text = "" if figure is None else self._text(figure, column)
                tip = "" if figure is None else figure.explained(self._units[figure.kind])
                self._write(place, column, text, tip, colour)
        self._fit()

    def _text(self, figure: Figure, column: int) -> str:
        """Tolerances are of several kinds, so that each has its unit; the others have it in the head."""
        if column == _TOLERANCE:
            return f"± {with_unit(figure.value, figure.kind, self._units, 2)}"
        return number(figure.value, figure.kind, self._units, 2 if column >= _SHARE else 3)

    def _write(self, row: int, column: int, text: str, tip: str, colour: str) -> None:
        cell = self.cells.item(row, column)
        if cell.text() != text:
            cell.setText(text)
        cell.setToolTip(tip)
        cell.setForeground(QColor(colour))

    def _tip(self, row: StackRow) -> str:
        """What a tolerance does to all corners and angles."""
        if row.detail is None:
            return row.label
        lines = [
            f"{one.label} ± {with_unit(effect, one.kind, self._units)}"
            for one, effect in zip(OUTPUTS, row.detail.effect, strict=True)
        ]
        return "\n".join((row.label, *lines))

    def _fill_head(self) -> None:
        kinds = [OUTPUTS[column].kind for column in COLUMNS]
        share = unit_text("share", self._units) or "1"
        heads = [
            ("What is off", "", "Each part on its own, left and right"),
            ("Tolerance", "", "Plus or minus"),
            *(
                (name, unit_text(kind, self._units), "Change at rest; ± of a tolerance")
                for name, kind in zip(_HEADS, kinds, strict=True)
            ),
            *((name, f"{share} of σ²", "Share in the variance, by the slopes") for name in _HEADS),
        ]
        for column, (name, unit, tip) in enumerate(heads):
            item = self.cells.horizontalHeaderItem(column) or QStandardItem()
            text = f"{name}\n{unit}"
            if item.text() != text or item.model() is None:
                item.setText(text)
                item.setToolTip(tip)
                item.setTextAlignment(LEFT if column == _NAME else RIGHT)
                self.cells.setHorizontalHeaderItem(column, item)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Columns as wide as what they say; room beyond that goes to the names."""
        widths = []
        for column in range(_COUNT):
            cells = [self.cells.item(row, column).text() for row in range(self.cells.rowCount())]
            texts = [*cells, *self.cells.horizontalHeaderItem(column).text().split("\n")]
            widths.append(max(map(self._metrics.horizontalAdvance, texts)) + _MARGIN)
        too_wide = sum(widths) > self.viewport().width()
        if too_wide != self._too_wide:
            self._too_wide = too_wide
            self.updateGeometry()
        widths[_NAME] += max(self.viewport().width() - sum(widths), 0)
        for column, width in enumerate(widths):
            self.setColumnWidth(column, width)
