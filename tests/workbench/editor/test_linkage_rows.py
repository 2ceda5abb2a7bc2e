"""Chains of rockers and links in the editor: a part that may be absent and is of several kinds."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from models.linkage import DirectLever, RockerPushrod, TrailingArmBellCrank, WishboneDropLink
from models.project import Project, Variant
from models.vehicle import TorsionCoupling, Vehicle
from tests.screen import show
from workbench.document import Document
from workbench.editor import ParameterEditor
from workbench.editor.blocks import GroupBlock
from workbench.editor.choice_row import ChoiceRow
from workbench.editor.plan import Maybe, plan
from workbench.editor.quantity_row import QuantityRow

FRONT = ("left", "coupling", "front_linkage")


@pytest.fixture
def document(qapp: object) -> Document:
    variants = (Variant(name="A", vehicle=Vehicle()), Variant(name="B", vehicle=Vehicle()))
    return Document(Project(name="Test", variants=variants, baseline="A", candidate="B"))


@pytest.fixture
def editor(qtbot: QtBot, document: Document) -> ParameterEditor:
    editor = ParameterEditor()
    qtbot.addWidget(editor)
    editor.set_target(document, document.candidate_path)
    editor.resize(340, 800)
    show(qtbot, editor)
    return editor


def coupling(document: Document) -> TorsionCoupling:
    found = document.value((*document.candidate_path(), "left", "coupling"))
    assert isinstance(found, TorsionCoupling)
    return found


def tick(editor: ParameterEditor, *path: str) -> None:
    box = editor.form.row(*path).tab_stops()[0]
    QTest.mouseClick(box, Qt.MouseButton.LeftButton, pos=QPoint(8, box.height() // 2))


def kinds(editor: ParameterEditor, *path: str) -> ChoiceRow:
    return next(row for row in editor.form.rows() if row.path == path and isinstance(row, ChoiceRow))


def pick(row: ChoiceRow, index: int) -> None:
    row.combo.setFocus()
    key = Qt.Key.Key_Down if index > row.combo.currentIndex() else Qt.Key.Key_Up
    while row.combo.currentIndex() != index:
        QTest.keyClick(row.combo, key)


def open_all(editor: ParameterEditor) -> None:
    """Open groups until none is folded: those inside come with their rows."""
    while folded := [block for block in editor.form.findChildren(GroupBlock) if block.folded]:
        for block in folded:
            block.fold(False)


def entered(editor: ParameterEditor, text: str, *path: str) -> QuantityRow:
    row = editor.form.row(*path)
    assert isinstance(row, QuantityRow)
    row.number.setFocus()
    row.number.selectAll()
    QTest.keyClicks(row.number, text)
    QTest.keyClick(row.number, Qt.Key.Key_Return)
    return row


def test_a_linkage_is_a_part_that_may_be_absent_of_several_kinds() -> None:
    shapes = {field.name: field.shape for field in plan(TorsionCoupling)}
    kinds = (DirectLever, WishboneDropLink, TrailingArmBellCrank, RockerPushrod)
    assert shapes["front_linkage"] == shapes["rear_linkage"] == Maybe(kinds)


def test_a_tick_brings_a_chain_whose_kind_and_points_are_edited(
    editor: ParameterEditor, document: Document
) -> None:
    tick(editor, *FRONT)
    assert coupling(document).front_linkage == DirectLever()
    pick(kinds(editor, *FRONT), 1)
    assert coupling(document).front_linkage == WishboneDropLink()
    open_all(editor)
    row = entered(editor, "-210", *FRONT, "lever", "link", "y")
    assert row.message == ""
    chain = coupling(document).front_linkage
    assert isinstance(chain, WishboneDropLink)
    assert chain.lever.link.y == pytest.approx(-0.21)
    pick(kinds(editor, *FRONT), 3)
    assert coupling(document).front_linkage == RockerPushrod()
    for _ in range(5):  # the keys went by way of the third kind
        document.undo_stack.undo()
    assert coupling(document).front_linkage is None
    with pytest.raises(KeyError):
        editor.form.row(*FRONT, "jounce")


def test_a_chain_that_would_lock_is_refused_with_the_travel(
    editor: ParameterEditor, document: Document
) -> None:
    tick(editor, *FRONT)
    row = entered(editor, "400", *FRONT, "jounce")
    assert "locks at 359.9 mm of jounce" in row.message
    assert coupling(document).front_linkage == DirectLever()


def test_a_chain_at_the_rear_starts_as_one_that_levels(editor: ParameterEditor, document: Document) -> None:
    tick(editor, *FRONT)
    tick(editor, "left", "coupling", "rear_linkage")
    assert coupling(document).rear_linkage == TrailingArmBellCrank()
    tick(editor, "left", "coupling", "rear_linkage")
    assert coupling(document).rear_linkage is None


def test_a_stabiliser_gets_a_bar_across_the_car(editor: ParameterEditor, document: Document) -> None:
    tick(editor, "front", "stabiliser", "linkage")
    chain = document.value((*document.candidate_path(), "front", "stabiliser", "linkage"))
    assert isinstance(chain, WishboneDropLink)
    assert (chain.lever.axis.along, chain.lever.axis.across) == (0.0, 1.0)


def test_joints_are_folded_and_the_page_is_named(qtbot: QtBot, editor: ParameterEditor) -> None:
    tick(editor, *FRONT)
    pick(kinds(editor, *FRONT), 1)
    link = (*FRONT, "lever", "link", "y")
    qtbot.waitUntil(lambda: editor.form.row(*FRONT, "jounce").isVisible())
    with pytest.raises(KeyError):  # its row is made when it is looked for
        editor.form.row(*link)
    words = [label.text() for label in kinds(editor, *FRONT).findChildren(QLabel)]
    assert "see page Linkage" in words
    editor.search.setText("link on the lever outward")
    qtbot.waitUntil(lambda: editor.form.row(*link).isVisible())


def test_a_linkage_is_compared_with_the_baseline(editor: ParameterEditor, document: Document) -> None:
    editor.form.set_reference(Vehicle())
    assert not editor.form.row(*FRONT).differs
    tick(editor, *FRONT)
    assert editor.form.row(*FRONT).differs
