"""The road and the speed in one line under the stage; details stand in the Road panel."""

from __future__ import annotations

from typing import get_args

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QToolButton, QWidget

from models.fields import Part
from models.roads import ROAD_CLASSES, Event, road_class
from models.units import UnitChoice, format_value
from workbench.document import Document
from workbench.editor import QuantityRow
from workbench.theme import Theme

__all__ = ["DriveBar"]

_EVENTS: dict[str, type[Part]] = {
    event.model_fields["kind"].default: event for event in get_args(get_args(Event)[0])
}


class DriveBar(QWidget):
    """Chooser of road event, speed and road class.

    Signals:
        units_changed(kind, unit): the user chose another unit of speed.
        details_wanted(): the user asks for the whole form.
    """

    units_changed = Signal(str, str)
    details_wanted = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.event = QComboBox(self)
        self.event.addItems([kind[0].upper() + kind[1:] for kind in _EVENTS])
        self.event.setToolTip("Road event of the animation and of the time plots")
        self.event.activated.connect(self._choose_event)
        self.road_class = QComboBox(self)
        self.road_class.addItems([f"Class {letter}" for letter in ROAD_CLASSES])
        self.road_class.setToolTip("ISO 8608 class of the random road of the spectra and RMS values")
        self.road_class.activated.connect(self._choose_class)
        self.speed = QuantityRow(document, ("run", "speed"), self)
        self.speed.units_changed.connect(self.units_changed)
        details = QToolButton(self, text="Road…")
        details.setToolTip("Height, length, side, seed and duration of the run")
        details.clicked.connect(self.details_wanted)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(10, 2, 10, 4)
        layout.setSpacing(8)
        for label, box in (("Event", self.event), ("Random road", self.road_class)):
            text = QLabel(f"&{label}", self)
            text.setBuddy(box)
            box.setAccessibleName(label)
            layout.addWidget(text)
            layout.addWidget(box)
        layout.addWidget(self.speed, 1)
        layout.addWidget(details)
        document.changed.connect(self._update)
        document.opened.connect(self._update)
        self._update()

    def set_units(self, units: UnitChoice) -> None:
        """Show the speed in another unit."""
        self.speed.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.speed.set_theme(theme)

    def _update(self) -> None:
        run = self._document.project.run
        with QSignalBlocker(self.event), QSignalBlocker(self.road_class):
            self.event.setCurrentIndex(list(_EVENTS).index(run.event.kind))
            letter = road_class(run.surface.roughness)
            self.road_class.setCurrentIndex(list(ROAD_CLASSES).index(letter))
            shown = f"Class {letter}"
            if run.surface.roughness != ROAD_CLASSES[letter]:
                shown += f" ({format_value(run.surface.roughness, 'cm³', 'm³')} cm³)"
            self.road_class.setItemText(self.road_class.currentIndex(), shown)
        self.speed.refresh()

    def _choose_event(self, index: int) -> None:
        kind = list(_EVENTS)[index]
        if kind != self._document.project.run.event.kind:
            self._document.edit(("run", "event"), _EVENTS[kind]())

    def _choose_class(self, index: int) -> None:
        self._document.edit(("run", "surface", "roughness"), list(ROAD_CLASSES.values())[index])
