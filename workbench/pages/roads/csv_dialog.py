"""Import of a road from a file of columns."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QLabel,
    QLineEdit,
    QSpinBox,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from models.roads.csv_import import (
    DECIMALS,
    DELIMITERS,
    UNITS,
    CsvChoice,
    CsvGuess,
    preview_rows,
    read_csv,
)
from models.roads.prepare import prepared
from models.units import UnitChoice
from workbench.pages.roads.import_dialog import ImportDialog, Read
from workbench.runner import Runner
from workbench.theme import Theme, small_font

__all__ = ["CsvDialog"]

_NO_COLUMN = "none"
_ROWS = 6


class CsvDialog(ImportDialog):
    """What was guessed of a file, for the user to correct, above the profile that comes of it."""

    def __init__(
        self,
        path: Path,
        guess: CsvGuess,
        runner: Runner,
        units: UnitChoice,
        theme: Theme,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(path, runner, units, theme, parent)
        self._guess = guess
        choice = guess.choice
        self.delimiter = self.combo(dict(DELIMITERS), choice.delimiter)
        self.decimal = self.combo(dict(DECIMALS), choice.decimal)
        self.head = QSpinBox(self)
        self.head.setRange(0, max(len(guess.lines) - 1, 0))
        self.head.setValue(choice.head)
        self.head.valueChanged.connect(self.change)
        self.distance, self.left, self.right = (self.combo({}) for _ in range(3))
        self.distance_unit = self.combo({unit: unit for unit in UNITS}, choice.distance_unit)
        self.height_unit = self.combo({unit: unit for unit in UNITS}, choice.height_unit)
        self.spacing = QLineEdit(f"{choice.step:g} m", self)
        self.spacing.setToolTip("Distance of two lines, where no column has the distance")
        self.spacing.textEdited.connect(self.change)
        self.table = QTableWidget(self)
        self.reasons = QLabel("; ".join(guess.reasons).capitalize(), self)
        self._build()
        self._fill_columns(choice)
        self.delimiter.activated.connect(lambda _index: self._fill_columns(self.choice()))
        self.add_common()

    def _build(self) -> None:
        for label, widget in (
            ("Delimiter", self.delimiter),
            ("Decimal sign", self.decimal),
            ("Lines above", self.head),
            ("Distance", self.distance),
            ("Distance in", self.distance_unit),
            ("Line spacing", self.spacing),
            ("Left track", self.left),
            ("Right track", self.right),
            ("Heights in", self.height_unit),
        ):
            self.add_choice(label, widget)
        self.table.setFont(small_font(self.font()))
        self.table.setAccessibleName("First lines of the file")
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.table.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.table.verticalHeader().setDefaultSectionSize(self.table.fontMetrics().height() + 4)
        self.table.verticalHeader().setMinimumSectionSize(1)
        self.table.setFixedHeight((_ROWS + 2) * (self.table.fontMetrics().height() + 4) + 8)
        self.reasons.setTextFormat(Qt.TextFormat.PlainText)
        self.reasons.setWordWrap(True)
        self.reasons.setStyleSheet(f"color: {self._theme.faint};")
        self.above.addWidget(self.table)
        self.above.addWidget(self.reasons)

    def choice(self) -> CsvChoice:
        """What the user has chosen so far."""
        return replace(
            self._guess.choice,
            delimiter=self.delimiter.currentData(),
            decimal=self.decimal.currentData(),
            head=self.head.value(),
            distance=self.distance.currentData(),
            left=self.left.currentData() or 0,
            right=self.right.currentData(),
            distance_unit=self.distance_unit.currentData(),
            height_unit=self.height_unit.currentData(),
        )

    def reader(self) -> Read:
        spacing = self.length(self.spacing, "line spacing")
        choice = self.choice()
        if spacing is not None:
            choice = replace(choice, step=spacing)
        path, detrend, step = self.path, self.chosen_detrend, self.length(self.step, "step")
        return lambda: prepared(read_csv(path, choice), detrend, step)

    def change(self) -> None:
        self.spacing.setEnabled(self.distance.currentData() is None)
        self.distance_unit.setEnabled(self.distance.currentData() is not None)
        self._fill_table()
        super().change()

    def _fill_columns(self, choice: CsvChoice) -> None:
        """Offer the columns that the delimiter makes."""
        rows = preview_rows(self._guess.lines[self.head.value() :], choice.delimiter)
        count = max((len(row) for row in rows), default=1)
        guessed = count == len(self._guess.names)
        names = self._guess.names if guessed else tuple(f"column {n}" for n in range(1, count + 1))
        for box, chosen, may_be_none in (
            (self.distance, choice.distance, True),
            (self.left, choice.left, False),
            (self.right, choice.right, True),
        ):
            box.clear()
            if may_be_none:
                box.addItem(_NO_COLUMN, None)
            for number, name in enumerate(names):
                box.addItem(name or f"column {number + 1}", number)
            index = box.findData(chosen)
            box.setCurrentIndex(index if index >= 0 else 0)
        self.change()

    def _fill_table(self) -> None:
        """First lines as the delimiter cuts them; what stands above the numbers is faint."""
        rows = preview_rows(self._guess.lines, self.delimiter.currentData())
        first = max(min(self.head.value() - 1, len(rows) - _ROWS), 0)
        shown = rows[first : first + _ROWS]
        self.table.setRowCount(len(shown))
        self.table.setColumnCount(max((len(row) for row in shown), default=0))
        used = {box.currentData(): label for label, box in self._columns()}
        self.table.setHorizontalHeaderLabels(
            [used.get(column, "") for column in range(self.table.columnCount())]
        )
        self.table.setVerticalHeaderLabels([str(first + row + 1) for row in range(len(shown))])
        for row, cells in enumerate(shown):
            for column in range(self.table.columnCount()):
                item = QTableWidgetItem(cells[column] if column < len(cells) else "")
                above = first + row < self.head.value() or column not in used
                item.setForeground(QColor(self._theme.faint if above else self._theme.ink))
                self.table.setItem(row, column, item)

    def _columns(self) -> tuple[tuple[str, QComboBox], ...]:
        return (("right", self.right), ("left", self.left), ("distance", self.distance))
