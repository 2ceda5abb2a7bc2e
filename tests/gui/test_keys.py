"""All that can be done with the mouse can be done with keys."""

from __future__ import annotations

from collections import Counter

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QMenu, QWidget
from pytestqt.qtbot import QtBot

from tests.gui.hands import Hands
from workbench.window.actions import ACTIONS, MENUS
from workbench.window.keyboard import KeyboardPage
from workbench.window.main_window import MainWindow
from workbench.window.mnemonics import letter_of

KEY = Qt.Key
NONE, CTRL, SHIFT = (
    Qt.KeyboardModifier.NoModifier,
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.ShiftModifier,
)


def press(qtbot: QtBot, key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
    qtbot.keyClick(QApplication.focusWidget(), key, held)


def test_no_key_has_two_meanings(window: MainWindow) -> None:
    keys = Counter(
        keys.toString()
        for action in window.findChildren(QAction)
        for keys in action.shortcuts()
        if action.shortcutContext() == Qt.ShortcutContext.WindowShortcut
    )
    assert [key for key, number in keys.items() if number > 1] == []


def test_each_entry_of_a_menu_has_a_letter_of_its_own(window: MainWindow) -> None:
    def check(menu: QMenu) -> None:
        menu.aboutToShow.emit()
        entries = [action for action in menu.actions() if not action.isSeparator()]
        letters = [letter_of(action.text()) for action in entries]
        assert all(letters), [action.text() for action in entries]
        assert len(set(letters)) == len(letters), [action.text() for action in entries]
        for action in entries:
            inner = action.menu()
            if isinstance(inner, QMenu) and inner.isEnabled():
                check(inner)

    for name in MENUS:
        check(window._menus[name])


def test_letters_in_the_window_do_not_clash(window: MainWindow, qtbot: QtBot) -> None:
    """Menus, labels and buttons that are on show together."""
    menus = [letter_of(action.text()) for action in window.menuBar().actions()]
    assert all(menus)
    clashes = {}
    for number, title in enumerate(window.pages.titles()):
        window.pages.setCurrentIndex(number)
        labels = [label.text() for label in window.findChildren(QLabel) if label.buddy() and shown(label)]
        buttons = [button.text() for button in window.findChildren(QAbstractButton) if shown(button)]
        letters = Counter([*menus, *filter(None, map(letter_of, labels + buttons))])
        double = {letter for letter, times in letters.items() if times > 1}
        if double:
            clashes[title] = [text for text in labels + buttons if letter_of(text) in double]
    assert clashes == {}


def shown(widget: QWidget) -> bool:
    return widget.isVisible() and not widget.visibleRegion().isEmpty()


def test_pages_turn_by_keys(window: MainWindow, qtbot: QtBot) -> None:
    pages = window.pages
    window.stage.setFocus()
    press(qtbot, KEY.Key_3, CTRL)
    assert pages.tabText(pages.currentIndex()) == "Compare"
    press(qtbot, KEY.Key_PageDown, CTRL)
    assert pages.currentIndex() == 3
    press(qtbot, KEY.Key_1, CTRL)
    press(qtbot, KEY.Key_PageUp, CTRL)  # round the end
    assert pages.currentIndex() == pages.count() - 1
    checked = [action.text().replace("&", "") for action in window._page_actions if action.isChecked()]
    assert checked == [pages.titles()[-1]]


def test_a_round_through_the_panels(window: MainWindow, qtbot: QtBot) -> None:
    window.stage.setFocus()
    visited = []
    for _ in range(5):
        visited.append(window.places.here())
        press(qtbot, KEY.Key_F6)
    assert visited == ["stage", "car", "page", "variants", "figures"]
    assert window.places.here() == "stage"
    press(qtbot, KEY.Key_F6, SHIFT)
    assert window.places.here() == "figures"
    press(qtbot, KEY.Key_3, Qt.KeyboardModifier.AltModifier)  # behind the car
    assert window.places.here() == "road"
    assert window.run_form.isVisible()


def test_f10_goes_to_the_menus(window: MainWindow, qtbot: QtBot) -> None:
    window.stage.setFocus()
    press(qtbot, KEY.Key_F10)
    file = window._menus["File"]
    qtbot.waitUntil(file.isVisible)
    qtbot.keyClick(file, KEY.Key_Escape)
    qtbot.waitUntil(lambda: not file.isVisible())


def test_the_stage_runs_by_keys(window: MainWindow, qtbot: QtBot) -> None:
    cursor, stage = window.time_cursor, window.stage
    window.places.go("stage")
    plain = stage.grab().toImage()
    press(qtbot, KEY.Key_Space)
    assert cursor.playing
    press(qtbot, KEY.Key_Home)
    assert (cursor.playing, cursor.time) == (False, 0.0)
    press(qtbot, KEY.Key_Right)
    assert cursor.time == pytest.approx(1 / 60)
    press(qtbot, KEY.Key_Right, SHIFT)
    assert cursor.time == pytest.approx(1 / 60 + 0.1)
    press(qtbot, KEY.Key_End)
    assert cursor.time == cursor.duration
    press(qtbot, KEY.Key_Home)
    before = stage.exaggeration
    press(qtbot, KEY.Key_Up)
    assert stage.exaggeration == before + 1
    press(qtbot, KEY.Key_Down)
    assert stage.grab().toImage() == plain


def test_a_chart_is_read_and_zoomed_by_keys(window: MainWindow, hands: Hands, qtbot: QtBot) -> None:
    hands.settle()
    view = window.plots.panels[2].view
    canvas = view._canvas
    assert view.readout == ""
    canvas.setFocus(Qt.FocusReason.TabFocusReason)
    middle = view.readout
    assert "Hz" in middle
    press(qtbot, KEY.Key_Right)
    assert view.readout != middle
    assert canvas.accessibleDescription() == view.readout
    whole = canvas.ranges
    press(qtbot, KEY.Key_Plus)
    assert canvas.ranges[0][1] - canvas.ranges[0][0] == pytest.approx((whole[0][1] - whole[0][0]) / 1.25)
    near = canvas.ranges
    press(qtbot, KEY.Key_Right, Qt.KeyboardModifier.AltModifier)
    assert canvas.ranges[0][0] > near[0][0]
    assert canvas.ranges[1] == near[1]
    press(qtbot, KEY.Key_0)
    assert canvas.ranges == whole
    press(qtbot, KEY.Key_Escape)
    assert view.readout == ""


def test_the_page_of_keys_names_every_action_that_has_one(window: MainWindow, hands: Hands) -> None:
    hands.choose("shortcuts")
    page = next(one for one in window.findChildren(KeyboardPage) if one.isVisible())
    text = page.text.toPlainText()
    for spec in ACTIONS:
        if spec.shortcut:
            assert spec.tip in text
            assert QKeySequence(spec.shortcut).toString(QKeySequence.SequenceFormat.NativeText) in text
    assert "Ctrl+9" in text
    assert "Studies" not in text  # the twelfth page has no key of its own
    assert page.height() < 900
    page.close()
