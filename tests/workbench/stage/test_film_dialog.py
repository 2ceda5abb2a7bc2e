"""The film dialog writes in its own thread, and stops when it is told to."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QProgressBar
from pytestqt.qtbot import QtBot

from models.analysis import Analysis
from workbench.stage import FilmDialog, StageView


@pytest.fixture
def dialog(
    qtbot: QtBot, joined: Analysis, separate: Analysis, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> FilmDialog:
    monkeypatch.setenv("PATH", str(tmp_path / "nothing"))
    stage = StageView()
    qtbot.addWidget(stage)
    stage.resize(640, 180)
    stage.set_analyses(joined, separate)
    made = FilmDialog(stage, 1.0, tmp_path)
    made.stage_kept = stage
    qtbot.addWidget(made)
    made.show()
    return made


def shown_text(dialog: FilmDialog) -> str:
    return dialog._trouble.text()


def test_choices_are_those_of_the_stage_and_the_run(dialog: FilmDialog) -> None:
    settings = dialog.settings
    assert (settings.width, settings.height) == (640, 180)
    assert (settings.start, settings.end, settings.speed) == (0.0, 1.0, 1.0)
    assert dialog._summary.text() == "25 frames, 1.00 s of film"
    dialog.speed_box.setCurrentIndex(dialog.speed_box.findData(0.5))
    assert dialog._summary.text() == "50 frames, 2.00 s of film"


def test_mp4_cannot_be_chosen_without_ffmpeg_and_says_why(dialog: FilmDialog) -> None:
    row = dialog.format_box.findData(".mp4")
    item = dialog.format_box.model().item(row)
    assert not item.isEnabled()
    assert "ffmpeg" in item.toolTip()
    assert dialog.rate_box.maximum() == 50


def test_a_span_that_is_none_cannot_be_filmed(dialog: FilmDialog) -> None:
    dialog.start_box.setValue(1.0)
    assert not dialog.start_button.isEnabled()
    assert "after the start" in shown_text(dialog)
    dialog.start_box.setValue(0.2)
    assert dialog.start_button.isEnabled()


def test_button_writes_the_film(
    qtbot: QtBot, dialog: FilmDialog, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "film"), ""))
    dialog.rate_box.setValue(10)
    with qtbot.waitSignal(dialog.written) as signal:
        qtbot.mouseClick(dialog.start_button, Qt.MouseButton.LeftButton)
    assert signal.args == [str(tmp_path / "film.gif")]
    with Image.open(tmp_path / "film.gif") as film:
        assert (film.size, film.n_frames) == ((640, 180), 10)
    assert not dialog.busy
    assert "film.gif" in shown_text(dialog)


def test_cancel_stops_it_and_leaves_nothing(qtbot: QtBot, dialog: FilmDialog, tmp_path: Path) -> None:
    dialog.width_box.setValue(1280)
    dialog.rate_box.setValue(50)
    dialog.write(tmp_path / "film.gif")
    progress = dialog.findChild(QProgressBar)
    qtbot.waitUntil(lambda: progress.value() > 0)
    assert dialog.busy
    qtbot.mouseClick(dialog.stop_button, Qt.MouseButton.LeftButton)
    assert not dialog.busy
    assert "nothing was written" in shown_text(dialog)
    qtbot.waitUntil(lambda: list(tmp_path.iterdir()) == [])


def test_closing_ends_the_film(qtbot: QtBot, dialog: FilmDialog, tmp_path: Path) -> None:
    dialog.rate_box.setValue(50)
    dialog.write(tmp_path / "film.gif")
    dialog.close()
    assert list(tmp_path.iterdir()) == []


def test_a_failure_is_told(qtbot: QtBot, dialog: FilmDialog, tmp_path: Path) -> None:
    dialog.write(tmp_path / "no folder" / "film.gif")
    qtbot.waitUntil(lambda: not dialog.busy)
    assert "not written" in shown_text(dialog)
