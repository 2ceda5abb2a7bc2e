"""The handbook from the real window: by menu, and by F1 on what has the focus."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from pytestqt.qtbot import QtBot

from workbench.help import browse
from workbench.help.site import HOW_TO_BUILD
from workbench.window.main_window import MainWindow


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[QUrl]:
    """Addresses that the browser was asked for; the handbook counts as built."""
    urls: list[QUrl] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: urls.append(url) is None)
    monkeypatch.setattr(browse, "is_built", lambda _site: True)
    return urls


def _place(url: QUrl) -> str:
    anchor = f"#{url.fragment()}" if url.hasFragment() else ""
    return f"{Path(url.toLocalFile()).name}{anchor}"


def test_the_menu_opens_each_part_of_the_handbook(window: MainWindow, opened: list[QUrl]) -> None:
    for key in ("contents", "tutorial", "theory", "glossary", "verification"):
        window.actions_by_key[f"help_{key}"].trigger()
    assert [_place(url) for url in opened] == [
        "index.html",
        "tutorial.html",
        "index.html",
        "glossary.html",
        "verification.html",
    ]
    assert opened[2].toLocalFile().endswith("theory/index.html")


def test_f1_opens_the_section_of_what_has_the_focus(
    window: MainWindow, qtbot: QtBot, opened: list[QUrl]
) -> None:
    row = next(row for row in window.editor.form.rows() if row.path == ("wheelbase",))
    field = row.tab_stops()[0]
    field.setFocus()
    qtbot.keyClick(field, Qt.Key.Key_F1)
    window.pages.setCurrentWidget(window.pages.modes)
    window.pages.tabBar().setFocus()
    qtbot.keyClick(window.pages.tabBar(), Qt.Key.Key_F1)
    assert [_place(url) for url in opened] == [
        "parameters-car.html#field-vehicle-wheelbase",
        "window.html#window-modes",
    ]


def test_without_a_built_handbook_the_window_says_how_to_build_it(
    window: MainWindow, opened: list[QUrl], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(browse, "is_built", lambda _site: False)
    window.actions_by_key["help_contents"].trigger()
    assert opened == []
    assert window.notice.text.text() == HOW_TO_BUILD
