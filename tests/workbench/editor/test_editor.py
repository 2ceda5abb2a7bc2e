"""The editor of a vehicle on a document with undo."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from models.fields import replaced
from models.project import Project, Variant
from models.vehicle import SolidAxle, Vehicle, moment_of_inertia
from tests.screen import show
from workbench.document import Document
from workbench.editor import ParameterEditor, commit_input
from workbench.editor.choice_row import ChoiceRow
from workbench.editor.entry import Row
from workbench.editor.quantity_row import QuantityRow
from workbench.theme import DARK


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
    show(qtbot, editor)
    editor.form.setFocus()  # away from the first field, which takes it when the window is shown
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


def test_a_move_that_breaks_a_rule_is_told_until_the_rule_holds_again(
    editor: ParameterEditor, document: Document
) -> None:
    document.edit((*document.candidate_path(), "wheelbase"), 2.0)
    row = editor.form.row("body", "cg_to_front_axle")
    assert isinstance(row, QuantityRow)
    far = QPoint(row.slider.width() - 1, row.slider.height() // 2)
    QTest.mouseClick(row.slider, Qt.MouseButton.LeftButton, pos=far)
    assert "less than the wheelbase, 2 m" in row.message
    assert row.number.text() == "1.45"
    assert row.slider.value() < row.slider.maximum()
    document.edit((*document.candidate_path(), "wheelbase"), 2.6)
    assert row.message == ""


def test_a_typed_value_that_breaks_a_rule_stays_until_escape(
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
    QTest.keyClicks(editor.search, "rear rebound coefficient")
    seen = [row.path for row in editor.form.rows() if row.isVisible()]
    assert seen == [("rear", "damper"), ("rear", "damper", "rebound")]  # the kind says what it is in
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


def test_a_theme_taken_before_the_first_show_reaches_all_fields(qtbot: QtBot, document: Document) -> None:
    editor = ParameterEditor()
    qtbot.addWidget(editor)
    editor.set_target(document, document.candidate_path)
    editor.set_theme(DARK)
    show(qtbot, editor)
    for row in (_at_hand(editor)[1], editor.form.row("rear", "spring", "rate")):
        assert isinstance(row, QuantityRow)
        ground = row.number.grab().toImage().pixelColor(6, 6).name()
        assert ground == DARK.raised


def test_units_of_the_settings_reach_all_rows(editor: ParameterEditor) -> None:
    editor.set_units({"rate": "lbf/in"})
    below = editor.form.row("front", "spring", "rate")
    assert isinstance(below, QuantityRow)
    # 35 N/mm · 25.4 mm/in / 4.4482216 N/lbf = 199.85 lbf/in
    assert [row.number.text() for row in (below, _at_hand(editor)[0])] == ["199.9", "199.9"]


def test_another_project_takes_the_place_of_typed_text(editor: ParameterEditor, document: Document) -> None:
    number = _at_hand(editor)[0].number
    number.setFocus()
    QTest.keyClicks(number, "soft")
    document.open(document.project, None)
    assert number.text() == "35"


def test_text_in_a_row_that_goes_is_dropped(editor: ParameterEditor, document: Document) -> None:
    right = (*document.candidate_path(), "right")
    document.edit(right, _vehicle(document).left)
    row = editor.form.row("right", "coupling", "bar_rate")
    assert isinstance(row, QuantityRow)
    row.number.setFocus()
    QTest.keyClicks(row.number, "700")
    document.edit(right, None)
    assert _vehicle(document).right is None
    assert document.undo_stack.count() == 2


def test_typed_text_can_be_committed_before_a_save(editor: ParameterEditor, document: Document) -> None:
    number = _at_hand(editor)[0].number
    number.setFocus()
    number.selectAll()
    QTest.keyClicks(number, "31")
    commit_input()
    assert _vehicle(document).front.spring.rate == 31e3


def test_undo_keys_in_an_untouched_field_belong_to_the_document(
    editor: ParameterEditor, document: Document
) -> None:
    undo = document.undo_stack.createUndoAction(editor)
    undo.setShortcut(QKeySequence(QKeySequence.StandardKey.Undo))
    editor.addAction(undo)
    document.edit((*document.candidate_path(), "front", "spring", "rate"), 20e3)
    number = _at_hand(editor)[0].number
    number.setFocus()
    QTest.keySequence(number, QKeySequence(QKeySequence.StandardKey.Undo))
    assert _vehicle(document).front.spring.rate == 35e3
    QTest.keyClicks(number, "7")
    QTest.keySequence(number, QKeySequence(QKeySequence.StandardKey.Undo))
    assert document.undo_stack.index() == 0
    assert not number.pending


def test_tab_goes_in_order_of_reading_also_after_rows_came(
    editor: ParameterEditor, document: Document, qtbot: QtBot
) -> None:
    _pick(editor, "front", "wheels", index=1)
    document.edit((*document.candidate_path(), "right"), _vehicle(document).left)
    first = editor.at_hand.tick_mode
    last = editor.form.row("right", "trim", "bar_rate")
    qtbot.waitUntil(lambda: first.isVisible() and last.isVisible() and last.y() > 0)
    first.setFocus()
    places = [_place(editor, first)]
    for _ in range(300):
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        widget = QApplication.focusWidget()
        if widget is first:
            break
        places.append(_place(editor, widget))
    rows = [*editor.form.rows(), *_at_hand(editor)]
    assert len(places) >= len(rows)
    assert places == sorted(places)


def _place(editor: ParameterEditor, widget: QWidget) -> tuple[int, int, int]:
    """Where a widget is read: above or in the scrolled form, then by row, then from left to right."""
    scrolled = editor.form.isAncestorOf(widget)
    above = editor.form if scrolled else editor
    row = widget.parentWidget() if isinstance(widget.parentWidget(), Row) else widget
    return int(scrolled), row.mapTo(above, QPoint()).y(), widget.mapTo(above, QPoint()).x()


def test_the_tick_at_hand_stands_in_line_with_the_rows_and_whole_in_a_narrow_dock(
    editor: ParameterEditor, document: Document
) -> None:
    for axle in ("front", "rear"):  # its longest words
        document.edit((*document.candidate_path(), axle, "spring", "rate"), 0.0)
    editor.resize(300, 600)
    QApplication.sendPostedEvents()
    tick, row = editor.hold_heave, editor.at_hand.entries[0]
    assert isinstance(row, Row)
    assert tick.mapTo(editor, QPoint()).x() == row.name_label.mapTo(editor, QPoint()).x()
    assert editor.width() == 300
    assert tick.width() >= 20 + tick.fontMetrics().horizontalAdvance(tick.text())
