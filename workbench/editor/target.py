"""What the editor needs of the open document, and the gestures of keys and wheel."""

from __future__ import annotations

import time
from typing import Any, Protocol

from models.fields import Path
from workbench.document import next_gesture

__all__ = ["EditTarget", "StepGesture"]

_SAME_GESTURE_WITHIN = 0.8  # s; key repeat and a turning wheel are faster, a second thought is slower


class EditTarget(Protocol):
    """Something that holds frozen parts and takes edits of them.

    Attributes:
        changed: signal, emitted after each real change.
        opened: signal, emitted when wholly other data took the place of the old.
    """

    @property
    def changed(self) -> Any: ...

    @property
    def opened(self) -> Any: ...

    def value(self, path: Path) -> Any:
        """Value at ``path``."""

    def edit(self, path: Path, value: object, gesture: int | None = None) -> None:
        """Exchange the value at ``path``; raises InputError where it is refused."""


class StepGesture:
    """Joins steps by key or wheel that follow each other closely into one gesture."""

    def __init__(self) -> None:
        self._number = 0
        self._last = float("-inf")

    def number(self) -> int:
        """Gesture of a step made now."""
        now = time.monotonic()
        if now - self._last > _SAME_GESTURE_WITHIN:
            self._number = next_gesture()
        self._last = now
        return self._number
