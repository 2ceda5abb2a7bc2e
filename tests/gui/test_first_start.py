"""What a user meets at the first start."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QStyle, QStyleOptionTab, QTabBar, QToolButton
from pytestqt.qtbot import QtBot

from tests.gui.conftest import Start
from tests.gui.hands import Hands


def test_the_large_saloon_runs_with_the_interconnection_in_sight(
    qtbot: QtBot, start: Start, tmp_path: Path
) -> None:
    window, _ = start(tmp_path / "state")
    hands = Hands(window, qtbot)
    with qtbot.waitExposed(window):
        pass
    assert window.document.project.name == "Large saloon"
    assert "Large saloon" in window.windowTitle()
    assert not window.isWindowModified()
    assert window.engine.candidate is not None
    assert hands.in_sight(hands.at_hand("Interconnection bar rate").slider)
    first = window.stage.grab().toImage()
    start = window.time_cursor.time
    qtbot.waitUntil(lambda: window.time_cursor.time > start + 0.1)
    assert window.stage.grab().toImage() != first


@pytest.mark.parametrize("size", [(1280, 720), (1600, 1000), (1920, 1080)])
def test_the_essentials_are_in_sight_in_every_size(
    qtbot: QtBot, start: Start, tmp_path: Path, size: tuple[int, int]
) -> None:
    window, _ = start(tmp_path / "state")
    window.resize(*size)
    hands = Hands(window, qtbot)
    with qtbot.waitExposed(window):
        pass
    hands.choose("reset_layout")
    assert (window.width(), window.height()) == size
    rows = window.editor.at_hand.entries
    assert [row.label for row in rows] == [
        "Front spring rate",
        "Rear spring rate",
        "Interconnection bar rate",
    ]
    assert all(hands.in_sight(row) for row in rows)
    assert window.stage.height() < size[1] / 3
    for panel in window.plots.panels:
        assert panel.view._canvas.width() > 200
        assert panel.view._canvas.height() > 100
    tabs = window.pages.tabBar()
    if tabs.sizeHint().width() > window.pages.width():  # the bar is scrolled, and a menu has all pages
        chooser = window.pages.cornerWidget()
        assert isinstance(chooser, QToolButton)
        assert hands.in_sight(chooser)
        chooser.menu().aboutToShow.emit()
        assert len(chooser.menu().actions()) == tabs.count()
        chooser.menu().actions()[-1].trigger()
        assert window.pages.currentIndex() == tabs.count() - 1
    for place in range(tabs.count()):
        room = tabs.style().subElementRect(QStyle.SubElement.SE_TabBarTabText, _tab(tabs, place), tabs)
        assert room.width() >= tabs.fontMetrics().horizontalAdvance(tabs.tabText(place))
    table = window.figures.table
    metrics, room = table.fontMetrics(), table.columnWidth(0)
    names = [window.figures.model.item(row, 0).text() for row in range(window.figures.model.rowCount())]
    margins = 8  # of a cell
    qtbot.waitUntil(lambda: table.columnWidth(0) >= max(map(metrics.horizontalAdvance, names)) + margins)
    assert room > 0


def _tab(tabs: QTabBar, place: int) -> QStyleOptionTab:
    option = QStyleOptionTab()
    tabs.initStyleOption(option, place)
    return option
