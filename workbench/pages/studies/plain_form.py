"""Whole numbers, choices and switches of a study, in rows made from the description of its fields."""

from __future__ import annotations

from typing import Any, Literal, get_args, get_origin

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QDoubleSpinBox, QFormLayout, QSpinBox, QWidget

from models.fields import Label, Part, Quantity, described
from models.study import Study

__all__ = ["PlainForm"]

_SHARE = 100.0


class PlainForm(QWidget):
    """One row per plain field of the study on show.

    Signals:
        edited(str, object): name of a field and its new value.
    """

    edited = Signal(str, object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._type: type[Part] | None = None
        self.boxes: dict[str, QWidget] = {}
        self._layout = QFormLayout(self)
        self._layout.setContentsMargins(10, 2, 8, 2)
        self._layout.setSpacing(3)

    def show_study(self, study: Study) -> None:
        """Show the plain fields of a study."""
        if type(study) is not self._type:
            self._make_rows(type(study))
        for name, box in self.boxes.items():
            _show(box, getattr(study, name))

    def _make_rows(self, part_type: type[Part]) -> None:
        self._type = part_type
        while self._layout.rowCount():
            self._layout.removeRow(0)
        self.boxes = {}
        for name, note, annotation in described(part_type):
            box = None if note is None else self._box(name, annotation, note)
            if box is not None and note is not None:
                box.setToolTip(note.meaning)
                box.setAccessibleName(note.label)
                unit = ", %" if isinstance(note, Quantity) else ""
                self._layout.addRow(note.label + unit, box)
                self.boxes[name] = box

    def _box(self, name: str, annotation: Any, note: Label | Quantity) -> QWidget | None:
        if annotation is bool:
            tick = QCheckBox(self)
            tick.clicked.connect(lambda on: self.edited.emit(name, on))
            return tick
        if annotation is int:
            number = QSpinBox(self)
            number.setRange(*_range(self._type, name))
            number.setGroupSeparatorShown(True)
            number.setKeyboardTracking(False)
            number.valueChanged.connect(lambda value: self.edited.emit(name, value))
            return number
        if get_origin(annotation) is Literal:
            choice = QComboBox(self)
            choice.addItems(get_args(annotation))
            choice.textActivated.connect(lambda text: self.edited.emit(name, text))
            return choice
        if isinstance(note, Quantity) and note.kind_name == "share":
            share = QDoubleSpinBox(self)
            share.setDecimals(3)
            share.setRange(_SHARE * note.low, _SHARE * note.high)
            share.setKeyboardTracking(False)
            share.valueChanged.connect(lambda value: self.edited.emit(name, value / _SHARE))
            return share
        return None


def _range(part_type: type[Part] | None, name: str) -> tuple[int, int]:
    assert part_type is not None
    limits = part_type.model_fields[name].metadata
    low = next((int(one.ge) for one in limits if hasattr(one, "ge")), 0)
    high = next((int(one.le) for one in limits if hasattr(one, "le")), 2**31 - 1)
    return low, min(high, 2**31 - 1)


def _show(box: QWidget, value: Any) -> None:
    box.blockSignals(True)
    match box:
        case QCheckBox():
            box.setChecked(value)
        case QSpinBox():
            box.setValue(min(value, box.maximum()))
        case QDoubleSpinBox():
            box.setValue(_SHARE * value)
        case QComboBox():
            box.setCurrentText(value)
    box.blockSignals(False)
