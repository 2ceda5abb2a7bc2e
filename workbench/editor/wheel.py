"""What the mouse wheel means over a field: a step of its value, or a scroll of the panel that passes by."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QWidget

__all__ = ["PointedAt", "wheel_steps"]


class PointedAt:
    """Knows whether the mouse was moved onto a field, or scrolling brought the field under the mouse.

    The field calls :meth:`note` for each move and press; an event filter would cost each field's start.
    """

    def __init__(self, field: QWidget) -> None:
        self._field = field
        self._place: QPoint | None = None
        field.setMouseTracking(True)

    def note(self) -> None:
        """Take note that the mouse moves or is pressed on the field where it now stands."""
        self._place = self._field.mapToGlobal(QPoint())

    @property
    def is_meant(self) -> bool:
        """Whether the field has the focus, and stands where the mouse was moved onto it."""
        return self._field.hasFocus() and self._place == self._field.mapToGlobal(QPoint())


def wheel_steps(event: QWheelEvent) -> tuple[float, bool]:
    """Notches of the wheel, and whether Ctrl asks for fine steps."""
    turned = event.angleDelta()
    notches = (turned.y() or turned.x()) / 120
    return notches, bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
