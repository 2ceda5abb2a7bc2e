"""What a start takes over from the one before, and what it does when that is damaged or wrong."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest
from PySide6.QtCore import QByteArray, Qt
from PySide6.QtGui import QFileOpenEvent
from pytestqt.qtbot import QtBot

from models.project import save
from tests.gui.conftest import Start, close
from workbench.app import _Application, first_project, tell_of_faults
from workbench.crash import CrashReporter
from workbench.settings import Settings
from workbench.window.main_window import MainWindow


def test_window_panels_and_page_are_as_they_were(
    window: MainWindow, qtbot: QtBot, settings: Settings
) -> None:
    window.resize(1400, 900)
    window.pages.turn_to("Modes")
    window._docks["variants"].hide()
    window.addDockWidget(Qt.DockWidgetArea.LeftDockWidgetArea, window._docks["figures"])
    window.close()
    again = MainWindow(first_project(), settings)
    again.show()
    with qtbot.waitExposed(again):
        pass
    assert (again.width(), again.height()) == (1400, 900)
    assert again.pages.tabText(again.pages.currentIndex()) == "Modes"
    assert not again._docks["variants"].isVisible()
    assert again.dockWidgetArea(again._docks["figures"]) == Qt.DockWidgetArea.LeftDockWidgetArea
    close(again)


def test_a_damaged_layout_is_that_of_the_first_start(qtbot: QtBot, settings: Settings) -> None:
    settings.keep_layout("geometry", QByteArray(b"\x01\xd9\xd0\xcb" + b"\xff" * 40))
    settings.keep_layout("docks", QByteArray(b"\xff" * 60))
    settings.page = "no such page"
    settings.keep_choices("charts", ["no such chart"])
    window = MainWindow(first_project(), settings)
    window.show()
    with qtbot.waitExposed(window):
        pass
    assert all(window._docks[name].isVisible() for name in ("stage", "variants", "figures"))
    assert window.pages.currentIndex() == 0
    assert window.screen().availableGeometry().intersects(window.frameGeometry())
    close(window)


#: The program as it is started, with an end of its own: it tells what is on show and breaks once.
PROGRAM = """
import sys
from PySide6.QtCore import QTimer
from workbench import app

class Window(app.MainWindow):
    def showEvent(self, event):
        super().showEvent(event)
        self.soon = QTimer(self, singleShot=True)
        self.soon.timeout.connect(self.tell)
        self.soon.start()

    def tell(self):
        print(self.windowTitle(), self.notice.text.text(), sep="|")
        QTimer.singleShot(0, self.end)
        raise ZeroDivisionError("broken on purpose")

    def end(self):
        print(self.notice.text.text())
        self.close()

app.MainWindow = Window
sys.exit(app.run(sys.argv[1:]))
"""


@pytest.mark.skipif(sys.platform != "linux", reason="the folders are set by XDG variables")
@pytest.mark.parametrize(
    ("argument", "words"),
    [
        ("none.corduroy", "Large saloon[*] – Corduroy|none.corduroy: the file cannot be read"),
        ("a.corduroy", "Mine – a.corduroy[*] – Corduroy|"),
    ],
)
def test_a_start_with_a_file(tmp_path: Path, argument: str, words: str) -> None:
    """A wrong path is told and the program is there; a fault in it leaves a report, and it goes on."""
    save(first_project().model_copy(update={"name": "Mine"}), tmp_path / "a.corduroy")
    surroundings = {"QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(Path(__file__).parents[2])}
    for name in ("STATE", "CONFIG"):
        surroundings[f"XDG_{name}_HOME"] = str(tmp_path / name)
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, argument],
        env={**os.environ, **surroundings},
        cwd=tmp_path,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    first, second = done.stdout.splitlines()[:2]
    assert first.startswith(words)
    (report,) = (tmp_path / "STATE" / "corduroy" / "reports").iterdir()
    assert "ZeroDivisionError: broken on purpose" in report.read_text()
    assert str(report) in second


def test_a_file_handed_over_by_the_desktop_is_told(qtbot: QtBot) -> None:
    """As macOS does; only the event handler is tried, as there is one application to a process."""
    files: list[Path] = []
    told = SimpleNamespace(file_wanted=SimpleNamespace(emit=files.append))
    assert _Application.event(told, QFileOpenEvent("/cars/a.corduroy"))  # type: ignore[arg-type]
    assert files == [Path("/cars/a.corduroy")]


def test_a_fault_is_told_once_and_a_copy_is_made(qtbot: QtBot, start: Start, tmp_path: Path) -> None:
    window, autosave = start(tmp_path / "state")
    reporter = CrashReporter(tmp_path / "reports")
    tell_of_faults(reporter, window, autosave)
    window.document.edit(("variants", 0, "vehicle", "wheelbase"), 3.11)
    with qtbot.waitSignal(autosave.written):
        for _ in range(3):
            fault(reporter)
    (report,) = (tmp_path / "reports").iterdir()
    assert str(report) in window.notice.text.text()
    assert len(list((tmp_path / "state").glob("*.autosave"))) == 1


def fault(reporter: CrashReporter) -> None:
    try:
        raise RuntimeError("broken on purpose")
    except RuntimeError as error:
        reporter.catch(type(error), error, error.__traceback__)
