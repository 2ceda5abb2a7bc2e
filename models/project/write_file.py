"""Files that the user asks for: whole or not at all, and a refusal that says why."""

from __future__ import annotations

import os
from pathlib import Path

from models.errors import InputError
from models.project.safe_write import write_safely

__all__ = ["make_folder", "write_file"]


def write_file(path: str | os.PathLike[str], data: bytes) -> None:
    """Put a file in its place; a symbolic link stays one, and the file it points to is written.

    Raises:
        InputError: it cannot be written, and why; what was there before is untouched.
    """
    try:
        write_safely(Path(os.path.realpath(path)), data)
    except (OSError, ValueError) as error:  # ValueError: a path with a NUL in it
        kept = " What was there before is untouched." if os.path.lexists(path) else ""
        reason = f"cannot be written: {_reason(error)}.{kept}"
        raise InputError.of(os.fspath(path), "", reason) from error


def make_folder(path: Path) -> None:
    """Make a folder with those above it; one that is there is left alone.

    Raises:
        InputError: it cannot be made, and why.
    """
    try:
        path.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise InputError.of(os.fspath(path), "", f"the folder cannot be made: {_reason(error)}.") from error


def _reason(error: Exception) -> str:
    text = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return text[:1].lower() + text[1:]
