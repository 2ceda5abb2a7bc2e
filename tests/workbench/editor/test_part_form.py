"""Rows of a form, worked with keys and mouse."""

from __future__ import annotations

import math
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from models.fields import replaced
from tests.screen import move_mouse, show
from workbench.editor import PartForm
from workbench.editor.blocks import GroupBlock
from workbench.editor.choice_row import ChoiceRow
from workbench.editor.quantity_row import QuantityRow
from workbench.editor.text_row import TextRow
from workbench.editor.title import Title
from workbench.theme import DARK


@pytest.fixture
def form(qtbot: QtBot, target: Any) -> PartForm:
    form = PartForm(type(target.part), target)
    qtbot.addWidget(form)
    form.resize(340, 900)
    show(qtbot, form)
    form.setFocus()  # away from the first field, which takes it when the window is shown
    return form


def quantity(form: PartForm, *path: str) -> QuantityRow:
    row = form.row(*path)
    assert isinstance(row, QuantityRow)
    return row


def enter(row: QuantityRow | TextRow, text: str, end: Qt.Key = Qt.Key.Key_Return) -> None:
    field = row.number if isinstance(row, QuantityRow) else row.text
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, end)


def turn_wheel(widget: QWidget, notches: int) -> None:
    window = widget.window().windowHandle()
    middle = QPointF(widget.mapTo(widget.window(), widget.rect().center()))
    QTest.wheelEvent(window, middle, QPoint(0, 120 * notches))


# --- numbers ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("text", "newton_per_metre"), [("28", 28e3), ("30 kN/m", 30e3), ("1e4 N/m", 1e4)])
def test_a_number_is_one_edit(form: PartForm, target: Any, text: str, newton_per_metre: float) -> None:
    enter(quantity(form, "front", "rate"), text)
    assert target.edits == [(("front", "rate"), newton_per_metre, None)]


def test_a_typed_unit_is_shown_in_the_chosen_one(form: PartForm, target: Any) -> None:
    row = quantity(form, "front", "rate")
    enter(row, "150 lbf/in", Qt.Key.Key_Tab)
    # 150 lbf/in = 150 · 4.4482216152605 N / 25.4 mm = 26.269 N/mm
    assert row.number.text() == "26.27"
    assert row.unit_button.text() == "N/mm"


def test_passing_through_a_field_edits_nothing(form: PartForm, target: Any) -> None:
    target.edit(("front", "rate"), 26123.456789)
    row = quantity(form, "front", "rate")
    assert row.number.text() == "26.12"
    row.number.setFocus()
    assert row.number.text() == "26.123456789"
    QTest.keyClick(row.number, Qt.Key.Key_Return)
    QTest.keyClick(row.number, Qt.Key.Key_Tab)
    assert row.number.text() == "26.12"
    assert target.value(("front", "rate")) == 26123.456789
    assert len(target.edits) == 1


def test_a_refused_number_stays_with_its_reason_until_escape(form: PartForm, target: Any) -> None:
    row = quantity(form, "front", "rate")
    enter(row, "-5")
    assert row.message == "Spring rate: -5 N/mm is outside the allowed range (0 to 2000 N/mm)"
    QTest.keyClick(row.number, Qt.Key.Key_Tab)
    assert row.number.text() == "-5"
    row.number.setFocus()
    QTest.keyClick(row.number, Qt.Key.Key_Escape)
    assert (row.number.text(), row.message) == ("26", "")
    assert target.edits == []


def test_a_refused_number_survives_other_edits_but_not_one_of_its_own_value(
    form: PartForm, target: Any
) -> None:
    row = quantity(form, "front", "rate")
    enter(row, "soft")
    target.edit(("rear", "rate"), 20e3)
    assert row.number.text() == "soft"
    assert row.message
    target.edit(("front", "rate"), 20e3)
    QTest.keyClick(row.number, Qt.Key.Key_Tab)
    assert (row.number.text(), row.message) == ("20", "")


def test_arrow_keys_step_and_one_hold_is_one_gesture(form: PartForm, target: Any) -> None:
    row = quantity(form, "front", "rate")
    row.number.setFocus()
    QTest.keyClick(row.number, Qt.Key.Key_Up)
    QTest.keyClick(row.number, Qt.Key.Key_Up)
    QTest.keyClick(row.number, Qt.Key.Key_Down, Qt.KeyboardModifier.ControlModifier)
    values = [value for _, value, _ in target.edits]
    assert values == pytest.approx([26.5e3, 27e3, 26.95e3], rel=1e-12)
    assert len({gesture for _, _, gesture in target.edits}) == 1


