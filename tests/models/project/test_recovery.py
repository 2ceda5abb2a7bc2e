"""Autosaves: of dead sessions only, the newest first, damaged ones told and not crashed on."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import textwrap
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from models.fields import replaced
from models.project import Project, ProjectFileError, dumps, new_project
from models.project.recovery import Session, discard, pending

RUNS_UNTIL_KILLED = textwrap.dedent(
    """
    import sys
    from pathlib import Path
    from models.fields import replaced
    from models.project import new_project
    from models.project.recovery import Session, pending

    session = Session(Path(sys.argv[1]))
    for number in range(3):
        session.write(replaced(new_project(), ("name",), f"state {number}"), Path("/somewhere/car.corduroy"))
    print("ready", flush=True)
    sys.stdin.read()
    """
)


@contextmanager
def program(folder: Path) -> Iterator[subprocess.Popen[str]]:
    """A running program that has written an autosave; killed on the way out."""
    with subprocess.Popen(
        [sys.executable, "-c", RUNS_UNTIL_KILLED, str(folder)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as running:
        assert running.stdout is not None
        assert running.stdout.readline() == "ready\n"
        try:
            yield running
        finally:
            running.kill()


def left_behind(folder: Path, name: str = "lost", saved_at: str | None = None, **changes: Any) -> Path:
    """Autosave of a session that is dead: its lock is not held."""
    session = Session(folder)
    session.write(replaced(new_project(), ("name",), name), None)
    (file,) = (one for one in folder.glob("*.autosave") if one.with_suffix(".lock") == session._lock._path)
    content = json.loads(file.read_bytes())
    session.close()
    if saved_at is not None:
        content["saved_at"] = saved_at
    file.write_text(json.dumps({**content, **changes}), encoding="utf-8")
    return file


def test_killed_program_is_recovered_and_a_living_one_left_alone(tmp_path: Path) -> None:
    with program(tmp_path) as first, program(tmp_path):
        assert pending(tmp_path) == []
        first.send_signal(signal.SIGKILL if os.name == "posix" else signal.SIGTERM)
        first.wait()
        (autosave,) = pending(tmp_path)
        assert autosave.project == replaced(new_project(), ("name",), "state 2")
        assert autosave.path == Path("/somewhere/car.corduroy")
        assert autosave.damage == ""
        assert datetime.now(UTC) - autosave.saved_at < timedelta(minutes=5)
        discard(autosave)
        assert pending(tmp_path) == []
        assert not autosave.file.exists()
    assert len(pending(tmp_path)) == 1


def test_own_session_is_not_offered(tmp_path: Path) -> None:
    session = Session(tmp_path)
    session.write(new_project(), None)
    assert pending(tmp_path) == []
    assert pending(tmp_path / "." / "sub" / "..") == []
    session.close()


def test_orderly_end_leaves_nothing(tmp_path: Path) -> None:
    session = Session(tmp_path / "made" / "on demand")
    session.write(new_project(), None)
    session.close()
    session.close()
    session.write(new_project(), None)
    assert list((tmp_path / "made" / "on demand").iterdir()) == []


def test_saved_project_needs_no_copy(tmp_path: Path) -> None:
    session = Session(tmp_path)
    session.write(new_project(), None)
    session.clear()
    session.clear()
    assert list(tmp_path.glob("*.autosave")) == []
    session.close()


def test_newest_stands_first(tmp_path: Path) -> None:
    for name, saved_at in (
        ("middle", "2026-05-02T12:00:00+02:00"),
        ("newest", "2026-05-02T11:00:00+00:00"),
        ("oldest", "2026-05-02T09:59:00+00:00"),
    ):
        left_behind(tmp_path, name, saved_at)
    names = [autosave.project.name for autosave in pending(tmp_path) if autosave.project]
    assert names == ["newest", "middle", "oldest"]


def test_no_folder_means_nothing_to_recover(tmp_path: Path) -> None:
    assert pending(tmp_path / "absent") == []


def _edited(project: Project) -> str:
    return dumps(project).replace("1700 kg", "1701 kg")


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"project": _edited(new_project())}, "checksum does not agree"),
        ({"project": 5}, "'int' object"),
        ({"sha256": None}, "checksum does not agree"),
        ({"version": 2}, "no autosave of version 1"),
        ({"saved_at": "yesterday"}, "yesterday"),
        ({"saved_at": 5}, "fromisoformat"),
        ({"path": 5}, "int"),
    ],
)
def test_damage_is_told(tmp_path: Path, changes: dict[str, Any], reason: str) -> None:
    left_behind(tmp_path, **changes)
    (autosave,) = pending(tmp_path)
    assert autosave.project is None
    assert autosave.damage.startswith("the recovery copy is damaged: ")
    assert reason in autosave.damage


@pytest.mark.parametrize(
    "damage",
    [
        lambda data: b"",
        lambda data: data[: len(data) // 2],
        lambda data: b"\xff\xfe" + data,
        lambda data: b"[" * 100_000,
        lambda data: b"[]",
        lambda data: b"null",
        lambda data: data.replace(b"kg", b"kN"),
    ],
)
def test_damaged_bytes_are_told_and_sound_ones_still_offered(
    tmp_path: Path, damage: Callable[[bytes], bytes]
) -> None:
    file = left_behind(tmp_path)
    file.write_bytes(damage(file.read_bytes()))
    left_behind(tmp_path, "sound", "2001-01-01T00:00:00+00:00")
    damaged, sound = pending(tmp_path)
    assert damaged.project is None
    assert damaged.damage
    assert sound.project is not None
    assert sound.project.name == "sound"
    discard(damaged)
    assert len(pending(tmp_path)) == 1


def test_copy_that_cannot_be_written_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    session = Session(tmp_path)
    session.write(replaced(new_project(), ("name",), "kept"), None)
    before = next(tmp_path.glob("*.autosave")).read_bytes()

    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(ProjectFileError, match="no recovery copy is kept: no space left on device"):
        session.write(new_project(), None)
    assert next(tmp_path.glob("*.autosave")).read_bytes() == before
    session.close()


def test_litter_of_killed_programs_goes_after_a_day(tmp_path: Path) -> None:
    fresh, stale = tmp_path / "fresh.lock", tmp_path / "stale.lock"
    temporary = tmp_path / ".corduroy-0123456789abcdef.tmp"
    session = Session(tmp_path)
    own = next(tmp_path.glob("*.lock"))
    for file in (fresh, stale, temporary):
        file.touch()
    for file in (stale, temporary, own):
        os.utime(file, (1e9, 1e9))
    assert pending(tmp_path) == []
    assert sorted(tmp_path.iterdir()) == sorted([fresh, own])
    session.close()
