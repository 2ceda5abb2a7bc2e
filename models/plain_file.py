"""Reading files that anybody may have made: plain ones only, and never more than so many bytes."""

from __future__ import annotations

import os
import stat
from pathlib import Path

__all__ = ["read_beginning", "read_limited"]


def read_limited(path: str | os.PathLike[str], limit: int) -> bytes:
    """Content of a plain file of at most ``limit`` bytes.

    Raises:
        OSError: it cannot be read, is no plain file, or is larger.
        ValueError: no file can have that path.
    """
    data = read_beginning(path, limit + 1)
    if len(data) > limit:
        raise OSError(f"it is larger than the {limit / 1e6:.0f} MB allowed")
    return data


def read_beginning(path: str | os.PathLike[str], most: int = -1) -> bytes:
    """First ``most`` bytes of a plain file, or all of it; raises like :func:`read_limited`."""
    kind = os.stat(path).st_mode
    if stat.S_ISDIR(kind):
        raise IsADirectoryError("it is a folder")
    if not stat.S_ISREG(kind):  # a pipe or a device could block or never end
        raise OSError("it is not a plain file")
    with Path(path).open("rb") as file:
        return file.read(most)
