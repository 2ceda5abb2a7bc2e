"""From a figure of the scorecard to its curve over speed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from models.analysis import analyse
from models.project import load
from models.units import METRIC
from workbench.cursor import TimeCursor
from workbench.document import Document
from workbench.runner import Runner
from workbench.settings import Settings
from workbench.window.all_pages import AllPages

PROJECT = load(Path(__file__).parents[3] / "sample_projects" / "large_saloon.corduroy")
LONG = 20000  # ms


@pytest.fixture
def runner() -> Iterator[Runner]:
    made = Runner()
    yield made
    made.stop()


def test_the_chosen_figure_opens_the_page_of_the_speeds(qtbot: QtBot, runner: Runner, tmp_path: Path) -> None:
    settings = Settings(str(tmp_path / "settings.ini"))
    pages = AllPages(Document(PROJECT), runner, settings, TimeCursor())
    qtbot.addWidget(pages)
    pages.resize(1100, 700)
    pages.set_units(METRIC)
    cars = [analyse(PROJECT.variant(name).vehicle, PROJECT.run) for name in PROJECT.names[:2]]
    with qtbot.waitSignal(pages.scorecard.shown, timeout=LONG):
        pages.setCurrentWidget(pages.scorecard)
        pages.show()
        pages.show_results(cars[0], cars[1], PROJECT.names[:2])
    table = pages.scorecard.table
    rows = map(table.row_at, range(table.cells.rowCount()))
    place = next(n for n, row in enumerate(rows) if row is not None and row.figure.key == "peak_pitch")
    index = table.cells.index(place, 0)
    table.scrollTo(index)
    qtbot.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=table.visualRect(index).center())
    with qtbot.waitSignal(pages.sweep.runs_shown, timeout=LONG):
        qtbot.mouseClick(pages.scorecard.speeds_button, Qt.MouseButton.LeftButton)
    assert pages.currentWidget() is pages.sweep
    chart = pages.sweep.panels[0].chart
    assert chart is not None
    assert chart.title == "Peak pitch angle · speed"
    assert [len(curve.x) for curve in chart.curves] == [31, 31]
    assert pages.charts()[0] is chart
