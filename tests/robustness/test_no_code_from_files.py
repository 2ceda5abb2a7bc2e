"""No file that a user may receive can run anything: by the program's text, and by watching it open some."""

from __future__ import annotations

import ast
import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.robustness.apart import ROOT, output_of

#: Modules that run what they read or start other programs, and languages that name what is to be run.
MODULES = {
    *("pickle", "_pickle", "dill", "cloudpickle", "joblib", "shelve", "marshal", "copyreg", "code"),
    *("codeop", "runpy", "importlib", "imp", "zipimport", "subprocess", "pty", "ctypes", "cffi"),
    *("xmlrpc", "jinja2", "mako", "yaml", "ruamel", "xml", "lxml", "string", "dbm"),
}
#: Names that run, import or fill in a text.
CALLS = {"eval", "exec", "compile", "__import__", "breakpoint", "input", "execfile"}
METHODS = {
    *("system", "popen", "spawnl", "spawnv", "execv", "execl", "startfile", "startDetached", "eval"),
    *("exec", "exec_", "literal_eval", "format", "format_map", "substitute", "safe_substitute"),
    *("evaluate", "evaluateJavaScript", "runJavaScript", "fromfile", "memmap", "loadtxt", "genfromtxt"),
    *("read_pickle", "to_pickle", "read_array"),
}
#: Switches that may only stand at False.
SWITCHES = {"allow_pickle", "shell", "usetex"}

_OWN_WORDS = "a text of the program is filled in with words of the program"
_EVENT_LOOP = "Qt's name for running its event loop or a dialog"
_VERSIONS = "versions of the libraries, by fixed names"
_IS_THERE = "whether a library of a fixed name is installed"
_NAME_OF_SYSTEM = "platform.system: the name of the operating system"
_WRITTEN = "a car of the checks is written as XML; none is read"
#: Place -> why nothing that stands in a file gets there.
ALLOWED = {
    "models/judge/handling.py: format": _OWN_WORDS,
    "workbench/editor/style.py: format": _OWN_WORDS,
    "models/studies/pareto.py: eval": "pymoo's name for computing the objectives of cars",
    "workbench/app.py: exec": _EVENT_LOOP,
    "workbench/picture.py: exec": _EVENT_LOOP,
    "workbench/runner.py: exec": _EVENT_LOOP,
    "workbench/window/files.py: exec": _EVENT_LOOP,
    "workbench/stage/film.py: subprocess": "a fixed command without a shell; only the name of a film is said",
    "models/program.py: importlib.metadata": _VERSIONS,
    "models/exports/mdf_file.py: importlib.util": _IS_THERE,
    "models/verification/check.py: importlib.util": _IS_THERE,
    "models/exports/figures.py: format": _OWN_WORDS,
    "workbench/crash.py: format": _OWN_WORDS,
    "workbench/desktop.py: format": _OWN_WORDS,
    "workbench/pages/studies/drawings.py: format": _OWN_WORDS,
    "workbench/crash.py: system": _NAME_OF_SYSTEM,
    "models/verification/manual.py: system": _NAME_OF_SYSTEM,
    "models/verification/engines/mujoco_car.py: xml.etree": _WRITTEN,
    "models/verification/engines/slides.py: xml.etree": _WRITTEN,
    "workbench/cli.py: importlib": "commands of the program, by a fixed list of names",
    "workbench/desktop.py: subprocess": "fixed commands of the desktop without a shell, told folders",
}


def suspects(text: str) -> Iterator[str]:
    """What in the text of a module could run another text."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name.split(".")[0] in MODULES)
        elif isinstance(node, ast.ImportFrom) and str(node.module).split(".")[0] in MODULES:
            yield str(node.module)
        elif isinstance(node, ast.Call):
            yield from called(node)
        elif isinstance(node, ast.Name) and node.id in CALLS:
            yield node.id


def called(node: ast.Call) -> Iterator[str]:
    function = node.func
    if isinstance(function, ast.Attribute) and function.attr in METHODS:
        yield function.attr
    if isinstance(function, ast.Attribute) and ast.unparse(function) in ("np.load", "numpy.load"):
        yield "np.load"
    for word in node.keywords:
        if word.arg in SWITCHES and not (isinstance(word.value, ast.Constant) and word.value.value is False):
            yield f"{word.arg}={ast.unparse(word.value)}"


def test_the_program_runs_no_text() -> None:
    files = sorted(file for layer in ("models", "workbench") for file in (ROOT / layer).rglob("*.py"))
    assert len(files) > 200
    found = {
        f"{file.relative_to(ROOT).as_posix()}: {suspect}"
        for file in files
        for suspect in suspects(file.read_text(encoding="utf-8"))
    }
    assert sorted(found - set(ALLOWED)) == [], "say in ALLOWED why nothing from a file gets there, or mend it"
    assert sorted(set(ALLOWED) - found) == [], "no longer there, nor needed in ALLOWED"


@pytest.mark.parametrize(
    ("text", "suspect"),
    [
        ("eval(text)", "eval"),
        ("run = exec", "exec"),
        ("import pickle as p", "pickle"),
        ("from importlib import import_module", "importlib"),
        ("import xml.etree.ElementTree", "xml.etree.ElementTree"),
        ("np.load(path, allow_pickle=True)", "allow_pickle=True"),
        ("np.load(path)", "np.load"),
        ("run(command, shell=flag)", "shell=flag"),
        ("os.system(text)", "system"),
        ("name.format(x)", "format"),
        ("from string import Template", "string"),
    ],
)
def test_what_is_looked_for_is_found(text: str, suspect: str) -> None:
    assert suspect in set(suspects(text))


def test_hostile_files_are_read_and_nothing_else(tmp_path: Path) -> None:
    """Each event that Python tells of: imports, compiling, opening, programs, sockets, unpickling."""
    told = json.loads(output_of("watched_opening.py", str(tmp_path)))
    assert not told["flag"]
    assert told["opened"] > 500
    # Whether a program holds the lock of its copy is found out by trying to lock it.
    locks = [event for event in told["seen"] if event.startswith("open ") and ".lock " in event]
    assert sorted(set(told["seen"]) - set(locks)) == []
