"""Field of a damping ratio."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from models.errors import InputError
from models.ride.damping import RATIO
from workbench.editor.numbers import full_number, read, short_number, stepped
from workbench.editor.value_edit import ValueEdit

__all__ = ["RatioEdit"]

_UNIT = "1"


class RatioEdit(ValueEdit):
    """Holds a damping ratio within the range of :data:`RATIO`; arrow keys and wheel step it.

    Signals:
        changed(): there is another value.
        refused(str): what was typed is no such value, and why.
    """

    changed = Signal()
    refused = Signal(str)

    def __init__(self, value: float, parent: QWidget | None = None) -> None:
        super().__init__(parent, steps=True)
        self._value = value
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setFixedWidth(self.fontMetrics().horizontalAdvance("0.0000") + 16)
        self.setToolTip(f"{RATIO.label}\n{RATIO.meaning}\nAllowed: {RATIO.range_text()}")
        self.committed.connect(self._read)
        self.stepped.connect(self._step)
        self._show()

    @property
    def value(self) -> float:
        """The ratio."""
        return self._value

    def set_value(self, value: float) -> None:
        """Hold another ratio."""
        known, self._value = self._value, value
        self._show()
        if value != known:
            self.changed.emit()

    def _show(self) -> None:
        self.display(short_number(self._value, _UNIT, _UNIT), lambda: full_number(self._value, _UNIT, _UNIT))

    def _read(self, text: str) -> None:
        try:
            self.set_value(read(RATIO, text, _UNIT, RATIO.label))
        except InputError as error:
            self.refused.emit(error.problems[0].reason)

    def _step(self, steps: float, fine: bool) -> None:
        self.set_value(stepped(RATIO, self._value, _UNIT, steps * (0.1 if fine else 1.0)))