def test_a_step_starts_from_what_is_typed(form: PartForm, target: Any) -> None:
    row = quantity(form, "front", "rate")
    row.number.setFocus()
    row.number.selectAll()
    QTest.keyClicks(row.number, "30")
    QTest.keyClick(row.number, Qt.Key.Key_Up)
    assert [value for _, value, _ in target.edits] == pytest.approx([30e3, 30.5e3], rel=1e-12)


# --- units -----------------------------------------------------------------------------------------


def choose(row: QuantityRow, unit: str) -> None:
    QTest.mouseClick(row.unit_button, Qt.MouseButton.LeftButton)
    menu = row.unit_button.findChild(QMenu)
    assert menu is not None
    action = next(action for action in menu.actions() if action.text() == unit)
    QTest.mouseClick(menu, Qt.MouseButton.LeftButton, pos=menu.actionGeometry(action).center())


@pytest.mark.parametrize(
    ("path", "unit", "text"),
    [
        (("angle",), "rad", "0.01745"),  # 1 deg = π/180 rad
        (("front", "rate"), "lbf/in", "148.5"),  # 26 N/mm · 25.4 mm/in / 4.4482216 N/lbf = 148.46
        (("front", "bar"), "N·m/deg", "17.45"),  # 1000 N·m/rad · π/180 rad/deg
    ],
)
def test_switching_a_unit_converts(
    form: PartForm, target: Any, qtbot: QtBot, path: tuple[str, ...], unit: str, text: str
) -> None:
    row = quantity(form, *path)
    before, si = row.number.text(), target.value(path)
    usual = row.unit
    with qtbot.waitSignal(form.units_changed) as announced:
        choose(row, unit)
    assert announced.args == [row.quantity.kind_name, unit]
    assert (row.number.text(), row.unit_button.text()) == (text, unit)
    assert f"{unit}" in row.toolTip()
    choose(row, usual)
    assert row.number.text() == before
    assert target.value(path) == si
    assert target.edits == []


def test_a_unit_holds_for_all_rows_of_its_kind_and_for_what_is_typed(form: PartForm, target: Any) -> None:
    choose(quantity(form, "front", "rate"), "lbf/in")
    other = quantity(form, "rear", "rate")
    assert other.unit_button.text() == "lbf/in"
    enter(other, "100")
    assert target.value(("rear", "rate")) == pytest.approx(100 * 4.4482216152605 / 0.0254, rel=1e-12)
    enter(quantity(form, "angle"), "2")
    assert target.value(("angle",)) == pytest.approx(math.radians(2), rel=1e-15)


def test_a_quantity_of_one_unit_offers_no_choice(form: PartForm) -> None:
    row = quantity(form, "share")
    assert row.tab_stops() == [row.number]
    assert row.unit_button.text() == ""


# --- slider and wheel ------------------------------------------------------------------------------


