"""What a user does with mouse and keys, and what can be read on the screen."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QMenu, QPushButton, QTabBar, QTableView, QWidget
from pytestqt.qtbot import QtBot

from workbench.editor import PartForm
from workbench.editor.quantity_row import QuantityRow
from workbench.window.main_window import MainWindow

__all__ = ["Hands"]

_LEFT = Qt.MouseButton.LeftButton


class Hands:
    """Works one window."""

    def __init__(self, window: MainWindow, qtbot: QtBot) -> None:
        self._window = window
        self._qtbot = qtbot

    def at_hand(self, label: str) -> QuantityRow:
        """Row of a quantity that is always in sight."""
        row = next(row for row in self._window.editor.at_hand.entries if row.label == label)
        assert isinstance(row, QuantityRow)
        return row

    def row_of(self, form: PartForm, label: str) -> QuantityRow:
        """Row of a quantity in a form."""
        row = next(row for row in form.rows() if row.label == label)
        assert isinstance(row, QuantityRow)
        return row

    def drag(self, row: QuantityRow, *shares: float) -> None:
        """Take the knob of a slider, move it to shares of the way, one after the other, and let go."""
        slider, middle = row.slider, row.slider.height() // 2
        self._qtbot.mousePress(slider, _LEFT, pos=QPoint(round(slider._knob_x()), middle))
        for share in shares:
            self._qtbot.mouseMove(slider, QPoint(round(share * slider.width()), middle))
            self.settle()
        self._qtbot.mouseRelease(slider, _LEFT, pos=QPoint(round(shares[-1] * slider.width()), middle))

    def type_into(self, row: QuantityRow, text: str, end: Qt.Key | None = Qt.Key.Key_Return) -> None:
        """Click into the number of a row, type over it, and press Return (or nothing)."""
        self._qtbot.mouseClick(row.number, _LEFT)
        # A number that already had the keys is not chosen as a whole by the click.
        self._qtbot.keyClick(row.number, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
        self._qtbot.keyClicks(row.number, text)
        if end is not None:
            self._qtbot.keyClick(row.number, end)
        self.settle()

    def turn_to(self, title: str, bar: QTabBar | None = None) -> None:
        """Click a tab; of the pages where no other bar is named."""
        bar = bar or self._window.pages.tabBar()
        number = [bar.tabText(index) for index in range(bar.count())].index(title)
        if not bar.rect().contains(bar.tabRect(number)):  # scrolled away; the menu of pages has it
            bar.setCurrentIndex(number)
        self._qtbot.mouseClick(bar, _LEFT, pos=bar.tabRect(number).center())
        assert bar.currentIndex() == number
        self.settle()

    def press(self, button: QAbstractButton) -> None:
        """Press a button, or tick a box on its tick."""
        self._qtbot.waitUntil(lambda: self.in_sight(button))
        assert button.isEnabled()
        self._qtbot.mouseClick(button, _LEFT, pos=QPoint(8, button.height() // 2))
        self.settle()

    def type_into_cell(self, table: QTableView, row: int, column: int, text: str) -> None:
        """Double-click a cell of a table, type over it, and press Return."""
        place = table.visualRect(table.model().index(row, column)).center()
        self._qtbot.mouseClick(table.viewport(), _LEFT, pos=place)
        self._qtbot.mouseDClick(table.viewport(), _LEFT, pos=place)
        editor = QApplication.focusWidget()
        self._qtbot.keyClicks(editor, text)
        self._qtbot.keyClick(editor, Qt.Key.Key_Return)
        self.settle()

    def choose(self, key: str) -> None:
        """Pick an entry of the menus."""
        action = self._window.actions_by_key[key]
        assert action.isEnabled(), key
        action.trigger()
        self.settle()

    def settle(self) -> None:
        """Wait until the results are those of the document."""
        self._qtbot.waitUntil(lambda: not self._window.engine.stale)

    def answer(self, text: str) -> None:
        """Press a button of the notice."""
        buttons = self._window.notice.findChildren(QPushButton)
        self._qtbot.mouseClick(next(button for button in buttons if button.text() == text), _LEFT)

    def submenu(self, menu: str, title: str) -> QMenu:
        """A menu inside a menu."""
        action = next(one for one in self._window._menus[menu].actions() if one.text() == title)
        found = action.menu()
        assert isinstance(found, QMenu)
        return found

    def figure(self, label: str, column: str = "Candidate") -> str:
        """Text of a cell of the key figures, scrolled to as only rows in sight are written."""
        model = self._window.figures.model
        titles = [model.horizontalHeaderItem(number).text() for number in range(model.columnCount())]
        row = next(row for row in range(model.rowCount()) if model.item(row, 0).text() == label)
        self._window.figures.table.scrollTo(model.index(row, 0))
        return model.item(row, titles.index(column)).text()

    def number(self, label: str, column: str = "Candidate") -> float:
        """Number of a cell of the key figures."""
        return float(self.figure(label, column).replace("−", "-"))

    def in_sight(self, widget: QWidget) -> bool:
        """Whether a widget is on the screen and not scrolled away."""
        return widget.isVisible() and not widget.visibleRegion().isEmpty()
