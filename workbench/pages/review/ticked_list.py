"""A list whose entries are ticked and put in order, by mouse or keys."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QListWidget, QListWidgetItem, QWidget

from workbench.theme import LIGHT, Theme

__all__ = ["TickedList", "Told", "in_order"]

_KEY = Qt.ItemDataRole.UserRole
_WAYS = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
# Rows up to which the list is as high as its entries.
_MOST_IN_SIGHT = 16


@dataclass(frozen=True, slots=True)
class Told:
    """What is known of an entry, and whether the reader has to be warned."""

    words: str
    warns: bool = False


def in_order(every: Sequence[str], ticked: Sequence[str], before: Sequence[str]) -> list[str]:
    """All keys with those that are ticked in their order.

    Those that are not ticked stay where they were ``before``, where that can be, else each comes after the
    one that it usually follows.
    """
    if set(before) == set(every) and [key for key in before if key in ticked] == list(ticked):
        return list(before)
    found = list(ticked)
    for number, key in enumerate(every):
        if key not in found:
            found.insert(found.index(every[number - 1]) + 1 if number else 0, key)
    return found


class TickedList(QListWidget):
    """Entries to tick, to drag, or to move by Alt+Up and Alt+Down.

    Signals:
        chosen(object): another choice or order of the user's: keys of the ticked entries in their order.
    """

    chosen = Signal(object)
    _touched = Signal()

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._titles: dict[str, str] = {}
        self._told: dict[str, Told] = {}
        self.setAccessibleName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setDragDropMode(QAbstractItemView.DragDropMode.InternalMove)
        self.setDefaultDropAction(Qt.DropAction.MoveAction)
        self.setTabKeyNavigation(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.itemChanged.connect(self._touched)
        self.model().rowsMoved.connect(self._touched)
        # Afterwards, as in the midst of a drop or a tick the list must stay as it is.
        self._touched.connect(self._tell, Qt.ConnectionType.QueuedConnection)

    @property
    def keys(self) -> list[str]:
        """Keys of all entries, from the top."""
        return [self.item(row).data(_KEY) for row in range(self.count())]

    @property
    def ticked(self) -> tuple[str, ...]:
        """Keys of the ticked ones, from the top."""
        rows = (self.item(row) for row in range(self.count()))
        return tuple(item.data(_KEY) for item in rows if item.checkState() == Qt.CheckState.Checked)

    def show_choice(self, titles: Mapping[str, str], ticked: Sequence[str]) -> None:
        """Show these entries, in their usual order, with some of them ticked and in an order of their own."""
        order = in_order(list(titles), ticked, self.keys)
        if order == self.keys and tuple(ticked) == self.ticked and dict(titles) == self._titles:
            return
        self._titles = dict(titles)
        row = self.currentRow()
        with QSignalBlocker(self):
            self.clear()
            for key in order:
                item = QListWidgetItem(self)
                item.setData(_KEY, key)
                # Not on each other, only between.
                item.setFlags(item.flags() & ~Qt.ItemFlag.ItemIsDropEnabled)
                item.setCheckState(Qt.CheckState.Checked if key in ticked else Qt.CheckState.Unchecked)
            self.setCurrentRow(min(row, self.count() - 1))
        self._dress()
        self.updateGeometry()

    def tell(self, told: Mapping[str, Told]) -> None:
        """Say beside entries what is known of them."""
        self._told = dict(told)
        self._dress()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self._dress()

    def sizeHint(self) -> QSize:
        rows = min(max(self.count(), 1), _MOST_IN_SIGHT)
        height = self.sizeHintForRow(0) if self.count() else self.fontMetrics().height()
        return QSize(200, rows * height + 2 * self.frameWidth() + 4)

    def minimumSizeHint(self) -> QSize:
        return QSize(120, self.sizeHint().height())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        way = _WAYS.get(Qt.Key(event.key()))
        if way is not None and event.modifiers() & Qt.KeyboardModifier.AltModifier:
            self.move_current(way)
        else:
            super().keyPressEvent(event)

    def move_current(self, way: int) -> None:
        """Move the present entry a row up (-1) or down (1)."""
        row = self.currentRow()
        if row >= 0 and 0 <= row + way < self.count():
            with QSignalBlocker(self):
                self.insertItem(row + way, self.takeItem(row))
                self.setCurrentRow(row + way)
            self._tell()

    def _dress(self) -> None:
        with QSignalBlocker(self):
            for row in range(self.count()):
                item = self.item(row)
                key = item.data(_KEY)
                told = self._told.get(key, Told(""))
                item.setText(" – ".join(filter(None, (self._titles[key], told.words))))
                item.setToolTip(item.text())
                item.setForeground(QColor(self._theme.mark if told.warns else self._theme.ink))
        self.viewport().update()

    def _tell(self) -> None:
        self.chosen.emit(self.ticked)
