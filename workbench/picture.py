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
    """Waits for the results and until nothing is painted any more, then takes the picture."""

    def __init__(self, window: MainWindow, path: Path) -> None:
        super().__init__(window)
        self.code = 1
        self._painted = False
        self._window, self._path = window, path
        app = QApplication.instance()
        assert app is not None
        self._app = app
        window.engine.results_changed.connect(self._pose)
        window.engine.failed.connect(self._end)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint and not self._painted:
            self._painted = True
            # It fires when all that is to be laid out and painted for now is done.
            QTimer.singleShot(0, self, self._look_again)
        return False

    def _pose(self) -> None:
        cursor = self._window.time_cursor
        cursor.pause()
        cursor.move_to(cursor.duration * _MOMENT)
        self._app.installEventFilter(self)
        self._window.stage.update()

    def _look_again(self) -> None:
        """Once more as long as laying out has led to more painting."""
        self._painted = False
        QTimer.singleShot(0, self, self._grab_if_quiet)

    def _grab_if_quiet(self) -> None:
        if self._painted:
            return
        self._app.removeEventFilter(self)
        written = self._window.grab().save(str(self._path))
        self.code = 0 if written else 1
        self._end("" if written else f"{self._path} cannot be written")

    def _end(self, trouble: str) -> None:
        if trouble:
            print(trouble, file=sys.stderr)
        self._window.close()
