"""A full disk and a folder that cannot be written: told in a sentence, and every file is as it was before."""

from __future__ import annotations

import builtins
import errno
import itertools
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from models.charts.chart import Axis, Chart, Curve
from models.charts.files import export
from models.errors import InputError
from models.fields import replaced
from models.project import Project, ProjectFileError, load, new_project, save
from models.project.recovery import Session
from models.project.safe_write import TEMPORARY
from models.studies import ResultFileError, StudyResult, copy_results, save_result
from models.study import GlobalSensitivity
from tests.study_cases import by_formula, spread

Action = Callable[[Path, Session], object]


KEPT = {"file": "b.npz", "checksum": "0" * 64, "inputs": "0" * 64}


def named(name: str) -> Project:
    return replaced(new_project(), ("name",), name)


@pytest.fixture(scope="module")
def result() -> StudyResult:
    study = GlobalSensitivity(parameters=spread(2), samples=256, metrics=("pitch_share",))
    return by_formula(study, lambda share: share[:, :1], 2)


@pytest.fixture(scope="module")
def actions(result: StudyResult) -> dict[str, tuple[Action, type[Exception], str]]:
    """What writes a file, the error that it may end in, and the words of it."""
    x = np.linspace(0.0, 1.0, 500)
    chart = Chart(
        "law", "Law", Axis("Travel", "travel"), Axis("Force", "force"), (Curve("a", "", x, np.sin(x)),)
    )
    study = result.asked.study
    return {
        "save": (
            lambda folder, _: save(named("second"), folder / "car.corduroy"),
            ProjectFileError,
            r"^car\.corduroy: the project is not saved: {reason}\. The file is as it was before$",
        ),
        "save as": (
            lambda folder, _: save(named("second"), folder / "other.corduroy"),
            ProjectFileError,
            r"^other\.corduroy: the project is not saved: {reason}\.",
        ),
        "copy of unsaved work": (
            lambda _, session: session.write(named("second"), None),
            ProjectFileError,
            "no recovery copy is kept: {reason}",
        ),
        "export": (
            lambda folder, _: export(chart, folder / "law.csv"),
            InputError,
            r"law\.csv: cannot be written: {reason}\. What was there before is untouched\.$",
        ),
        "results": (
            lambda folder, _: save_result(result, folder / "car.studies" / "a.npz"),
            ResultFileError,
            r"^a\.npz: the results are not saved: {reason}$",
        ),
        "results of a copy": (
            lambda folder, _: copy_results(
                replaced(new_project(), ("studies",), (replaced(study, ("result",), KEPT),)),
                [folder / "car.studies"],
                folder / "other.corduroy",
            ),
            ResultFileError,
            r"^b\.npz: the results are not copied: {reason}$",
        ),
    }


def prepare(folder: Path, session: Session) -> None:
    """Put something into a folder that may be lost."""
    save(named("zeroth"), folder / "car.corduroy")
    save(named("first"), folder / "car.corduroy")
    session.write(named("first"), None)
    for name in ("car.studies", "other.studies"):
        (folder / name).mkdir()
    (folder / "car.studies" / "a.npz").write_bytes(b"results")
    (folder / "car.studies" / "b.npz").write_bytes(b"results" * 2000)
    (folder / "law.csv").write_text("a figure")


@pytest.fixture
def session(folder: Path) -> Iterator[Session]:
    session = Session(folder)
    prepare(folder, session)
    yield session
    session.close()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path


def contents(folder: Path) -> dict[str, bytes]:
    return {str(file): file.read_bytes() for file in folder.rglob("*") if file.is_file()}


ALL = ["save", "save as", "copy of unsaved work", "export", "results", "results of a copy"]


