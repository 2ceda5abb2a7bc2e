"""A lock file that is held as long as its process lives, however that process ends."""

from __future__ import annotations

import errno
import os
import sys
from pathlib import Path

__all__ = ["Lock", "is_held"]

# A process must not probe its own lock: where a network disk turns flock into a record lock, closing
# any descriptor of the file would drop it.
_held_here: set[Path] = set()


class Lock:
    """Holds the lock file ``path`` from creation to :meth:`release` or to the end of the process.

    The operating system drops the lock when the process ends, so nothing has to be guessed from
    process numbers, which are used again.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
        _lock(self._descriptor)
        _held_here.add(path)

    def release(self) -> None:
        """Let go and remove the lock file; a second call does nothing."""
        if self._path in _held_here:
            _held_here.discard(self._path)
            os.close(self._descriptor)
            self._path.unlink(missing_ok=True)


def is_held(path: Path) -> bool:
    """Whether a living process holds that lock file."""
    if path in _held_here:
        return True
    try:
        descriptor = os.open(path, os.O_RDWR)
    except FileNotFoundError:
        return False
    except OSError:  # of another user, hence none of our business
        return True
    try:
        return not _lock(descriptor)
    finally:
        os.close(descriptor)


if sys.platform == "win32":
    import msvcrt

    def _lock(descriptor: int) -> bool:
        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _lock(descriptor: int) -> bool:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            # A disk that knows no locks must not hide lost work: there, nobody counts as alive.
            return error.errno not in (errno.EWOULDBLOCK, errno.EACCES)
        return True
