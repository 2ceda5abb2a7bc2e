"""Writing a file so that at every moment the old or the new one is there, whole."""

from __future__ import annotations

import os
import secrets
import stat
from contextlib import suppress
from pathlib import Path

from models.plain_file import read_beginning

__all__ = ["TEMPORARY", "write_safely"]

#: Pattern of the temporary files; one is left behind only by a program that was killed.
TEMPORARY = ".corduroy-*.tmp"


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
        raise PermissionError("the file is write-protected")
    if previous is not None and old is not None and old != data:
        _replace(previous, old, like=path)
    _replace(path, data, like=None if old is None else path)
    _sync_folder(path.parent)


def _replace(path: Path, data: bytes, like: Path | None) -> None:
    temporary = path.with_name(f".corduroy-{secrets.token_hex(8)}.tmp")
    try:
        with open(temporary, "xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if like is not None:
            _keep_permissions(temporary, like)
        os.replace(temporary, path)
    except BaseException:
        with suppress(OSError):
            temporary.unlink()
        raise


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
