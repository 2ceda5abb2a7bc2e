"""The form of the part at a place, with a table of materials to pick from."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QComboBox, QLabel, QVBoxLayout, QWidget

from models.errors import InputError
from models.fields import Path, follow
from models.hardware import MATERIALS, GasStrut, Hardware, Material, Place
from models.units import METRIC, UnitChoice
from workbench.document import Document
from workbench.editor import PartForm
from workbench.theme import LIGHT, Theme

__all__ = ["PartEditor"]

_FOLDED = ("material", "fatigue")


class PartEditor(QWidget):
    """Describes the part of the chosen place, or none.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
    """

    units_changed = Signal(str, str)

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._place: Place = "front_spring"
        self._units: dict[str, str] = dict(METRIC)
        self._theme = LIGHT
        self._forms: dict[Place, PartForm] = {}
        self.material = QComboBox(self)
        self.material.setAccessibleName("Material from the table")
        self.material.setToolTip(
            "Takes all values of a material from the table; each may then be edited below"
        )
        self.material.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.material.setMinimumContentsLength(12)
        self.material.activated.connect(self._take_material)
        self._material_row = QWidget(self)
        label = QLabel("&Material from the table", self._material_row)
        label.setBuddy(self.material)
        rows = QVBoxLayout(self._material_row)
        rows.setContentsMargins(10, 4, 6, 2)
        rows.setSpacing(1)
        rows.addWidget(label)
        rows.addWidget(self.material)
        self._column = column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._material_row)
        document.changed.connect(self._show_material)
        document.opened.connect(self._show_material)

    def hardware_path(self) -> Path:
        """Where the hardware of the candidate stands in the project."""
        return (*self._document.candidate_path()[:-1], "hardware")

    @property
    def form(self) -> PartForm:
        """Form of the chosen place; its first row is the tick that describes the part."""
        return self._forms[self._place]

    def show_place(self, place: Place) -> None:
        """Edit the part at a place."""
        self._place = place
        if place not in self._forms:
            form = PartForm(Hardware, only=(place,), folded=_FOLDED)
            form.set_units(self._units)
            form.set_theme(self._theme)
            form.set_target(self._document, self.hardware_path)
            form.units_changed.connect(self.units_changed)
            self._forms[place] = form
            self._column.addWidget(form, 1)
        for other, form in self._forms.items():
            form.setVisible(other == place)  # hidden ones take no room
        self._show_material()

    def set_units(self, units: UnitChoice) -> None:
        """Show quantities in these units."""
        self._units.update(units)
        for form in self._forms.values():
            form.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        for form in self._forms.values():
            form.set_theme(theme)

    def _material_path(self) -> Path | None:
        """Where the material of the chosen part stands in the project; None where there is none."""
        path = (*self.hardware_path(), self._place)
        part = follow(self._document.project, path)
        if part is None or isinstance(part, GasStrut):
            return None
        return (*path, "bar", "material") if hasattr(part, "bar") else (*path, "material")

    def _show_material(self) -> None:
        path = self._material_path()
        self._material_row.setVisible(path is not None)
        if path is None:
            return
        present: Material = follow(self._document.project, path)
        names = [material.name for material in MATERIALS]
        edited = present not in MATERIALS
        wanted = [*names, *([f"{present.name} (edited)"] if edited else [])]
        with QSignalBlocker(self.material):
            if [self.material.itemText(index) for index in range(self.material.count())] != wanted:
                self.material.clear()
                self.material.addItems(wanted)
            self.material.setCurrentIndex(len(names) if edited else MATERIALS.index(present))

    def _take_material(self, index: int) -> None:
        path = self._material_path()
        if path is None or index >= len(MATERIALS):
            return
        try:
            self._document.edit(path, MATERIALS[index])
        except InputError:  # no rule joins a material to the rest of a part, but one may come
            self._show_material()
