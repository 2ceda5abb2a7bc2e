"""The whole window, on settings and state of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from tests.gui.hands import Hands
from workbench.app import first_project, first_window
from workbench.settings import Settings
from workbench.window.autosave import Autosave
from workbench.window.main_window import MainWindow

Start = Callable[[Path], tuple[MainWindow, Autosave]]


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    settings = Settings(str(tmp_path / "settings.ini"))
    settings.theme = "light"
    return settings


@pytest.fixture
def window(qtbot: QtBot, settings: Settings) -> Iterator[MainWindow]:
    window = MainWindow(first_project(), settings)
    try:
        window.resize(1600, 1000)
        window.show()
        window.engine.update_now()
        window.activateWindow()
        with qtbot.waitActive(window):
            pass
        yield window
    finally:
        close(window)


@pytest.fixture
def start(settings: Settings) -> Iterator[Start]:
    """Starts the program on a state folder; closed however the test ends, as the next one would find it."""
    started: list[tuple[MainWindow, Autosave]] = []

    def make(folder: Path) -> tuple[MainWindow, Autosave]:
        started.append(first_window(settings, folder))
        return started[-1]

    yield make
    for window, autosave in started:
        close(window)
        autosave.end()


@pytest.fixture
def hands(window: MainWindow, qtbot: QtBot) -> Hands:
    return Hands(window, qtbot)


def close(window: MainWindow) -> None:
    """End a window without being asked about its changes."""
    window.document.undo_stack.setClean()
    window.close()
    window.deleteLater()
