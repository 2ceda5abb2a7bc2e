"""Files dragged onto the window."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QMimeData

from models.project import SUFFIX

__all__ = ["Drops", "dropped_files"]

_COLUMNS = (".csv", ".txt", ".dat", ".tsv")
_CRG = ".crg"


@dataclass(frozen=True, slots=True)
class Drops:
    """What is done with a file that is dropped, by its suffix.

    Attributes:
        project: opens a project.
        columns, crg: begin the import of a road.
        refuse: says why nothing is done.
    """

    project: Callable[[Path], object]
    columns: Callable[[Path], object]
    crg: Callable[[Path], object]
    refuse: Callable[[str], object]

    def take(self, files: Sequence[Path]) -> None:
        """Open or import the file."""
        if len(files) != 1:
            self.refuse(f"{len(files)} files were dropped; drop one at a time.")
            return
        (file,) = files
        suffix = file.suffix.lower()
        if suffix == SUFFIX:
            self.project(file)
        elif suffix in _COLUMNS:
            self.columns(file)
        elif suffix == _CRG:
            self.crg(file)
        else:
            self.refuse(
                f"{file.name} is not opened: drop a project ({SUFFIX}) to open it, or a measured road "
                f"({', '.join((*_COLUMNS, _CRG))}) to import it."
            )


def dropped_files(data: QMimeData) -> list[Path]:
    """Local files of what is dragged; empty where it is something else."""
    return [Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile()]
