"""F1 opens the section of what has the focus or shows its tooltip."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QUrl
from PySide6.QtGui import QCursor, QDesktopServices
from PySide6.QtWidgets import QDockWidget, QLabel, QToolTip, QWidget
from pytestqt.qtbot import QtBot

from models.analysis import analyse
from models.charts import build
from models.judge import key_figures
from models.project import new_project
from models.run import Run
from models.vehicle import Vehicle
from workbench.document import Document
from workbench.editor import PartForm
from workbench.figure_table import FigureTable
from workbench.help import browse
from workbench.help.anchors import CONTENTS
from workbench.help.context import HINT, place_of, place_wanted
from workbench.help.site import HOW_TO_BUILD
from workbench.plots import PlotPanel
from workbench.window.figures_panel import FiguresPanel

_ANALYSIS = analyse(Vehicle(), Run(laws="linear", duration=0.2), compiled=False)


class _Opened:
    """Stands for the browser."""

    def __init__(self, works: bool = True) -> None:
        self.urls: list[QUrl] = []
        self.works = works

    def __call__(self, url: QUrl) -> bool:
        self.urls.append(url)
        return self.works


@pytest.fixture
def browser(monkeypatch: pytest.MonkeyPatch) -> _Opened:
    opened = _Opened()
    monkeypatch.setattr(QDesktopServices, "openUrl", opened)
    return opened


def test_a_row_of_the_editor_has_the_place_of_its_field(qtbot: QtBot) -> None:
    form = PartForm(Run, Document(new_project()), ("run",), "Run")
    qtbot.addWidget(form)
    speed = next(row for row in form.rows() if row.path == ("speed",))
    assert place_of(speed.tab_stops()[0], None) == "parameters-run.html#field-run-speed"
    assert HINT in speed.toolTip()


def test_a_figure_has_its_place_whether_chosen_or_pointed_at(qtbot: QtBot) -> None:
    panel = FiguresPanel()
    qtbot.addWidget(panel)
    figures = key_figures(_ANALYSIS)
    panel.show_figures(figures, figures)
    panel.resize(400, 400)
    panel.show()
    row = next(
        row for row in range(panel.model.rowCount()) if panel.model.item(row, 0).text() == "RMS pitch angle"
    )
    panel.table.setCurrentIndex(panel.model.index(row, 2))
    assert place_of(panel.table, None) == "figures.html#figure-rms-pitch"
    assert HINT in panel.model.item(row, 2).toolTip()

    middle = panel.table.visualRect(panel.model.index(row, 3)).center()
    at = panel.table.viewport().mapToGlobal(middle)
    panel.table.setCurrentIndex(panel.model.index(0, 0))
    assert place_of(panel.table.viewport(), at) == "figures.html#figure-rms-pitch"


def test_a_table_of_figures_has_their_places(qtbot: QtBot) -> None:
    table = FigureTable(None, "Figures")
    qtbot.addWidget(table)
    table.show_figures(key_figures(_ANALYSIS)[:3])
    table.setCurrentIndex(table.rows.index(1, 1))
    assert place_of(table, None) == "figures.html#figure-rms-pitch-velocity"


def test_a_chart_has_its_place(qtbot: QtBot) -> None:
    panel = PlotPanel("psd-pitch")
    qtbot.addWidget(panel)
    panel.show_analyses(_ANALYSIS)
    assert place_of(panel.view, None) == "charts.html#chart-psd-pitch"
    panel.view.set_chart(build("time-pitch", _ANALYSIS))
    assert place_of(panel, None) == "charts.html#chart-time-pitch"


def test_what_knows_nothing_has_the_place_of_what_it_stands_in(qtbot: QtBot) -> None:
    dock = QDockWidget("Key figures")
    qtbot.addWidget(dock)
    inner = QLabel("words", dock)
    assert place_of(inner, None) == "window.html#window-key-figures"
    alone = QWidget()
    qtbot.addWidget(alone)
    assert place_of(alone, QPoint(0, 0)) == ""
    assert place_of(None, None) == ""


def test_without_focus_the_contents_are_wanted(qtbot: QtBot) -> None:
    assert place_wanted() == CONTENTS


def test_a_place_is_opened_with_its_anchor(site: Path, browser: _Opened) -> None:
    assert browse.show_help("theory/rates.html#theory-rates", site) == ""
    (url,) = browser.urls
    assert url.isLocalFile()
    assert Path(url.toLocalFile()) == site / "theory" / "rates.html"
    assert url.fragment() == "theory-rates"


def test_a_handbook_that_is_not_built_says_how(tmp_path: Path, browser: _Opened) -> None:
    assert browse.show_help(CONTENTS, tmp_path) == HOW_TO_BUILD
    assert browser.urls == []


def test_without_a_browser_the_file_is_named(site: Path, browser: _Opened) -> None:
    browser.works = False
    assert str(site / "index.html") in browse.show_help(CONTENTS, site)


def test_what_shows_its_tooltip_goes_before_what_has_the_focus(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    panel = FiguresPanel()
    qtbot.addWidget(panel)
    panel.show_figures(key_figures(_ANALYSIS), key_figures(_ANALYSIS))
    panel.resize(400, 400)
    with qtbot.waitExposed(panel):
        panel.show()
    at = panel.table.viewport().mapToGlobal(panel.table.visualRect(panel.model.index(1, 0)).center())
    monkeypatch.setattr(QCursor, "pos", lambda: at)
    assert place_wanted() == CONTENTS
    QToolTip.showText(at, "tip", panel.table.viewport())
    assert place_wanted() == "figures.html#figure-rms-pitch"
    QToolTip.hideText()
