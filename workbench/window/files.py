"""Opening, saving and closing: what stands between the document and the disk."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from models.errors import InputError
from models.project import SUFFIX, Project, ProjectFileError, load, new_project, save
from workbench.document import Document
from workbench.runner import Job, Runner
from workbench.settings import Settings

__all__ = ["Files"]

#: Time of the last change, ns, and size of a file.
_Stamp = tuple[int, int]

_FILTER = f"Corduroy projects (*{SUFFIX});;All files (*)"


class Files(QObject):
    """The file actions of the window.

    Signals:
        refused(str): a file could not be read or written; the open project is untouched.  Or the project is
            saved under another name, and results of its studies could not be copied there.
        missing(str, Path): a file of the list of recent files is not there.
        done(str): what was just read or written.
    """

    refused = Signal(str)
    missing = Signal(str, object)
    done = Signal(str)

    def __init__(self, document: Document, settings: Settings, runner: Runner, window: QWidget) -> None:
        super().__init__(window)
        self._document = document
        self._settings = settings
        self._runner = runner
        self._window = window
        self._stamp: _Stamp | None = None
        document.opened.connect(self._note_stamp)
        #: Whether all that was typed is taken; asked before the open project may go.
        self.input_taken: Callable[[], bool] = lambda: True

    def new(self) -> None:
        """Start a plain project."""
        self._leave(lambda: self._document.open(new_project(), None))

    def folder(self) -> Path:
        """Where the user keeps the project, for dialogs to begin at."""
        return self._document.path.parent if self._document.path else Path.home()

    def ask_open(self) -> None:
        """Let the user choose a file and open it."""
        name, _ = QFileDialog.getOpenFileName(self._window, "Open a project", str(self.folder()), _FILTER)
        if name:
            self.open(Path(name))

    def open(self, path: Path) -> None:
        """Open a file; an unreadable one is refused before the present project is touched."""
        path = path.absolute()
        stamp = _stamp(path)  # before it is read, so that no later change of it goes unseen
        project = self._load(path)
        if project is not None:
            self._leave(partial(self._take, project, path, stamp))

    def open_sample(self, path: Path) -> None:
        """Open a sample as a new project, so that saving cannot overwrite the sample."""
        project = self._load(path)
        if project is not None:
            self._leave(lambda: self._document.open(project, None))

    def save(self) -> bool:
        """Save to the file of the project, or ask for one; False if it was not saved."""
        path = self._document.path
        if path is None:
            return self.save_as()
        if _stamp(path) not in (self._stamp, None):
            answer = self._ask_about_change(path)
            if answer == QMessageBox.StandardButton.No:
                return self.save_as()
            if answer != QMessageBox.StandardButton.Yes:
                return False
        return self._write(path)

    def save_as(self) -> bool:
        """Save to a file that the user names."""
        name = self._document.project.name.lower().replace(" ", "_") or "project"
        start = self._document.path or Path.home() / f"{name}{SUFFIX}"
        chosen, _ = QFileDialog.getSaveFileName(self._window, "Save the project", str(start), _FILTER)
        if not chosen:
            return False
        path = Path(chosen)
        if not path.suffix:
            # The dialog asked about the name as typed; the real one may exist as well.
            path = path.with_suffix(SUFFIX)
            if path.exists() and not self._confirm_overwrite(path):
                return False
        return self._write(path)

    def may_leave(self) -> bool:
        """Whether the open project may go: it is saved, or the user lets it go."""
        if not self.input_taken():
            return False
        if not self._document.unsaved:
            return True
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Question)
        box.setWindowTitle("Unsaved changes")
        box.setText(f"“{self._document.project.name}” has changes that are not saved.")
        box.setStandardButtons(
            QMessageBox.StandardButton.Save
            | QMessageBox.StandardButton.Discard
            | QMessageBox.StandardButton.Cancel
        )
        box.setDefaultButton(QMessageBox.StandardButton.Save)
        answer = box.exec()
        if answer == QMessageBox.StandardButton.Save:
            return self.save()
        return answer == QMessageBox.StandardButton.Discard

    def _leave(self, then: Callable[[], None]) -> None:
        if self.may_leave():
            then()

    def _load(self, path: Path) -> Project | None:
        try:
            return load(path)
        except ProjectFileError as error:
            if path in self._settings.recent and not path.exists():
                self.missing.emit(f"{path} is not there any more, or its disk is not connected.", path)
            else:
                self.refused.emit(str(error))
            return None

    def _note_stamp(self) -> None:
        self._stamp = _stamp(self._document.path) if self._document.path else None

    def _take(self, project: Project, path: Path, stamp: _Stamp | None) -> None:
        self._document.open(project, path)
        self._stamp = stamp
        self._settings.add_recent(path)
        self.done.emit(f"Opened {path}")

    def _write(self, path: Path) -> bool:
        project = self._document.project
        try:
            self._runner.wait_for(f"Saving {path.name}", lambda _job: save(project, path))
        except ProjectFileError as error:
            self.refused.emit(str(error))
            return False
        before = self._document.path
        self._document.saved(path)
        self._note_stamp()
        self._settings.add_recent(path)
        self.done.emit(f"Saved {path}")
        if before != path and any(study.result is not None for study in project.studies):
            self._copy_results(project, before, path)
        return True

    def _copy_results(self, project: Project, source: Path | None, target: Path) -> None:
        """From beside the file before, or where they lie until there is one.

        The project is saved already: whatever goes wrong is told and nothing more.
        """

        def copy(_job: Job) -> None:
            from models.studies import copy_results  # takes a while to load
            from workbench.pages.studies.study_runs import results_folder

            copy_results(project, (results_folder(source), results_folder(None)), target)

        try:
            self._runner.wait_for("Copying the results of studies", copy)
        except InputError as error:
            self.refused.emit(f"{target.name} is saved without all results of its studies. {error}")

    def _ask_about_change(self, path: Path) -> int:
        """Yes to write over the file, No to save under another name."""
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle("Changed on disk")
        box.setText(f"{path.name} was changed by another program since it was opened here.")
        box.setInformativeText("Writing over it loses that change (it stays in the .bak file).")
        buttons = QMessageBox.StandardButton
        box.setStandardButtons(buttons.Yes | buttons.No | buttons.Cancel)
        box.button(buttons.Yes).setText("Write &over it")
        box.button(buttons.No).setText("&Save as…")
        box.setDefaultButton(buttons.No)
        return box.exec()

    def _confirm_overwrite(self, path: Path) -> bool:
        answer = QMessageBox.question(
            self._window, "File exists", f"{path.name} exists already. Write over it?"
        )
        return answer == QMessageBox.StandardButton.Yes


def _stamp(path: Path) -> _Stamp | None:
    """What tells a changed file from the one that was read; None where there is no file."""
    try:
        status = path.stat()
    except (OSError, ValueError):  # ValueError: a path with a NUL in it
        return None
    return status.st_mtime_ns, status.st_size
