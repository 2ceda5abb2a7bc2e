"""Tuning: drag, type, refuse, undo, drive otherwise."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from models.roads import ROAD_CLASSES
from models.units import factor
from tests.gui.hands import Hands
from workbench.window.main_window import MainWindow


def test_a_drag_of_the_interconnection_is_one_undo_step(window: MainWindow, hands: Hands) -> None:
    """A levelling bar is wound by bounce and hardly by pitch: so does its rate act alone."""
    window.editor.hold_heave.click()
    project = window.document.project
    row = hands.at_hand("Interconnection bar rate")
    bounce, pitch, text = (
        hands.number("Bounce frequency"),
        hands.number("RMS pitch angle"),
        hands.figure("Bounce frequency"),
    )
    hands.drag(row, 0.4, 0.6, 0.8, 0.9)
    assert hands.number("Bounce frequency") > 1.2 * bounce
    assert hands.number("RMS pitch angle") == pytest.approx(pitch, rel=0.1)
    assert window.document.undo_stack.count() == 1
    assert window.isWindowModified()
    hands.choose("undo")
    assert window.document.project == project
    assert hands.figure("Bounce frequency") == text
    assert not window.isWindowModified()


def test_a_drag_with_springs_that_give_way_lowers_pitch_and_leaves_bounce(
    window: MainWindow, hands: Hands
) -> None:
    """What the program is there for, at the first start: joining the wheels trades pitch, not softness."""
    row, project = hands.at_hand("Interconnection bar rate"), window.document.project
    assert window.editor.hold_heave.text() == "Springs give way (rear used up)"
    hands.drag(row, 0.2, 0.0)
    assert window.editor.hold_heave.text() == "Springs give way: heave rate stays"
    separate = {name: hands.number(name) for name in ("Heave rate", "Bounce frequency", "RMS pitch angle")}
    assert hands.number("Coupling fraction left") == 0.0
    hands.drag(row, 0.2, 0.4)
    assert hands.number("Heave rate") == pytest.approx(separate["Heave rate"], rel=1e-3)
    assert hands.number("Bounce frequency") == pytest.approx(separate["Bounce frequency"], rel=0.03)
    assert hands.number("RMS pitch angle") < 0.75 * separate["RMS pitch angle"]
    assert window.document.undo_stack.count() == 2
    hands.choose("undo")
    hands.choose("undo")
    assert window.document.project == project


def test_joined_wheels_pitch_less_than_separate_ones_that_are_as_soft(
    window: MainWindow, hands: Hands
) -> None:
    """What the first sample is there to show, read off the table."""
    joined = hands.number("RMS pitch angle"), hands.number("Heave rate")
    while window.document.project.candidate != "separate, just as soft":
        hands.choose("next_variant")
    assert hands.number("Heave rate") == pytest.approx(joined[1], rel=0.02)
    assert joined[0] < 0.8 * hands.number("RMS pitch angle")


def test_a_drag_moves_curves_stage_and_figures_together(window: MainWindow, hands: Hands) -> None:
    views = [window.stage, *(panel.view for panel in window.plots.panels), window.figures.table]
    before = [view.grab().toImage() for view in views]
    hands.drag(hands.at_hand("Interconnection bar rate"), 0.9)
    window.time_cursor.move_to(0.5)
    assert all(view.grab().toImage() != image for view, image in zip(views, before, strict=True))


def test_a_number_may_be_typed_in_another_unit(window: MainWindow, hands: Hands) -> None:
    row = hands.at_hand("Front spring rate")
    hands.type_into(row, "40 lbf/in")
    rate = window.document.value((*window.document.candidate_path(), *row.path))
    assert rate == pytest.approx(40 * factor("lbf/in", "N/m"), rel=1e-12)
    assert row.unit_button.text() == "N/mm"
    assert float(row.number.text()) == pytest.approx(7.005, abs=0.001)


@pytest.mark.parametrize("text", ["99999", "-1", "12 kg", "stiff"])
def test_a_refused_value_says_why_and_leaves_the_car(window: MainWindow, hands: Hands, text: str) -> None:
    project = window.document.project
    row = hands.at_hand("Front spring rate")
    hands.type_into(row, text)
    assert window.document.project == project
    assert not window.isWindowModified()
    assert hands.in_sight(row._message)
    for word in ("Front spring rate", text, "0 to", "N/mm"):
        assert word in row.message
    assert row.number.text() == text
    hands.type_into(row, "", Qt.Key.Key_Escape)
    assert row.message == ""


def test_undo_and_redo_say_what_they_are_about(window: MainWindow, hands: Hands) -> None:
    undo, redo = (window.actions_by_key[key] for key in ("undo", "redo"))
    assert (undo.isEnabled(), redo.isEnabled()) == (False, False)
    hands.type_into(hands.at_hand("Front spring rate"), "20")
    assert undo.text() == "Undo edit of front spring rate"
    hands.choose("undo")
    assert (undo.isEnabled(), undo.text(), redo.text()) == (False, "Undo", "Redo edit of front spring rate")
    hands.choose("redo")
    assert window.document.value((*window.document.candidate_path(), "front", "spring", "rate")) == 20e3
    assert undo.text() == "Undo edit of front spring rate"


def test_event_speed_and_road_class(window: MainWindow, hands: Hands, qtbot: QtBot) -> None:
    drive, pitch = window.drive, hands.number("RMS pitch angle")
    qtbot.keyClick(drive.event_box, Qt.Key.Key_Home)
    assert window.document.project.run.event.kind == "step"
    hands.settle()
    speed = drive.speed
    hands.type_into(speed, "50 mph")  # type: ignore[arg-type]
    assert window.document.project.run.speed == pytest.approx(50 * factor("mph", "m/s"))
    qtbot.keyClick(drive.class_box, Qt.Key.Key_Home)
    hands.settle()
    assert window.document.project.run.surface.roughness == ROAD_CLASSES["A"]
    assert hands.number("RMS pitch angle") < pitch / 2
    for _ in range(3):
        hands.choose("undo")
    assert drive.event_box.currentText() == "1-cos bump"
    assert drive.class_box.currentText() == "Class C"
    assert hands.number("RMS pitch angle") == pitch


def test_details_of_the_road_are_a_button_away(window: MainWindow, hands: Hands, qtbot: QtBot) -> None:
    assert not hands.in_sight(window.run_form)
    qtbot.mouseClick(window.drive.details, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: hands.in_sight(window.run_form))
