"""The page of the modes: numbers and words, the drawing, and dampers set by one undoable edit."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.project import Project, Variant
from models.run import Run
from models.units import INCH_POUND
from models.vehicle import Axle, Damper, Side, Spring, TorsionCoupling, Vehicle
from workbench.document import Document
from workbench.pages.modes import ModesPage
from workbench.runner import Runner
from workbench.theme import DARK

JOINED = Side(coupling=TorsionCoupling(bar_rate=1200.0))
RUN = Run(duration=0.5)


def computed(vehicle: Vehicle, run: Run = RUN) -> Analysis:
    return analyse(vehicle, run, compiled=False)


@pytest.fixture
def document() -> Document:
    variants = Variant(name="Plain", vehicle=Vehicle()), Variant(name="Joined", vehicle=Vehicle(left=JOINED))
    return Document(Project(variants=variants, baseline="Plain", candidate="Joined", run=RUN))


@pytest.fixture
def page(qtbot: QtBot, document: Document) -> Iterator[ModesPage]:
    runner = Runner()
    page = ModesPage(document, runner)
    qtbot.addWidget(page)
    page.show_results(computed(Vehicle(left=JOINED)), computed(Vehicle()), ("Joined", "Plain"))
    with qtbot.waitSignal(page.damp.previewed):
        page.show()
    yield page
    runner.stop()


def cells(page: ModesPage, name: str) -> list[str]:
    model = page.table.cells
    rows = [
        [model.item(row, column).text() for column in range(model.columnCount())]
        for row in range(model.rowCount())
    ]
    return next(row for row in rows if row[0] == name)


def test_the_table_shows_both_cars(page: ModesPage) -> None:
    modes, plain = computed(Vehicle(left=JOINED)).modes, computed(Vehicle()).modes
    for name in modes.names:
        row, mode, twin = cells(page, name), modes.index(name), plain.index(name)
        for column, value in (
            (1, modes.frequency[mode]),
            (2, plain.frequency[twin]),
            (3, modes.damping_ratio[mode]),
            (4, plain.damping_ratio[twin]),
            (5, modes.damped_frequency[mode]),
        ):
            assert float(row[column]) == pytest.approx(value, rel=5e-3)
    assert cells(page, "pitch")[8].startswith("pitch ")
    assert "the CG" in cells(page, "pitch")[8]
    assert " m " in cells(page, "pitch")[8]
    page.set_units(INCH_POUND)
    assert " in " in cells(page, "pitch")[8]


def test_overdamped_and_free_modes_say_so(page: ModesPage) -> None:
    axle = Axle(damper=Damper(jounce=60e3, rebound=60e3))
    page.show_results(computed(Vehicle(front=axle, rear=axle)), None)
    hop = cells(page, "front wheel hop")
    assert float(hop[3]) > 1
    assert hop[5] == "overdamped"
    assert hop[2] == hop[4] == hop[6] == ""
    bare = Axle(spring=Spring(rate=0.0))
    page.show_results(computed(Vehicle(front=bare, rear=bare, left=JOINED)), None)
    assert cells(page, "pitch")[3:6:2] == ["–", "free"]


def test_the_choice_stays_on_its_mode_and_is_drawn(page: ModesPage, qtbot: QtBot) -> None:
    assert page.table.currentIndex().data() == "pitch"
    roll = next(row for row in range(7) if page.table.cells.item(row, 0).text() == "roll")
    place = page.table.visualRect(page.table.cells.index(roll, 0)).center()
    qtbot.mouseClick(page.table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    candidate, baseline = page.drawing.shown
    assert candidate is not None
    assert baseline is not None
    assert [end.split()[1] for end in candidate.ends] == ["left", "right"]
    assert candidate.body[0] == pytest.approx(-candidate.body[1])
    assert candidate.node == pytest.approx(0.5)
    assert candidate.body[0] * baseline.body[0] > 0
    soft = replaced(Vehicle(left=JOINED), ("front", "stabiliser", "bar_rate"), 3000.0)
    page.show_results(computed(soft), computed(Vehicle()))
    assert page.table.currentIndex().data() == "roll"


def test_drawing_of_pitch_and_hop(page: ModesPage) -> None:
    pitch = page.drawing.shown[0]
    assert pitch is not None
    assert pitch.side_view
    assert pitch.ends == ("rear", "front")
    assert pitch.body[0] * pitch.body[1] < 0
    page.set_theme(DARK)
    assert not page.drawing.grab().isNull()


def test_a_preview_then_one_edit_that_can_be_undone(
    page: ModesPage, document: Document, qtbot: QtBot
) -> None:
    before = document.project
    damp = page.damp
    assert damp.modes[0].currentText() == "pitch"
    with qtbot.waitSignal(damp.previewed):
        damp.ratios[0].set_value(0.4)
    assert damp.sentence.text().startswith("Front dampers ×")
    assert "→ 0.400" in damp.sentence.text()
    assert document.project == before
    qtbot.mouseClick(damp.apply_button, Qt.MouseButton.LeftButton)
    assert document.undo_stack.count() == 1
    assert document.undo_stack.undoText() == "dampers for pitch 0.400"
    vehicle = document.project.variant("Joined").vehicle
    found = computed(vehicle).modes
    assert found.damping_ratio[found.index("pitch")] == pytest.approx(0.4, abs=1e-6)
    assert document.project.variant("Plain") == before.variant("Plain")
    with qtbot.waitSignal(damp.previewed):
        page.show_results(computed(vehicle), computed(Vehicle()))
    document.undo_stack.undo()
    assert document.project == before


def test_two_modes(page: ModesPage, document: Document, qtbot: QtBot) -> None:
    damp = page.damp
    assert not damp.ratios[1].isEnabled()
    second = damp.modes[1]
    with qtbot.waitSignal(damp.previewed):
        second.setCurrentIndex(second.findText("bounce"))
        second.activated.emit(second.currentIndex())
        damp.ratios[0].set_value(0.45)
        damp.ratios[1].set_value(0.22)
    assert damp.ratios[1].isEnabled()
    damp.apply_button.click()
    found = computed(document.project.variant("Joined").vehicle).modes
    assert found.damping_ratio[found.index("pitch")] == pytest.approx(0.45, abs=1e-6)
    assert found.damping_ratio[found.index("bounce")] == pytest.approx(0.22, abs=1e-6)


def test_apply_before_the_preview_is_there_waits_for_it(
    page: ModesPage, document: Document, qtbot: QtBot
) -> None:
    page.damp.ratios[0].set_value(0.35)
    with qtbot.waitSignal(document.changed):
        page.damp.apply_button.click()
        assert document.undo_stack.count() == 0
    assert document.undo_stack.undoText() == "dampers for pitch 0.350"


def test_out_of_reach_is_said_and_sets_nothing(page: ModesPage, document: Document, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.damp.previewed):
        page.damp.ratios[0].set_value(50.0)
    assert "out of reach" in page.damp.sentence.text()
    assert not page.damp.apply_button.isEnabled()
    with qtbot.waitSignal(page.damp.previewed):
        page.damp.ratios[0].set_value(0.3)
    assert page.damp.apply_button.isEnabled()
    page.damp.modes[1].setCurrentText("pitch")
    with qtbot.waitSignal(page.damp.previewed):
        page.damp.modes[1].activated.emit(page.damp.modes[1].currentIndex())
    assert page.damp.sentence.text() == "Choose two different modes."
    assert document.undo_stack.count() == 0


def test_a_typed_ratio_is_checked(page: ModesPage, qtbot: QtBot) -> None:
    ratio = page.damp.ratios[0]
    ratio.setFocus()
    ratio.selectAll()
    qtbot.keyClicks(ratio, "x")
    qtbot.keyClick(ratio, Qt.Key.Key_Return)
    assert "Damping ratio" in page.damp.sentence.text()
    assert not page.damp.apply_button.isEnabled()
    ratio.selectAll()
    qtbot.keyClicks(ratio, "0.25")
    with qtbot.waitSignal(page.damp.previewed):
        qtbot.keyClick(ratio, Qt.Key.Key_Return)
    assert ratio.value == 0.25
    qtbot.keyClick(ratio, Qt.Key.Key_Up)
    assert ratio.value == pytest.approx(0.26)


def test_other_models_have_other_modes(page: ModesPage, qtbot: QtBot) -> None:
    half = computed(Vehicle(left=JOINED), replaced(RUN, ("model",), "quarter car rear"))
    with qtbot.waitSignal(page.damp.previewed):
        page.show_results(half, computed(Vehicle()))
    assert page.table.cells.rowCount() == 2
    assert page.damp.modes[0].currentText() == "bounce"
    assert "Front dampers ×1.00" in page.damp.sentence.text()


def test_a_hidden_page_waits(qtbot: QtBot, document: Document) -> None:
    page = ModesPage(document, Runner())
    qtbot.addWidget(page)
    page.show_results(computed(Vehicle()), None)
    assert page.table.cells.rowCount() == 0
    page.show()
    assert page.table.cells.rowCount() == 7
