"""A fault of the program leaves a report, once, and without the name of its user."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QMessageLogContext, QtMsgType
from pytestqt.qtbot import QtBot

from models.program import PROGRAM
from workbench.crash import CrashReporter


def fault(reporter: CrashReporter, text: str) -> None:
    try:
        raise RuntimeError(text)
    except RuntimeError as error:
        reporter.catch(type(error), error, error.__traceback__)


def test_a_fault_is_reported_once_and_names_nobody(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOME", "/home/someone")
    monkeypatch.setenv("LOGNAME", "someone")
    reporter, told = CrashReporter(tmp_path / "reports"), []
    reporter.reported.connect(lambda kind, path: told.append((kind, path)))
    for _ in range(20):
        fault(reporter, "cannot draw /home/someone/cars/mine.corduroy")
    assert len(told) == 1
    kind, path = told[0]
    assert kind == "RuntimeError"
    text = path.read_text()
    for words in (PROGRAM, "Python", "Qt", sys.platform.capitalize()[:5], "Traceback", "in fault"):
        assert words in text
    assert "cannot draw ~/cars/mine.corduroy" in text
    assert "someone" not in text


def test_a_storm_of_faults_is_cut_short(qtbot: QtBot, tmp_path: Path) -> None:
    reporter = CrashReporter(tmp_path / "reports")
    for number in range(50):
        fault(reporter, f"fault {number}")
    assert len(list((tmp_path / "reports").iterdir())) == 5


def test_grave_messages_of_qt_are_faults_and_others_context(qtbot: QtBot, tmp_path: Path) -> None:
    reporter = CrashReporter(tmp_path)
    reporter.listen(QtMsgType.QtWarningMsg, QMessageLogContext(), "a small trouble")
    assert list(tmp_path.iterdir()) == []
    reporter.listen(QtMsgType.QtCriticalMsg, QMessageLogContext(), "a grave one")
    (report,) = tmp_path.iterdir()
    assert "a grave one" in report.read_text()
    assert "a small trouble" in report.read_text()


def test_a_folder_that_cannot_be_written_is_told_all_the_same(qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    reporter, told = CrashReporter(tmp_path / "file" / "reports"), []
    reporter.reported.connect(lambda kind, path: told.append((kind, path)))
    reporter.install()
    try:
        fault(reporter, "x")
    finally:
        reporter.end()
    assert told == [("RuntimeError", None)]


_PROGRAM = """
import faulthandler, sys, threading
from pathlib import Path
from PySide6.QtCore import QCoreApplication, QTimer
from workbench.crash import CrashReporter
app = QCoreApplication([])
reporter = CrashReporter(Path(sys.argv[1]))
reporter.install()
if sys.argv[2] == "thread":
    reporter.reported.connect(lambda kind, path: QTimer.singleShot(0, app.quit))
    threading.Thread(target=lambda: {}["in a thread"]).start()
    app.exec()
    reporter.end()
else:
    faulthandler._sigsegv()
"""


def run(folder: Path, way: str) -> int:
    process = subprocess.run(
        [sys.executable, "-c", _PROGRAM, str(folder), way],
        cwd=Path(__file__).parents[2],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        timeout=60,
        check=False,
    )
    return process.returncode


def test_an_exception_of_a_thread_is_reported(tmp_path: Path) -> None:
    assert run(tmp_path, "thread") == 0
    (report,) = tmp_path.iterdir()
    assert "KeyError: 'in a thread'" in report.read_text()


@pytest.mark.skipif(sys.platform == "win32", reason="the signal is of POSIX")
def test_a_fault_in_compiled_code_is_told_at_the_next_start(qtbot: QtBot, tmp_path: Path) -> None:
    assert run(tmp_path, "segfault") != 0
    (report,) = CrashReporter(tmp_path).left_behind()
    assert "Segmentation fault" in report.read_text()
    assert list(tmp_path.iterdir()) == [report]
    assert CrashReporter(tmp_path).left_behind() == []
