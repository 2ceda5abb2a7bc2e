"""Starting the window: arguments, first project, recovery, last words."""

from __future__ import annotations

import argparse
import sys
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from models.project import Project, load, new_project
from workbench import resources
from workbench.icons import app_icon
from workbench.settings import Settings, state_folder
from workbench.window.autosave import Autosave
from workbench.window.main_window import MainWindow

__all__ = ["first_project", "run"]


def first_project() -> Project:
    """What a user meets first: the first sample, or a plain project where samples are missing."""
    samples = resources.sample_projects()
    return load(samples[0]) if samples else new_project()


def run(arguments: Sequence[str]) -> int:
    """Open the window and stay until it closes."""
    options = _parser().parse_args(arguments)
    app = QApplication(sys.argv[:1])
    app.setApplicationName("Corduroy")
    app.setDesktopFileName("corduroy")
    app.setWindowIcon(app_icon())
    settings = Settings()
    if options.theme:
        settings.override_theme(options.theme)
    window = MainWindow(first_project(), settings)
    autosave = Autosave(window.document, window.runner, state_folder(), window)
    sys.excepthook = _guard(window)
    window.engine.update_now()
    window.show()
    window.engine.prepare()
    if options.picture:
        QTimer.singleShot(1200, window, lambda: _take_picture(window, options.picture, options.size))
    elif options.file:
        window.files.open(options.file)
    if not options.picture:
        autosave.offer(window.notice)
    window.time_cursor.play()
    code = app.exec()
    autosave.end()
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="corduroy", description="Suspension tuning workbench.  See also: corduroy figures --help"
    )
    parser.add_argument("file", nargs="?", type=Path, help="project file to open")
    parser.add_argument("--theme", choices=("light", "dark"), help="look of this session")
    parser.add_argument("--picture", type=Path, metavar="PNG", help="write a picture of the window and end")
    parser.add_argument("--size", default="1600x1000", help="size of the picture (default 1600x1000)")
    return parser


def _take_picture(window: MainWindow, path: Path, size: str) -> None:
    width, height = (int(number) for number in size.split("x"))
    window.resize(width, height)
    window.time_cursor.pause()
    # The moment at which the front wheels stand on the bump and the rear ones still before it.
    window.time_cursor.move_to(window.time_cursor.duration * 0.12)

    def grab() -> None:
        window.grab().save(str(path))
        window.document.undo_stack.setClean()
        window.close()

    QTimer.singleShot(600, window, grab)


def _guard(window: MainWindow) -> Callable[[type[BaseException], BaseException, TracebackType | None], None]:
    def hook(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        traceback.print_exception(kind, error, trace)
        window.notice.say(
            f"Something in the program went wrong ({kind.__name__}: {error}). Your project is kept; save it "
            "under a new name to be safe."
        )

    return hook
