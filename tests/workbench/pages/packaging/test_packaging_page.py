"""The page of the packaging in the hands of its user."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from models.analysis import Analysis, analyse
from models.fields import Path as FieldPath
from models.fields import replaced
from models.hardware import Hardware, TorsionBar, TrimBar
from models.linkage import WishboneDropLink
from models.project import Project, load
from models.units import INCH_POUND
from models.vehicle import Stop, Vehicle
from tests.screen import show
from workbench.document import Document
from workbench.pages.packaging import PackagingPage
from workbench.pages.packaging.check_table import BASELINE, CASE, MARGIN, UNIT, VALUE
from workbench.runner import Runner
from workbench.theme import DARK

PROJECT = load(Path(__file__).parents[4] / "sample_projects" / "large_saloon.corduroy")
JOINED, COIL = PROJECT.candidate, PROJECT.baseline
AT = PROJECT.names.index(JOINED)
VEHICLE: FieldPath = ("variants", AT, "vehicle")
LONG = 15000  # ms


@cache
def results(vehicle: Vehicle) -> Analysis:
    return analyse(vehicle, PROJECT.run, compiled=False)


def car(project: Project, name: str = JOINED) -> Analysis:
    return results(project.variant(name).vehicle)


def opened(qtbot: QtBot, runner: Runner, project: Project, baseline: bool = True) -> PackagingPage:
    page = PackagingPage(Document(project), runner)
    qtbot.addWidget(page)
    page.resize(1100, 650)
    show(qtbot, page)
    with qtbot.waitSignal(page.travel.shown, timeout=LONG):
        page.show_results(car(project), car(project, COIL) if baseline else None, (JOINED, COIL))
    return page


@pytest.fixture
def page(qtbot: QtBot, runner: Runner) -> PackagingPage:
    return opened(qtbot, runner, PROJECT)


@pytest.fixture
def trim(qtbot: QtBot, page: PackagingPage) -> PackagingPage:
    with qtbot.waitSignal(page.trim.shown, timeout=LONG):
        page.tabs.setCurrentWidget(page.trim)
    return page


def cell(page: PackagingPage, row: int, column: int, role: int = Qt.ItemDataRole.DisplayRole) -> object:
    return page.travel.table.cells.index(row, column).data(role)


def falling() -> Project:
    soft = replaced(PROJECT, (*VEHICLE, "left", "coupling", "bar_rate"), 0.0)
    soft = replaced(soft, (*VEHICLE, "front", "bump_stop"), Stop())
    return replaced(soft, (*VEHICLE, "front", "spring", "rate"), 0.0)


def test_missed_checks_stand_on_top_in_the_colour_of_the_mark(page: PackagingPage) -> None:
    table = page.travel.table
    assert [row.met for row in table.rows[:3]] == [False, False, True]
    assert page.travel.verdict.text().startswith("2 of ")
    assert [cell(page, 0, column) for column in (CASE, VALUE, MARGIN, UNIT)] == [
        "full boot",
        "82.3",
        "−7.32",
        "mm",
    ]
    page.set_theme(DARK)
    assert cell(page, 0, MARGIN, Qt.ItemDataRole.ForegroundRole).name() == DARK.mark  # type: ignore[attr-defined]
    tip = str(cell(page, 0, VALUE, Qt.ItemDataRole.ToolTipRole))
    assert "the limit is the gap of the bump stop" in tip
    assert "At most 75.0 mm: 7.32 mm missing." in tip
    shares = [row.margin / row.limit for row in table.rows if row.met]
    assert shares == sorted(shares)
    assert [chart.key for chart in page.charts()] == ["packaging-envelope", "packaging-clearance"]


def test_a_click_on_a_head_sorts_below_what_is_missed(page: PackagingPage) -> None:
    table = page.travel.table
    for descending in (False, True):
        table.horizontalHeader().sectionClicked.emit(CASE)
        assert [row.met for row in table.rows[:3]] == [False, False, True]
        cases = [row.case for row in table.rows[2:]]
        assert cases == sorted(cases, reverse=descending)
    table.horizontalHeader().sectionClicked.emit(VALUE)
    table.set_units(INCH_POUND)
    assert cell(page, 0, UNIT) == "in"


def test_baseline_stands_beside_the_candidate_only_where_there_is_another(
    page: PackagingPage, qtbot: QtBot
) -> None:
    assert cell(page, 0, BASELINE) == "49.8"
    assert {curve.role for curve in page.charts()[0].curves} == {"limit", "baseline", "candidate"}
    with qtbot.waitSignal(page.travel.shown, timeout=LONG):
        page.show_results(car(PROJECT), None, (JOINED, JOINED))
    assert page.travel.table.isColumnHidden(BASELINE)


def test_a_limit_is_edited_as_one_step(page: PackagingPage, qtbot: QtBot) -> None:
    row = page.travel.form.row("lever_angle_limit")
    row.number.setText("12")
    row.number.commit()
    document = page.travel._document
    assert document.undo_stack.count() == 1
    with qtbot.waitSignal(page.travel.shown, timeout=LONG):
        page.show_results(car(document.project), None, (JOINED, COIL))
    assert any(row.figure.label == "Interconnection bar, lever" for row in page.travel.table.rows[:4])
    document.undo_stack.undo()
    assert document.project == PROJECT


def test_links_of_a_chain_are_checked(qtbot: QtBot, runner: Runner) -> None:
    joined = replaced(PROJECT, (*VEHICLE, "left", "coupling", "front_linkage"), WishboneDropLink())
    page = opened(qtbot, runner, joined, baseline=False)
    names = {(row.figure.label, row.place) for row in page.travel.table.rows}
    assert ("Interconnection bar, drop link at the lever", "FL") in names


def test_the_tick_asks_for_the_marks_and_follows_the_stage(page: PackagingPage, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.room_wanted) as wanted:
        page.travel.on_stage.click()
    assert wanted.args == [True]
    with qtbot.assertNotEmitted(page.room_wanted):
        page.show_room(False)
    assert not page.travel.on_stage.isChecked()


def test_project_without_load_cases_says_where_to_add_them(qtbot: QtBot, runner: Runner) -> None:
    page = opened(qtbot, runner, replaced(PROJECT, ("load_cases",), ()))
    assert {row.case for row in page.travel.table.rows} == {"as designed", "run", ""}
    assert "“Load cases”" in page.travel.hint.text()
    assert "All" in page.travel.verdict.text()


def test_car_that_does_not_stand_is_told_on_both_sides(qtbot: QtBot, runner: Runner) -> None:
    page = opened(qtbot, runner, falling(), baseline=False)
    assert "stands in none of the load cases" in page.travel.reasons.text()
    assert "cannot be made" in page.travel.verdict.text()
    with qtbot.waitSignal(page.trim.shown, timeout=LONG):
        page.tabs.setCurrentWidget(page.trim)
    assert page.trim.empty.isVisible()
    assert "nothing holds the body" in page.trim.empty.text()
    assert page.charts() == []


def test_stack_is_drawn_with_yield_method_and_charts(trim: PackagingPage) -> None:
    view = trim.trim
    assert view.stack is not None
    assert len(view.stack.draws) == 1000
    assert "of 1,000 drawn cars stand within ±10.0 mm" in view.words.text()
    assert "95 % confidence" in view.words.text()
    assert "three standard deviations" in view.method.text()
    assert "Left out" in view.method.text()
    assert [chart.key for chart in trim.charts()] == [
        "stack-effects",
        "stack-shares",
        "stack-heights",
        "stack-pitch",
    ]
    row = [view.table.cells.item(1, column) for column in range(8)]
    assert [row[0].text(), row[1].text()] == ["Bar clocking", "± 0.50 deg"]
    assert "Height FL ±" in row[0].toolTip()
    assert "K⁻¹" in row[2].toolTip()


def test_tolerances_draws_and_load_case_draw_anew(trim: PackagingPage, qtbot: QtBot) -> None:
    view = trim.trim
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.form.row("distribution").chosen("uniform")
    assert view._document.undo_stack.count() == 1
    assert "uniform" in view.method.text()
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.draws.setValue(200)
    assert view.stack is not None
    assert len(view.stack.draws) == 200
    number = view.load_box.findText("four up")
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.load_box.setCurrentIndex(number)
        view.load_box.activated.emit(number)
    assert view.stack.load == "four up"
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view._document.edit(("load_case",), "towing")
    assert view.load_box.currentText() == view.stack.load == "towing"


def test_diameters_come_from_the_steel(trim: PackagingPage, qtbot: QtBot) -> None:
    steel = Hardware(trim=TrimBar(bar=TorsionBar(diameter=0.04, head_diameter=0.05)))
    with qtbot.waitSignal(trim.trim.shown, timeout=LONG):
        trim.trim._document.edit(("variants", AT, "hardware"), steel)
    assert trim.trim.stack is not None
    (bar,) = (
        part
        for part in trim.trim.stack.parts
        if (part.group, part.label) == ("bar_diameter", "left trim spring")
    )
    assert bar.nominal == 0.04


def test_a_draw_can_be_cancelled_and_only_the_newest_is_shown(
    trim: PackagingPage, qtbot: QtBot, runner: Runner
) -> None:
    view = trim.trim
    before = view.stack
    view.draws.setValue(100_000)
    runner.cancel()
    assert view.message.isVisible()
    assert "Cancelled" in view.message.text()
    assert view.stack is before
    shown = []
    view.shown.connect(lambda: shown.append(view.seed.value()))
    view.draws.setValue(100)
    for seed in (5, 6, 7):
        view.seed.setValue(seed)
    qtbot.waitUntil(lambda: shown == [7], timeout=LONG)
    assert view.stack is not None
    assert view.stack.seed == 7
    assert not view.message.isVisible()


def test_nothing_is_computed_out_of_sight(page: PackagingPage, qtbot: QtBot) -> None:
    assert page.trim.stack is None
    before = page.travel.report
    page.hide()
    page.travel._document.edit((*VEHICLE, "packaging", "link_angle_limit"), 0.5)
    page.show_results(car(page.travel._document.project), None, (JOINED, COIL))
    assert page.travel.report is before
    with qtbot.waitSignal(page.travel.shown, timeout=LONG):
        page.show()
    assert page.travel.report is not before


@pytest.mark.parametrize("width", [540, 700, 1100])
def test_tables_are_whole_at_every_width(trim: PackagingPage, qtbot: QtBot, width: int) -> None:
    trim.resize(width, 360)
    table = trim.trim.table
    qtbot.waitUntil(lambda: not table.horizontalScrollBar().isVisible())
    form = trim.trim.form.mapTo(trim, QPoint())
    assert (form.x() < table.mapTo(trim, QPoint()).x()) == (width == 1100) or form.y() > 360
