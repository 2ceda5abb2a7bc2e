"""Load cases, roads and speeds in which a study judges each car."""

from __future__ import annotations

from typing import get_args

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QLineEdit, QPushButton, QWidget

from models.errors import InputError
from models.project import Project
from models.study import Situation
from models.target import RoadClass
from models.units import METRIC, UnitChoice, UnitError, from_text
from models.vehicle import AS_DESIGNED
from workbench.editor.numbers import short_number
from workbench.pages.studies.definition import remade

__all__ = ["SituationRows"]


class SituationRows(QWidget):
    """A row per situation.

    Signals:
        edited(object): the situations as they are now.
        refused(str): what was typed is refused.
    """

    edited = Signal(object)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._units: UnitChoice = METRIC
        self._project: Project | None = None
        self._shown: object = None
        self.situations: tuple[Situation, ...] = ()
        self.rows: list[tuple[QComboBox, QComboBox, QLineEdit, QPushButton]] = []
        self.add = QPushButton("Add situation", self)
        self.add.clicked.connect(lambda: self.edited.emit((*self.situations, self._another())))
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(10, 0, 4, 2)
        self._grid.setSpacing(3)
        self._grid.setColumnStretch(0, 3)
        self._grid.setColumnStretch(1, 2)
        self._grid.setColumnStretch(2, 2)

    def show_situations(self, project: Project, situations: tuple[Situation, ...]) -> None:
        """Show situations."""
        self._project, self.situations = project, situations
        shown = situations, tuple(case.name for case in project.load_cases), dict(self._units)
        if shown == self._shown:
            return
        self._shown = shown
        for row in self.rows:
            for widget in row:
                widget.hide()
                widget.deleteLater()
        self.rows = [self._row(number, one) for number, one in enumerate(situations)]
        self._grid.addWidget(self.add, len(self.rows), 0)

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = units
        if self._project is not None:
            self.show_situations(self._project, self.situations)

    def _row(self, number: int, one: Situation) -> tuple[QComboBox, QComboBox, QLineEdit, QPushButton]:
        assert self._project is not None
        load, road, speed = QComboBox(self), QComboBox(self), QLineEdit(self)
        remove = QPushButton("−", self)
        load.addItem("Load of the project", "")
        for name in dict.fromkeys((AS_DESIGNED.name, *(case.name for case in self._project.load_cases))):
            load.addItem(name, name)
        road.addItem("Road of the run", "")
        for name in get_args(RoadClass)[1:]:
            road.addItem(f"Class {name}", name)
        for box, value, name in ((load, one.load_case, "Load case"), (road, one.road_class, "Road class")):
            if box.findData(value) < 0:
                box.addItem(f"{value} (missing)", value)
            box.setCurrentIndex(box.findData(value))
            box.setAccessibleName(f"{name} of situation {number + 1}")
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            box.setMinimumContentsLength(6)
        unit = self._units["speed"]
        speed.setPlaceholderText(f"speed, {unit}")
        speed.setAccessibleName(f"Speed of situation {number + 1}")
        speed.setToolTip(f"Speed in {unit}; empty: that of the run")
        speed.setMinimumWidth(50)
        if one.speed is not None:
            speed.setText(f"{short_number(one.speed, unit, 'm/s')} {unit}")
        remove.setFixedWidth(24)
        remove.setToolTip("Remove this situation")
        remove.setAccessibleName(f"Remove situation {number + 1}")
        remove.setEnabled(len(self.situations) > 1)
        load.activated.connect(lambda _index: self._edit(number, load_case=load.currentData()))
        road.activated.connect(lambda _index: self._edit(number, road_class=road.currentData()))
        speed.editingFinished.connect(lambda: self._edit_speed(number, speed.text()))
        remove.clicked.connect(lambda: self._without(number))
        for column, widget in enumerate((load, road, speed, remove)):
            self._grid.addWidget(widget, number, column)
            widget.show()
        return load, road, speed, remove

    def _another(self) -> Situation:
        return self.situations[-1] if self.situations else Situation()

    def _without(self, number: int) -> None:
        self.edited.emit(tuple(one for place, one in enumerate(self.situations) if place != number))

    def _edit(self, number: int, **fields: object) -> None:
        try:
            after = remade(self.situations[number], **fields)
        except InputError as error:
            self.refused.emit(str(error))
            self._shown = None
            assert self._project is not None
            self.show_situations(self._project, self.situations)
            return
        if after != self.situations[number]:
            self.edited.emit((*self.situations[:number], after, *self.situations[number + 1 :]))

    def _edit_speed(self, number: int, text: str) -> None:
        if number >= len(self.situations):
            return
        before, unit = self.situations[number].speed, self._units["speed"]
        if before is not None and text == f"{short_number(before, unit, 'm/s')} {unit}":
            return
        try:
            speed = from_text(text, "m/s", unit) if text.strip() else None
        except UnitError as error:
            self.refused.emit(f"Speed: {error}")
            return
        self._edit(number, speed=speed)
