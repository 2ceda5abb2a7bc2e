"""The bar of notices: statements pass, questions wait for their answer."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from workbench.window.notice import NoticeBar


@pytest.fixture
def notice(qtbot: QtBot) -> NoticeBar:
    notice = NoticeBar()
    qtbot.addWidget(notice)
    return notice


def press(qtbot: QtBot, notice: NoticeBar, text: str) -> None:
    button = next(one for one in notice._buttons if one.text() == text)
    assert isinstance(button, QPushButton)
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def test_a_question_comes_back_after_what_was_said_meanwhile(qtbot: QtBot, notice: NoticeBar) -> None:
    answers: list[str] = []
    notice.say("Recover?", {"Recover": lambda: answers.append("recover")})
    notice.say("That file is damaged.")
    notice.say("And this one.")
    assert notice.text.text() == "And this one."
    notice.settle()
    assert notice.text.text() == "Recover?"
    notice.settle()  # a question does not pass
    press(qtbot, notice, "Recover")
    assert answers == ["recover"]
    assert notice.isHidden()


def test_what_holds_no_more_is_taken_back_wherever_it_stands(qtbot: QtBot, notice: NoticeBar) -> None:
    notice.say("Compute now?", {"Compute now": lambda: None})
    notice.say("Not taken.")
    notice.take_back("Compute now?")
    assert notice.text.text() == "Not taken."
    press(qtbot, notice, "Dismiss")
    assert notice.isHidden()
