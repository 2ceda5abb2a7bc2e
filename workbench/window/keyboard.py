"""The page that lists the keys: of all actions, as they are, and of what has the focus."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QMenu, QTextBrowser, QVBoxLayout, QWidget

from workbench.window.mnemonics import plain

__all__ = ["KeyboardPage", "shortcuts_text"]

#: Keys that belong to a view and hold while it has the focus.
_VIEWS: dict[str, tuple[tuple[str, str], ...]] = {
    "Everywhere": (
        ("Tab", "To the next field or button; with Shift to the one before"),
        ("Alt", "To the menus, whose underlined letters choose"),
        ("F6", "To the next panel; with Shift to the one before"),
    ),
    "A number": (
        ("Up", "One step more; Down for one less, with Ctrl a fine step"),
        ("PgUp", "Ten steps more; PgDown for ten less"),
        ("Return", "Take what is typed"),
        ("Esc", "Forget what is typed"),
    ),
    "The stage": (
        ("Space", "Play or pause"),
        ("Right", "One frame on; Left for one back, with Shift 0.1 s"),
        ("Home", "To the start; End for the end"),
        ("Up", "More vertical exaggeration; Down for less"),
    ),
    "A chart": (
        ("Right", "Read out further right; Left for further left, with Shift ten times as far"),
        ("Home", "Read out at the left end; End at the right"),
        ("+", "Zoom in about the line; - to zoom out, 0 to fit"),
        ("Alt+Right", "Move the window to the right; Alt+Left to the left"),
        ("Return", "Choose the point nearest to the line"),
        ("Esc", "Take the line away"),
    ),
    "A table": (
        ("F2", "Edit the cell"),
        ("Menu", "What can be done with it, also by Shift+F10"),
    ),
}


class KeyboardPage(QDialog):
    """Shows the keys, to be read beside the work."""

    def __init__(self, menus: Iterable[QMenu], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Keyboard shortcuts")
        self.text = QTextBrowser(self)
        self.text.setAccessibleName("Keyboard shortcuts")
        self.text.setHtml(shortcuts_text(menus))
        buttons = QDialogButtonBox(self)
        buttons.addButton("Close", QDialogButtonBox.ButtonRole.RejectRole)  # without an icon of another style
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(self.text)
        column.addWidget(buttons)
        line = self.fontMetrics().lineSpacing()
        self.resize(44 * line, 36 * line)


def shortcuts_text(menus: Iterable[QMenu]) -> str:
    """Keys as HTML: of the actions of ``menus`` first, then of the views."""
    parts = [
        (plain(menu.menuAction()), [(_native(action), _meaning(action)) for action in _with_keys(menu)])
        for menu in menus
    ]
    parts += [
        (title, [(_native_text(keys), meaning) for keys, meaning in rows]) for title, rows in _VIEWS.items()
    ]
    return "".join(
        f"<h4>{escape(title)}</h4><table>{''.join(_row(*row) for row in rows)}</table>"
        for title, rows in parts
        if rows
    )


def _with_keys(menu: QMenu) -> Iterator[QAction]:
    for action in menu.actions():
        inner = action.menu()
        if isinstance(inner, QMenu):
            yield from _with_keys(inner)
        elif not action.shortcut().isEmpty():
            yield action


def _meaning(action: QAction) -> str:
    tip = action.statusTip()
    return f"{plain(action)}: {tip}" if tip else plain(action)


def _native(action: QAction) -> str:
    return ", ".join(
        keys.toString(QKeySequence.SequenceFormat.NativeText) for keys in action.shortcuts() if keys
    )


def _native_text(keys: str) -> str:
    return QKeySequence(keys).toString(QKeySequence.SequenceFormat.NativeText) or keys


def _row(keys: str, meaning: str) -> str:
    return (
        f"<tr><td width='130'>{escape(keys)}</td><td style='padding-left: 12px'>{escape(meaning)}</td></tr>"
    )
