"""A picture of the window, made by the program itself."""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication

from models.project import Project
from workbench.settings import Settings
from workbench.window.main_window import MainWindow

__all__ = ["take_picture"]

#: Place of the time cursor as a share of the run: the front wheels have left the bump of the first
#: sample and the rear ones stand on it.
_MOMENT = 0.12
#: Time without work or paint after which the window is finished, ms; longer than any delay of its views.
_STILL = 600


def take_picture(project: Project, path: Path, size: tuple[int, int], theme: str) -> int:
    """Write a picture of ``project`` in a window of its own settings, which touches none of the user's.

    Args:
        project: what to show.
        path: image file; the suffix says the format.
        size: width and height of the window, px.
        theme: "light", "dark" or, empty, as the desktop is.

    Returns:
        Exit code of the program.
    """
    with TemporaryDirectory(prefix="corduroy-") as folder:
        settings = Settings(str(Path(folder) / "settings.ini"))
        if theme:
            settings.override_theme(theme)
        window = MainWindow(project, settings)
        window.setAnimated(False)
        window.resize(*size)
        photographer = _Photographer(window, path)
        window.show()
        window.engine.prepare()
        QApplication.exec()
        return photographer.code


class _Photographer(QObject):
    """Waits for the results, and then until nothing has been computed or painted for a while."""

    def __init__(self, window: MainWindow, path: Path) -> None:
        super().__init__(window)
        self.code = 1
        self._window, self._path = window, path
        app = QApplication.instance()
        assert app is not None
        self._app = app
        self._still = QTimer(self, singleShot=True, interval=_STILL)
        self._still.timeout.connect(self._grab)
        window.engine.results_changed.connect(self._pose)
        window.runner.busy_changed.connect(self._wait_on)
        window.engine.failed.connect(self._end)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint:
            self._still.start()
        return False

    def _pose(self) -> None:
        cursor = self._window.time_cursor
        cursor.pause()
        cursor.move_to(cursor.duration * _MOMENT)
        self._app.installEventFilter(self)
        self._still.start()

    def _wait_on(self, _title: str) -> None:
        if self._still.isActive():
            self._still.start()

    def _grab(self) -> None:
        if not self._window.runner.idle:
            self._still.start()
            return
        self._app.removeEventFilter(self)
        written = self._window.grab().save(str(self._path))
        self.code = 0 if written else 1
        self._end("" if written else f"{self._path} cannot be written")

    def _end(self, trouble: str) -> None:
        if trouble:
            print(trouble, file=sys.stderr)
        self._window.close()
