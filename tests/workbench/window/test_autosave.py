"""Copies of a session that died: what is open by then does not go for them unasked."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from models.fields import replaced
from models.project import new_project, save
from models.project.recovery import Session, pending
from workbench.document import Document
from workbench.runner import Runner
from workbench.window.autosave import Autosave
from workbench.window.notice import NoticeBar


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """State folder in which a session that is dead has left its work."""
    folder = tmp_path / "state"
    session = Session(folder)
    session.write(replaced(new_project(), ("name",), "lost"), None)
    (copy,) = folder.glob("*.autosave")
    content = copy.read_bytes()
    session.close()
    copy.write_bytes(content)
    return folder


@pytest.fixture
def autosave(qtbot: QtBot, folder: Path) -> Iterator[Autosave]:
    runner = Runner()
    autosave = Autosave(Document(new_project(), runner), runner, folder, runner)
    yield autosave
    runner.stop()
    autosave.end()


@pytest.fixture
def notice(qtbot: QtBot) -> NoticeBar:
    notice = NoticeBar()
    qtbot.addWidget(notice)
    return notice


def answer(qtbot: QtBot, notice: NoticeBar, text: str) -> None:
    button = next(one for one in notice.findChildren(QPushButton) if one.text() == text)
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def test_edits_made_before_the_answer_are_asked_about_and_the_offer_stays(
    qtbot: QtBot, autosave: Autosave, notice: NoticeBar, folder: Path
) -> None:
    document = autosave._document
    document.edit(("name",), "edited meanwhile")
    autosave.offer(notice, lambda: False)
    answer(qtbot, notice, "Recover")
    assert document.project.name == "edited meanwhile"
    assert "lost" in notice.text.text()
    assert not notice.isHidden()
    assert len(pending(folder)) == 1


def test_the_copy_is_taken_where_the_open_project_may_go(
    qtbot: QtBot, autosave: Autosave, notice: NoticeBar, folder: Path
) -> None:
    autosave.offer(notice, lambda: True)
    with qtbot.waitSignal(autosave.written):
        answer(qtbot, notice, "Recover")
    assert autosave._document.project.name == "lost"
    assert autosave._document.unsaved
    assert notice.isHidden()
    assert pending(folder) == []


def test_a_file_that_changed_after_the_copy_is_told(
    qtbot: QtBot, tmp_path: Path, notice: NoticeBar, autosave: Autosave, folder: Path
) -> None:
    path = tmp_path / "car.corduroy"
    session = Session(folder)
    session.write(new_project(), path)
    newest = max(folder.glob("*.autosave"), key=lambda file: file.stat().st_mtime_ns)
    content = newest.read_bytes()
    session.close()
    newest.write_bytes(content)
    save(new_project(), path)
    autosave.offer(notice, lambda: True)
    assert "“car.corduroy” was saved" in notice.text.text()
    assert "changed after that" in notice.text.text()
