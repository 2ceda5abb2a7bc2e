"""The verification manual of a whole run of the tests: ``pytest --manual verification.md``.

Each test of tests/oracle and tests/reference, and each that is marked as an invariant, becomes a section:
its module tells the chapter, its name the title, its docstring what is compared and why so much is allowed.
Tests that assert by :func:`near` have their numbers beside that; a test of a check of models.verification has
all that the check tells.
"""

from __future__ import annotations

import inspect
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

import pytest
from numpy.typing import ArrayLike

from models.verification import Check, Group, Number, Outcome, Verdict, beside, manual_page

__all__ = ["Recorder", "assert_held", "near"]

_FOLDERS: dict[str, Group] = {"reference": "published", "oracle": "engine"}


@dataclass
class Recorder:
    """What the tests of a run have compared; numbers of one name keep the one nearest to its limit."""

    numbers: dict[str, Number] = field(default_factory=dict)
    outcomes: dict[str, Outcome] = field(default_factory=dict)
    told: bool = False

    def begin(self) -> None:
        """Another test."""
        self.numbers.clear()
        self.told = False

    def add(self, number: Number) -> None:
        """Of the test that runs now; random examples and cases of one test make one line."""
        before = self.numbers.get(number.what)
        if before is None:
            self.numbers[number.what] = number
        else:
            worse = number if not number.used <= before.used else before
            self.numbers[number.what] = replace(worse, count=number.count + before.count)

    def test(self, item: pytest.Function, group: Group, failed: bool) -> None:
        """Keep the test that has run as a section."""
        module, function = item.module, item.function
        case = item.callspec.id if hasattr(item, "callspec") else ""
        path = f"{Path(item.path).relative_to(item.config.rootpath).as_posix()}::{item.originalname}"
        numbers = [replace(n, what=f"{case}: {n.what}" if case else n.what) for n in self.numbers.values()]
        earlier = self.outcomes.get(path)
        check = Check(
            id=path,
            chapter=(inspect.getdoc(module) or item.path.stem).partition("\n")[0].rstrip("."),
            group=group,
            title=item.originalname.removeprefix("test_").replace("_", " ").capitalize(),
            text=inspect.getdoc(function) or "",
            source="as told in the test",
            status="computed apart" if group == "engine" else "closed form",
            reason="as told in the test",
            numbers=lambda: (),
        )
        known = earlier.numbers if earlier else ()
        failed = failed or (earlier is not None and earlier.verdict == "failed")
        verdict: Verdict = "failed" if failed else "held"
        problem = "" if known or numbers else "asserted in the test, without a table"
        self.outcomes[path] = Outcome(check, (*known, *numbers), problem, verdict)

    def checked(self, outcome: Outcome) -> None:
        """Keep a check of models.verification, which tells all that the test could."""
        self.told = True
        self.outcomes[outcome.check.id] = outcome


RECORDER = Recorder()


def near(
    what: str, computed: ArrayLike, expected: ArrayLike, *, relative: float = 0.0, within: ArrayLike = 0.0
) -> None:
    """Assert that numbers are what they should be, and keep them for the manual.

    As :func:`models.verification.beside`: of ``relative`` and ``within`` the wider one holds.
    """
    number = beside(what, computed, expected, relative=relative, within=within)
    RECORDER.add(number)
    assert number.held, str(number)


def assert_held(outcome: Outcome) -> None:
    """Assert that a check has held, and keep it for the manual."""
    RECORDER.checked(outcome)
    wrong = [number for number in outcome.numbers if not number.held]
    assert outcome.verdict == "held", f"{outcome.check.id}: {outcome.problem} {wrong}"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--manual", metavar="FILE", help="write the verification manual of this run as Markdown")


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "invariant: a law that holds whatever the numbers are; for the manual")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Iterator[None]:
    RECORDER.begin()
    try:
        result = yield
    except pytest.skip.Exception:
        raise
    except BaseException:
        _keep(item, failed=True)
        raise
    _keep(item, failed=False)
    return result


def _keep(item: pytest.Item, failed: bool) -> None:
    group = _group(item)
    if group is not None and isinstance(item, pytest.Function) and not RECORDER.told:
        RECORDER.test(item, group, failed)


def _group(item: pytest.Item) -> Group | None:
    if item.get_closest_marker("invariant"):
        return "invariant"
    return _FOLDERS.get(item.path.parent.name)


def pytest_sessionfinish(session: pytest.Session) -> None:
    path = session.config.getoption("--manual")
    if path is None:
        return
    Path(path).write_text(manual_page(RECORDER.outcomes.values()), encoding="utf-8")
