"""Edits, undo and the saved mark of the one open project."""

from __future__ import annotations

import gc
import weakref
from pathlib import Path

import pytest
from shiboken6 import isValid

from models.errors import InputError
from models.project import duplicate_variant, new_project
from workbench.document import Document, next_gesture

RATE = ("variants", 0, "vehicle", "front", "spring", "rate")


@pytest.fixture
def document(qapp: object) -> Document:
    return Document(new_project())


def test_edit_takes_si_or_text_and_announces_once(document: Document) -> None:
    seen: list[object] = []
    document.changed.connect(lambda: seen.append(document.value(RATE)))
    document.edit(RATE, "30 N/mm")
    document.edit(RATE, 31e3)
    assert seen == [30e3, 31e3]


def test_equal_value_is_no_edit(document: Document) -> None:
    before = document.value(RATE)
    document.edit(RATE, before)
    assert document.undo_stack.count() == 0
    assert not document.unsaved


def test_refused_value_names_field_value_range_and_unit_and_changes_nothing(document: Document) -> None:
    before = document.project
    with pytest.raises(InputError) as refusal:
        document.edit(RATE, "9000 N/mm")
    text = str(refusal.value)
    assert "front > spring > rate" in text
    assert "9000 N/mm" in text
    assert "0 to 2000 N/mm" in text
    assert document.project is before
    assert document.undo_stack.count() == 0


def test_undo_and_redo_restore_the_very_project(document: Document) -> None:
    first = document.project
    document.edit(RATE, 30e3)
    second = document.project
    document.undo_stack.undo()
    assert document.project is first
    document.undo_stack.redo()
    assert document.project is second


def test_a_drag_is_one_step_and_two_drags_are_two(document: Document) -> None:
    for _ in range(2):
        gesture = next_gesture()
        for step in range(20):
            document.edit(RATE, 20e3 + 100 * step + gesture, gesture)
    assert document.undo_stack.count() == 2


def test_a_drag_of_another_field_is_another_step(document: Document) -> None:
    gesture = next_gesture()
    document.edit(RATE, 20e3, gesture)
    document.edit(("variants", 0, "vehicle", "rear", "spring", "rate"), 20e3, gesture)
    assert document.undo_stack.count() == 2


def test_a_drag_back_to_its_start_leaves_no_step(document: Document) -> None:
    before, gesture = document.value(RATE), next_gesture()
    document.edit(RATE, 20e3, gesture)
    document.edit(RATE, before, gesture)
    assert document.undo_stack.count() == 0


def test_saving_in_the_middle_of_a_drag_keeps_the_saved_state_reachable(document: Document) -> None:
    gesture = next_gesture()
    document.edit(RATE, 20e3, gesture)
    document.saved(Path("car.corduroy"))
    document.edit(RATE, 21e3, gesture)
    assert document.unsaved
    document.undo_stack.undo()
    assert document.value(RATE) == 20e3
    assert not document.unsaved


def test_opening_another_project_clears_the_history(document: Document) -> None:
    document.edit(RATE, 30e3)
    other = duplicate_variant(new_project(), "Variant 1")
    document.open(other, Path("other.corduroy"))
    assert document.project is other
    assert document.path == Path("other.corduroy")
    assert document.undo_stack.count() == 0
    assert not document.unsaved


def test_recovered_project_counts_as_unsaved(document: Document) -> None:
    document.open(new_project(), None)
    document.recovered()
    assert document.unsaved


def test_a_document_that_is_collected_takes_its_edits_with_it_in_order(document: Document) -> None:
    """A ring around document and stack, which the garbage collector takes apart in an order of its own."""
    other = Document(document.project)
    other.edit(RATE, 31e3)
    command, ring = weakref.ref(other.undo_stack.command(0)), [other]
    other.ring, stack = ring, other.undo_stack  # type: ignore[attr-defined]
    del other, ring
    gc.collect()
    assert command() is None
    assert not isValid(stack)
