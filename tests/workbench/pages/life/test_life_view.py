"""The view of lives in the hands of its user."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QToolButton
from pytestqt.qtbot import QtBot

from models.cautions import HARDWARE_CAUTIONS
from models.charts import Chart
from models.fields import replaced
from models.figure_text import distance_text
from models.hardware import Hardware
from models.hardware.fatigue import NOT_COVERED
from models.judge.road_loads import road_loads
from models.judge.steel_life import steel_lives
from models.project import Project, load
from models.roads import HalfSine, RoadShare
from models.units import INCH_POUND, METRIC
from workbench.document import Document
from workbench.pages.life import LifeView
from workbench.runner import Runner
from workbench.theme import DARK

SAMPLE = load(Path(__file__).parents[4] / "sample_projects" / "large_saloon.corduroy")
COILS, SOFT = "separate coil springs", "separate, just as soft"
LONG = 30000  # ms; the first run may have to compile
PART, SIDE, LIFE, TARGET, _, WORST, STRESS, _ = range(8)


def bump(name: str, height: float, share: float) -> RoadShare:
    event = HalfSine(height=height, length=1.0, side="left")
    return RoadShare(name=name, share=share, speed=12.0, event=event)


MIX = (bump("kerb", 0.05, 0.25), bump("hump", 0.02, 0.75))
PROJECT: Project = replaced(replaced(SAMPLE, ("road_mix",), MIX), ("candidate",), SOFT)
FRONT = ("variants", SAMPLE.names.index(SOFT), "vehicle", "front", "spring", "rate")


@pytest.fixture
def document() -> Document:
    return Document(PROJECT)


@pytest.fixture
def view(qtbot: QtBot, runner: Runner, document: Document) -> LifeView:
    view = LifeView(document, runner)
    qtbot.addWidget(view)
    view.resize(1100, 700)
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.show()
    return view


def column(view: LifeView, number: int) -> list[str]:
    rows = view.table.rows
    return [rows.item(row, number).text() for row in range(rows.rowCount())]


def expected(project: Project, name: str) -> list[float]:
    variant = project.variant(name)
    loads = road_loads(variant.vehicle, project.run, project.load, project.road_mix)
    return [one.distance for one in steel_lives(loads, variant.vehicle, variant.hardware)]


def choose(view: LifeView, part: str, side: str) -> None:
    row = list(zip(column(view, PART), column(view, SIDE), strict=True)).index((part, side))
    view.table.selectRow(row)


def test_each_part_and_side_has_its_life(view: LifeView) -> None:
    sides = list(zip(column(view, PART), column(view, SIDE), strict=True))
    assert sides[:4] == [
        (f"{axle} springs", side) for axle in ("Front", "Rear") for side in ("left", "right")
    ]
    assert column(view, LIFE) == [distance_text(life, "km") for life in expected(PROJECT, SOFT)]
    assert set(column(view, TARGET)) == {distance_text(300e6, "km")}
    assert column(view, WORST)[0] == "100 % kerb"  # it lies under the left wheels
    assert view.table.rows.horizontalHeaderItem(LIFE).text() == "Life, 99 %\nkm"
    assert "D_f/Σ(n/N)" in view.table.rows.horizontalHeaderItem(LIFE).toolTip()
    assert view.status.text() == (
        f"Lives that 99 % of the parts reach over the 2 roads of the mix: {SOFT}, as designed."
    )


def test_charts_and_line_follow_the_chosen_part(view: LifeView) -> None:
    choose(view, "Rear springs", "left")
    exceedance, damage, line = view.charts()
    assert [chart.key for chart in (exceedance, damage, line)] == [
        "fatigue-exceedance",
        "fatigue-roads",
        "fatigue-sn",
    ]
    # The baseline has rear springs of its own.
    assert [curve.variant for curve in exceedance.curves] == ["kerb", "hump", COILS, SOFT]
    assert view.line_form.title.text() == "S–N line · Rear springs"
    before = exceedance.curves[-1].y.max()
    choose(view, "Rear springs", "right")
    assert view.charts()[0].curves[-1].y.max() != before


def test_an_edit_of_the_line_is_one_step_and_drives_nothing(
    view: LifeView, document: Document, qtbot: QtBot
) -> None:
    choose(view, "Front springs", "left")
    drive, lives = view.runs.drive, column(view, LIFE)
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.line_form.form.edit(("amplitude",), 200e6)
    assert document.undo_stack.count() == 1
    assert view.runs.drive is drive
    changed = column(view, LIFE)
    assert changed[:2] != lives[:2]
    assert changed[2:] == lives[2:]  # the rear springs have a line of their own
    with qtbot.waitSignal(view.shown, timeout=LONG):
        document.undo_stack.undo()
    assert column(view, LIFE) == lives


def test_a_target_out_of_reach_is_marked(view: LifeView, qtbot: QtBot) -> None:
    assert view.lives is not None
    longest = max(part.life.distance for part in view.lives.parts if part.part.place == "front_spring")
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.target_form.edit(("distance",), min(1.5 * longest, 1e11))
    assert view.lives.parts[0].life.distance < view.lives.parts[0].life.target.distance
    assert view.table.rows.item(0, LIFE).foreground().color().name() == view.table._theme.mark


def test_an_edit_of_the_car_makes_lives_stale_until_it_has_been_driven(
    view: LifeView, document: Document, qtbot: QtBot
) -> None:
    before = column(view, LIFE)
    with qtbot.waitSignal(view.shown, timeout=LONG):
        document.edit(FRONT, 26e3)
        assert view.stale
        assert view.status.text().startswith("Lives from before the last edits")
        assert column(view, LIFE) == before
    assert not view.stale
    assert column(view, LIFE) == [distance_text(life, "km") for life in expected(document.project, SOFT)]


def test_a_hidden_view_computes_nothing_and_catches_up(
    view: LifeView, document: Document, runner: Runner, qtbot: QtBot
) -> None:
    view.hide()
    document.edit(FRONT, 25e3)
    assert runner.idle
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.show()
    assert not view.stale


def test_a_cancelled_drive_can_be_taken_up_again(
    view: LifeView, document: Document, runner: Runner, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(runner.busy_changed, timeout=LONG):
        document.edit(FRONT, 24e3)
    runner.cancel()
    assert view.again.isVisible()
    assert view.status.text() == "The road mix has not been driven to its end."
    with qtbot.waitSignal(view.shown, timeout=LONG):
        qtbot.mouseClick(view.again, Qt.MouseButton.LeftButton)
    assert not view.again.isVisible()


def test_without_roads_or_steel_it_says_what_to_do(view: LifeView, document: Document, qtbot: QtBot) -> None:
    document.edit(("road_mix",), ())
    assert "make one on the Roads page" in view.empty.text()
    assert view.charts() == []
    with qtbot.waitSignal(view.shown, timeout=LONG):
        document.undo_stack.undo()
    assert len(view.charts()) == 3
    document.edit((*FRONT[:2], "hardware"), Hardware())
    assert "Sizes" in view.empty.text()
    assert view.empty.isVisible()


def test_a_part_that_the_car_has_not_is_named(view: LifeView, document: Document, qtbot: QtBot) -> None:
    joined = SAMPLE.variants[0].hardware.trim
    assert not view.missing.isVisible()
    with qtbot.waitSignal(view.shown, timeout=LONG):
        document.edit((*FRONT[:2], "hardware", "trim"), joined)
    assert view.missing.text().startswith("Trim bars: not in the car")


def test_another_project_leaves_no_life_of_the_last_one(
    view: LifeView, document: Document, qtbot: QtBot
) -> None:
    other = replaced(PROJECT, ("road_mix",), MIX[:1])
    with qtbot.waitSignal(view.shown, timeout=LONG):
        document.open(other, None)
        assert view.table.rows.rowCount() == 0
    assert "over the one road of the mix" in view.status.text()
    assert set(column(view, WORST)) == {"100 % kerb"}


def test_limits_of_the_estimate_are_open_and_fold(view: LifeView) -> None:
    for notes, sentences in ((view.not_covered, NOT_COVERED), (view.cautions, HARDWARE_CAUTIONS)):
        assert notes.text.isVisible()
        assert all(sentence in notes.text.text() for sentence in sentences)
        notes.title.click()
        assert not notes.text.isVisible()


def test_other_units_and_colours(view: LifeView, qtbot: QtBot) -> None:
    stress = float(column(view, STRESS)[0])
    view.set_units(INCH_POUND)
    assert float(column(view, STRESS)[0]) == pytest.approx(stress / 6.894757, rel=2e-2)
    assert view.table.rows.horizontalHeaderItem(TARGET).text() == "Target\nmi"
    assert view.charts_on_show[0].title.whole == "Exceedance of the stress range (ksi)"
    view.set_theme(DARK)
    view.set_units(METRIC)
    assert view.table.rows.item(0, PART).foreground().color().name() == DARK.ink
    view.resize(520, 400)  # narrow: all below each other
    qtbot.waitUntil(lambda: view.table.width() > 400)


def test_a_chart_may_be_exported(view: LifeView, qtbot: QtBot) -> None:
    asked: list[Chart] = []
    view.export_wanted.connect(asked.append)
    view.charts_on_show[1].findChild(QToolButton).menu().actions()[0].trigger()
    assert asked == [view.charts()[1]]


def test_a_car_that_does_not_stand_has_a_reason_and_no_table(qtbot: QtBot, runner: Runner) -> None:
    car = ("variants", SAMPLE.names.index(SOFT), "vehicle")
    fallen: Project = PROJECT
    for axle in ("front", "rear"):
        for part in ("spring", "bump_stop", "rebound_stop"):
            fallen = replaced(fallen, (*car, axle, part, "rate"), 0.0)
        for part in ("bump_stop", "rebound_stop"):
            fallen = replaced(fallen, (*car, axle, part, "growth"), 0.0)
    view = LifeView(Document(fallen), runner)
    qtbot.addWidget(view)
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.show()
    assert view.status.text() == f"Not driven. load case: the car does not stand in '{fallen.load.name}'"
    assert not view.table.isVisible()
    assert view.again.isVisible()
