"""Files that the user asks for: whole or not at all, and a refusal that says why."""

from __future__ import annotations

import os
from pathlib import Path

from models.errors import InputError, system_reason
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
        reason = f"cannot be written: {system_reason(error)}.{kept}"
        raise InputError.of(os.fspath(path), "", reason) from error


def make_folder(path: Path) -> None:
    """Make a folder with those above it; one that is there is left alone.

    Raises:
        InputError: it cannot be made, and why.
    """
    try:
        path.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise InputError.of(
            os.fspath(path), "", f"the folder cannot be made: {system_reason(error)}."
        ) from error
