"""Numbers of the car, searched and ticked, with the bounds between which they are varied."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QHeaderView,
    QLineEdit,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from models.errors import InputError
from models.studies import CarNumber
from models.study import Parameter, Study, Tolerance
from models.units import KINDS, METRIC, UnitChoice, UnitError, from_text
from workbench.editor.numbers import short_number
from workbench.pages.studies.definition import Varied, remade, varied
from workbench.theme import small_font

__all__ = ["NumberTree"]

NAME, NOW, FROM, TO, UNIT = range(5)
_HEIGHT = 210


class NumberTree(QWidget):
    """A line to search by, and the numbers in groups.

    Signals:
        ticked(object): places of the numbers that are varied now, in order of ticking.
        bounded(str, object): place of a number and its new bounds or tolerance.
        refused(str): what was typed is refused.
    """

    ticked = Signal(object)
    bounded = Signal(str, object)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._units: UnitChoice = METRIC
        self._numbers: dict[str, CarNumber] = {}
        self._varied: dict[str, Varied] = {}
        self._study: Study | None = None
        self.search, self.only = QLineEdit(self), QCheckBox("Ticked", self)
        self.tree = QTreeWidget(self)
        self.rows: dict[str, QTreeWidgetItem] = {}
        self._build()

    def _build(self) -> None:
        self.search.setPlaceholderText("Search the numbers of the car")
        self.search.setAccessibleName("Search numbers")
        self.search.setClearButtonEnabled(True)
        self.only.setToolTip("Show only the numbers that are ticked")
        self.search.textChanged.connect(self._filter)
        self.only.toggled.connect(self._filter)
        font = small_font(self.font())
        self.tree.setFont(font)
        self.tree.header().setFont(font)
        self.tree.setAccessibleName("Numbers of the car")
        self.tree.setColumnCount(5)
        self.tree.setUniformRowHeights(True)
        self.tree.setIndentation(12)
        self.tree.setMinimumHeight(_HEIGHT)
        self.tree.setEditTriggers(QTreeWidget.EditTrigger.NoEditTriggers)
        head = self.tree.header()
        head.setStretchLastSection(False)
        head.setMinimumSectionSize(20)
        head.setSectionResizeMode(NAME, QHeaderView.ResizeMode.Stretch)
        metrics = self.tree.fontMetrics()
        for column in (NOW, FROM, TO, UNIT):
            head.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            widest = "triangular" if column == UNIT else "−1234.5"
            self.tree.setColumnWidth(column, metrics.horizontalAdvance(widest) + 8)
        self.tree.itemChanged.connect(self._changed)
        self.tree.itemDoubleClicked.connect(self._open)
        self.tree.itemActivated.connect(self._open)
        row = QHBoxLayout()
        row.addWidget(self.search, 1)
        row.addWidget(self.only)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(10, 0, 4, 0)
        layout.setSpacing(3)
        layout.addLayout(row)
        layout.addWidget(self.tree, 1)

    def show_study(self, study: Study, numbers: dict[str, CarNumber]) -> None:
        """Show the numbers of a car and what a study varies."""
        with QSignalBlocker(self.tree):
            if list(numbers) != list(self._numbers) or not self.rows:
                self._make_rows(numbers)
            self._numbers, self._study, self._varied = numbers, study, varied(study)
            tolerance = study.kind == "tolerances"
            self.tree.setHeaderLabels(
                ["Number", "Now", "±" if tolerance else "From", "Spread" if tolerance else "To", "Unit"]
            )
            self.tree.setColumnHidden(FROM, study.kind == "sensitivity")
            self.tree.setColumnHidden(TO, study.kind == "sensitivity")
            for place, row in self.rows.items():
                self._fill(row, numbers[place])
        self._filter()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = units
        if self._study is not None:
            self.show_study(self._study, self._numbers)

    def _make_rows(self, numbers: dict[str, CarNumber]) -> None:
        self.tree.clear()
        self.rows, groups = {}, {}
        for place, number in numbers.items():
            if number.group not in groups:
                groups[number.group] = QTreeWidgetItem(self.tree, [number.group])
                groups[number.group].setFlags(Qt.ItemFlag.ItemIsEnabled)
                groups[number.group].setExpanded(True)
            row = QTreeWidgetItem(groups[number.group], [number.label])
            row.setToolTip(NAME, f"{number.label}\n{number.quantity.meaning}")
            row.setData(NAME, Qt.ItemDataRole.UserRole, place)
            for column in (NOW, FROM, TO):
                row.setTextAlignment(column, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            self.rows[place] = row

    def _fill(self, row: QTreeWidgetItem, number: CarNumber) -> None:
        entry, on = self._varied.get(number.place), number.place in self._varied
        kind = number.quantity.kind_name
        row.setCheckState(NAME, Qt.CheckState.Checked if on else Qt.CheckState.Unchecked)
        row.setText(NOW, self._number(number.value, kind))
        shown = self._units[kind]
        texts = "", ""
        if isinstance(entry, Parameter):
            texts = self._number(entry.low, kind), self._number(entry.high, kind)
        elif isinstance(entry, Tolerance):
            texts = self._number(entry.plus_minus, entry.kind), entry.distribution
            if entry.kind != kind:
                shown = f"{self._units[entry.kind]} of it"
        for column, text in zip((FROM, TO), texts, strict=True):
            row.setText(column, text)
            row.setToolTip(column, "Double click to change it" if text else "")
        row.setText(UNIT, "" if shown == "1" else shown)
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsUserCheckable
        row.setFlags(flags | Qt.ItemFlag.ItemIsEditable if on else flags)

    def _number(self, value: float, kind: str) -> str:
        return short_number(value, self._units[kind], KINDS[kind].si).replace("-", "−")

    def _filter(self) -> None:
        words, only = self.search.text().lower().split(), self.only.isChecked()
        for place, row in self.rows.items():
            text = f"{self._numbers[place].group} {self._numbers[place].label}".lower()
            row.setHidden(not all(word in text for word in words) or (only and place not in self._varied))
        for group in {id(row.parent()): row.parent() for row in self.rows.values()}.values():
            group.setHidden(all(group.child(row).isHidden() for row in range(group.childCount())))

    # -- editing -------------------------------------------------------------------------------------

    def _open(self, row: QTreeWidgetItem, column: int) -> None:
        place = row.data(NAME, Qt.ItemDataRole.UserRole)
        entry = self._varied.get(place)
        if column not in (FROM, TO) or entry is None:
            return
        if isinstance(entry, Tolerance) and column == TO:
            every = ("normal", "uniform", "triangular")
            after = every[(every.index(entry.distribution) + 1) % len(every)]
            self.bounded.emit(place, remade(entry, distribution=after))
        else:
            self.tree.editItem(row, column)

    def _changed(self, row: QTreeWidgetItem, column: int) -> None:
        place = row.data(NAME, Qt.ItemDataRole.UserRole)
        if place is None or self._study is None:
            return
        if column == NAME:
            on = row.checkState(NAME) == Qt.CheckState.Checked
            if on == (place in self._varied):
                return
            places = [*self._varied, place] if on else [one for one in self._varied if one != place]
            self.ticked.emit(places)
        elif column in (FROM, TO):
            self._take(place, column, row.text(column))
        with QSignalBlocker(self.tree):  # as the study stands, also where it was refused
            self._fill(row, self._numbers[place])

    def _take(self, place: str, column: int, text: str) -> None:
        entry = self._varied.get(place)
        if entry is None:
            return
        kind, field = entry.kind, "low" if column == FROM else "high"
        if isinstance(entry, Tolerance):
            field = "plus_minus"
        if text == self._number(getattr(entry, field), kind):
            return
        try:
            value = from_text(text.replace("−", "-"), KINDS[kind].si, self._units[kind])
            after = remade(entry, **{field: value})
            if isinstance(after, Parameter):
                self._numbers[place].quantity.validate(value)
        except (UnitError, InputError, ValueError) as error:
            self.refused.emit(f"{self._numbers[place].label}: {error}")
        else:
            self.bounded.emit(place, after)
