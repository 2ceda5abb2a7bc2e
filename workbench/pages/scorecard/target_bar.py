"""Under the table: a target for the figure that is chosen, if wished in a situation of its own."""

from __future__ import annotations

from typing import get_args

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from models.errors import InputError
from models.judge.scorecard import Row
from models.judge.target_input import limits_of
from models.project import Project
from models.target import RoadClass, made, target_text
from models.units import METRIC, UnitChoice, UnitError, format_value, from_text
from models.vehicle import AS_DESIGNED
from workbench.elided import ElidedLabel
from workbench.theme import Theme, small_font

__all__ = ["TargetBar"]

_AS_RUN = "as the run"


class TargetBar(QWidget):
    """Fields of one target.

    Signals:
        wanted(object, object): new target, and the one that it replaces or None; a new one of None takes the
            old one away.
        refused(str): what was typed is no target, and why.
    """

    wanted = Signal(object, object)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._units: UnitChoice = METRIC
        self._row: Row | None = None
        self.name = ElidedLabel(parent=self)
        self.limits, self.speed = QLineEdit(self), QLineEdit(self)
        self.load_case, self.road_class = QComboBox(self), QComboBox(self)
        self.set_button, self.remove_button = QPushButton("Set target", self), QPushButton("Remove", self)
        self._build()
        self._fill()

    def _build(self) -> None:
        font = small_font(self.font())
        upper, lower = QHBoxLayout(), QHBoxLayout()
        upper.addWidget(self.name, 1)
        lower.addStretch(1)
        fields: tuple[tuple[str, QWidget, str, int, QHBoxLayout], ...] = (
            ("Target", self.limits, "Limits: ≤ 2, ≥ 2 or 1 – 2, with or without unit", 110, upper),
            ("Load case", self.load_case, "Load case in which the target holds", 110, lower),
            ("Road", self.road_class, "Class of the random road (ISO 8608)", 90, lower),
            ("Speed", self.speed, "Speed; empty: that of the run", 80, lower),
        )
        for text, field, tip, width, row in fields:
            label = QLabel(text, self)
            label.setBuddy(field)
            label.setFont(font)
            field.setAccessibleName(text)
            field.setToolTip(tip)
            field.setFont(font)
            field.setFixedWidth(width)
            row.addWidget(label)
            row.addWidget(field)
        column = QVBoxLayout(self)
        column.setContentsMargins(9, 4, 9, 4)
        column.setSpacing(3)
        for row in (upper, lower):
            row.setSpacing(4)
            column.addLayout(row)
        self.limits.setPlaceholderText("≤ 2")
        self.speed.setPlaceholderText(_AS_RUN)
        self.road_class.addItem(_AS_RUN, "")
        for letter in get_args(RoadClass)[1:]:
            self.road_class.addItem(f"class {letter}", letter)
        for button in (self.set_button, self.remove_button):
            button.setFont(font)
            upper.addWidget(button)
        for field in (self.limits, self.speed):
            field.returnPressed.connect(self._set)
        self.set_button.clicked.connect(self._set)
        self.remove_button.clicked.connect(self._remove)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.name.setStyleSheet(f"color: {theme.ink}")

    def set_units(self, units: UnitChoice) -> None:
        """Show and read numbers in these units."""
        self._units = units
        self._fill()

    def show_project(self, project: Project) -> None:
        """Offer the load cases of a project."""
        names = ["", AS_DESIGNED.name, *(case.name for case in project.load_cases)]
        if [self.load_case.itemData(place) for place in range(self.load_case.count())] != names:
            chosen = self.load_case.currentData()
            with QSignalBlocker(self.load_case):
                self.load_case.clear()
                for name in names:
                    self.load_case.addItem(name or _AS_RUN, name)
                self.load_case.setCurrentIndex(max(self.load_case.findData(chosen), 0))

    def show_row(self, row: Row | None) -> None:
        """Edit the target of a row; None or a row of common practice takes no target."""
        before, self._row = self._row, row if row is not None and row.of_project else None
        if _edited(before) != _edited(self._row):  # else what is being typed stays
            self._fill()

    def _fill(self) -> None:
        for field in (self.limits, self.load_case, self.road_class, self.speed, self.set_button):
            field.setEnabled(self._row is not None)
        target = None if self._row is None else self._row.target
        self.remove_button.setEnabled(target is not None)
        if self._row is None:
            self.name.tell("Choose a figure for a target")
        else:
            unit = self._units[self._row.figure.kind]
            self.name.tell(self._row.figure.label + ("" if unit == "1" else f" ({unit})"))
        self.limits.setText("" if target is None else target_text(target, self._units))
        self.load_case.setCurrentIndex(max(self.load_case.findData(target.load_case if target else ""), 0))
        self.road_class.setCurrentIndex(max(self.road_class.findData(target.road_class if target else ""), 0))
        speed = None if target is None else target.speed
        unit = self._units["speed"]
        self.speed.setText("" if speed is None else f"{format_value(speed, unit, 'm/s')} {unit}")

    def _set(self) -> None:
        if self._row is None:
            return
        figure, old = self._row.figure, self._row.target
        try:
            low, high = limits_of(self.limits.text(), figure.kind, self._units, figure.better)
            if low is None and high is None:
                raise InputError.of("target", "", "type a limit first, such as ≤ 2")
            target = made(figure.key, figure.kind, (low, high), self._scope())
        except (InputError, UnitError) as error:
            self.refused.emit(str(error))
            return
        # Another situation is another target; the one before stays.
        self.wanted.emit(target, old if old is not None and old.scope == target.scope else None)

    def _scope(self) -> tuple[str, str, float | None]:
        text = self.speed.text().strip()
        speed = from_text(text, "m/s", self._units["speed"]) if text else None
        return self.load_case.currentData() or "", self.road_class.currentData(), speed

    def _remove(self) -> None:
        if self._row is not None and self._row.target is not None:
            self.wanted.emit(None, self._row.target)


def _edited(row: Row | None) -> object:
    return None if row is None else (row.key, row.target)
