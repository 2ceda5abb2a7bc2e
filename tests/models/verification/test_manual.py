"""The manual says what the checks have come to, all of it and nothing else."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from models.verification import Check, Number, Outcome, manual_markdown, manual_page
from models.verification.catalogue import CHECKS


def outcome(check: Check, computed: float = 2.0) -> Outcome:
    """As if the check had compared one number."""
    number = Number("|z| [mm]", 2.0, computed, 0.5, count=7)
    return Outcome(check, (number,), "", "held" if number.held else "failed")


@pytest.fixture(scope="module")
def whole() -> str:
    return manual_page([outcome(check) for check in CHECKS])


def test_each_check_is_in_it(whole: str) -> None:
    for check in CHECKS:
        assert f"`{check.id}`; verdict: held" in whole
    # Signs that Markdown would take for its own are marked.
    assert whole.count("| \\|z\\| \\[mm\\] (7 numbers) | 2 | 2 | 0 | 0.5 | held |") == len(CHECKS)


def test_source_status_and_reason_stand_beside_each(whole: str) -> None:
    plain = re.sub(r"\\(.)", r"\1", whole)
    for check in CHECKS:
        assert f"- Source: {check.source} ({check.status})" in plain
        assert f"- Allowed difference: {check.reason}" in plain


def test_headings_are_below_the_one_of_the_page(whole: str) -> None:
    assert whole.startswith("# Verification manual\n")
    levels = [len(found) for found in re.findall(r"^(#+) ", whole, re.MULTILINE)]
    assert levels.count(1) == 1
    assert levels.count(4) == len(CHECKS)
    assert max(b - a for a, b in pairwise(levels)) == 1
    assert not manual_markdown([]).startswith("#")


def test_what_failed_and_what_was_not_run_is_seen() -> None:
    first, second, third = CHECKS[:3]
    text = manual_page(
        [outcome(first), outcome(second, 3.0), Outcome(third, (), "x is not installed", "not run")]
    )
    assert f"`{second.id}`; verdict: **FAILED**" in text
    assert "| 2 | 3 | 1 | 0.5 | **FAILED** |" in text
    assert f"`{third.id}`; verdict: not run, x is not installed" in text
    assert "| Published and derived numbers | 1 | 1 | 1 | 14 |" in text
