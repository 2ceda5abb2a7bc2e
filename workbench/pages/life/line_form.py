"""Form of the S–N line of one part."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from models.fields import Path, follow
from models.hardware import Material
from models.hardware.sn_curve import SNCurve
from models.units import UnitChoice
from workbench.document import Document
from workbench.editor import PartForm
from workbench.theme import Theme, small_font

__all__ = ["LineForm"]


class LineForm(QWidget):
    """S–N line of the material of a part of the candidate; an edit is one of the project.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
    """

    units_changed = Signal(str, str)

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.target = _Target(document, self)
        self.title, self.material = QLabel("S–N line", self), QLabel(self)
        bold = self.title.font()
        bold.setBold(True)
        self.title.setFont(bold)
        self.material.setFont(small_font(self.font()))
        for label in (self.title, self.material):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            label.setContentsMargins(10, 0, 6, 0)
        self.form = PartForm(SNCurve, self.target)
        self.form.units_changed.connect(self.units_changed)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 6, 0, 0)
        column.setSpacing(2)
        for widget in (self.title, self.material, self.form):
            column.addWidget(widget)
        self.target.changed.connect(self._name_material)

    def show_part(self, name: str, path: Path) -> None:
        """Edit the line of a part.

        Args:
            name: of the part.
            path: of its line in the project.
        """
        self.title.setText(f"S–N line · {name}")
        self.target.look_at(path)
        self._name_material()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self.form.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.form.set_theme(theme)
        self.material.setStyleSheet(f"color: {theme.faint};")

    def _name_material(self) -> None:
        self.form.setEnabled(self.target.there)
        self.material.setText(self.target.material)


class _Target(QObject):
    """The line at a path of the project; the last one stays where its part is gone."""

    changed = Signal()
    opened = Signal()

    def __init__(self, document: Document, parent: QObject) -> None:
        super().__init__(parent)
        self._document = document
        self._path: Path = ()
        self._line = SNCurve()
        self.there = False
        self.material = ""
        for signal in (document.changed, document.opened):
            signal.connect(self._follow)

    def look_at(self, path: Path) -> None:
        if path != self._path:
            self._path = path
            self._read()
            self.opened.emit()  # what was typed for another part is dropped

    def value(self, path: Path) -> Any:
        return follow(self._line, path)

    def edit(self, path: Path, value: object, gesture: int | None = None) -> None:
        self._document.edit((*self._path, *path), value, gesture)

    def _follow(self) -> None:
        self._read()
        self.changed.emit()

    def _read(self) -> None:
        try:
            material = follow(self._document.project, self._path[:-1])
        except (AttributeError, IndexError):
            material = None  # the part is gone; the view is about to choose another one
        self.there = isinstance(material, Material)
        if isinstance(material, Material):
            self._line, self.material = material.fatigue, material.name
