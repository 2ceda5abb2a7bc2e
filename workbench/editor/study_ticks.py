"""Ticks beside the numbers of the editor, by which they are chosen for a study."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from itertools import islice

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtWidgets import QMenu

from models.study import place_of
from workbench.editor.entry import Row, Themed
from workbench.editor.quantity_row import QuantityRow
from workbench.editor.tick_box import TickBox

__all__ = ["StudyTicks"]

_WIDTH = 17  # px: the box alone
# Ticks made in one go, so that all of them do not keep a frame waiting.
_SLICE = 20


class StudyTicks(QObject):
    """While on, each row of a number has a tick; while off, no row has anything to do with it.

    Signals:
        ticked(str, bool): place of a number that the user ticked or unticked.
        chosen(str): place of a number that is to be studied, from its menu.
        settled: all rows have their ticks, or none has one.
    """

    ticked = Signal(str, bool)
    chosen = Signal(str)
    settled = Signal()

    def __init__(self, rows: Callable[[], Iterator[Row]], themed: Themed, parent: QObject) -> None:
        """Choose among ``rows``, each at the path of its number in the car."""
        super().__init__(parent)
        self._rows, self._themed = rows, themed
        self._places: frozenset[str] = frozenset()
        self.on = False
        self._more = QTimer(self)
        self._more.setSingleShot(True)
        self._more.timeout.connect(self.follow_rows)

    def set_on(self, on: bool) -> None:
        """Show the ticks or take them away."""
        self.on = on
        if on:
            self.follow_rows()
        else:
            for row in self._numbers():
                row.set_tick(None)
            self.settled.emit()

    def follow_rows(self) -> None:
        """Give rows that are new their ticks, some now and the others after what waits."""
        if not self.on:
            return
        without = list(islice((row for row in self._numbers() if row.tick is None), _SLICE))
        for row in without:
            row.set_tick(self._tick(row))
        if len(without) == _SLICE:
            self._more.start(0)
        else:
            self.settled.emit()

    def show_studied(self, places: Collection[str]) -> None:
        """Tick the numbers at these places."""
        self._places = frozenset(places)
        if not self.on:
            return
        for row in self._numbers():
            if row.tick is not None:
                row.tick.setChecked(place_of(row.path) in self._places)

    def fill_menu(self, row: Row, menu: QMenu) -> None:
        """Offer to study the number of a row."""
        place = place_of(row.path)
        if menu.actions():
            menu.addSeparator()
        action = menu.addAction("Study this parameter")
        action.setCheckable(True)
        action.setChecked(place in self._places)
        action.triggered.connect(lambda on: self.chosen.emit(place) if on else self.ticked.emit(place, False))

    def _tick(self, row: QuantityRow) -> TickBox:
        place = place_of(row.path)
        tick = TickBox(self._themed, "", row)
        tick.setFixedWidth(_WIDTH)
        tick.setAccessibleName(f"Study {row.label}")
        tick.setAccessibleDescription(f"Vary {place} in the study")
        tick.setToolTip("Vary this number in the study")
        tick.setChecked(place in self._places)
        tick.clicked.connect(lambda on: self._clicked(place, on))
        return tick

    def _clicked(self, place: str, on: bool) -> None:
        self.ticked.emit(place, on)
        self.show_studied(self._places)  # as the study stands, also where it was refused

    def _numbers(self) -> Iterator[QuantityRow]:
        return (row for row in self._rows() if isinstance(row, QuantityRow))
