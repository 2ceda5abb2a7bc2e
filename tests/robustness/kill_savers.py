"""Kills processes in the middle of saving and looks at what is left; run as a program of its own.

It forks, which a process with a window should not: ``kill_savers.py random|each FOLDER KILLS``.
"""

from __future__ import annotations

import itertools
import json
import os
import signal
import sys
import threading
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from random import Random
from types import FrameType
from typing import Any

from models.fields import replaced
from models.project import Project, load, new_project, save
from models.project.recovery import Session, discard, pending

PROJECTS = [replaced(new_project(), ("name",), f"save {number}") for number in range(2)]
#: Modules between whose lines a process is killed.
MODULES = ("safe_write.py", "recovery.py", "lock.py")


def save_file(folder: Path, session: Session | None, project: Project) -> None:
    save(project, folder / "car.corduroy")


def save_copy(folder: Path, session: Session | None, project: Project) -> None:
    assert session is not None
    session.write(project, folder / "car.corduroy")


def check(folder: Path, kill: object, found: Counter[str]) -> None:
    """The file and the one before it are there and whole, and so is the copy if there is one."""
    path = folder / "car.corduroy"
    for file in (path, path.with_name(path.name + ".bak")):
        assert load(file) in PROJECTS, f"kill {kill}: {file}"
    found[load(path).name] += 1
    copies = pending(folder / "state")
    assert len(copies) < 2, f"kill {kill}: {copies}"
    for copy in copies:
        assert copy.project in PROJECTS, f"kill {kill}: {copy.damage}"
        assert copy.path == path
        found["copy"] += 1
        discard(copy)


def forked(work: Callable[[], None], moment: float | None = None) -> int:
    """Signal that ended a process which does the work: 0 if it came to its end, 9 if it was killed."""
    child = os.fork()
    if child == 0:
        try:
            work()
            os._exit(0)
        except BaseException as error:
            print(repr(error), file=sys.stderr)
            os._exit(1)
    killer = threading.Timer(moment or 0.0, os.kill, (child, signal.SIGKILL))
    if moment is not None:
        killer.start()
    status = os.waitpid(child, 0)[1]
    if moment is not None:
        killer.join()
    assert os.WIFSIGNALED(status) or os.WEXITSTATUS(status) == 0
    return os.WTERMSIG(status) if os.WIFSIGNALED(status) else 0


def at_random(folder: Path, kills: int) -> Counter[str]:
    """Processes that save without end, killed at random moments."""
    moments, found = Random(1), Counter[str]()

    def work() -> None:
        session = Session(folder / "state")
        for project in itertools.cycle(PROJECTS):
            save_file(folder, None, project)
            save_copy(folder, session, project)

    for kill in range(kills):
        assert forked(work, moments.uniform(0.001, 0.04)) == signal.SIGKILL
        check(folder, kill, found)
        found["kills"] += 1
    return found


def at_each_line(folder: Path) -> Counter[str]:
    """Processes that save once and kill themselves, each one line later than the one before."""
    found = Counter[str]()
    for saving in (save_file, save_copy):
        for last in itertools.count(1):
            lines = itertools.count(1)

            def trace(frame: FrameType, event: str, _: Any, last: int = last, lines: Any = lines) -> Any:
                if not frame.f_code.co_filename.endswith(MODULES):
                    return None
                if event == "line" and next(lines) == last:
                    os.kill(os.getpid(), signal.SIGKILL)
                return trace

            def work(saving: Any = saving, trace: Any = trace) -> None:
                session = Session(folder / "state")
                session.write(PROJECTS[0], folder / "car.corduroy")
                sys.settrace(trace)
                saving(folder, session, PROJECTS[1])

            if load(folder / "car.corduroy") != PROJECTS[0]:
                save(PROJECTS[0], folder / "car.corduroy")
            ended = forked(work)
            check(folder, f"at line {last} of {saving.__name__}", found)
            if ended == 0:
                break
            found["kills"] += 1
    return found


if __name__ == "__main__":
    place = Path(sys.argv[2])
    for first in reversed(PROJECTS):
        save(first, place / "car.corduroy")
    print(json.dumps(at_each_line(place) if sys.argv[1] == "each" else at_random(place, int(sys.argv[3]))))
