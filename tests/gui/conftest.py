"""The whole window, on settings and state of its own."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from tests.gui.hands import Hands
from workbench.app import first_project
from workbench.settings import Settings
from workbench.window.main_window import MainWindow


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    settings = Settings(str(tmp_path / "settings.ini"))
    settings.theme = "light"
    return settings


@pytest.fixture
def window(qtbot: QtBot, settings: Settings) -> Iterator[MainWindow]:
    window = MainWindow(first_project(), settings)
    window.resize(1600, 1000)
    window.show()
    window.engine.update_now()
    window.activateWindow()
    with qtbot.waitActive(window):
        pass
    yield window
    close(window)


@pytest.fixture
def hands(window: MainWindow, qtbot: QtBot) -> Hands:
    return Hands(window, qtbot)


def close(window: MainWindow) -> None:
    """End a window without being asked about its changes."""
    window.document.undo_stack.setClean()
    window.close()
    window.deleteLater()
