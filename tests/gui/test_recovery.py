"""Work that a crash interrupts is there at the next start."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from models.project.recovery import pending
from tests.gui.conftest import Start, close
from tests.gui.hands import Hands
from workbench.window.autosave import Autosave
from workbench.window.main_window import MainWindow

WHEELBASE = ("variants", 0, "vehicle", "wheelbase")

#: The program with a short interval and one edit after its window has come.
PROGRAM = """
from functools import partial
from PySide6.QtCore import QTimer
from workbench import app
from workbench.window.autosave import Autosave

class Window(app.MainWindow):
    def showEvent(self, event):
        super().showEvent(event)
        QTimer.singleShot(0, self, lambda: self.document.edit({path!r}, 3.11))

app.MainWindow = Window
app.Autosave = partial(Autosave, interval=1)
app.run([])
"""


@pytest.fixture
def program(tmp_path: Path) -> Iterator[subprocess.Popen[bytes]]:
    """The program in a process of its own, its state under ``tmp_path``."""
    surroundings = {
        **os.environ,
        "QT_QPA_PLATFORM": "offscreen",
        "XDG_STATE_HOME": str(tmp_path / "state"),
        "XDG_CONFIG_HOME": str(tmp_path / "config"),
    }
    command = [sys.executable, "-c", PROGRAM.format(path=WHEELBASE)]
    process = subprocess.Popen(command, env=surroundings, cwd=Path(__file__).parents[2])
    yield process
    process.kill()
    process.wait()


@pytest.mark.skipif(sys.platform != "linux", reason="the state folder is set by XDG_STATE_HOME")
def test_an_edit_survives_kill_9(
    program: subprocess.Popen[bytes], qtbot: QtBot, tmp_path: Path, start: Start
) -> None:
    folder = tmp_path / "state" / "corduroy"
    qtbot.waitUntil(lambda: bool(list(folder.glob("*.autosave"))), timeout=60_000)
    assert pending(folder) == []  # its program lives
    program.kill()
    program.wait()
    window, autosave = start(folder)
    with qtbot.waitExposed(window):
        pass
    assert "Large saloon" in window.notice.text.text()
    assert window.document.value(WHEELBASE) == 3.02
    with qtbot.waitSignal(autosave.written):
        Hands(window, qtbot).answer("Recover")
    assert window.document.value(WHEELBASE) == 3.11
    assert window.isWindowModified()
    assert not window.notice.isVisible()
    assert pending(folder) == []  # this program's own copy is not offered to it
    assert len(list(folder.glob("*.autosave"))) == 1
    close(window)
    autosave.end()
    assert list(folder.glob("*.autosave")) == []


def test_a_folder_that_cannot_be_written_is_a_notice(qtbot: QtBot, start: Start, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    window, autosave = start(tmp_path / "file" / "state")
    with qtbot.waitSignal(autosave.failed):
        window.document.edit(WHEELBASE, 3.2)
        autosave.write_now()
    assert window.notice.isVisible()
    assert str(tmp_path / "file") in window.notice.text.text()
    window.notice.hide()
    with qtbot.assertNotEmitted(autosave.failed):  # told once is enough
        autosave.write_now()
        window.runner.wait_for("", lambda _job: None)  # stands in the same line


def test_saved_work_leaves_no_copy(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    folder = tmp_path / "state"
    autosave = Autosave(window.document, window.runner, folder, window, interval=1)
    with qtbot.waitSignal(autosave.written):
        window.document.edit(WHEELBASE, 3.2)
    assert len(list(folder.glob("*.autosave"))) == 1
    with qtbot.waitSignal(autosave.written):
        window.document.saved(tmp_path / "a.corduroy")
    assert list(folder.glob("*.autosave")) == []
    autosave.end()
