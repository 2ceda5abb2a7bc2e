"""Opens hostile files of every kind under an audit hook and prints what was done.

A hook stays for the rest of its process, so this is a program: ``watched_opening.py FOLDER``.
The files try to make FOLDER/flag.
"""

from __future__ import annotations

import io
import json
import os
import pickle
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from random import Random
from typing import Any

import numpy as np

from models.analysis import analyse
from models.charts.build import CHART_CHOICES, build
from models.charts.figure import figure_bytes
from models.charts.table import table_text
from models.errors import InputError
from models.project import dumps, load, new_project, save
from models.project.recovery import Session, pending
from models.roads.csv_import import inspect_csv, read_csv
from models.roads.opencrg import read_opencrg
from models.studies import ask, load_result, save_result
from models.study import GlobalSensitivity
from models.units import METRIC
from tests.robustness.cases import full_project
from tests.robustness.mutations import mutated_bytes, mutated_json
from tests.study_cases import by_formula, spread

FOLDER = Path(sys.argv[1])
FLAG = FOLDER / "flag"
PROJECT, RESULT, ROAD, STATE = (FOLDER / name for name in ("car.corduroy", "a.npz", "road.dat", "state"))
ANALYSIS = analyse(new_project().variants[0].vehicle, new_project().run)
TEXTS = (
    f"__import__('os').system('touch {FLAG}')",
    f"$(touch {FLAG})",
    f"`touch {FLAG}`",
    f"| touch {FLAG}",
    f"=cmd|' /C touch {FLAG}'!A0",
    "{0.__class__.__mro__[1].__subclasses__}",
    "{{ self.__init__.__globals__ }}",
    "${__import__('os')}",
    f"!!python/object/apply:os.system ['touch {FLAG}']",
    "$\\input{/etc/passwd}$ \\write18{touch flag}",
    "<img src='file:///etc/passwd'><script>1</script>",
    "../../../etc/passwd",
    "%n%n%s%(x)s",
)


class Trap:
    """What its reader would run, were it a pickle to him."""

    def __reduce__(self) -> tuple[Any, ...]:
        return (open, (str(FLAG), "w"))


def projects() -> Iterator[str]:
    """Texts of projects with code in the place of each text, and damaged at random."""
    for whole in (new_project(), full_project()):
        text, random = dumps(whole), Random(1)
        for number, place in enumerate(strings(json.loads(text))):
            content = json.loads(text)
            above = content
            for step in place[:-1]:
                above = above[step]
            above[place[-1]] = TEXTS[number % len(TEXTS)]
            yield json.dumps(content)
        for _ in range(100):
            yield mutated_json(text, random)


def named_projects() -> Iterator[str]:
    """Texts of projects with code as their names."""
    content = json.loads(dumps(new_project()))
    for code in TEXTS:
        name, note = code[:80], "\n".join(TEXTS)
        variant = {**content["variants"][0], "name": name, "note": note}
        names = {"name": name, "baseline": name, "candidate": name}
        yield json.dumps({**content, **names, "note": note, "variants": [variant]})


