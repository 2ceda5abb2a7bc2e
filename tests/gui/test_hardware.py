"""From wheel rates to steel and back: linkage, sizes, life, packaging and tolerances."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from models.cautions import HARDWARE_CAUTIONS, HARDWARE_CAUTIONS_IN_SHORT
from models.fields import replaced
from models.hardware import InterconnectionBar
from models.hardware.sn_curve import SNCurve
from models.hardware.torsion_bar import bar_rate
from models.linkage import Chain, WishboneDropLink, points
from models.project import Variant
from models.roads import HalfSine, RoadShare
from tests.gui.conftest import close
from tests.gui.hands import Hands
from workbench.app import first_project
from workbench.pages.life import LifeView
from workbench.pages.linkage import LinkagePage
from workbench.pages.linkage.sheet import FRONT
from workbench.pages.steel.sizes_view import SizesView
from workbench.settings import Settings
from workbench.window.main_window import MainWindow

LEVER = "lever > link"
LONG = 15000  # ms; a busy machine, or the first run, which may have to compile
KERB = RoadShare(name="kerb", share=1.0, speed=12.0, event=HalfSine(height=0.1, length=1.0))


def variant(window: MainWindow) -> Variant:
    project = window.document.project
    return project.variant(project.candidate)


def bar(window: MainWindow) -> InterconnectionBar:
    found = variant(window).hardware.interconnection
    assert found is not None
    return found


def rate(window: MainWindow) -> float:
    """Rate of the interconnection bar in the car."""
    found = window.document.value((*window.document.candidate_path(), "left", "coupling", "bar_rate"))
    assert isinstance(found, float)
    return found


# -- linkage ---------------------------------------------------------------------------------------------


@pytest.fixture
def linkage(window: MainWindow, hands: Hands) -> LinkagePage:
    """The page, with a wishbone and drop link at the front end of the interconnection."""
    hands.turn_to("Linkage")
    page = window.pages.linkage
    assert page.place_box.currentText() == "Interconnection, front end"
    hands.press(page.empty.buttons[WishboneDropLink])
    return page


def chain(page: LinkagePage) -> Chain:
    found = page.chain
    assert found is not None
    return found


def rate_of_linkage(page: LinkagePage) -> float:
    """What the bar gives the wheel, its torque with it, N/mm, as the table of figures says."""
    rows = page.figures.rows
    texts = {rows.item(row, 0).text(): rows.item(row, 1).text() for row in range(rows.rowCount())}
    parts = ("Wheel rate of the bar", "Wheel rate of torque and curvature")
    return sum(float(texts[name].replace("−", "-")) for name in parts)


def drag_joint(page: LinkagePage, qtbot: QtBot, *shares: float) -> None:
    """Drag the link on the lever towards the pivot of the lever, by shares of the way."""
    drawing = page.drawing
    start, pivot = (drawing.pixel(name, FRONT).toPoint() for name in (LEVER, "lever > axis"))
    qtbot.mousePress(drawing, Qt.MouseButton.LeftButton, pos=start)
    for share in shares:
        qtbot.mouseMove(drawing, start + (pivot - start) * share)
    qtbot.mouseRelease(drawing, Qt.MouseButton.LeftButton, pos=start + (pivot - start) * shares[-1])


def test_a_joint_stops_where_the_linkage_locks_and_one_undo_takes_the_drag_back(
    linkage: LinkagePage, window: MainWindow, hands: Hands, qtbot: QtBot
) -> None:
    before, figure = chain(linkage), hands.figure("Front wheel rate")
    steps = window.document.undo_stack.count()
    drag_joint(linkage, qtbot, 0.25, 0.7, 0.9)
    hands.settle()
    assert "the linkage locks at" in linkage.drawing.message
    assert hands.in_sight(linkage.drawing)
    assert points(chain(linkage))[LEVER] != points(before)[LEVER]
    assert hands.figure("Front wheel rate") != figure
    assert window.document.undo_stack.count() == steps + 1
    hands.choose("undo")
    assert chain(linkage) == before
    assert linkage.drawing.message == ""
    assert hands.figure("Front wheel rate") == figure


def test_a_coordinate_is_typed_and_the_wheel_rate_follows(
    linkage: LinkagePage, window: MainWindow, hands: Hands, qtbot: QtBot
) -> None:
    table = linkage.points.places
    row = [joint.name for joint in table.model.joints].index(LEVER)
    qtbot.waitUntil(lambda: linkage.figures.rows.rowCount() > 0)
    wheel, own = hands.number("Front wheel rate"), rate_of_linkage(linkage)
    hands.type_into_cell(table.view, row, 1, "-230")
    assert points(chain(linkage))[LEVER][1] == pytest.approx(-0.23)
    qtbot.waitUntil(lambda: rate_of_linkage(linkage) != own)
    # The rest of the front axle is as it was: the wheel gains what the bar does.  Of 10 to 20 N/mm three
    # digits are shown, so that two rates before and two after are each rounded by up to 0.05.
    change = rate_of_linkage(linkage) - own
    assert abs(change) > 1.0
    assert hands.number("Front wheel rate") - wheel == pytest.approx(change, abs=0.2)


# -- steel and life --------------------------------------------------------------------------------------


@pytest.fixture
def sizes(window: MainWindow, hands: Hands, qtbot: QtBot) -> SizesView:
    """The sizes, of the interconnection bars."""
    window.document.open(replaced(window.document.project, ("road_mix",), (KERB,)), None)
    hands.settle()
    view = window.pages.steel.sizes
    with qtbot.waitSignal(view.shown, timeout=LONG):
        hands.turn_to("Steel")
    cells = view.places.cells
    names = [cells.item(row, 0).text() for row in range(cells.rowCount())]
    place = view.places.visualRect(cells.index(names.index("Interconnection bars"), 0)).center()
    qtbot.mouseClick(view.places.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert view.places.chosen == "interconnection"
    return view


def told(view: SizesView) -> list[str]:
    """Row of the chosen place from the rate of the steel on."""
    row, cells = view.places.currentIndex().row(), view.places.cells
    return [cells.item(row, column).text() for column in range(2, cells.columnCount())]


def test_steel_is_changed_applied_and_undone(
    sizes: SizesView, window: MainWindow, hands: Hands, qtbot: QtBot
) -> None:
    project, before, stress = window.document.project, rate(window), told(sizes)[3]
    assert told(sizes)[2] == "="
    with qtbot.waitSignal(sizes.shown, timeout=LONG):
        hands.type_into(hands.row_of(sizes.editor.form, "Bar diameter"), "26")
    assert told(sizes)[0] != told(sizes)[1] == f"{before:.0f} N·m/rad"
    assert told(sizes)[3] != stress
    assert rate(window) == before  # nothing of the car changes until it is applied
    hands.turn_to("Stress", sizes.panels.bar)
    qtbot.waitUntil(lambda: hands.in_sight(sizes.cautions))
    assert sizes.cautions.text() in (" ".join(HARDWARE_CAUTIONS), HARDWARE_CAUTIONS_IN_SHORT)
    with qtbot.waitSignal(sizes.shown, timeout=LONG):
        hands.press(sizes.stress.apply_button)
    # The rate of a round bar goes with d⁴, but for its transitions: 1 % of its length, which weigh more now.
    assert rate(window) == bar_rate(bar(window).bar) == pytest.approx(before * (26 / 24) ** 4, rel=0.005)
    shown = hands.at_hand("Interconnection bar rate").number.text()
    assert float(shown) == pytest.approx(rate(window), rel=5e-4)  # four digits
    assert told(sizes)[2] == "="
    hands.choose("undo")
    assert rate(window) == before
    hands.choose("undo")
    assert window.document.project == project


def test_a_size_is_found_used_and_undone(
    sizes: SizesView, window: MainWindow, hands: Hands, qtbot: QtBot
) -> None:
    project, finder = window.document.project, sizes.finder
    with qtbot.waitSignal(finder.searched, timeout=LONG):
        hands.turn_to("Find sizes", sizes.panels.bar)
    table = finder.table
    place = table.visualRect(table.cells.index(1, 0)).center()
    qtbot.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    size = table.chosen
    assert size is not None
    hands.press(finder.also_apply)
    with qtbot.waitSignal(sizes.shown, timeout=LONG):
        hands.press(finder.use_button)
    assert bar(window).bar == size.part
    assert rate(window) == bar_rate(size.part)
    assert window.document.undo_stack.count() == 1
    hands.choose("undo")
    assert window.document.project == project


def test_parts_live_over_a_short_road_mix_and_their_line_is_edited(
    sizes: SizesView, window: MainWindow, hands: Hands, qtbot: QtBot
) -> None:
    life = window.pages.steel.life
    with qtbot.waitSignal(life.shown, timeout=4 * LONG):
        hands.turn_to("Life", window.pages.steel.tabBar())
    assert "over the one road of the mix" in life.status.text()
    chosen = life.table.chosen
    assert chosen is not None
    lives = shown_lives(life)
    assert len(lives) >= 5
    assert "" not in lives
    drive, before = life.runs.drive, line(life)
    row = hands.row_of(life.line_form.form, "Amplitude at the knee")
    with qtbot.waitSignal(life.shown, timeout=LONG):
        hands.type_into(row, f"{float(row.number.text()) * 0.8:.0f}")
    assert life.runs.drive is drive  # the roads are not driven again
    changed = life.table.chosen
    assert changed is not None
    # N = N_k (S_k/S)^k: between the slopes above and below the knee.
    lower, ratio = line(life).amplitude / before.amplitude, changed.life.distance / chosen.life.distance
    assert lower**before.second_slope <= ratio <= lower**before.slope < 0.2
    assert shown_lives(life) != lives
    assert hands.in_sight(life.cautions)


def line(life: LifeView) -> SNCurve:
    found = life.line_form.form.root()
    assert isinstance(found, SNCurve)
    return found


def shown_lives(life: LifeView) -> list[str]:
    rows = life.table.rows
    return [rows.item(row, 2).text() for row in range(rows.rowCount())]


# -- packaging -------------------------------------------------------------------------------------------


def test_travel_and_clearance_go_on_the_stage_and_tolerances_give_a_yield(
    window: MainWindow, hands: Hands, qtbot: QtBot
) -> None:
    page = window.pages.packaging
    with qtbot.waitSignal(page.travel.shown, timeout=LONG):
        hands.turn_to("Packaging")
    assert "checks with a limit" in page.travel.verdict.text()
    plain = window.stage.grab().toImage()
    hands.press(page.travel.on_stage)
    assert window.stage.options.room
    assert window.stage.grab().toImage() != plain
    hands.press(page.travel.on_stage)
    assert not window.stage.options.room
    assert window.stage.grab().toImage() == plain
    with qtbot.waitSignal(page.trim.shown, timeout=LONG):
        hands.turn_to("Trim tolerances", page.tabs.tabBar())
    assert "of 1,000 drawn cars stand within ±10.0 mm" in page.trim.words.text()
    wide = page.trim.stack
    with qtbot.waitSignal(page.trim.shown, timeout=LONG):
        hands.type_into(hands.row_of(page.trim.form, "Allowed height error"), "5")
    tight = page.trim.stack
    assert wide is not None
    assert tight is not None
    assert tight.within < wide.within
    assert "stand within ±5.00 mm" in page.trim.words.text()


# -- file ------------------------------------------------------------------------------------------------


def test_hardware_linkage_packaging_and_tolerances_come_back_from_the_file(
    sizes: SizesView,
    window: MainWindow,
    hands: Hands,
    qtbot: QtBot,
    settings: Settings,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    path, packaging = tmp_path / "Steel.corduroy", window.pages.packaging
    hands.type_into(hands.row_of(sizes.editor.form, "Bar diameter"), "26")
    hands.turn_to("Linkage")
    hands.press(window.pages.linkage.empty.buttons[WishboneDropLink])
    drag_joint(window.pages.linkage, qtbot, 0.1, 0.15)
    hands.turn_to("Packaging")
    hands.type_into(hands.row_of(packaging.travel.form, "Lever angle limit"), "70")
    hands.turn_to("Trim tolerances", packaging.tabs.tabBar())
    hands.type_into(hands.row_of(packaging.trim.form, "Allowed height error"), "5")
    mine = variant(window)
    assert window.document.undo_stack.count() == 5
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_args: (str(path), ""))
    hands.choose("save_as")
    again = MainWindow(first_project(), settings)
    again.files.open(path)
    assert again.document.project == window.document.project
    there = variant(again)
    assert there.hardware == mine.hardware
    assert there.hardware.trim_tolerances.height_limit == 0.005
    assert bar(again).bar.diameter == pytest.approx(0.026)
    assert there.vehicle.left.coupling == mine.vehicle.left.coupling
    assert there.vehicle.packaging == mine.vehicle.packaging != first_project().variants[0].vehicle.packaging
    close(again)
