"""What help is about: what a tooltip tells of, else what has the focus, else everything."""

from __future__ import annotations

from typing import Protocol, runtime_checkable

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QCursor
from PySide6.QtWidgets import QApplication, QDockWidget, QTableView, QToolTip, QWidget

from models.figure import Figure
from models.units import UnitChoice
from workbench.help.anchors import CONTENTS, page_place

__all__ = ["HINT", "PLACE", "Explained", "explained", "place_of", "place_wanted", "table_place"]

#: Last line of the tooltip of what has a section of its own.
HINT = "F1: more in the handbook"
#: Role under which a cell of a table has its place in the handbook.
PLACE = Qt.ItemDataRole.UserRole + 40


@runtime_checkable
class Explained(Protocol):
    """A widget that knows its section of the handbook."""

    def help_place(self, at: QPoint | None) -> str:
        """Place of what is at a point of the screen, or of what has the focus; empty for nothing."""


def explained(figure: Figure, units: UnitChoice) -> str:
    """Tooltip of a figure: name, unit, words and formula, and where there is more."""
    return f"{figure.explained(units[figure.kind])}\n{HINT}"


def place_wanted() -> str:
    """Place in the handbook that F1 opens."""
    if QToolTip.isVisible():
        at = QCursor.pos()
        found = place_of(QApplication.widgetAt(at), at)
        if found:
            return found
    return place_of(QApplication.focusWidget(), None) or CONTENTS


def place_of(widget: QWidget | None, at: QPoint | None) -> str:
    """Place that a widget, or the nearest around it, knows; ``at`` is a point of the screen."""
    while widget is not None:
        found = ""
        if isinstance(widget, Explained):
            found = widget.help_place(at)
        elif isinstance(widget, QDockWidget):
            found = page_place(widget.windowTitle())
        if found:
            return found
        widget = widget.parentWidget()
    return ""


def table_place(table: QTableView, at: QPoint | None) -> str:
    """Place of the cell, or else the row, of a table at a point of the screen, or of the current one.

    Empty for nothing.
    """
    index = table.currentIndex() if at is None else table.indexAt(table.viewport().mapFromGlobal(at))
    if not index.isValid():
        return ""
    return str(index.data(PLACE) or index.siblingAtColumn(0).data(PLACE) or "")
