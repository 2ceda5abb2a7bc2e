"""What the engine computes, and what it keeps."""

from __future__ import annotations

import gc
import weakref

import pytest

import workbench.engine
from models.analysis import Analysis, begin_analysis
from models.project import duplicate_variant, new_project, set_candidate
from workbench.document import Document, next_gesture
from workbench.engine import Engine
from workbench.runner import Runner

RATE = ("variants", 1, "vehicle", "front", "spring", "rate")


@pytest.fixture
def document(qapp: object) -> Document:
    project = new_project()
    project = duplicate_variant(project, project.baseline)
    return Document(set_candidate(project, project.variants[1].name))


def _moved(document: Document, engine: Engine, rate: float, gesture: int) -> Analysis:
    document.edit(RATE, rate, gesture)
    engine.update_now()
    assert engine.candidate is not None
    return engine.candidate


def test_a_drag_keeps_only_where_it_began_and_where_it_is(
    document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    engine = Engine(document, Runner())
    engine.update_now()
    first, gesture = engine.candidate, next_gesture()
    passed = [weakref.ref(_moved(document, engine, rate, gesture)) for rate in (20e3, 21e3, 22e3)]
    last = engine.candidate
    gc.collect()
    assert [analysis() for analysis in passed] == [None, None, last]

    computed: list[object] = []
    monkeypatch.setattr(
        workbench.engine,
        "begin_analysis",
        lambda *given, **more: computed.append(given) or begin_analysis(*given, **more),
    )
    document.undo_stack.undo()
    engine.update_now()
    assert engine.candidate is first
    document.undo_stack.redo()
    engine.update_now()
    assert engine.candidate is last
    assert computed == []


def test_each_of_several_edits_is_kept(document: Document) -> None:
    engine = Engine(document, Runner())
    engine.update_now()
    seen = [_moved(document, engine, rate, next_gesture()) for rate in (20e3, 21e3, 22e3)]
    for analysis in reversed(seen[:-1]):
        document.undo_stack.undo()
        engine.update_now()
        assert engine.candidate is analysis
