"""Where the files of a review go, and what may be done with them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QWidget

from models.errors import InputError
from workbench.document import Document

__all__ = ["Files", "openings"]

_FORMS = {".pdf": "PDF document (*.pdf)", ".html": "HTML page (*.html)"}


class Files:
    """Asks for files, and remembers them as long as the project lies where it does."""

    def __init__(self, document: Document, window: QWidget) -> None:
        """Know no file yet."""
        self._document, self._window = document, window
        self._last: dict[str, Path] = {}

    def forget(self) -> None:
        """The project is another one, or lies elsewhere."""
        self._last.clear()

    def last(self, suffix: str) -> Path | None:
        """File that was last written."""
        return self._last.get(suffix)

    def suggested(self, suffix: str) -> Path:
        """The last one, else one beside the project, with its name."""
        if suffix in self._last:
            return self._last[suffix]
        path, name = self._document.path, self._document.project.name
        if path is not None:
            return path.with_suffix(suffix)
        plain = "".join(sign if sign.isalnum() else "_" for sign in name.lower())
        return Path.home() / f"{plain}{suffix}"

    def ask(self, suffix: str) -> Path | None:
        """File that the user names; None where the user thinks better of it.

        Raises:
            InputError: it would take the place of the project, or of a file that was not named in full.
        """
        title = f"Make the design review as {suffix[1:].upper()}"
        name, _ = QFileDialog.getSaveFileName(
            self._window, title, str(self.suggested(suffix)), _FORMS[suffix]
        )
        if not name:
            return None
        path = Path(name)
        if path.suffix.lower() != suffix:
            path = path.with_name(path.name + suffix)
            if path.exists():  # the dialog asked about the name as it was typed
                raise InputError.of(path.name, "", "exists already; name it in full to write over it")
        if self._document.path is not None and path.resolve() == self._document.path.resolve():
            raise InputError.of(path.name, "", "the review would take the place of the project")
        self._last[suffix] = path
        return path

    def ask_folder(self) -> Path | None:
        """Folder for figures that the user names."""
        start = self._document.path.parent if self._document.path else Path.home()
        name = QFileDialog.getExistingDirectory(
            self._window, "Write all figures of the review into", str(start)
        )
        return Path(name) if name else None


def openings(path: Path) -> dict[str, Callable[[], None]]:
    """What may be done with a file that was written."""
    return {"Open": lambda: _open(path), "Show folder": lambda: _open(path.parent)}


def _open(path: Path) -> None:
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))
