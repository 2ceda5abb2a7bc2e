"""The page of the levelling in the hands of its user."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QToolButton
from pytestqt.qtbot import QtBot

from models.analysis import Analysis, analyse
from models.charts import Chart
from models.fields import replaced
from models.project import load
from models.units import INCH_POUND, METRIC
from models.vehicle import Stop, Vehicle
from tests.screen import show
from workbench.document import Document
from workbench.pages.levelling import LevellingPage
from workbench.runner import Runner
from workbench.theme import DARK, LIGHT

PROJECT = load(Path(__file__).parents[4] / "sample_projects" / "large_saloon.corduroy")
JOINED, COIL = "joined torsion bars", "separate coil springs"
LONG = 15000  # ms; the first run may have to compile


def results(vehicle: Vehicle) -> Analysis:
    return analyse(vehicle, PROJECT.run, compiled=False)


@pytest.fixture
def page(qtbot: QtBot, runner: Runner) -> LevellingPage:
    page = LevellingPage(Document(PROJECT), runner)
    qtbot.addWidget(page)
    page.resize(1100, 650)
    show(qtbot, page)
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.show_results(results(PROJECT.variant(JOINED).vehicle), None, (JOINED, COIL))
    return page


def figure(page: LevellingPage, label: str) -> str:
    rows = page.figures.rows
    found = next(row for row in range(rows.rowCount()) if rows.item(row, 0).text() == label)
    return f"{rows.item(found, 1).text()} {rows.item(found, 2).text()}".strip()


def test_event_of_the_chosen_load_is_on_show(page: LevellingPage) -> None:
    assert page.load_box.currentText() == "towing"
    assert page.run is not None
    assert page.run.load.name == "towing"
    assert [chart.key for chart in page.charts()] == [
        "levelling-height",
        "levelling-wind-up",
        "levelling-current",
    ]
    assert figure(page, "Actuations") == "2"
    assert figure(page, "Time to level, loaded").endswith(" s")


def test_a_chart_is_exported_from_its_menu(page: LevellingPage) -> None:
    asked: list[Chart] = []
    page.export_wanted.connect(asked.append)
    page.views[1].findChild(QToolButton).menu().actions()[0].trigger()
    assert [chart.key for chart in asked] == ["levelling-wind-up"]
    assert page.views[1].title.whole == "Wind-up of the trim springs (deg, lifts the rear +)"


def test_another_load_case_is_run(page: LevellingPage, qtbot: QtBot) -> None:
    number = page.load_box.findText("four up")
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.load_box.setCurrentIndex(number)
        page.load_box.activated.emit(number)
    assert page.run is not None
    assert page.run.load.name == "four up"


def test_edit_of_the_event_runs_it_again_and_a_refused_one_does_not(
    page: LevellingPage, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.form.row("road").chosen("E")
    assert page.run is not None
    assert page.run.event.road == "E"
    page.form.row("duration").number.setText("20")
    page.form.row("duration").number.commit()
    assert "48 s" in page.form.row("duration").message or "51 s" in page.form.row("duration").message
    assert page.holder.part.duration == 85.0


def test_only_the_newest_edit_is_shown(page: LevellingPage, qtbot: QtBot) -> None:
    shown = []
    page.shown.connect(lambda: shown.append(page.run.event.seed if page.run else None))
    for seed in (5, 6, 7, 8):
        page.holder.edit(("seed",), seed)
    qtbot.waitUntil(lambda: shown == [8], timeout=LONG)


def test_other_car_is_run_and_a_hidden_page_waits(page: LevellingPage, qtbot: QtBot) -> None:
    faster = replaced(PROJECT.variant(JOINED).vehicle, ("levelling", "delay"), 3.0)
    page.hide()
    before = page.run
    page.show_results(results(faster), None, (JOINED, COIL))
    assert page.run is before
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.show()
    assert page.run is not None
    assert page.run.levelling.delay == 3.0


def test_car_without_levelling_says_which_fields_to_set(page: LevellingPage, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.show_results(results(PROJECT.variant(COIL).vehicle), None, (COIL, COIL))
    assert page.empty.isVisible()
    for words in ("separate coil springs", "Winding speed", "Trim spring rate"):
        assert words in page.empty.text()
    assert page.charts() == []
    assert not page.check.button.isEnabled()
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.show_results(results(PROJECT.variant(JOINED).vehicle), None, (JOINED, COIL))
    assert not page.empty.isVisible()


def test_project_without_load_cases_asks_for_one(qtbot: QtBot, runner: Runner) -> None:
    page = LevellingPage(Document(replaced(PROJECT, ("load_cases",), ())), runner)
    qtbot.addWidget(page)
    page.show()
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.show_results(results(PROJECT.variant(JOINED).vehicle), None, (JOINED, COIL))
    assert "load case" in page.empty.text()


def test_car_that_does_not_stand_is_told(page: LevellingPage, qtbot: QtBot) -> None:
    vehicle = PROJECT.variant(JOINED).vehicle
    soft = replaced(vehicle, ("left", "coupling", "bar_rate"), 0.0)
    soft = replaced(soft, ("front", "bump_stop"), Stop())  # on which it would come to rest
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.show_results(results(replaced(soft, ("front", "spring", "rate"), 0.0)), None, (JOINED, COIL))
    assert page.message.isVisible()
    assert "does not stand" in page.message.text()


def test_check_counts_and_says_so_in_words(page: LevellingPage, qtbot: QtBot) -> None:
    qtbot.mouseClick(page.check.button, Qt.MouseButton.LeftButton)
    assert page.check.button.text() == "Cancel"
    qtbot.waitUntil(lambda: page.check.found is not None, timeout=4 * LONG)
    assert page.check.words.text().startswith("No actuation in 10 minutes on classes C, D, E.")
    assert "80.0 km/h" in page.check.words.text()
    assert page.charts()[-1].key == "levelling-false-actuations"
    page.set_units(INCH_POUND)
    assert "49.7 mph" in page.check.words.text()


def test_count_of_another_car_is_taken_off(page: LevellingPage, qtbot: QtBot) -> None:
    page.check.count()
    qtbot.waitUntil(lambda: page.check.found is not None, timeout=4 * LONG)
    other = replaced(PROJECT.variant(JOINED).vehicle, ("levelling", "delay"), 3.0)
    page.show_results(results(other), None, (JOINED, COIL))
    assert page.check.found is None
    assert "not counted" in page.check.words.text()


def test_count_can_be_cancelled_here_and_elsewhere(page: LevellingPage, runner: Runner, qtbot: QtBot) -> None:
    page.check.button.click()
    page.check.button.click()
    assert page.check.button.text() == "Count false actuations"
    page.check.button.click()
    runner.cancel()
    assert page.check.button.text() == "Count false actuations"
    assert page.check.found is None


def test_units_and_theme_reach_all_parts(page: LevellingPage) -> None:
    for units, unit in ((INCH_POUND, "in"), (METRIC, "mm")):
        page.set_units(units)
        assert figure(page, "Height error, loaded").endswith(f" {unit}")
        assert all(view.view.units["travel"] == unit for view in page.views)
    for theme in (DARK, LIGHT):
        page.set_theme(theme)
        assert theme.faint in page.empty.styleSheet()


@pytest.mark.parametrize("width", [640, 780, 1100])
def test_charts_have_room_for_their_legends_at_every_width(page: LevellingPage, width: int) -> None:
    page.resize(width, 500)
    legend = "joined torsion bars  front  rear  seen"
    least = page.fontMetrics().horizontalAdvance(legend)
    assert all(view.width() >= least for view in page.views)
    assert all(view.view.height() >= 130 for view in page.views)
    heights, wind_up, _ = (view.mapTo(page, QPoint()) for view in page.views)
    assert (wind_up.x() > heights.x()) == (width >= 1000)
