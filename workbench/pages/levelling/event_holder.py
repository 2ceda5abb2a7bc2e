"""Holds the event of the page; it belongs to the view, not to the project."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, Signal

from models.fields import Path, follow, replaced
from models.ride.levelling_event import LevellingEvent

__all__ = ["EventHolder"]


class EventHolder(QObject):
    """Target of the form that edits the event.

    Signals:
        changed: the event is another one.
        opened: never; it takes a target with this signal to make a form.
    """

    changed = Signal()
    opened = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.event_data = LevellingEvent()

    def value(self, path: Path) -> Any:
        """Value at a path of the event."""
        return follow(self.event_data, path)

    def edit(self, path: Path, value: object, gesture: int | None = None) -> None:
        """Exchange a value; raises InputError where it is refused."""
        edited = replaced(self.event_data, path, value)
        if edited != self.event_data:
            self.event_data = edited
            self.changed.emit()
