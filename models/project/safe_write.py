"""Writing a file so that at every moment the old or the new one is there, whole."""

from __future__ import annotations

import errno
import os
import secrets
import stat
import time
from contextlib import suppress
from pathlib import Path

from models.plain_file import read_beginning

__all__ = ["DAY", "TEMPORARY", "sweep", "write_safely"]

#: Pattern of the temporary files; one is left behind only by a program that was killed.
TEMPORARY = ".corduroy-*.tmp"

#: Age from which on what lies about was left by a dead program, s.
DAY = 86400.0


def write_safely(path: Path, data: bytes, previous: Path | None = None) -> None:
    """Put ``data`` in the place of the file ``path``.

    The data goes to a temporary file of the same folder, is forced to the disk and then takes the
    name of the old file in one step, so a killed program or a power cut leaves the old or the new
    file and never a part of one.  The permissions of the old file are kept.

    Args:
        path: the file itself, not a symbolic link to it.
        data: whole new content.
        previous: where the old content is kept if it is another than the new.

    Raises:
        OSError: the file could not be written; the old one is untouched and nothing is left behind.
    """
    old = read_beginning(path) if path.exists() else None
    if old is not None and not os.access(path, os.W_OK):
        raise PermissionError(errno.EACCES, "the file is write-protected", str(path))
    moves: list[tuple[Path, Path]] = []
    try:
        # Both lie on the disk before either takes its place: a full one leaves the previous copy too.
        if previous is not None and old is not None and old != data:
            moves.append((_temporary(previous, old, like=path), previous))
        moves.append((_temporary(path, data, like=None if old is None else path), path))
        for temporary, place in moves:
            os.replace(temporary, place)
    except OSError as error:  # said of the file that the user knows
        raise OSError(error.errno, error.strerror or str(error), str(path)) from error
    finally:
        for temporary, _ in moves:
            _drop(temporary)
    _sync_folder(path.parent)


def _temporary(path: Path, data: bytes, like: Path | None) -> Path:
    """File beside ``path`` that holds the data, on the disk and with the permissions of ``like``."""
    temporary = path.with_name(f".corduroy-{secrets.token_hex(8)}.tmp")
    try:
        with open(temporary, "xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if like is not None:
            _keep_permissions(temporary, like)
    except BaseException:
        _drop(temporary)
        raise
    return temporary


def _drop(temporary: Path) -> None:
    with suppress(OSError):  # it has taken its place, or the disk takes nothing more
        temporary.unlink()


def sweep(folder: Path) -> None:
    """Remove temporary files that killed programs left in a folder.

    A day of age leaves alone those of a living program.
    """
    with suppress(OSError):  # left for the next time
        for file in folder.glob(TEMPORARY):
            if file.stat().st_mtime < time.time() - DAY:
                file.unlink(missing_ok=True)


def _keep_permissions(path: Path, like: Path) -> None:
    status = like.stat()
    if hasattr(os, "chown"):
        with suppress(OSError):  # only a member of the group may give a file to it
            os.chown(path, -1, status.st_gid)
    path.chmod(stat.S_IMODE(status.st_mode))


def _sync_folder(folder: Path) -> None:
    """Force the new name to the disk, where the platform can open a folder for that."""
    if hasattr(os, "O_DIRECTORY"):
        with suppress(OSError):  # the file itself is safe; some network disks refuse this
            descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
            try:
                os.fsync(descriptor)
            finally:
                os.close(descriptor)