def is_refused(
    actions: dict[str, tuple[Action, type[Exception], str]],
    name: str,
    folder: Path,
    session: Session,
    reason: str,
) -> bool:
    """Whether the action is refused: then in words, and all is as before."""
    act, kind, words = actions[name]
    before = contents(folder)
    try:
        act(folder, session)
    except kind as error:
        told = str(error)
    else:
        assert contents(folder) != before
        return False
    assert re.search(words.format(reason=f"(?i:{reason})"), told), told
    after = contents(folder)
    if after != before:
        # The one step between two renamings: the copy of what was there before is that of what is there.
        file = str(folder / "car.corduroy")
        assert after == {**before, f"{file}.bak": before[file]}
    return True


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EROFS, errno.EIO, errno.EDQUOT])
@pytest.mark.parametrize("name", ALL)
def test_an_error_at_any_step_of_any_writing(
    actions: dict[str, tuple[Action, type[Exception], str]],
    session: Session,
    folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    name: str,
    code: int,
) -> None:
    """Opening, writing, forcing to the disk, permissions and renaming fail in turn, until none is left."""
    for step in itertools.count(1):
        with monkeypatch.context() as broken:
            break_from(step, code, broken)
            refused = is_refused(actions, name, folder, session, os.strerror(code))
        assert list(folder.rglob(TEMPORARY)) == []
        if not refused:
            break
    assert 3 < step < 15


def break_from(step: int, code: int, broken: pytest.MonkeyPatch) -> None:
    """Let the calls that change a disk fail, from that one on."""
    calls, opened = itertools.count(1), builtins.open

    def failing(plain: Callable[..., Any]) -> Callable[..., Any]:
        def call(*arguments: Any, **named: Any) -> Any:
            if next(calls) >= step:
                raise OSError(code, os.strerror(code))
            return plain(*arguments, **named)

        return call

    def opening(path: Any, mode: str = "r", *rest: Any, **more: Any) -> Any:
        return (failing(opened) if "x" in mode else opened)(path, mode, *rest, **more)

    broken.setattr(builtins, "open", opening)
    broken.setattr(Path, "chmod", failing(Path.chmod))
    for call in ("fsync", "replace"):
        broken.setattr(os, call, failing(getattr(os, call)))


@pytest.mark.skipif(os.name != "posix", reason="limits of POSIX")
@pytest.mark.parametrize("name", ALL)
def test_a_write_that_ends_half_way(
    actions: dict[str, tuple[Action, type[Exception], str]], session: Session, folder: Path, name: str
) -> None:
    """A limit on the size of files stops the write itself, on any disk."""
    import resource

    limits = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, limits[1]))
    try:
        assert is_refused(actions, name, folder, session, "file too large")
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)
    assert list(folder.rglob(TEMPORARY)) == []
    assert not is_refused(actions, name, folder, session, "")


# -- real disks -------------------------------------------------------------------------------------------


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 256 kB; only root may mount one."""
    if sys.platform != "linux" or os.geteuid() != 0 or shutil.which("mount") is None:
        pytest.skip("only root of Linux may mount a small disk")
    place = tmp_path / "disk"
    place.mkdir()
    mounting = ["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", str(place)]
    if subprocess.run(mounting, capture_output=True, check=False).returncode != 0:
        pytest.skip("mounting is not allowed here")
    try:
        yield place
    finally:
        subprocess.run(["umount", "--lazy", str(place)], check=True)


def fill(filler: Path) -> None:
    """Write until nothing more goes onto the disk."""
    with filler.open("wb", buffering=0) as file:
        try:
            while file.write(bytes(4096)):
                pass
        except OSError as error:
            assert error.errno == errno.ENOSPC  # noqa: PT017


@pytest.mark.parametrize("name", ALL)
def test_a_disk_that_is_full(
    actions: dict[str, tuple[Action, type[Exception], str]], disk: Path, name: str
) -> None:
    """With any room left, from none up: refused and all as before, or done."""
    session = Session(disk)
    prepare(disk, session)
    filler, refused = disk / "filler", 0
    fill(filler)
    while is_refused(actions, name, disk, session, "no space left on device"):
        refused += 1
        os.truncate(filler, filler.stat().st_size - 4096)
    assert refused > 1
    assert load(disk / "car.corduroy").name == ("second" if name == "save" else "first")
    session.close()


@pytest.mark.parametrize("name", ALL)
def test_a_disk_that_may_only_be_read(
    actions: dict[str, tuple[Action, type[Exception], str]], disk: Path, name: str
) -> None:
    session = Session(disk)
    prepare(disk, session)
    session._lock.release()  # a disk with a file open for writing cannot become read-only
    subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
    with pytest.raises(OSError, match="Read-only"):
        Session(disk)
    assert is_refused(actions, name, disk, session, "read-only file system|the file is write-protected")
    assert load(disk / "car.corduroy") == named("first")
