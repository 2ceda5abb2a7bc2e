"""What the tests of a run have compared is kept for the manual as it was."""

from __future__ import annotations

import pytest

from models.verification import Number, manual_page
from tests.manual import Recorder, near


def of_this_test(request: pytest.FixtureRequest, *numbers: Number, failed: bool = False) -> Recorder:
    recorder = Recorder()
    for number in numbers:
        recorder.add(number)
    recorder.test(request.node, "invariant", failed)
    return recorder


def test_near_asserts() -> None:
    near("held", 1.05, 1.0, relative=0.1)
    with pytest.raises(AssertionError, match="off"):
        near("off", 1.05, 1.0, relative=0.01)


def test_of_many_examples_the_one_nearest_to_its_limit_is_kept(request: pytest.FixtureRequest) -> None:
    """Random examples are one line."""
    examples = [Number("z, m", 1.0, 1.0 + off, 0.1, count=3) for off in (0.01, 0.09, 0.02)]
    (outcome,) = of_this_test(request, *examples).outcomes.values()
    assert outcome.numbers == (Number("z, m", 1.0, 1.09, 0.1, count=9),)
    assert outcome.verdict == "held"
    text = manual_page([outcome])
    assert "### What the tests of a run have compared is kept for the manual as it was" in text
    assert "#### Of many examples the one nearest to its limit is kept" in text
    assert "Random examples are one line." in text
    assert "| z, m (9 numbers) | 1 | 1.09 | 0.09 | 0.1 | held |" in text


@pytest.mark.parametrize("size", [3, 4])
def test_cases_of_a_test_are_told_apart(request: pytest.FixtureRequest, size: int) -> None:
    (outcome,) = of_this_test(request, Number("z, m", 1.0, 1.0, 0.1)).outcomes.values()
    assert outcome.numbers[0].what == f"{size}: z, m"


def test_one_case_that_fails_makes_the_test_fail(request: pytest.FixtureRequest) -> None:
    recorder = of_this_test(request, failed=True)
    recorder.begin()
    recorder.test(request.node, "invariant", failed=False)
    (outcome,) = recorder.outcomes.values()
    assert outcome.verdict == "failed"
