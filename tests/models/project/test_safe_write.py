"""Saving: the old or the new file is there at every moment, whole, and a failure is told in a sentence."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path
from typing import Any

import pytest

from models.fields import replaced
from models.project import Project, ProjectFileError, dumps, load, new_project, save
from models.project.safe_write import TEMPORARY

posix = pytest.mark.skipif(os.name != "posix", reason="POSIX permissions and signals")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "car.corduroy"


def named(name: str) -> Project:
    return replaced(new_project(), ("name",), name)


def contents(folder: Path) -> dict[str, bytes]:
    return {file.name: file.read_bytes() for file in folder.iterdir()}


def test_saved_project_opens_equal_and_saves_equal(path: Path) -> None:
    save(named("first"), path)
    assert load(path) == named("first")
    before = path.read_bytes()
    save(load(path), path)
    assert path.read_bytes() == before == dumps(named("first")).encode()


def test_previous_copy_is_kept(path: Path) -> None:
    for name in ("first", "second", "third"):
        save(named(name), path)
    assert load(path).name == "third"
    assert load(path.with_name("car.corduroy.bak")).name == "second"
    assert len(contents(path.parent)) == 2


def test_saving_twice_keeps_the_copy_that_differs(path: Path) -> None:
    save(named("first"), path)
    save(named("second"), path)
    save(named("second"), path)
    assert load(path.with_name("car.corduroy.bak")).name == "first"


def test_symbolic_link_stays_one(path: Path, tmp_path: Path) -> None:
    link, folder = tmp_path / "link.corduroy", tmp_path / "elsewhere"
    folder.mkdir()
    save(named("first"), folder / "real.corduroy")
    link.symlink_to(folder / "real.corduroy")
    save(named("second"), link)
    assert link.is_symlink()
    assert load(folder / "real.corduroy").name == "second"
    assert (folder / "real.corduroy.bak").exists()


@posix
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_permissions_are_kept(path: Path, mode: int) -> None:
    save(named("first"), path)
    path.chmod(mode)
    save(named("second"), path)
    for file in (path, path.with_name("car.corduroy.bak")):
        assert stat.S_IMODE(file.stat().st_mode) == mode


@posix
def test_new_file_has_the_permissions_that_the_user_set_for_new_files(path: Path) -> None:
    save(named("first"), path)
    plain = path.with_name("plain")
    plain.write_bytes(b"")
    assert path.stat().st_mode == plain.stat().st_mode


@posix
@pytest.mark.parametrize("old", [None, "first"])
def test_full_disk_leaves_all_as_it_was(path: Path, old: str | None) -> None:
    """A limit on the size of files stops the write half way, as a full disk does."""
    import resource

    if old is not None:
        save(named(old), path)
    before = contents(path.parent)
    limits = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, limits[1]))
    try:
        with pytest.raises(
            ProjectFileError, match=r"car\.corduroy: the project is not saved: file too large"
        ):
            save(named("second"), path)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)
    assert contents(path.parent) == before


@pytest.mark.parametrize("step", ["fsync", "replace"])
@pytest.mark.parametrize("call", [1, 2])
def test_failure_at_any_step_leaves_the_old_file_and_no_litter(
    path: Path, monkeypatch: pytest.MonkeyPatch, step: str, call: int
) -> None:
    """Call 1 of each step is for the previous copy, call 2 for the file."""
    save(named("first"), path)
    calls = 0
    plain = getattr(os, step)

    def failing(*arguments: Any) -> Any:
        nonlocal calls
        calls += 1
        if calls == call:
            raise OSError(errno.ENOSPC, "No space left on device")
        return plain(*arguments)

    monkeypatch.setattr(os, step, failing)
    with pytest.raises(ProjectFileError, match=r"no space left on device\. The file is as it was before"):
        save(named("second"), path)
    monkeypatch.undo()
    assert load(path).name == "first"
    assert list(path.parent.glob(TEMPORARY)) == []


@posix
def test_write_protected_file_is_not_replaced(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    save(named("first"), path)
    path.chmod(0o444)
    # root may write any file, so what the system says of an ordinary user is put in its place
    monkeypatch.setattr(os, "access", lambda file, mode: bool(os.stat(file).st_mode & stat.S_IWUSR))
    with pytest.raises(ProjectFileError, match="the file is write-protected"):
        save(named("second"), path)
    assert load(path).name == "first"


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write any folder")
def test_read_only_folder_is_told(path: Path) -> None:
    save(named("first"), path)
    path.parent.chmod(0o555)
    try:
        with pytest.raises(ProjectFileError, match="permission denied"):
            save(named("second"), path)
    finally:
        path.parent.chmod(0o755)
    assert load(path).name == "first"


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("no/such/folder/car.corduroy", "no such file or directory"),
        ("folder", "it is a folder"),
        ("file/car.corduroy", "not a directory"),
        ("n" * 300 + ".corduroy", "name too long"),
        ("nul\0.corduroy", "null"),
    ],
)
def test_places_that_cannot_be_written(tmp_path: Path, name: str, reason: str) -> None:
    (tmp_path / "folder").mkdir()
    (tmp_path / "file").touch()
    with pytest.raises(ProjectFileError, match=f"(?i)the project is not saved: .*{reason}"):
        save(named("first"), tmp_path / name)
    assert sorted(contents_of_folder(tmp_path)) == ["file", "folder"]


def contents_of_folder(folder: Path) -> list[str]:
    return [file.name for file in folder.iterdir()]


@posix
def test_a_pipe_is_neither_read_nor_written(path: Path) -> None:
    os.mkfifo(path)
    with pytest.raises(ProjectFileError, match="it is not a plain file"):
        load(path)
    with pytest.raises(ProjectFileError, match="it is not a plain file"):
        save(named("first"), path)
