"""Starting the window: arguments, first project, recovery, last words."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, Signal
from PySide6.QtGui import QFileOpenEvent
from PySide6.QtWidgets import QApplication

from models.project import Project, ProjectFileError, load, new_project
from workbench import cli, resources
from workbench.commands.command import REFUSED
from workbench.crash import CrashReporter
from workbench.icons import app_icon
from workbench.picture import take_picture
from workbench.settings import Settings, state_folder
from workbench.window.autosave import Autosave
from workbench.window.file_mark import FileMark
from workbench.window.main_window import MainWindow

__all__ = ["first_project", "first_window", "run", "settle_memory"]


def first_project() -> Project:
    """What a user meets first: the first sample, or a plain project where samples are missing."""
    samples = resources.sample_projects()
    return load(samples[0]) if samples else new_project()


def run(arguments: Sequence[str]) -> int:
    """Open the window and stay until it closes."""
    options = _parser().parse_args(arguments)
    refusal = _no_file(options.file) or _no_screen()
    if refusal:
        print(f"corduroy: {refusal}; corduroy --help lists the commands", file=sys.stderr)
        return REFUSED
    app = _Application(sys.argv[:1])
    app.setApplicationName("Corduroy")
    app.setDesktopFileName("corduroy")
    app.setWindowIcon(app_icon())
    if options.picture:
        return _picture(options)
    settings = Settings()
    if options.theme:
        settings.override_theme(options.theme)
    reporter = CrashReporter(state_folder() / "reports", app)
    reporter.install()
    window, autosave = first_window(settings, state_folder())
    tell_of_faults(reporter, window, autosave)
    mark = FileMark(window.document, state_folder(), window)
    mark.shared.connect(window.notice.say)
    app.file_wanted.connect(window.files.open)
    if options.file:
        window.files.open(options.file)
    settle_memory()
    code = app.exec()
    mark.end()
    autosave.end()
    reporter.end()
    return code


def first_window(settings: Settings, recovery_folder: Path) -> tuple[MainWindow, Autosave]:
    """The window as a user meets it: the first sample runs, and work that a crash left is offered."""
    window = MainWindow(first_project(), settings)
    autosave = Autosave(window.document, window.runner, recovery_folder, window)
    autosave.failed.connect(window.notice.say)
    window.engine.update_now()
    window.show()
    window.engine.prepare()
    autosave.offer(window.notice, window.files.may_leave)
    window.time_cursor.play()
    return window, autosave


def tell_of_faults(reporter: CrashReporter, window: MainWindow, autosave: Autosave) -> None:
    """Say where the report of a fault is, and keep a copy of the work at once."""

    def tell(kind: str, report: Path | None) -> None:
        autosave.write_now()
        where = f" A report that you can pass on, without personal data, is in {report}." if report else ""
        window.notice.say(
            f"Something in the program went wrong ({kind}). Your project is kept, and a copy of unsaved work "
            f"is made; save it under a new name to be safe.{where}"
        )

    reporter.reported.connect(tell)
    for report in reporter.left_behind():
        window.notice.say(f"The program was ended by a fault the last time. A report is in {report}.")


def settle_memory() -> None:
    """Take what start-up has built out of the rounds of the garbage collector.

    Modules, fields and widgets live as long as the program; to walk through all of them takes some 80 ms,
    which would show in the middle of a drag.
    """
    gc.collect()
    gc.freeze()


def _picture(options: argparse.Namespace) -> int:
    try:
        project = load(options.file) if options.file else first_project()
    except ProjectFileError as error:
        print(f"corduroy: {error}", file=sys.stderr)
        return REFUSED
    return take_picture(project, options.picture, options.size, options.theme or "")


def _no_file(file: Path | None) -> str:
    """Why a bare word that is no file is no command either; a missing file is told in the window."""
    if file is None or file.exists() or file.suffix or len(file.parts) > 1:
        return ""
    return f"'{file}' is neither a command nor a file"


def _no_screen() -> str:
    """Why no window can open; without this Qt would abort."""
    named = any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"))
    return "" if named or not sys.platform.startswith("linux") else "there is no screen for a window"


class _Parser(argparse.ArgumentParser):
    """A parser whose help ends with the commands; they are loaded for the help only."""

    def format_help(self) -> str:
        return f"{super().format_help()}\n{cli.overview()}"


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="corduroy", description="Suspension tuning workbench.")
    parser.add_argument("file", nargs="?", type=Path, help="project file to open")
    parser.add_argument("--theme", choices=("light", "dark"), help="look of this session")
    parser.add_argument("--picture", type=Path, metavar="PNG", help="write a picture of the window and end")
    parser.add_argument(
        "--size",
        type=_size,
        default=(1600, 1000),
        metavar="WIDTHxHEIGHT",
        help="size of the picture (default 1600x1000)",
    )
    return parser


def _size(text: str) -> tuple[int, int]:
    width, _, height = text.partition("x")
    if not (width.isdecimal() and height.isdecimal() and int(width) > 0 and int(height) > 0):
        raise argparse.ArgumentTypeError(f"'{text}' is not a size such as 1600x1000 (px)")
    return int(width), int(height)


class _Application(QApplication):
    """Tells of files that the desktop hands to the running program, as macOS does for a double click.

    Signals:
        file_wanted(object): path of the file.
    """

    file_wanted = Signal(object)

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QFileOpenEvent):
            self.file_wanted.emit(Path(event.file()))
            return True
        return super().event(event)
