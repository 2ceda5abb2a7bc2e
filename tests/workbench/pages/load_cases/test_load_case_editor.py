"""Load cases are edited, renamed, copied and removed, and the one in force goes along."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from models.project import Project, Variant
from models.vehicle import AS_DESIGNED, Load, LoadCase
from tests.screen import show
from workbench.document import Document
from workbench.editor.table_row import TableRow
from workbench.editor.text_row import TextRow
from workbench.editor.value_edit import ValueEdit
from workbench.pages.load_cases.editor import LoadCaseChooser, LoadCaseEditor
from workbench.theme import DARK

TWO_UP = LoadCase(name="two up", loads=(Load(name="passenger", mass=75.0), Load(name="bags", mass=30.0)))
FULL = LoadCase(name="full", loads=(Load(name="all", mass=400.0),))


@pytest.fixture
def document(qapp: object) -> Document:
    return Document(
        Project(
            variants=(Variant(name="A"),),
            baseline="A",
            candidate="A",
            load_cases=(TWO_UP, FULL),
            load_case="two up",
        )
    )


@pytest.fixture
def editor(qtbot: QtBot, document: Document) -> LoadCaseEditor:
    editor = LoadCaseEditor(document)
    qtbot.addWidget(editor)
    editor.resize(340, 700)
    show(qtbot, editor)
    return editor


@pytest.fixture
def chooser(qtbot: QtBot, document: Document) -> LoadCaseChooser:
    chooser = LoadCaseChooser(document)
    qtbot.addWidget(chooser)
    show(qtbot, chooser)
    return chooser


def names(document: Document) -> list[str]:
    return [case.name for case in document.project.load_cases]


def rename(editor: LoadCaseEditor, place: int, name: str) -> TextRow:
    row = editor.cases[place].form.row("name")
    assert isinstance(row, TextRow)
    row.text.setFocus()
    row.text.selectAll()
    QTest.keyClicks(row.text, name)
    QTest.keyClick(row.text, Qt.Key.Key_Return)
    return row


def loads(editor: LoadCaseEditor, place: int) -> TableRow:
    row = editor.cases[place].form.row("loads")
    assert isinstance(row, TableRow)
    return row


def test_each_case_shows_its_loads_and_their_sum(editor: LoadCaseEditor) -> None:
    assert [len(loads(editor, place).model.rows) for place in (0, 1)] == [2, 1]
    assert [box.sum.text() for box in editor.cases] == ["105 kg in all, in force", "400 kg in all"]
    editor.set_units({"mass": "lb"})
    assert editor.cases[1].sum.text() == "882 lb in all"  # 400 kg / 0.45359237 kg


def test_a_new_name_of_the_case_in_force_is_one_undo_step(editor: LoadCaseEditor, document: Document) -> None:
    rename(editor, 0, "pair")
    assert (names(document), document.project.load_case) == (["pair", "full"], "pair")
    assert document.undo_stack.count() == 1
    document.undo_stack.undo()
    assert (names(document), document.project.load_case) == (["two up", "full"], "two up")
    assert editor.cases[0].form.row("name").text.text() == "two up"  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("name", "reason"),
    [("full", "'full' is the name of more than one load case"), ("  ", "at least 1")],
)
def test_a_refused_name_stays_with_its_reason(
    editor: LoadCaseEditor, document: Document, name: str, reason: str
) -> None:
    row = rename(editor, 0, name)
    assert reason in row.message
    assert row.text.text() == name
    assert document.undo_stack.count() == 0


def test_cases_are_added_copied_and_removed(editor: LoadCaseEditor, document: Document) -> None:
    QTest.mouseClick(editor.cases[0].duplicate_button, Qt.MouseButton.LeftButton)
    assert names(document) == ["two up", "two up copy", "full"]
    assert [box.case.name for box in editor.cases] == names(document)
    QTest.mouseClick(editor.cases[0].remove_button, Qt.MouseButton.LeftButton)
    assert names(document) == ["two up copy", "full"]
    assert document.project.load_case == AS_DESIGNED.name
    QTest.mouseClick(editor.add_button, Qt.MouseButton.LeftButton)
    assert names(document) == ["two up copy", "full", "load case"]
    assert document.project.load_cases[2].loads == (Load(name="driver"),)
    assert document.undo_stack.count() == 3
    for _ in range(3):
        document.undo_stack.undo()
    assert document.project.load_cases == (TWO_UP, FULL)
    assert document.project.load_case == "two up"
    assert [len(loads(editor, place).model.rows) for place in (0, 1)] == [2, 1]


def test_the_focus_goes_to_the_name_of_a_new_case(editor: LoadCaseEditor) -> None:
    QTest.mouseClick(editor.add_button, Qt.MouseButton.LeftButton)
    QApplication.sendPostedEvents()  # Qt shows new widgets in the next turn of the event loop
    assert isinstance(editor.cases[2].form.row("name"), TextRow)
    assert editor.focusWidget() is editor.cases[2].form.row("name").tab_stops()[0]


def test_without_cases_there_is_a_word_on_it(editor: LoadCaseEditor, document: Document) -> None:
    assert not editor.hint.isVisible()
    for _ in range(2):
        QTest.mouseClick(editor.cases[0].remove_button, Qt.MouseButton.LeftButton)
    assert editor.hint.isVisible()
    assert document.project.load_cases == ()


def test_a_mass_is_typed_into_its_cell(editor: LoadCaseEditor, document: Document) -> None:
    table = loads(editor, 1)
    table.view.setFocus()
    table.view.setCurrentIndex(table.model.index(0, 1))
    QTest.keyClick(table.view, Qt.Key.Key_F2)
    field = QApplication.focusWidget()
    assert isinstance(field, ValueEdit)
    field.selectAll()
    QTest.keyClicks(field, "0.5 t")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert document.project.load_cases[1].loads[0].mass == 500.0
    assert editor.cases[1].sum.text() == "500 kg in all"


def test_a_new_load_is_a_copy_and_all_may_go(editor: LoadCaseEditor, document: Document) -> None:
    table = loads(editor, 1)
    QTest.mouseClick(table.add_button, Qt.MouseButton.LeftButton)
    assert document.project.load_cases[1].loads == FULL.loads * 2
    for _ in range(2):
        QTest.mouseClick(table.remove_button, Qt.MouseButton.LeftButton)
    assert document.project.load_cases[1].loads == ()
    assert editor.cases[1].sum.text() == "no loads"
    QTest.mouseClick(table.add_button, Qt.MouseButton.LeftButton)
    assert document.project.load_cases[1].loads == (Load(),)


def test_another_project_takes_its_place(editor: LoadCaseEditor, document: Document) -> None:
    document.open(Project(variants=(Variant(name="A"),), baseline="A", candidate="A"), None)
    assert editor.cases == []
    document.undo_stack.undo()
    document.edit(("load_cases",), (FULL,))
    assert [box.case.name for box in editor.cases] == ["full"]


def test_a_unit_holds_for_all_cases(editor: LoadCaseEditor, qtbot: QtBot) -> None:
    with qtbot.waitSignal(editor.units_changed) as announced:
        editor.cases[0].form.choose_unit("mass", "lb")
    assert announced.args == ["mass", "lb"]
    for place in (0, 1):
        assert loads(editor, place).model.unit(1) == "lb"


def test_all_of_it_takes_the_colours_of_a_theme(editor: LoadCaseEditor) -> None:
    editor.set_theme(DARK)
    image = loads(editor, 0).view.viewport().grab().toImage()
    assert image.pixelColor(2, 2).name() == DARK.raised


# --- the choice ------------------------------------------------------------------------------------


def test_the_chooser_lists_the_car_as_designed_and_the_cases(chooser: LoadCaseChooser) -> None:
    assert [chooser.itemText(place) for place in range(chooser.count())] == ["As designed", "Two up", "Full"]
    assert chooser.currentText() == "Two up"


def test_a_choice_is_one_undo_step(chooser: LoadCaseChooser, document: Document) -> None:
    chooser.setFocus()
    QTest.keyClick(chooser, Qt.Key.Key_Down)
    assert document.project.load_case == "full"
    assert document.undo_stack.count() == 1
    document.undo_stack.undo()
    assert (document.project.load_case, chooser.currentText()) == ("two up", "Two up")


def test_the_chooser_follows_new_names_and_removals(
    chooser: LoadCaseChooser, editor: LoadCaseEditor, document: Document
) -> None:
    rename(editor, 0, "pair")
    assert chooser.currentText() == "Pair"
    QTest.mouseClick(editor.cases[0].remove_button, Qt.MouseButton.LeftButton)
    assert chooser.currentText() == "As designed"
    assert chooser.count() == 2
