"""The road and the speed in one line under the stage; details stand in the Road panel."""

from __future__ import annotations

from typing import get_args

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QToolButton, QWidget

from models.fields import Part
from models.roads import ROAD_CLASSES, Event, road_class
from models.run import Run
from models.units import format_value
from workbench.document import Document
from workbench.editor import PartForm
from workbench.editor.plan import plan
from workbench.pages.load_cases.editor import LoadCaseChooser

__all__ = ["DriveBar"]

_EVENTS: dict[str, type[Part]] = {
    event.model_fields["kind"].default: event for event in get_args(get_args(Event)[0])
}

_SPEED_WIDTH = 420


class DriveBar(QWidget):
    """Chooser of road event, speed and road class.

    The speed is a row of ``form``, so that unit and theme are those of the form.

    Signals:
        details_wanted(): the user asks for the whole form.
    """

    details_wanted = Signal()

    def __init__(self, document: Document, form: PartForm, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._form = form
        self.event_box = QComboBox(self)
        self.event_box.addItems([kind[0].upper() + kind[1:] for kind in _EVENTS])
        self.event_box.setToolTip("Road event of the animation and of the time plots")
        self.event_box.activated.connect(self._choose_event)
        self.class_box = QComboBox(self)
        self.class_box.addItems([f"Class {letter}" for letter in ROAD_CLASSES])
        self.class_box.setToolTip("ISO 8608 class of the random road of the spectra and RMS values")
        self.class_box.activated.connect(self._choose_class)
        speed = next(field for field in plan(Run) if field.name == "speed")
        self.speed = form.entry(("speed",), speed)
        self.details = QToolButton(self)
        self.details.setText("Road…")
        self.details.setToolTip("Height, length, side, seed and duration of the run")
        self.details.clicked.connect(self.details_wanted)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(10, 2, 10, 4)
        layout.setSpacing(8)
        self.load_box = LoadCaseChooser(document, self)
        for label, box in (
            ("Eve&nt", self.event_box),
            ("&Random road", self.class_box),
            ("&Load", self.load_box),
        ):
            text = QLabel(label, self)
            text.setBuddy(box)
            box.setAccessibleName(label.replace("&", ""))
            layout.addWidget(text)
            layout.addWidget(box)
        self.speed.setMaximumWidth(_SPEED_WIDTH)
        layout.addWidget(self.speed, 1)
        layout.addWidget(self.details)
        layout.addStretch(1)
        form.shown.connect(self._update)
        self._update()

    def _update(self) -> None:
        run = self._document.project.run
        with QSignalBlocker(self.event_box), QSignalBlocker(self.class_box):
            self.event_box.setCurrentIndex(list(_EVENTS).index(run.event.kind))
            letter = road_class(run.surface.roughness)
            self.class_box.setCurrentIndex(list(ROAD_CLASSES).index(letter))
            shown = f"Class {letter}"
            if run.surface.roughness != ROAD_CLASSES[letter]:
                shown += f" ({format_value(run.surface.roughness, 'cm³', 'm³')} cm³)"
            self.class_box.setItemText(self.class_box.currentIndex(), shown)
        self.speed.show_value(run.speed)
        self.speed.show_units()

    def _choose_event(self, index: int) -> None:
        kind = list(_EVENTS)[index]
        if kind != self._document.project.run.event.kind:
            self._document.edit(("run", "event"), _EVENTS[kind]())

    def _choose_class(self, index: int) -> None:
        self._document.edit(("run", "surface", "roughness"), list(ROAD_CLASSES.values())[index])
