"""The table of actions: each entry whole, none twice."""

from __future__ import annotations

from PySide6.QtGui import QKeySequence

from workbench.resources import folder
from workbench.window.actions import ACTIONS, MENUS
from workbench.window.main_window import MainWindow


def test_keys_and_shortcuts_occur_once() -> None:
    keys = [spec.key for spec in ACTIONS]
    assert len(keys) == len(set(keys))
    shortcuts = [QKeySequence(spec.shortcut).toString() for spec in ACTIONS if spec.shortcut]
    assert all(shortcuts)
    assert len(shortcuts) == len(set(shortcuts))


def test_every_entry_says_what_it_does() -> None:
    for spec in ACTIONS:
        assert spec.menu.split("/")[0] in MENUS
        assert spec.text
        assert len(spec.tip) > 5
        assert not spec.icon or (folder("icons") / f"{spec.icon}.svg").is_file()


def test_every_entry_has_a_handler_and_a_place(window: MainWindow) -> None:
    assert set(window._handlers()) == {spec.key for spec in ACTIONS}
    for spec in ACTIONS:
        action = window.actions_by_key[spec.key]
        assert action in window._menus[spec.menu].actions()
        assert action.icon().isNull() == (not spec.icon)


def test_entries_of_a_menu_differ_in_their_first_words(window: MainWindow) -> None:
    for name in MENUS:
        texts = [action.text() for action in window._menus[name].actions() if not action.isSeparator()]
        assert len(texts) == len(set(texts))
