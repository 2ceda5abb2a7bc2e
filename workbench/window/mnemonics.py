"""A letter under each entry of a menu, so that keys alone choose it."""

from __future__ import annotations

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu

__all__ = ["follow_menu", "give_mnemonics", "letter_of", "plain"]


def letter_of(text: str) -> str:
    """Letter that a text is chosen by, in lower case; empty where it has none."""
    _, found, rest = text.replace("&&", "").partition("&")
    return rest[:1].lower() if found else ""


def give_mnemonics(menu: QMenu) -> None:
    """Give each entry without a letter the first free one: of its words first, then any."""
    entries = [action for action in menu.actions() if action.text() and not action.isSeparator()]
    taken = {letter_of(action.text()) for action in entries} - {""}
    for action in entries:
        text = action.text()
        if letter_of(text):
            continue
        place = next((place for place in _places(text) if text[place].lower() not in taken), None)
        if place is not None:
            taken.add(text[place].lower())
            action.setText(f"{text[:place]}&{text[place:]}")


def follow_menu(menu: QMenu) -> None:
    """Keep the letters of a menu right, whatever its entries say by the time that it opens."""
    menu.aboutToShow.connect(lambda: give_mnemonics(menu))


def plain(action: QAction) -> str:
    """Text of an action without its letter and dots."""
    return action.text().replace("&&", "\0").replace("&", "").replace("\0", "&").rstrip("…")


def _places(text: str) -> list[int]:
    """Where a letter may be underlined: at the start of words, then inside them."""
    letters = [place for place, sign in enumerate(text) if sign.isascii() and sign.isalnum()]
    return sorted(letters, key=lambda place: place > 0 and text[place - 1] != " ")
