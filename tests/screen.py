"""Windows as a user has them before him."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

__all__ = ["move_mouse", "show"]


def show(qtbot: QtBot, window: QWidget) -> None:
    """Show a window and wait until it is drawn and takes the keys.

    A screen without a window manager, as in CI, gives the keys to no window by itself.
    """
    window.show()
    window.activateWindow()
    with qtbot.waitActive(window):
        pass


def move_mouse(widget: QWidget, place: QPoint, held: Qt.MouseButton = Qt.MouseButton.NoButton) -> None:
    """Move the mouse to a place in a widget; handed over at once, as a screen sends it when it likes."""
    move = QMouseEvent(
        QEvent.Type.MouseMove,
        QPointF(place),
        QPointF(widget.mapToGlobal(place)),
        Qt.MouseButton.NoButton,
        held,
        Qt.KeyboardModifier.NoModifier,
    )
    QApplication.sendEvent(widget, move)
