"""The editor of a vehicle on a document with undo."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from models.fields import replaced
from models.project import Project, Variant
from models.vehicle import SolidAxle, Vehicle, moment_of_inertia
from workbench.document import Document
from workbench.editor import ParameterEditor
from workbench.editor.choice_row import ChoiceRow
from workbench.editor.quantity_row import QuantityRow


@pytest.fixture
def document(qapp: object) -> Document:
    vehicle = Vehicle()
    stiffer = replaced(vehicle, ("front", "spring", "rate"), 35e3)
    return Document(
        Project(
            name="Test",
            variants=(Variant(name="A", vehicle=vehicle), Variant(name="B", vehicle=stiffer)),
            baseline="A",
            candidate="B",
        )
    )


@pytest.fixture
def editor(qtbot: QtBot, document: Document) -> ParameterEditor:
    editor = ParameterEditor()
    qtbot.addWidget(editor)
    editor.set_target(document, document.candidate_path)
    editor.resize(340, 800)
    editor.show()
    qtbot.waitExposed(editor)
    editor.activateWindow()
    return editor


def _vehicle(document: Document) -> Vehicle:
    vehicle = document.value(document.candidate_path())
    assert isinstance(vehicle, Vehicle)
    return vehicle


def _at_hand(editor: ParameterEditor) -> list[QuantityRow]:
    return [entry for entry in editor.at_hand.entries if isinstance(entry, QuantityRow)]


def _pick(editor: ParameterEditor, *path: str, index: int) -> ChoiceRow:
    row = editor.form.row(*path)
    assert isinstance(row, ChoiceRow)
    row.combo.setFocus()
    key = Qt.Key.Key_Down if index > row.combo.currentIndex() else Qt.Key.Key_Up
    while row.combo.currentIndex() != index:
        QTest.keyClick(row.combo, key)
    return row


def test_the_prominent_rates_are_at_hand(editor: ParameterEditor) -> None:
    rows = _at_hand(editor)
    assert [row.label for row in rows] == [
        "Front spring rate",
        "Rear spring rate",
        "Interconnection bar rate",
    ]
    assert [row.number.text() for row in rows] == ["35", "26", "0"]


def test_a_drag_at_hand_is_one_undo_step_and_moves_the_row_below(
    editor: ParameterEditor, document: Document
) -> None:
    slider = _at_hand(editor)[0].slider
    start = QPoint(20, slider.height() // 2)
    QTest.mousePress(slider, Qt.MouseButton.LeftButton, pos=start)
    for move in range(1, 9):
        QTest.mouseMove(slider, start + QPoint(5 * move, 0))
    QTest.mouseRelease(slider, Qt.MouseButton.LeftButton, pos=start + QPoint(40, 0))
    assert document.undo_stack.count() == 1
    below = editor.form.row("front", "spring", "rate")
    assert isinstance(below, QuantityRow)
    assert below.number.text() == _at_hand(editor)[0].number.text() != "35"
    document.undo_stack.undo()
    assert [row.number.text() for row in (below, _at_hand(editor)[0])] == ["35", "35"]
    assert _vehicle(document).front.spring.rate == 35e3


def test_another_candidate_is_followed(editor: ParameterEditor, document: Document) -> None:
    document.edit(("candidate",), "A")
    assert _at_hand(editor)[0].number.text() == "26"


def test_a_differing_right_side_comes_to_hand_and_undo_takes_it_away(
    editor: ParameterEditor, document: Document
) -> None:
    box = editor.form.row("right").tab_stops()[0]
    QTest.mouseClick(box, Qt.MouseButton.LeftButton, pos=QPoint(8, box.height() // 2))
    assert _vehicle(document).right == _vehicle(document).left
    assert [row.label for row in _at_hand(editor)][2:] == [
        "Left interconnection bar rate",
        "Right interconnection bar rate",
    ]
    document.undo_stack.undo()
    assert len(_at_hand(editor)) == 3


def test_another_kind_of_inertia_keeps_the_inertia(editor: ParameterEditor, document: Document) -> None:
    def pitch_inertia() -> float:
        vehicle = _vehicle(document)
        a = vehicle.body.cg_to_front_axle
        return moment_of_inertia(vehicle.body.pitch_inertia, vehicle.body.mass, a, vehicle.wheelbase - a)

    before = pitch_inertia()
    row = _pick(editor, "body", "pitch_inertia", index=2)
    assert _vehicle(document).body.pitch_inertia.kind == "dynamic index"
    # A product and a quotient of doubles: a few rounding errors of 1.1e-16 each.
    assert pitch_inertia() == pytest.approx(before, rel=1e-15)
    assert "estimated" in [label.text() for label in (row.remark,)]
    assert row.remark.isVisible()
    _pick(editor, "body", "pitch_inertia", index=0)
    assert not row.remark.isVisible()


def test_a_solid_axle_keeps_the_mass_of_the_wheels(editor: ParameterEditor, document: Document) -> None:
    _pick(editor, "rear", "wheels", index=1)
    wheels = _vehicle(document).rear.wheels
    assert isinstance(wheels, SolidAxle)
    assert wheels.mass == 90.0


def test_a_rule_between_fields_is_told_at_the_row_and_goes_when_it_holds_again(
    editor: ParameterEditor, document: Document
) -> None:
    row = editor.form.row("body", "cg_to_front_axle")
    assert isinstance(row, QuantityRow)
    row.number.setFocus()
    row.number.selectAll()
    QTest.keyClicks(row.number, "3.5")
    QTest.keyClick(row.number, Qt.Key.Key_Return)
    assert "less than the wheelbase, 2.9 m" in row.message
    assert row.number.text() == "3.5"
    assert document.undo_stack.count() == 0
    QTest.keyClick(row.number, Qt.Key.Key_Escape)
    assert (row.message, row.number.text()) == ("", "1.45")


def test_the_search_finds_a_parameter_and_says_if_there_is_none(editor: ParameterEditor) -> None:
    editor.find_parameter()
    QTest.keyClicks(editor.search, "rear rebound")
    seen = [row.path for row in editor.form.rows() if row.isVisible()]
    assert seen == [("rear", "damper", "rebound")]
    QTest.keyClicks(editor.search, "xyz")
    assert editor.hint.isVisible()
    QTest.keyClick(editor.search, Qt.Key.Key_Escape)
    assert not editor.hint.isVisible()
    assert editor.search.text() == ""


@pytest.mark.parametrize("width", [300, 340, 420])
def test_nothing_is_cut_off(editor: ParameterEditor, width: int) -> None:
    editor.resize(width, 800)
    assert editor.form.minimumSizeHint().width() <= editor.form.width() <= width
    for row in editor.form.rows():
        label = row.name_label
        if label.isVisible():
            assert label.height() >= label.heightForWidth(label.width())
        for field in row.tab_stops():
            assert field.mapTo(editor.form, field.rect().topRight()).x() < editor.form.width()


def test_units_of_the_settings_reach_all_rows(editor: ParameterEditor) -> None:
    editor.set_units({"rate": "lbf/in"})
    below = editor.form.row("front", "spring", "rate")
    assert isinstance(below, QuantityRow)
    # 35 N/mm · 25.4 mm/in / 4.4482216 N/lbf = 199.85 lbf/in
    assert [row.number.text() for row in (below, _at_hand(editor)[0])] == ["199.9", "199.9"]
