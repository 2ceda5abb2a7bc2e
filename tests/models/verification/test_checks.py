"""What a check is, how it is judged, and what all of them state."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np
import pytest

from models.verification import Check, Number, Outcome, beside, run, run_all
from models.verification.catalogue import CHAPTERS, CHECKS


def check(numbers: Iterable[Number], **changes: object) -> Check:
    """A check of ready numbers."""
    made = Check(
        id="sums/two",
        chapter="Sums",
        group="published",
        title="Two and two",
        text="By hand.",
        source="A primer",
        status="seen",
        reason="exact",
        numbers=lambda: iter(numbers),
    )
    return replace(made, **changes)  # type: ignore[arg-type]


HELD, OFF = Number("sum", 4.0, 4.0, 0.0), Number("sum", 4.0, 5.0, 0.5)


def test_names_are_unique_and_all_is_said() -> None:
    assert len({one.id for one in CHECKS}) == len(CHECKS)
    assert len({chapter.name for chapter in CHAPTERS}) == len(CHAPTERS)
    for one in CHECKS:
        assert one.id.count("/") == 1
        for words in (one.title, one.text, one.source, one.status, one.reason):
            assert words.strip(), one.id
    assert {one.group for one in CHECKS} == {"published", "engine", "invariant"}


def test_every_engine_is_compared() -> None:
    engines = {chapter.name for chapter in CHAPTERS if chapter.group == "engine"}
    assert engines == {"control", "mujoco", "sympy", "scipy", "pynite", "rainflow"}


def test_a_difference_within_the_allowance_holds() -> None:
    outcome = run(check([HELD, Number("half", 0.5, 0.6, 0.11)]))
    assert outcome.verdict == "held"
    assert outcome.problem == ""
    assert outcome.worst is not None
    assert outcome.worst.what == "half"


@pytest.mark.parametrize(
    "number", [OFF, Number("nan", 1.0, float("nan"), 9.0), Number("infinite", 1.0, float("inf"), 9.0)]
)
def test_one_number_beyond_it_makes_the_check_fail(number: Number) -> None:
    outcome = run(check([HELD, number, HELD]))
    assert outcome.verdict == "failed"
    assert outcome.numbers == (HELD, number, HELD) or np.isnan(number.computed)
    assert outcome.worst is not None
    assert outcome.worst.what == number.what


def test_what_is_raised_is_told_with_what_came_before() -> None:
    def broken() -> Iterable[Number]:
        yield HELD
        raise ZeroDivisionError("no wheels")

    outcome = run(check(broken()))
    assert (outcome.verdict, outcome.problem) == ("failed", "ZeroDivisionError: no wheels")
    assert outcome.numbers == (HELD,)


def test_a_check_that_compares_nothing_fails() -> None:
    assert run(check([])).verdict == "failed"
    with pytest.raises(ValueError, match="nothing to compare"):
        beside("none", [], [])


def test_a_library_that_is_not_there_is_told() -> None:
    outcome = run(check([OFF], needs=("numpy", "no_such_library")))
    assert (outcome.verdict, outcome.problem) == ("not run", "no_such_library is not installed")


def test_checks_are_run_in_their_order_and_told_of() -> None:
    told: list[tuple[int, int, str]] = []
    first, second = check([HELD]), check([OFF], id="sums/off")
    outcomes = run_all([first, second], lambda done, total, one: told.append((done, total, one.id)))
    assert [outcome.verdict for outcome in outcomes] == ["held", "failed"]
    assert told == [(0, 2, "sums/two"), (1, 2, "sums/off")]


def test_of_many_numbers_the_one_nearest_to_its_limit_is_told() -> None:
    number = beside("row", [1.0, 2.05, 3.1], [1.0, 2.0, 3.0], within=[0.1, 0.05, 0.2])
    assert (number.expected, number.computed, number.allowed, number.count) == (2.0, 2.05, 0.05, 3)
    assert beside("relative", [10.5, 1.02], [10.0, 1.0], relative=0.1).expected == 10.0
    assert beside("wider of both", 10.0, 9.0, relative=0.01, within=2.0).allowed == 2.0


def test_one_nan_or_infinity_among_many_is_the_one() -> None:
    for bad in (np.nan, np.inf):
        number = beside("row", [1.0, bad, 3.0], [1.0, 2.0, 2.9], within=0.2)
        assert not number.held
        assert number.expected == 2.0


def test_the_same_infinity_holds_and_another_does_not() -> None:
    assert beside("node", np.inf, np.inf).held
    assert not beside("node", 1e300, np.inf, within=1.0, relative=1.0).held
    assert not beside("node", -np.inf, np.inf, within=1.0).held


def test_shapes_that_do_not_fit_are_refused() -> None:
    assert beside("row", [4.0, 4.0, 4.0], 4.0).count == 3
    with pytest.raises(ValueError, match="shape"):
        beside("row", [1.0, 2.0], [1.0, 2.0, 3.0])


def test_complex_numbers_differ_by_a_length() -> None:
    number = beside("gain", 3.0 + 4.0j, 3.0 + 3.9j, within=0.11)
    assert number.difference == pytest.approx(0.1)
    assert number.expected == pytest.approx(abs(3.0 + 3.9j))
    assert not beside("turned", 1.0j, 1.0, within=0.5).held


def test_outcome_without_numbers_has_no_worst() -> None:
    assert Outcome(check([]), (), "", "not run").worst is None
