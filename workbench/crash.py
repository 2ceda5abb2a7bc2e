"""What is kept of a fault of the program itself: a report in the state folder, without personal data."""

from __future__ import annotations

import faulthandler
import getpass
import os
import platform
import secrets
import sys
import threading
import traceback
from collections import deque
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import TextIO

from PySide6.QtCore import (
    QMessageLogContext,
    QObject,
    Qt,
    QtMsgType,
    Signal,
    qInstallMessageHandler,
    qVersion,
)

from models.program import PROGRAM
from models.project.lock import Lock, is_held

__all__ = ["CrashReporter"]

#: Reports of one session: a fault in a timer or while painting comes again and again.
_MOST_OF_A_SESSION = 5
_MOST_KEPT = 20
_LAST_WORDS = 30
_REPORT, _FAULT, _LOCK = "report-*.txt", "*.fault", ".lock"

_Levels = {QtMsgType.QtCriticalMsg: "critical", QtMsgType.QtFatalMsg: "fatal"}


class CrashReporter(QObject):
    """Writes a report of each new fault: an exception that nobody caught, of any thread, or one of Qt.

    A fault that ends the process at once (in compiled code) is written by the interpreter into a file of this
    session, which :meth:`left_behind` of the next start turns into a report.

    Args:
        folder: where reports go; made when there is something to write.

    Signals:
        reported(str, object): kind of the fault in a few words, and the file of its report, or None where
            none could be written.
    """

    reported = Signal(str, object)
    _caught = Signal(str, str)

    def __init__(self, folder: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._folder = folder
        self._seen: set[str] = set()
        self._said: deque[str] = deque(maxlen=_LAST_WORDS)
        self._fault: tuple[Path, TextIO, Lock] | None = None
        self._before: tuple[Callable[..., object], Callable[..., object]] | None = None
        # Emitted in the thread of the fault, received in this one.
        self._caught.connect(self._write, Qt.ConnectionType.AutoConnection)

    def install(self) -> None:
        """Take the last word on exceptions, on messages of Qt and on faults of the process."""
        self._before = sys.excepthook, threading.excepthook
        sys.excepthook = self.catch
        threading.excepthook = lambda args: self.catch(
            args.exc_type, args.exc_value or args.exc_type(), args.exc_traceback
        )
        qInstallMessageHandler(self.listen)
        with suppress(OSError):  # where nothing can be written, the program runs without
            self._watch_process()

    def end(self) -> None:
        """The program ends in order: hand back what was taken, and leave no trace."""
        if self._before is not None:
            sys.excepthook, threading.excepthook = self._before
            qInstallMessageHandler(None)
            self._before = None
        if self._fault is not None:
            path, file, lock = self._fault
            self._fault = None
            faulthandler.disable()
            file.close()
            path.unlink(missing_ok=True)
            lock.release()

    def catch(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """Report an exception that nobody caught; Ctrl+C ends the program as ever."""
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, error, trace)
            return
        text = "".join(traceback.format_exception(kind, error, trace))
        if sys.stderr is not None:  # a program without a console has none
            print(text, end="", file=sys.stderr)
        self._caught.emit(kind.__name__, text)

    def listen(self, level: QtMsgType, context: QMessageLogContext, message: str) -> None:
        """Keep the last messages of Qt for reports; report the grave ones."""
        if sys.stderr is not None:
            print(message, file=sys.stderr)
        self._said.append(message)
        if level in _Levels:
            text = f"Qt, {_Levels[level]}: {message}\n{context.file or ''} {context.function or ''}\n"
            self._caught.emit(f"Qt, {_Levels[level]}", text)

    def left_behind(self) -> list[Path]:
        """Reports of sessions that a fault of the process ended since the last start."""
        found = []
        for file in self._folder.glob(_FAULT):
            if is_held(file.with_suffix(_LOCK)):
                continue
            with suppress(OSError):
                text = file.read_text(encoding="utf-8", errors="replace")
                if text.strip():  # empty where the process was killed from outside
                    found.append(self._file(text))
                file.unlink()
                file.with_suffix(_LOCK).unlink(missing_ok=True)
        return found

    def _watch_process(self) -> None:
        self._folder.mkdir(parents=True, exist_ok=True)
        path = self._folder / f"{secrets.token_hex(8)}.fault"
        lock = Lock(path.with_suffix(_LOCK))
        file = path.open("w", encoding="utf-8")
        faulthandler.enable(file)
        self._fault = path, file, lock

    def _write(self, kind: str, text: str) -> None:
        """Report a fault once; the same again, and more than a few, are passed over in silence."""
        if text in self._seen or len(self._seen) >= _MOST_OF_A_SESSION:
            return
        self._seen.add(text)
        try:
            path: Path | None = self._file(text)
        except OSError:
            path = None
        self.reported.emit(kind, path)

    def _file(self, text: str) -> Path:
        self._folder.mkdir(parents=True, exist_ok=True)
        now = datetime.now(UTC)
        path = self._folder / f"report-{now:%Y%m%d-%H%M%S}-{secrets.token_hex(2)}.txt"
        path.write_text(_without_names(_report(now, text, list(self._said))), encoding="utf-8")
        for old in sorted(self._folder.glob(_REPORT))[:-_MOST_KEPT]:
            old.unlink(missing_ok=True)
        return path


def _report(now: datetime, text: str, said: list[str]) -> str:
    head = [
        PROGRAM,
        f"Time {now:%Y-%m-%d %H:%M:%S} UTC",
        f"Python {platform.python_version()} ({platform.machine()})",
        f"Qt {qVersion()}",
        f"System {platform.system()} {platform.release()}",
        "",
        text.rstrip(),
    ]
    if said:
        head += ["", "Last messages of Qt", *said]
    return "\n".join(head) + "\n"


def _without_names(text: str) -> str:
    """Put ``~`` for the home folder and ``user`` for the name of the user."""
    home = os.path.expanduser("~")
    for folder in {home, os.path.realpath(home), home.replace("\\", "\\\\")}:
        if len(folder) > 1:
            text = text.replace(folder, "~")
    with suppress(OSError, KeyError, ImportError):
        for place in ("/home/{}", "/Users/{}", "\\Users\\{}"):
            text = text.replace(place.format(getpass.getuser()), place.format("user"))
    return text