def strings(content: Any, above: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Places of all texts."""
    for key, value in content.items() if isinstance(content, dict) else enumerate(content):
        if isinstance(value, str):
            yield (*above, key)
        elif isinstance(value, (dict, list)):
            yield from strings(value, (*above, key))


def results(whole: bytes) -> Iterator[bytes]:
    """Files of results that hold pickles, are pickles, or are damaged."""
    yield pickle.dumps(Trap())
    with np.load(io.BytesIO(whole)) as content:
        arrays = {name: content[name] for name in content.files}
    for name in arrays:
        file = io.BytesIO()
        trapped: dict[str, Any] = {**arrays, name: np.array([Trap()], dtype=object)}
        np.savez(file, allow_pickle=True, **trapped)
        yield file.getvalue()
    for code in TEXTS:
        said = bytes(arrays["about"]).decode().replace("pitch_share", json.dumps(code)[1:-1])
        coded: dict[str, Any] = {**arrays, "about": np.frombuffer(said.encode(), dtype=np.uint8)}
        file = io.BytesIO()
        np.savez(file, allow_pickle=False, **coded)
        yield file.getvalue()
    random = Random(1)
    for _ in range(100):
        yield mutated_bytes(whole, random)


def roads() -> Iterator[bytes]:
    """Tables and grids with code in their heads and cells."""
    for code in TEXTS:
        yield f"{code},left,right\n0,1,2\n1,{code},2\n2,1,2\n".encode()
        yield f"x,left,right\n0,1,2\n1,2,2\n2,1,2\n{code}".encode()
        yield f"$CT\n{code}\n$ROAD_CRG_FILE\n{code}\n$ROAD_CRG\na = {code}\n$$$$\n".encode()
    yield pickle.dumps(Trap())


def opened(path: Path, data: bytes, read: Callable[[Path], object]) -> None:
    """Write the file outside of the watch, and read it within."""
    path.write_bytes(data)
    counts["opened"] += 1
    watch.append(path)
    with suppress(InputError):
        read(path)
    watch.clear()


def used_project(path: Path) -> None:
    """Open a project and look up what its studies vary."""
    project = load(path)
    for study in project.studies:
        with suppress(InputError):
            ask(project, study)


def drawn_project(path: Path) -> None:
    """Chart and table of a project, under its names."""
    project = load(path)
    chart = build(next(iter(CHART_CHOICES)), ANALYSIS, None, names=(project.candidate, project.baseline))
    table_text(chart, METRIC, project.name)
    figure_bytes(chart, "svg", METRIC, project.name)


def read_road(path: Path) -> None:
    with suppress(InputError):
        read_opencrg(path)
    read_csv(path, inspect_csv(path).choice)


def opened_state() -> None:
    """A copy of unsaved work with code in each of its fields."""
    session = Session(STATE)
    session.write(new_project(), PROJECT)
    session._lock.release()
    (file,) = STATE.glob("*.autosave")
    content = json.loads(file.read_bytes())
    for name in content:
        for code in TEXTS:
            data = json.dumps({**content, name: code}).encode()
            opened(file, data, lambda path: pending(path.parent))
    opened(file, pickle.dumps(Trap()), lambda path: pending(path.parent))


#: Looking at objects and listing a folder.
HARMLESS = {
    *("builtins.id", "sys._getframe", "object.__getattr__", "object.__setattr__", "array.__new__"),
    *("os.listdir", "os.scandir", "glob.glob", "glob.glob/2", "pathlib.Path.glob", "gc.get_objects"),
}
watch: list[Path] = []
counts = {"opened": 0}
seen: set[str] = set()


def hook(event: str, arguments: tuple[Any, ...]) -> None:
    """Note what is done while a hostile file is open; reading that file is what it is opened for."""
    if not watch or event in HARMLESS:
        return
    if event == "open":
        path, mode, flags = arguments
        if str(path) == str(watch[0]) and not flags & (os.O_WRONLY | os.O_RDWR):
            return
        seen.add(f"open {path} {mode}")
    else:
        seen.add(" ".join((event, *(str(argument)[:60] for argument in arguments[:1]))))


if __name__ == "__main__":
    study = GlobalSensitivity(parameters=spread(2), samples=8, metrics=("pitch_share",))
    save_result(by_formula(study, lambda share: share[:, :1], 2), RESULT)
    whole = RESULT.read_bytes()
    save(full_project(), PROJECT)
    # What the program loads at the first use of a thing is no doing of the file.
    for use in (used_project, drawn_project):
        use(PROJECT)
    load_result(RESULT)
    ROAD.write_bytes(b"x;left;right\n0;1;2\n1;2;2\n")
    with suppress(InputError):
        read_road(ROAD)
    sys.addaudithook(hook)
    for text in projects():
        opened(PROJECT, text.encode("utf-8", "surrogatepass"), used_project)
    for text in named_projects():
        opened(PROJECT, text.encode(), drawn_project)
    opened_state()
    for data in results(whole):
        opened(RESULT, data, load_result)
    for data in roads():
        opened(ROAD, data, read_road)
    print(json.dumps({**counts, "seen": sorted(seen), "flag": FLAG.exists()}))