def drag(row: QuantityRow, moves: int = 5) -> None:
    slider = row.slider
    start = QPoint(slider.width() // 4, slider.height() // 2)
    QTest.mousePress(slider, Qt.MouseButton.LeftButton, pos=start)
    for move in range(1, moves + 1):
        QTest.mouseMove(slider, start + QPoint(6 * move, 0))
    QTest.mouseRelease(slider, Qt.MouseButton.LeftButton, pos=start + QPoint(6 * moves, 0))


def test_a_drag_is_one_gesture_and_the_next_drag_another(form: PartForm, target: Any) -> None:
    row = quantity(form, "front", "rate")
    drag(row)
    first = {gesture for _, _, gesture in target.edits}
    assert len(target.edits) == 6
    assert len(first) == 1
    assert None not in first
    drag(row)
    assert len({gesture for _, _, gesture in target.edits}) == 2
    assert row.number.text() == f"{target.value(('front', 'rate')) / 1000:.4g}"


def test_a_press_on_the_knob_moves_nothing(form: PartForm, target: Any) -> None:
    target.edit(("front", "rate"), 26123.456789)
    slider = quantity(form, "front", "rate").slider
    knob = QPoint(round(6 + slider.value() / 1000 * (slider.width() - 12)), slider.height() // 2)
    QTest.mouseClick(slider, Qt.MouseButton.LeftButton, pos=knob)
    assert target.value(("front", "rate")) == 26123.456789


def test_a_value_beyond_the_typical_range_is_kept(form: PartForm, target: Any) -> None:
    row = quantity(form, "front", "rate")
    enter(row, "90")
    assert target.value(("front", "rate")) == 90e3
    assert row.slider.value() == row.slider.maximum()
    assert len(target.edits) == 1


def test_a_wheel_over_a_slider_or_choice_without_focus_scrolls(qtbot: QtBot, target: Any) -> None:
    area = QScrollArea()
    qtbot.addWidget(area)
    area.setWidgetResizable(True)
    form = PartForm(type(target.part), target)
    area.setWidget(form)
    area.resize(340, 200)
    show(qtbot, area)
    form.setFocus()
    choice = form.row("mode")
    assert isinstance(choice, ChoiceRow)
    for widget in (quantity(form, "angle").slider, choice.combo, quantity(form, "angle").number):
        area.verticalScrollBar().setValue(0)
        turn_wheel(widget, -1)
        assert area.verticalScrollBar().value() > 0
    assert target.edits == []


def test_a_wheel_over_the_focused_number_steps(form: PartForm, target: Any) -> None:
    row = quantity(form, "front", "rate")
    QTest.mouseClick(row.number, Qt.MouseButton.LeftButton)
    turn_wheel(row.number, 2)
    assert target.value(("front", "rate")) == pytest.approx(27e3, rel=1e-12)


def test_a_wheel_scrolls_on_past_a_focused_number_that_comes_under_the_mouse(
    qtbot: QtBot, target: Any
) -> None:
    area = QScrollArea()
    qtbot.addWidget(area)
    area.setWidgetResizable(True)
    form = PartForm(type(target.part), target)
    area.setWidget(form)
    area.resize(340, 200)
    show(qtbot, area)
    number = quantity(form, "angle").number
    QTest.mouseClick(number, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(number.hasFocus)
    area.verticalScrollBar().setValue(10)  # the field goes from where the mouse was moved onto it
    turn_wheel(number, -1)
    assert area.verticalScrollBar().value() > 10
    assert target.edits == []
    area.verticalScrollBar().setValue(10)
    move_mouse(number, number.rect().center())
    turn_wheel(number, -1)
    assert len(target.edits) == 1


# --- other rows ------------------------------------------------------------------------------------


def test_a_choice_is_an_edit(form: PartForm, target: Any) -> None:
    row = form.row("mode")
    assert isinstance(row, ChoiceRow)
    row.combo.setFocus()
    QTest.keyClick(row.combo, Qt.Key.Key_Down)
    assert target.edits == [(("mode",), "hard", None)]


def test_texts_and_whole_numbers(form: PartForm, target: Any) -> None:
    name, seed = form.row("name"), form.row("ground", "seed")
    assert isinstance(name, TextRow)
    assert isinstance(seed, TextRow)
    enter(name, "two")
    enter(seed, "42")
    assert target.edits == [(("name",), "two", None), (("ground", "seed"), 42, None)]
    enter(seed, "4.5")
    assert seed.message.startswith("Seed: '4.5' is not a whole number")
    enter(seed, "-1")
    assert "outside the allowed range (at least 0)" in seed.message
    QTest.keyClick(seed.text, Qt.Key.Key_Escape)
    assert (seed.text.text(), seed.message) == ("42", "")
    enter(seed, "-1")
    assert seed.message
    enter(seed, "42")  # the number that stands
    assert (seed.text.text(), seed.message) == ("42", "")


def test_another_kind_keeps_what_both_have_and_brings_its_rows(form: PartForm, target: Any) -> None:
    target.edit(("ground", "length"), 7.0)
    row = form.row("ground")
    assert isinstance(row, ChoiceRow)
    row.combo.setFocus()
    QTest.keyClick(row.combo, Qt.Key.Key_Down)
    assert target.part.ground.kind == "bumpy"
    assert target.part.ground.length == 7.0
    assert quantity(form, "ground", "height").number.text() == "50"
    with pytest.raises(KeyError):
        form.row("ground", "seed")


def test_an_absent_part_starts_as_a_copy_of_its_sibling(form: PartForm, target: Any) -> None:
    box = form.row("spare").tab_stops()[0]
    QTest.mouseClick(box, Qt.MouseButton.LeftButton, pos=QPoint(8, box.height() // 2))
    assert target.part.spare == target.part.front
    enter(quantity(form, "spare", "rate"), "10")
    assert target.part.spare.rate == 10e3
    QTest.mouseClick(box, Qt.MouseButton.LeftButton, pos=QPoint(8, box.height() // 2))
    assert target.part.spare is None
    with pytest.raises(KeyError):
        form.row("spare", "rate")


# --- the form --------------------------------------------------------------------------------------


def test_only_rows_whose_value_changed_are_touched(
    form: PartForm, target: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    touched: list[Any] = []
    show = QuantityRow._show
    monkeypatch.setattr(QuantityRow, "_show", lambda row: (touched.append(row.path), show(row)))
    target.edit(("front", "rate"), 20e3)
    assert touched == [("front", "rate")]


def test_what_differs_from_the_reference_is_marked(form: PartForm, target: Any) -> None:
    form.set_reference(target.part)
    assert not any(row.differs for row in form.rows())
    target.edit(("front", "rate"), 20e3)
    assert [row.path for row in form.rows() if row.differs] == [("front", "rate")]
    assert "Baseline: 26 N/mm" in form.row("front", "rate").toolTip()
    form.set_reference(None)
    assert not any(row.differs for row in form.rows())
    assert "Baseline" not in form.row("front", "rate").toolTip()


def test_a_kind_that_differs_from_the_reference_is_marked_once(form: PartForm, target: Any) -> None:
    reference = target.part
    form.set_reference(reference)
    bumpy = replaced(reference, ("ground",), {"kind": "bumpy"}).ground
    target.edit(("ground",), bumpy)
    assert [row.path for row in form.rows() if row.differs] == [("ground",)]


def test_a_search_shows_matching_rows_by_name_and_place(form: PartForm) -> None:
    assert form.search("front RATE")
    seen = [row.path for row in form.rows() if row.isVisible()]
    assert seen == [("front", "rate"), ("front", "bar")]
    assert not form.search("gearbox")
    assert form.search("")
    assert all(row.isVisible() for row in form.rows())


def test_fields_have_names_for_screen_readers(form: PartForm) -> None:
    for row in form.rows():
        for stop in row.tab_stops():
            assert stop.accessibleName() or stop.property("text")
        if isinstance(row, QuantityRow):
            assert row.name_label.buddy() is row.number
            assert row.slider.accessibleName()


def test_colours_of_another_theme(form: PartForm) -> None:
    form.set_theme(DARK)
    assert DARK.raised in form.styleSheet()
    assert form.theme is DARK


# --- a form of some fields, and groups folded at first -----------------------------------------------


@pytest.fixture
def folded(qtbot: QtBot, target: Any) -> PartForm:
    form = PartForm(type(target.part), target, only=("angle", "front", "rear"), folded=("front",))
    qtbot.addWidget(form)
    show(qtbot, form)
    return form


def test_only_the_fields_that_are_named_have_rows(folded: PartForm) -> None:
    assert [row.path for row in folded.rows()] == [("angle",), ("rear", "rate"), ("rear", "bar")]


def test_a_group_folded_at_first_has_its_rows_once_it_is_opened(folded: PartForm, target: Any) -> None:
    target.edit(("front", "rate"), 31e3)
    title = next(stop for stop in folded.tab_stops() if stop.accessibleName() == "Front arm, folded")
    assert isinstance(title, Title)
    title.click()
    assert title.accessibleName() == "Front arm, open"
    assert quantity(folded, "front", "rate").number.text() == "31"
    target.edit(("front", "rate"), 32e3)
    assert quantity(folded, "front", "rate").number.text() == "32"
    title.click()
    assert not quantity(folded, "front", "rate").isVisible()


def test_a_folded_group_is_marked_where_it_differs_and_found_by_a_search(
    folded: PartForm, target: Any
) -> None:
    folded.set_reference(target.part)
    target.edit(("front", "rate"), 31e3)
    marked = [block.differs for block in folded.findChildren(GroupBlock)]
    assert marked == [True, False]
    assert folded.search("front spring")
    assert quantity(folded, "front", "rate").isVisible()
    assert quantity(folded, "front", "rate").differs
    folded.search("")
    assert not quantity(folded, "front", "rate").isVisible()
