"""Copies of unsaved projects, from which a program that crashed or was killed is brought back.

Each running program is a session with a lock file and at most one autosave in a common state folder.
An autosave whose lock nobody holds belongs to a session that did not end in order.
"""

from __future__ import annotations

import hashlib
import json
import os
import secrets
import time
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from threading import Lock as ThreadLock
from typing import Any

from models.errors import system_reason
from models.plain_file import read_limited
from models.project.file import MOST_BYTES, ProjectFileError, dumps, loads
from models.project.lock import Lock, is_held
from models.project.project import Project
from models.project.safe_write import DAY, sweep, write_safely

__all__ = ["Autosave", "Session", "discard", "pending"]

_FORMAT = "corduroy autosave"
_VERSION = 1
_SUFFIX = ".autosave"
_LOCK = ".lock"


@dataclass(frozen=True, slots=True)
class Autosave:
    """What a dead session left behind.

    Attributes:
        file: the autosave itself.
        saved_at: when it was written, UTC.
        path: file of the project; None where it was never saved.
        project: the project; None where the autosave is damaged.
        damage: what is wrong with it; empty where nothing is.
    """

    file: Path
    saved_at: datetime
    path: Path | None
    project: Project | None
    damage: str = ""


class Session:
    """The autosave of this running program.  Calls from several threads are taken one by one.

    Args:
        folder: state folder, the same for all running programs; made if it is not there.

    Raises:
        OSError: the folder cannot be made or written.
    """

    def __init__(self, folder: Path) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        name = secrets.token_hex(8)
        self._file = folder.resolve() / (name + _SUFFIX)
        self._lock = Lock(self._file.with_suffix(_LOCK))
        self._turn = ThreadLock()
        self._closed = False

    def write(self, project: Project, path: Path | None) -> None:
        """Keep a copy of an unsaved project; waits for the disk, so call it off the GUI thread.

        Args:
            project: the project as it stands.
            path: its file; None where it has none.

        Raises:
            ProjectFileError: the copy could not be written; the one before is still there.
        """
        text = dumps(project)
        content = {
            "format": _FORMAT,
            "version": _VERSION,
            "pid": os.getpid(),
            "saved_at": datetime.now(UTC).isoformat(),
            "path": None if path is None else str(path.absolute()),
            "sha256": _digest(text),
            "project": text,
        }
        with self._turn:
            if self._closed:
                return
            try:
                write_safely(self._file, json.dumps(content, indent=1).encode())
            except OSError as error:
                reason = f"no recovery copy is kept: {system_reason(error)}"
                raise ProjectFileError.of(str(self._file.parent), "", reason) from error

    def clear(self) -> None:
        """Drop the copy, since the project is saved."""
        with self._turn:
            self._file.unlink(missing_ok=True)

    def close(self) -> None:
        """End in order: nothing is left to recover, and later writes do nothing."""
        with self._turn:
            self._closed = True
            self._file.unlink(missing_ok=True)
            self._lock.release()


def pending(folder: Path) -> list[Autosave]:
    """Autosaves of sessions that are dead, the newest first; those of living ones are left out."""
    if not folder.is_dir():
        return []
    folder = folder.resolve()
    _sweep(folder)
    files = [file for file in folder.glob(f"*{_SUFFIX}") if not is_held(file.with_suffix(_LOCK))]
    return sorted(map(_autosave, files), key=lambda autosave: autosave.saved_at, reverse=True)


def discard(autosave: Autosave) -> None:
    """Remove an autosave of a dead session; one that is already gone is no fault."""
    autosave.file.unlink(missing_ok=True)
    autosave.file.with_suffix(_LOCK).unlink(missing_ok=True)


def _autosave(file: Path) -> Autosave:
    written = datetime.fromtimestamp(_changed_at(file), UTC)
    path: Path | None = None
    try:
        # Text inside text: quotes, line ends and letters beyond ASCII are escaped once more.
        content: Any = json.loads(read_limited(file, 6 * MOST_BYTES))
        written = datetime.fromisoformat(content["saved_at"]).astimezone(UTC)
        path = None if content["path"] is None else _whole_path(content["path"])
        if (content["format"], content["version"]) != (_FORMAT, _VERSION):
            raise ValueError(f"it is no autosave of version {_VERSION}")
        if content["sha256"] != _digest(content["project"]):
            raise ValueError("its checksum does not agree with its content")
        return Autosave(file, written, path, loads(content["project"]))
    except (OSError, ValueError, TypeError, KeyError, AttributeError, OverflowError, RecursionError) as error:
        return Autosave(file, written, path, None, f"the recovery copy is damaged: {str(error)[:500]}")


def _whole_path(text: str) -> Path | None:
    """The path as it was written; None for one that says another file in each folder."""
    path = Path(text)
    return path if path.is_absolute() else None


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def _changed_at(file: Path) -> float:
    try:
        return file.stat().st_mtime
    except OSError:  # gone since it was listed
        return 0.0


def _sweep(folder: Path) -> None:
    """Remove what killed programs left beside their autosaves.

    A day of age leaves alone what a living program has just made and not yet locked or moved.
    """
    locks = [
        file
        for file in folder.glob(f"*{_LOCK}")
        if not file.with_suffix(_SUFFIX).exists() and not is_held(file)
    ]
    for file in locks:
        if _changed_at(file) < time.time() - DAY:
            with suppress(OSError):  # left for the next time
                file.unlink(missing_ok=True)
    sweep(folder)
