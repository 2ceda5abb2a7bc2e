"""Variants: copy, rename, remove, compare."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from tests.gui.hands import Hands
from workbench.window.main_window import MainWindow


def shown(window: MainWindow) -> list[tuple[str, str]]:
    """Name and role of each row of the list."""
    rows = window.variants.list
    items = [rows.topLevelItem(number) for number in range(rows.topLevelItemCount())]
    return [(item.text(0), item.text(1)) for item in items]


def test_duplicate_becomes_the_candidate(window: MainWindow, hands: Hands) -> None:
    hands.choose("duplicate_variant")
    assert shown(window)[1] == ("joined torsion bars copy", "candidate")
    hands.type_into(hands.at_hand("Front spring rate"), "30")
    copy, original = (
        window.document.project.variant(name) for name in ("joined torsion bars copy", "joined torsion bars")
    )
    assert copy.vehicle != original.vehicle
    hands.choose("undo")
    hands.choose("undo")
    assert [name for name, _ in shown(window)] == list(window.document.project.names)
    assert len(shown(window)) == 3


def test_rename_by_key(window: MainWindow, hands: Hands, qtbot: QtBot) -> None:
    hands.choose("rename_variant")
    field = window.variants.list.viewport().findChild(QLineEdit)
    assert field is not None
    qtbot.keyClicks(field, "soft and level")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: window.document.project.candidate == "soft and level")
    assert shown(window)[0] == ("soft and level", "candidate")
    assert any("soft and level" in curve.variant for curve in _curves(window, hands))


def _curves(window: MainWindow, hands: Hands) -> list:  # type: ignore[type-arg]
    hands.choose("make_baseline")
    chart = window.plots.panels[0].chart
    assert chart is not None
    return list(chart.curves)


def test_a_name_that_is_taken_is_refused(window: MainWindow, hands: Hands, qtbot: QtBot) -> None:
    project = window.document.project
    hands.choose("rename_variant")
    field = window.variants.list.viewport().findChild(QLineEdit)
    assert field is not None
    qtbot.keyClicks(field, "separate coil springs")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(window.notice.isVisible)
    assert window.document.project == project
    assert "separate coil springs" in window.notice.text.text()
    assert shown(window)[0][0] == "joined torsion bars"


def test_remove_until_one_is_left(window: MainWindow, hands: Hands) -> None:
    hands.choose("remove_variant")
    hands.choose("remove_variant")
    assert len(shown(window)) == 1
    assert not window.notice.isVisible()
    hands.choose("remove_variant")
    assert len(shown(window)) == 1
    assert window.notice.isVisible()


def test_the_baseline_compared_with_itself_shows_no_change(window: MainWindow, hands: Hands) -> None:
    hands.choose("make_baseline")
    assert shown(window)[0] == ("joined torsion bars", "candidate · baseline")
    assert hands.figure("RMS pitch angle", "Change") == "="
    assert {curve.role for curve in window.plots.charts()[0].curves} == {"candidate"}


def test_next_and_previous_go_round(window: MainWindow, hands: Hands) -> None:
    names = window.document.project.names
    seen = []
    for _ in names:
        hands.choose("next_variant")
        seen.append(window.document.project.candidate)
    assert seen == [*names[1:], names[0]]
    hands.choose("last_variant")
    assert window.document.project.candidate == names[-1]
    assert hands.at_hand("Front spring rate").number.text() != "1.2"


def test_a_click_chooses_and_the_note_is_kept(window: MainWindow, hands: Hands, qtbot: QtBot) -> None:
    rows = window.variants.list
    second = rows.visualItemRect(rows.topLevelItem(2)).center()
    qtbot.mouseClick(rows.viewport(), Qt.MouseButton.LeftButton, pos=second)
    assert window.document.project.candidate == "separate, just as soft"
    note = window.variants.note
    note.setFocus()
    note.selectAll()
    qtbot.keyClicks(note, "For comparison.")
    variant = window.document.project.variant("separate, just as soft")
    assert variant.note == "For comparison."
    hands.choose("undo")
    assert note.toPlainText() != "For comparison."
    assert note.toPlainText().startswith(window.document.project.variant(variant.name).note[:20])
