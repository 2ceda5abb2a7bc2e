"""Holds a part that belongs to a view and not to the project, as target of a form."""

from __future__ import annotations

from typing import Any, Generic, TypeVar

from PySide6.QtCore import QObject, Signal

from models.fields import Part, Path, follow, replaced

__all__ = ["PartHolder"]

P = TypeVar("P", bound=Part)


class PartHolder(QObject, Generic[P]):
    """Target of a form that edits the part.

    Signals:
        changed: the part is another one.
        opened: wholly other values took the place of the old.
    """

    changed = Signal()
    opened = Signal()

    def __init__(self, part: P, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.part = part

    def value(self, path: Path) -> Any:
        """Value at a path of the part."""
        return follow(self.part, path)

    def edit(self, path: Path, value: object, gesture: int | None = None) -> None:
        """Exchange a value; raises InputError where it is refused."""
        edited = replaced(self.part, path, value)
        if edited != self.part:
            self.part = edited
            self.changed.emit()

    def start_with(self, part: P) -> None:
        """Hold another part; what was typed and not taken is dropped."""
        if part != self.part:
            self.part = part
            self.opened.emit()
