"""Taking the focus from panel to panel by keys."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

__all__ = ["Places", "first_stop"]

_REASON = Qt.FocusReason.ShortcutFocusReason


class Places:
    """The panels of the window, in the order of a round through them.

    Args:
        places: name -> what gives the widget of the panel at present.
        bring: shows a panel that is closed, or behind another.
    """

    def __init__(self, places: dict[str, Callable[[], QWidget]], bring: Callable[[str], object]) -> None:
        self._places = places
        self._bring = bring

    def go(self, name: str) -> None:
        """Put the focus where it was last in a panel, else on its first stop."""
        self._bring(name)
        widget = self._places[name]()
        last = widget.focusWidget()
        stop = last if last is not None and _takes(last) and widget.isAncestorOf(last) else first_stop(widget)
        if stop is not None:
            stop.setFocus(_REASON)

    def step(self, way: int) -> None:
        """Go to the next panel in sight (1) or to the one before (-1)."""
        names = [name for name, widget in self._places.items() if not widget().visibleRegion().isEmpty()]
        here = self.here()
        at = names.index(here) if here in names else -1 if way > 0 else 0
        if names:
            self.go(names[(at + way) % len(names)])

    def here(self) -> str:
        """Panel that has the focus; empty where none has."""
        focus = QApplication.focusWidget()
        found = (
            name
            for name, widget in self._places.items()
            if focus is not None and (focus is widget() or widget().isAncestorOf(focus))
        )
        return next(found, "")


def first_stop(widget: QWidget) -> QWidget | None:
    """First of a widget and what is in it that Tab stops at."""
    stop: QWidget | None = widget
    while stop is not None:
        if _takes(stop) and (stop is widget or widget.isAncestorOf(stop)):
            return stop
        stop = stop.nextInFocusChain()
        if stop is widget:  # the chain is a ring
            return None
    return None


def _takes(widget: QWidget) -> bool:
    wanted = widget.focusPolicy() & Qt.FocusPolicy.TabFocus
    return bool(wanted) and widget.isVisible() and widget.isEnabled()
