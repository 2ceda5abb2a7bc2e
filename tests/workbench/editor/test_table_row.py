"""Tables of parts, worked with keys, mouse and clipboard."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu, QWidget
from pytestqt.qtbot import QtBot

from models.fields import replaced
from models.project import Project, Variant
from models.vehicle import SpringPoint, TabulatedDamper, TabulatedSpring, Vehicle
from tests.screen import show
from workbench.document import Document
from workbench.editor import ParameterEditor, commit_input
from workbench.editor.table_row import TableRow
from workbench.editor.value_edit import ValueEdit


@pytest.fixture
def document(qapp: object) -> Document:
    vehicle = replaced(
        replaced(Vehicle(), ("front", "spring"), TabulatedSpring()), ("rear", "damper"), TabulatedDamper()
    )
    return Document(Project(variants=(Variant(name="A", vehicle=vehicle),), baseline="A", candidate="A"))


@pytest.fixture
def editor(qtbot: QtBot, document: Document) -> ParameterEditor:
    editor = ParameterEditor()
    qtbot.addWidget(editor)
    editor.set_target(document, document.candidate_path)
    editor.resize(340, 800)
    show(qtbot, editor)
    return editor


@pytest.fixture
def curve(editor: ParameterEditor) -> TableRow:
    row = editor.form.row("front", "spring", "points")
    assert isinstance(row, TableRow)
    row.view.setFocus()
    return row


def points(document: Document) -> list[tuple[float, float]]:
    spring = document.project.variants[0].vehicle.front.spring
    assert isinstance(spring, TabulatedSpring)
    return [(point.deflection, point.force) for point in spring.points]


def go_to(curve: TableRow, row: int, column: int) -> None:
    curve.view.setCurrentIndex(curve.model.index(row, column))


def cell_editor() -> ValueEdit:
    field = QApplication.focusWidget()
    assert isinstance(field, ValueEdit)
    return field


def enter(curve: TableRow, row: int, column: int, text: str) -> None:
    go_to(curve, row, column)
    QTest.keyClick(curve.view, Qt.Key.Key_F2)
    field = cell_editor()
    field.selectAll()
    QTest.keyClicks(field, text)
    leave_by_return(curve)


def leave_by_return(curve: TableRow) -> None:
    QTest.keyClick(cell_editor(), Qt.Key.Key_Return)
    QApplication.sendPostedEvents()  # Qt closes the field in the next turn of the event loop
    assert curve.view.hasFocus()


def shown(curve: TableRow, row: int, column: int) -> str:
    return str(curve.model.data(curve.model.index(row, column)))


def middle_of(curve: TableRow, row: int, column: int) -> QPoint:
    return curve.view.visualRect(curve.model.index(row, column)).center()


def paste(curve: TableRow, text: str) -> None:
    QApplication.clipboard().setText(text)
    QTest.keySequence(curve.view, QKeySequence(QKeySequence.StandardKey.Paste))


# --- cells -----------------------------------------------------------------------------------------


def test_cells_show_numbers_in_the_units_of_the_columns(curve: TableRow) -> None:
    assert [[shown(curve, row, column) for column in (0, 1)] for row in range(3)] == [
        ["-80", "-2000"],
        ["40", "1000"],
        ["80", "2300"],
    ]
    heads = [curve.model.headerData(column, Qt.Orientation.Horizontal) for column in (0, 1)]
    assert heads == ["Deflection mm", "Force N"]


@pytest.mark.parametrize(("text", "force"), [("1100", 1100.0), ("1.2 kN", 1200.0)])
def test_a_cell_is_one_undoable_edit(curve: TableRow, document: Document, text: str, force: float) -> None:
    enter(curve, 1, 1, text)
    assert points(document)[1] == (0.04, force)
    assert document.undo_stack.count() == 1
    document.undo_stack.undo()
    assert points(document)[1] == (0.04, 1000.0)
    assert shown(curve, 1, 1) == "1000"


def test_typing_begins_an_edit_and_return_goes_down(curve: TableRow, document: Document) -> None:
    go_to(curve, 0, 1)
    QTest.keyClicks(curve.view, "-")
    QTest.keyClicks(cell_editor(), "1900")
    leave_by_return(curve)
    assert points(document)[0][1] == -1900.0
    assert (curve.view.currentIndex().row(), curve.view.currentIndex().column()) == (1, 1)


def test_tab_goes_from_cell_to_cell_while_editing_and_out_of_the_table_otherwise(
    curve: TableRow, document: Document
) -> None:
    go_to(curve, 1, 0)
    QTest.keyClick(curve.view, Qt.Key.Key_F2)
    cell_editor().selectAll()
    QTest.keyClicks(cell_editor(), "45")
    QTest.keyClick(cell_editor(), Qt.Key.Key_Tab)
    assert cell_editor().accessibleName() == "Force in row 2"
    QTest.keyClick(cell_editor(), Qt.Key.Key_Escape)
    assert points(document)[1] == (0.045, 1000.0)
    QTest.keyClick(curve.view, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is curve.add_button


def test_passing_through_a_cell_edits_nothing(curve: TableRow, document: Document) -> None:
    document.edit((*document.candidate_path(), "front", "spring", "points", 1, "force"), 1000.123456789)
    assert shown(curve, 1, 1) == "1000"
    QTest.mouseClick(curve.view.viewport(), Qt.MouseButton.LeftButton, pos=middle_of(curve, 1, 1))
    QTest.mouseDClick(curve.view.viewport(), Qt.MouseButton.LeftButton, pos=middle_of(curve, 1, 1))
    assert cell_editor().text() == "1000.12345679"
    leave_by_return(curve)
    assert points(document)[1][1] == 1000.123456789
    assert document.undo_stack.count() == 1


@pytest.mark.parametrize(
    ("column", "text", "reason"),
    [
        (0, "-90", "Deflection: -90 mm in row 2 is outside the allowed range (more than -80 mm)"),
        (1, "9e9", "Force in row 2: 9e+09 N is outside the allowed range (-1e+06 to 1e+06 N)"),
        (1, "much", "Force in row 2: 'much' is not a number with a unit (-1e+06 to 1e+06 N)"),
    ],
)
def test_a_refused_text_stays_in_its_cell_with_the_reason_below(
    curve: TableRow, document: Document, column: int, text: str, reason: str
) -> None:
    enter(curve, 1, column, text)
    assert curve.message == reason
    assert shown(curve, 1, column) == text
    assert document.undo_stack.count() == 0
    assert curve.view.currentIndex().row() == 1
    QTest.keyClick(curve.view, Qt.Key.Key_F2)
    assert cell_editor().text() == text
    QTest.keyClick(cell_editor(), Qt.Key.Key_Escape)
    assert (shown(curve, 1, column), curve.message) == (("40", "1000")[column], "")


def test_a_corrected_cell_loses_its_message(curve: TableRow, document: Document) -> None:
    enter(curve, 1, 1, "-3000")
    assert "at least -2000 N" in curve.message
    enter(curve, 1, 1, "-1500")
    assert curve.message == ""
    assert points(document)[1] == (0.04, -1500.0)


def test_a_draft_survives_other_edits_and_gives_way_to_one_of_its_cell(
    curve: TableRow, document: Document
) -> None:
    enter(curve, 1, 1, "soft")
    document.edit((*document.candidate_path(), "front", "spring", "points", 2, "force"), 2500.0)
    assert shown(curve, 1, 1) == "soft"
    document.edit((*document.candidate_path(), "front", "spring", "points", 1, "force"), 1500.0)
    assert shown(curve, 1, 1) == "1500"


def test_a_save_by_key_takes_the_text_of_an_open_cell(curve: TableRow, document: Document) -> None:
    go_to(curve, 2, 1)
    QTest.keyClick(curve.view, Qt.Key.Key_F2)
    cell_editor().selectAll()
    QTest.keyClicks(cell_editor(), "2600")
    assert commit_input()
    assert points(document)[2][1] == 2600.0
    cell_editor().selectAll()
    QTest.keyClicks(cell_editor(), "none")
    assert not commit_input()
    assert cell_editor().text() == "none"


# --- lines -----------------------------------------------------------------------------------------


def test_a_new_line_lies_on_the_curve(curve: TableRow, document: Document) -> None:
    go_to(curve, 1, 0)
    QTest.mouseClick(curve.add_button, Qt.MouseButton.LeftButton)
    assert points(document)[1:3] == [(0.04, 1000.0), (0.06, 1650.0)]
    assert curve.view.currentIndex().row() == 2
    assert document.undo_stack.count() == 1
    go_to(curve, 3, 0)
    QTest.keyClick(curve.view, Qt.Key.Key_Insert)
    assert points(document)[4] == pytest.approx((0.1, 2950.0))


def test_chosen_lines_are_removed_and_the_least_number_is_kept(curve: TableRow, document: Document) -> None:
    QTest.mouseClick(curve.view.viewport(), Qt.MouseButton.LeftButton, pos=middle_of(curve, 1, 0))
    QTest.keyClick(curve.view, Qt.Key.Key_Delete)
    assert points(document) == [(-0.08, -2000.0), (0.08, 2300.0)]
    QTest.mouseClick(curve.remove_button, Qt.MouseButton.LeftButton)
    assert curve.message == "1 entry is outside the allowed range (at least 2)"
    assert len(points(document)) == 2
    document.undo_stack.undo()
    assert len(curve.model.rows) == 3
    assert curve.message == ""


def test_the_table_is_as_high_as_its_lines(curve: TableRow) -> None:
    before = curve.view.height()
    go_to(curve, 0, 0)
    QTest.mouseClick(curve.add_button, Qt.MouseButton.LeftButton)
    assert curve.view.height() - before == curve.view.verticalHeader().defaultSectionSize()


# --- clipboard -------------------------------------------------------------------------------------


def test_a_curve_from_a_spreadsheet_is_one_edit(curve: TableRow, document: Document) -> None:
    paste(curve, "Weg (mm)\tKraft (kN)\n-50\t-1,2\n0\t0\n25\t0,7\n50\t1,6\n")
    assert points(document) == [(-0.05, -1200.0), (0.0, 0.0), (0.025, 700.0), (0.05, 1600.0)]
    assert document.undo_stack.count() == 1
    document.undo_stack.undo()
    assert points(document)[0] == (-0.08, -2000.0)


def test_a_curve_that_is_refused_leaves_the_table_and_says_why(curve: TableRow, document: Document) -> None:
    paste(curve, "0\t0\n-10\t5\n")
    assert curve.message == "Deflection: -10 mm in row 2 is outside the allowed range (more than 0 mm)"
    paste(curve, "0\tzero\n10\t5\n")
    assert curve.message.startswith("Force in line 1: 'zero' is not a number")
    assert document.undo_stack.count() == 0


def test_copy_gives_all_or_the_chosen_cells(curve: TableRow) -> None:
    QTest.mouseClick(curve.copy_button, Qt.MouseButton.LeftButton)
    assert QApplication.clipboard().text() == ("Deflection (mm)\tForce (N)\n-80\t-2000\n40\t1000\n80\t2300\n")
    QTest.mouseClick(curve.view.viewport(), Qt.MouseButton.LeftButton, pos=middle_of(curve, 1, 1))
    QTest.mouseClick(
        curve.view.viewport(),
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.ShiftModifier,
        middle_of(curve, 2, 1),
    )
    QTest.keySequence(curve.view, QKeySequence(QKeySequence.StandardKey.Copy))
    assert QApplication.clipboard().text() == "Force (N)\n1000\n2300\n"


# --- units, marks, looks ---------------------------------------------------------------------------


def test_a_unit_is_chosen_in_the_head_of_a_column(
    curve: TableRow, editor: ParameterEditor, document: Document, qtbot: QtBot
) -> None:
    head = curve.view.horizontalHeader()
    place = QPoint(head.sectionViewportPosition(1) + 20, head.height() - 5)
    QTest.mouseClick(head.viewport(), Qt.MouseButton.LeftButton, pos=place)
    menu = head.findChild(QMenu)
    assert isinstance(menu, QMenu)
    action = next(action for action in menu.actions() if action.text() == "kN")
    with qtbot.waitSignal(editor.units_changed) as announced:
        QTest.mouseClick(menu, Qt.MouseButton.LeftButton, pos=menu.actionGeometry(action).center())
    assert announced.args == ["force", "kN"]
    assert shown(curve, 2, 1) == "2.3"
    enter(curve, 2, 1, "2.4")
    assert points(document)[2][1] == 2400.0


def test_a_table_that_differs_from_the_baseline_is_marked(curve: TableRow, document: Document) -> None:
    baseline = document.project.variants[0].vehicle
    curve.host.set_reference(baseline)  # type: ignore[attr-defined]
    assert not curve.differs
    enter(curve, 1, 1, "1100")
    assert curve.differs
    document.undo_stack.undo()
    assert not curve.differs


@pytest.mark.parametrize("width", [300, 340, 420])
def test_no_column_is_cut_off(editor: ParameterEditor, curve: TableRow, width: int) -> None:
    editor.resize(width, 800)
    view: QWidget = curve.view
    assert view.mapTo(editor.form, view.rect().topRight()).x() < editor.form.width()
    total = sum(curve.view.columnWidth(column) for column in (0, 1))
    assert total == curve.view.viewport().width()


def test_another_kind_of_spring_keeps_the_law(editor: ParameterEditor, document: Document) -> None:
    choice = editor.form.row("rear", "spring").tab_stops()[0]
    choice.setFocus()
    while document.project.variants[0].vehicle.rear.spring.kind != "table":
        QTest.keyClick(choice, Qt.Key.Key_Down)
    spring = document.project.variants[0].vehicle.rear.spring
    assert isinstance(spring, TabulatedSpring)
    assert spring.points[0] == SpringPoint(deflection=-0.1, force=spring.points[0].force)
    # By way of a progressive spring without growth: 26 N/mm over 100 mm.
    assert spring.points[-1].force == pytest.approx(2600.0, rel=1e-9)


def test_a_change_of_kind_during_a_search_shows_only_what_is_searched(
    editor: ParameterEditor, document: Document
) -> None:
    editor.search.setFocus()
    QTest.keyClicks(editor.search, "rear axle spring rate")
    choice = editor.form.row("rear", "spring").tab_stops()[0]
    choice.setFocus()
    QTest.keyClick(choice, Qt.Key.Key_Down)
    assert document.project.variants[0].vehicle.rear.spring.kind == "progressive"
    QApplication.sendPostedEvents()  # Qt shows new rows in the next turn of the event loop
    seen = [row.path for row in editor.form.rows() if row.isVisible()]
    assert seen == [("rear", "spring"), ("rear", "spring", "rate")]
