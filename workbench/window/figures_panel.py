"""Key figures of candidate and baseline, and what the one changes against the other."""

from __future__ import annotations

import math

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QResizeEvent, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QHeaderView, QTableView, QVBoxLayout, QWidget

from models.judge import GROUPS, Figure
from models.units import KINDS, METRIC, UnitChoice, factor, format_value
from workbench.help.anchors import figure_place
from workbench.help.context import PLACE, explained, table_place
from workbench.table_dress import dress_table
from workbench.theme import LIGHT, Theme

__all__ = ["FiguresPanel", "change_text"]

_COLUMNS = ("", "Unit", "Candidate", "Baseline", "Change")
_NAME, _UNIT, _CANDIDATE, _BASELINE, _CHANGE = range(len(_COLUMNS))
# A change below this share is not worth a colour.
_EVEN = 0.005
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
# Columns of numbers and their widest text.
_WIDEST = {_CANDIDATE: "Candidate", _BASELINE: "Baseline", _CHANGE: "+1000 %"}
_CELL_MARGINS = 8


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


class FiguresPanel(QWidget):
    """Table of the key figures.

    The model is Qt's own, so that painting asks no Python; an edit writes only the cells that change.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._units: UnitChoice = METRIC
        self._theme = LIGHT
        self._rows: list[tuple[Figure, Figure] | str] = []
        self._written: dict[int, object] = {}
        self._cells: dict[tuple[int, int], tuple[str, str]] = {}
        self.model = QStandardItemModel(0, len(_COLUMNS), self)
        self.model.setHorizontalHeaderLabels(_COLUMNS)
        for column in (_NAME, _UNIT):
            self.model.horizontalHeaderItem(column).setTextAlignment(_LEFT)
        self.table = QTableView(self)
        self.table.setModel(self.model)
        self._dress_table()
        self.table.verticalScrollBar().valueChanged.connect(self._fill)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.table)

    def show_figures(self, candidate: tuple[Figure, ...], baseline: tuple[Figure, ...]) -> None:
        """Show the figures of both variants (same figures in the same order)."""
        before = [_key(row) for row in self._rows]
        self._rows = _with_headings(candidate, baseline)
        if before != [_key(row) for row in self._rows]:
            self._make_rows()
            self._explain()
            self._fit_units()
        self._fill()

    def set_units(self, units: UnitChoice) -> None:
        """Show the figures in other units."""
        self._units = units
        self._explain()
        self._fill()
        self._fit_units()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self._fill()

    def help_place(self, at: QPoint | None) -> str:
        """Place of a figure in the handbook."""
        return table_place(self.table, at)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fill()

    def _dress_table(self) -> None:
        table = self.table
        metrics = dress_table(table, "Key figures", self._copied)
        header = table.horizontalHeader()
        header.setDefaultAlignment(_RIGHT)
        for column, widest in _WIDEST.items():
            table.setColumnWidth(column, metrics.horizontalAdvance(widest) + _CELL_MARGINS)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header.setSectionResizeMode(_NAME, QHeaderView.ResizeMode.Stretch)

    def _make_rows(self) -> None:
        self._written.clear()
        self._cells.clear()
        self.model.setRowCount(0)
        self.table.clearSpans()
        for number, shown in enumerate(self._rows):
            row = [QStandardItem() for _ in _COLUMNS]
            heading = isinstance(shown, str)
            row[_NAME].setText(shown if isinstance(shown, str) else shown[0].label)
            for column, item in enumerate(row):
                item.setTextAlignment(_RIGHT if column in _WIDEST else _LEFT)
                item.setFlags(Qt.ItemFlag.ItemIsEnabled if heading else item.flags())
            self.model.appendRow(row)
            if heading:
                _embolden(row[_NAME], self.table.font())
                self.table.setSpan(number, _NAME, 1, len(_COLUMNS))

    def _fit_units(self) -> None:
        metrics = QFontMetrics(self.table.font())
        texts = {
            _COLUMNS[_UNIT],
            *(self._units[row[0].kind] for row in self._rows if not isinstance(row, str)),
        }
        self.table.setColumnWidth(_UNIT, max(map(metrics.horizontalAdvance, texts)) + _CELL_MARGINS)

    def _fill(self) -> None:
        """Write the rows in sight, as far as they differ; the others when they are scrolled to."""
        first = max(self.table.rowAt(0), 0)
        last = self.table.rowAt(self.table.viewport().height() - 1)
        for row in range(first, len(self._rows) if last < 0 else last + 1):
            shown = self._rows[row]
            look = (shown, self._units, self._theme)
            if self._written.get(row) == look:
                continue
            self._written[row] = look
            if isinstance(shown, str):
                self._write(row, _NAME, shown, self._theme.faint)
                continue
            figure, reference = shown
            unit, si = self._units[figure.kind], KINDS[figure.kind].si
            texts = {
                _UNIT: "" if unit == "1" else unit,
                _CANDIDATE: format_value(figure.value, unit, si),
                _BASELINE: format_value(reference.value, unit, si),
                _CHANGE: change_text(figure.value, reference.value, figure.kind, self._units),
            }
            for column, text in texts.items():
                self._write(row, column, text.replace("-", "−"), self._colour(figure, reference, column))

    def _write(self, row: int, column: int, text: str, colour: str) -> None:
        before = self._cells.get((row, column), ("", ""))
        self._cells[row, column] = text, colour
        if text != before[0]:
            self.model.item(row, column).setText(text)
        if colour != before[1]:
            self.model.item(row, column).setForeground(QColor(colour))

    def _copied(self) -> list[list[str]]:
        """Head and all rows, those out of sight too, with more digits than there is room for."""
        rows = [["Group", "Figure", *_COLUMNS[_UNIT:]]]
        for shown in self._rows:
            if isinstance(shown, str):
                continue
            own, other = shown
            unit, si = self._units[own.kind], KINDS[own.kind].si
            numbers = [
                f"{figure.value / factor(unit, si):.9g}" if math.isfinite(figure.value) else ""
                for figure in shown
            ]
            change = change_text(own.value, other.value, own.kind, self._units)
            rows.append([own.group, own.label, "" if unit == "1" else unit, *numbers, change])
        return rows

    def _explain(self) -> None:
        """Tooltips, which name the units."""
        for number, shown in enumerate(self._rows):
            if isinstance(shown, str):
                tip = f"{shown}\n{GROUPS[shown]}"
            else:
                tip = explained(shown[0], self._units)
                self.model.item(number, _NAME).setData(figure_place(shown[0].key), PLACE)
            for column in range(len(_COLUMNS)):
                self.model.item(number, column).setToolTip(tip)

    def _colour(self, figure: Figure, reference: Figure, column: int) -> str:
        theme = self._theme
        if column != _CHANGE:
            return {_UNIT: theme.faint, _CANDIDATE: theme.candidate, _BASELINE: theme.baseline}[column]
        step = figure.value - reference.value
        if figure.better == "none" or not math.isfinite(step) or abs(step) <= _EVEN * abs(reference.value):
            return theme.ink
        gain = (step < 0) == (figure.better == "lower")
        return theme.good if gain else theme.mark


def _with_headings(
    candidate: tuple[Figure, ...], baseline: tuple[Figure, ...]
) -> list[tuple[Figure, Figure] | str]:
    """Pairs of figures, with the name of a group before its first."""
    rows: list[tuple[Figure, Figure] | str] = []
    group = ""
    for pair in zip(candidate, baseline, strict=True):
        if pair[0].group != group:
            group = pair[0].group
            rows.append(group)
        rows.append(pair)
    return rows


def _key(row: tuple[Figure, Figure] | str) -> str:
    return row if isinstance(row, str) else row[0].key


def _embolden(item: QStandardItem, font: QFont) -> None:
    strong = QFont(font)
    strong.setBold(True)
    item.setFont(strong)
