"""A file is there whole or not at all; the old one stays until then."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from models.errors import InputError
from models.project.write_file import make_folder, write_file


@pytest.mark.parametrize(
    ("step", "code", "words"),
    [
        ("fsync", errno.ENOSPC, "no space left"),
        ("replace", errno.EROFS, "read-only file system"),
        ("replace", errno.EACCES, "permission denied"),
    ],
)
def test_a_disk_that_refuses_keeps_the_old_file(
    step: str, code: int, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "time.csv"
    write_file(path, b"old")

    def refuse(*_: object) -> None:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(os, step, refuse)
    with pytest.raises(InputError, match=rf"time\.csv: cannot be written: {words}.*untouched"):
        write_file(path, b"new" * 1000)
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_may_not_be_written(tmp_path: Path) -> None:
    folder = tmp_path / "locked"
    folder.mkdir()
    (folder / "a.csv").write_bytes(b"old")
    folder.chmod(0o500)
    try:
        for name in ("a.csv", "b.csv"):
            with pytest.raises(InputError, match="cannot be written: permission denied"):
                write_file(folder / name, b"new")
        with pytest.raises(InputError, match="the folder cannot be made: permission denied"):
            make_folder(folder / "deeper")
    finally:
        folder.chmod(0o700)
    assert [path.read_bytes() for path in folder.iterdir()] == [b"old"]


def test_a_device_a_folder_and_a_missing_folder_are_refused(tmp_path: Path) -> None:
    for path in (Path(os.devnull), tmp_path, tmp_path / "nowhere" / "a.csv"):
        with pytest.raises(InputError, match="cannot be written"):
            write_file(path, b"new")
    assert list(tmp_path.iterdir()) == []
