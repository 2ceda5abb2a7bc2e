"""The page of the parts in steel in the hands of its user."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from models.cautions import HARDWARE_CAUTIONS
from models.fields import replaced
from models.hardware import MATERIALS, Hardware, StabiliserBar, stabiliser_beam
from models.hardware.torsion_bar import bar_length, bar_rate
from models.judge.part_report import part_reports
from models.project import load
from models.roads import HalfSine, RoadShare
from models.units import INCH_POUND, METRIC
from tests.screen import show
from workbench.document import Document
from workbench.pages.steel import SteelPage
from workbench.pages.steel.sizes_view import SizesView
from workbench.runner import Runner
from workbench.theme import DARK, LIGHT

MIX = (RoadShare(name="kerb", share=1.0, speed=12.0, event=HalfSine(height=0.05, length=1.0)),)
PROJECT = replaced(
    load(Path(__file__).parents[4] / "sample_projects" / "large_saloon.corduroy"), ("road_mix",), MIX
)
BAR = ("variants", 0, "vehicle", "left", "coupling", "bar_rate")
STEEL = ("variants", 0, "hardware")
LONG = 15000  # ms; a busy machine


@pytest.fixture
def document() -> Document:
    return Document(PROJECT)


@pytest.fixture
def page(qtbot: QtBot, runner: Runner, document: Document) -> SteelPage:
    page = SteelPage(document, runner)
    qtbot.addWidget(page)
    page.resize(1150, 700)
    with qtbot.waitSignal(page.sizes.shown, timeout=LONG):
        show(qtbot, page)
    return page


@pytest.fixture
def view(qtbot: QtBot, runner: Runner, document: Document) -> SizesView:
    """The sizes alone."""
    view = SizesView(document, runner)
    qtbot.addWidget(view)
    view.resize(1150, 670)
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.show()
    return view


def row(view: SizesView, place: str) -> list[str]:
    cells = view.places.cells
    names = [cells.item(number, 0).text() for number in range(cells.rowCount())]
    return [cells.item(names.index(place), column).text() for column in range(cells.columnCount())]


def edit(
    view: SizesView, qtbot: QtBot, document: Document, path: tuple[str | int, ...], value: object
) -> None:
    with qtbot.waitSignal(view.shown, timeout=LONG):
        document.edit(path, value)


def found(view: SizesView, qtbot: QtBot, place: str) -> list[list[str]]:
    """Choose a place and wait for its sizes."""
    with qtbot.waitSignal(view.finder.searched, timeout=LONG):
        view.places.choose(place)  # type: ignore[arg-type]
    return sizes(view)


def sizes(view: SizesView) -> list[list[str]]:
    cells = view.finder.table.cells
    return [
        [cells.item(line, column).text() for column in range(cells.columnCount())]
        for line in range(cells.rowCount())
    ]


def test_places_tell_rate_stress_and_safety_at_a_glance(view: SizesView) -> None:
    assert view.places.chosen == "front_spring"  # the first that is described
    name, part, *rest = row(view, "Interconnection bars")
    assert (name, rest) == ("Interconnection bars", ["1240 N·m/rad", "1240 N·m/rad", "=", "688 MPa", "1.48"])
    assert part == "torsion bar 24.0 mm, solid, 2130 mm long, levers"
    assert row(view, "Rear springs")[2:] == ["not described", "", "", "", ""]
    view.set_units(INCH_POUND)
    assert row(view, "Front springs")[2] == "6.85 lbf/in"
    view.set_units(METRIC)


def test_stress_of_each_state_stands_with_its_formula(view: SizesView) -> None:
    view.places.choose("interconnection")
    cells, report = view.stress.states.cells, view.reports["interconnection"]
    assert cells.headerData(3, Qt.Orientation.Horizontal) == "Shear stress\nMPa"
    assert [cells.item(line, 0).text() for line in (0, 2, 5)] == ["design trim", "four up", "jounce"]
    assert "16 T d" in cells.item(0, 3).toolTip()
    assert cells.item(5, 3).text() == f"{report.states.rows[5].cells[2].value / 1e6:.0f}"
    shown = [view.stress.figures.rows.item(line, 0).text() for line in range(len(report.figures))]
    assert shown == [figure.label for figure in report.figures]
    assert view.stress.groups["Clocking"].isVisible()
    assert not view.stress.groups["Motor"].isVisible()
    assert view.cautions.text() == " ".join(HARDWARE_CAUTIONS)


def test_what_is_exceeded_is_marked(view: SizesView, document: Document, qtbot: QtBot) -> None:
    view.places.choose("interconnection")
    edit(view, qtbot, document, (*STEEL, "interconnection", "bar", "material", "shear_limit_preset"), 600e6)
    mark = QColor(LIGHT.mark)
    cells = view.stress.states.cells
    use = [float(cells.item(line, 4).text()) for line in range(cells.rowCount())]
    marked = [cells.item(line, 4).foreground().color() == mark for line in range(cells.rowCount())]
    assert marked == [value > 100 for value in use]
    assert any(marked)
    assert view.places.cells.item(2, 6).foreground().color() == mark
    view.set_theme(DARK)
    assert view.places.cells.item(2, 6).foreground().color() == QColor(DARK.mark)


def test_applying_is_one_step_that_says_what_changes(
    view: SizesView, document: Document, qtbot: QtBot
) -> None:
    view.places.choose("interconnection")
    with qtbot.waitSignal(view.shown, timeout=LONG):
        document.edit(BAR, 1000.0)
        assert not view.stress.apply_button.isEnabled()  # until the figures are of this car
    sentence = view.stress.sentence.text().replace("\u00a0", " ").replace("\u2060", "")
    assert "Interconnection bar rate: 1000 → 1240 N·m/rad" in sentence
    assert row(view, "Interconnection bars")[4] == "+24.0 %"
    with qtbot.waitSignal(view.shown, timeout=LONG):
        qtbot.mouseClick(view.stress.apply_button, Qt.MouseButton.LeftButton)
    steel = document.project.variants[0].hardware.interconnection
    assert steel is not None
    assert document.value(BAR) == bar_rate(steel.bar)
    assert not view.stress.apply_button.isEnabled()
    assert view.stress.sentence.text() == "The car has what this part gives."
    assert document.undo_stack.undoText() == "apply interconnection bars"
    document.undo_stack.undo()
    assert document.value(BAR) == 1000.0


def test_what_the_car_cannot_take_is_refused(view: SizesView, document: Document, qtbot: QtBot) -> None:
    bar = StabiliserBar().model_dump()
    bar["points"][-1]["x"] = -0.23  # a lever of 10 mm turns the bar by 100 rad/m
    edit(view, qtbot, document, (*STEEL, "front_stabiliser"), StabiliserBar.model_validate(bar))
    view.places.choose("front_stabiliser")
    before = document.undo_stack.count()
    with qtbot.waitSignal(view.refused) as refused:
        view.stress.apply_button.click()
    assert "lever ratio" in refused.args[0]
    assert document.undo_stack.count() == before


def test_a_part_is_described_and_taken_away_by_its_tick(
    view: SizesView, document: Document, qtbot: QtBot
) -> None:
    view.places.choose("rear_spring")
    assert "Rear springs are not described. Tick" in view.stress.sentence.text()
    assert not view.stress.apply_button.isVisible()
    assert "Describe such a part" in view.finder.empty.text()
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.editor.form.row("rear_spring").box.click()  # type: ignore[attr-defined]
    assert document.project.variants[0].hardware.rear_spring is not None
    # The rear of this car stands on the interconnection alone.
    assert view.stress.unloaded.isVisible()
    assert row(view, "Rear springs")[5:] == ["–", "–"]
    assert not view.stress.groups["Clocking"].isVisible()
    qtbot.waitUntil(lambda: "Without a load" in view.finder.sentence.text(), timeout=LONG)
    assert view.stress.figures.isVisible()
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.stress.apply_button.click()
    assert view.stress.states.isVisible()
    document.undo_stack.undo()
    with qtbot.waitSignal(view.shown, timeout=LONG):
        document.undo_stack.undo()
    assert row(view, "Rear springs")[2] == "not described"


def test_material_is_picked_from_the_table_and_stays_editable(
    view: SizesView, document: Document, qtbot: QtBot
) -> None:
    view.places.choose("front_stabiliser")
    box, path = view.editor.material, (*STEEL, "front_stabiliser", "material")
    assert [box.itemText(index) for index in range(box.count())] == [steel.name for steel in MATERIALS]
    with qtbot.waitSignal(view.shown, timeout=LONG):
        box.setCurrentIndex(4)
        box.activated.emit(4)
    assert document.value(path) == MATERIALS[4]
    edit(view, qtbot, document, (*path, "bending_limit"), 900e6)
    assert box.currentText() == f"{MATERIALS[4].name} (edited)"
    assert view.reports["front_stabiliser"].value("allowed_stress") == 900e6
    document.undo_stack.undo()
    assert box.currentText() == MATERIALS[4].name


def test_stress_along_a_stabiliser_bar_is_drawn(view: SizesView) -> None:
    view.places.choose("rear_stabiliser")
    bar = PROJECT.variants[0].hardware.rear_stabiliser
    assert bar is not None
    chart = view.charts()[0]
    assert chart.key == "stabiliser-stress"
    assert chart.curves[-1].y.max() == pytest.approx(0.075 * stabiliser_beam(bar).stress.von_mises.max())
    view.places.choose("trim")
    assert not view.stress.view.isVisible()
    assert "stabiliser-stress" not in [chart.key for chart in view.charts()]


def test_sizes_are_sought_for_what_the_car_asks(view: SizesView, qtbot: QtBot) -> None:
    lines = found(view, qtbot, "interconnection")
    wish, report = view.finder.wish, view.reports["interconnection"]
    assert wish is not None
    assert (wish.rate, wish.stress) == (1240.0, 1020e6)
    assert wish.torque == max(abs(state.load) for state in report.loads)  # type: ignore[union-attr]
    assert [size.mass for size in view.finder.found.found] == sorted(
        size.mass for size in view.finder.found.found
    )
    assert all(float(line[4]) <= 1020 for line in lines)
    assert lines[0][-1] == "–"  # no road has been driven
    assert "the lightest first" in view.finder.sentence.text()
    assert "steel-size-stress" in [chart.key for chart in view.charts()]


def test_a_wish_of_the_user_stays_until_it_is_reset(
    view: SizesView, document: Document, qtbot: QtBot
) -> None:
    many = found(view, qtbot, "interconnection")
    holder = view.finder.holders[type(view.finder.wish)]
    with qtbot.waitSignal(view.finder.searched, timeout=LONG):
        holder.edit(("length",), 0.3)
    assert sizes(view) == []
    assert "3466 MPa, more than the 1020 MPa allowed" in view.finder.sentence.text()
    edit(view, qtbot, document, BAR, 1100.0)
    assert holder.part.length == 0.3
    with qtbot.waitSignal(view.finder.searched, timeout=LONG):
        view.finder.reset_button.click()
    assert holder.part.rate == 1100.0
    assert len(sizes(view)) >= len(many) // 2


@pytest.mark.parametrize("also_apply", [False, True])
def test_a_size_is_used_in_one_step(
    view: SizesView, document: Document, qtbot: QtBot, also_apply: bool
) -> None:
    found(view, qtbot, "interconnection")
    assert not view.finder.use_button.isEnabled()
    edit(view, qtbot, document, BAR, 1210.0)
    length = view.finder.wish.length  # type: ignore[union-attr]
    view.finder.table.selectRow(1)
    view.finder.also_apply.setChecked(also_apply)
    wanted, before = view.finder.found.found[1], document.undo_stack.count()
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.finder.table.activated.emit(view.finder.table.currentIndex())  # a double click, or Enter
    steel = document.project.variants[0].hardware.interconnection
    assert steel is not None
    assert steel.bar == wanted.part
    assert document.undo_stack.count() == before + 1
    assert (document.value(BAR) == bar_rate(steel.bar)) == also_apply
    # The room that was asked for is not that of the new bar.
    assert view.finder.wish.length == length != bar_length(steel.bar)  # type: ignore[union-attr]


def test_sizes_of_each_kind_can_be_used(view: SizesView, document: Document, qtbot: QtBot) -> None:
    for place in ("trim", "front_spring", "front_stabiliser"):
        assert found(view, qtbot, place)
        view.finder.table.selectRow(0)
        size = view.finder.found.found[0]
        with qtbot.waitSignal(view.shown, timeout=LONG):
            view.finder.use_button.click()
        part = getattr(document.project.variants[0].hardware, place)
        assert size.part in (part, getattr(part, "bar", None))


def test_sizes_have_lives_once_the_roads_are_driven(
    page: SteelPage, document: Document, qtbot: QtBot
) -> None:
    view = page.sizes
    found(view, qtbot, "interconnection")
    with qtbot.waitSignal(page.life.shown, timeout=4 * LONG):
        page.setCurrentWidget(page.life)
    with qtbot.waitSignal(view.finder.searched, timeout=LONG):
        page.setCurrentWidget(view)
    assert all(size.life > 0 for size in view.finder.found.found)
    assert "–" not in {line[-1] for line in sizes(view)}
    with qtbot.waitSignal(view.finder.searched, timeout=LONG):
        document.edit(BAR, 1250.0)
    assert {line[-1] for line in sizes(view)} == {"–"}  # another car has not driven


def test_a_hidden_page_computes_nothing_and_catches_up(
    view: SizesView, document: Document, runner: Runner, qtbot: QtBot
) -> None:
    qtbot.waitUntil(lambda: runner.idle, timeout=LONG)  # sizes are still sought for the first place
    view.hide()
    document.edit(BAR, 1000.0)
    assert runner.idle
    with qtbot.waitSignal(view.shown, timeout=LONG):
        view.show()
    assert row(view, "Interconnection bars")[3] == "1000 N·m/rad"


def test_only_the_last_of_many_edits_stays(view: SizesView, document: Document, qtbot: QtBot) -> None:
    for rate in (1000.0, 1050.0, 1100.0):
        document.edit(BAR, rate)
    qtbot.waitUntil(lambda: row(view, "Interconnection bars")[3] == "1100 N·m/rad", timeout=LONG)
    variant = document.project.variants[0]
    expected = part_reports(variant.vehicle, variant.hardware, document.project.load_cases)
    assert view.reports["interconnection"] == expected["interconnection"]


def test_another_candidate_is_shown(view: SizesView, document: Document, qtbot: QtBot) -> None:
    edit(view, qtbot, document, ("candidate",), "separate coil springs")
    assert row(view, "Rear springs")[2] != "not described"
    assert row(view, "Trim bars")[2] == "not described"
    assert view.editor.hardware_path() == ("variants", 1, "hardware")


def test_car_without_steel_says_what_to_do(view: SizesView, document: Document, qtbot: QtBot) -> None:
    with qtbot.waitSignal(view.shown, timeout=LONG):
        document.open(replaced(PROJECT, STEEL, Hardware()), None)
    assert all(row(view, name)[2] == "not described" for name in ("Front springs", "Rear stabiliser bar"))
    assert "Tick the part" in view.stress.sentence.text()
    assert view.charts() == []


def test_panels_stand_behind_tabs_where_the_window_is_narrow(view: SizesView) -> None:
    panels = (view.editor, view.stress, view.finder)
    assert not view.panels.bar.isVisible()
    assert all(panel.isVisible() for panel in panels)
    view.resize(546, 400)
    assert view.panels.bar.isVisible()
    assert [panel.isVisible() for panel in panels] == [True, False, False]
    view.panels.bar.setCurrentIndex(1)
    assert [panel.isVisible() for panel in panels] == [False, True, False]
    assert view.cautions.toolTip() == "\n".join(HARDWARE_CAUTIONS)
    header = view.places.horizontalHeader()
    assert header.length() <= view.places.viewport().width()
