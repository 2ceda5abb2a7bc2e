"""Targets as they are typed."""

from __future__ import annotations

import pytest

from models.errors import InputError
from models.judge.figure import Better
from models.judge.target_input import limits_of
from models.target import Target, target_text
from models.units import INCH_POUND, METRIC


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("≤ 15", None, 0.015),
        ("<=15 mm", None, 0.015),
        ("at most 1.5e-2 m", None, 0.015),
        ("< 15", None, 0.015),
        (">= 15", 0.015, None),
        ("At least 15mm", 0.015, None),
        ("10 – 15", 0.01, 0.015),
        ("10 to 15 mm", 0.01, 0.015),
        ("10..15", 0.01, 0.015),
        ("between 10 mm and 15 mm", 0.01, 0.015),
        ("-15 – -10", -0.015, -0.01),
        ("10 - 15", 0.01, 0.015),
        ("≥ −3", -0.003, None),
        ("15", None, 0.015),
        ("  ", None, None),
    ],
)
def test_limits_are_read(text: str, low: float | None, high: float | None) -> None:
    assert limits_of(text, "travel", METRIC, "lower") == (
        None if low is None else pytest.approx(low),
        None if high is None else pytest.approx(high),
    )


def test_a_bare_number_is_the_limit_on_the_worse_side() -> None:
    assert limits_of("20", "share", METRIC, "higher") == (0.2, None)
    with pytest.raises(InputError, match="at most or at least"):
        limits_of("20", "share", METRIC, "none")


def test_numbers_are_in_the_unit_shown() -> None:
    assert limits_of("≤ 1", "travel", INCH_POUND, "lower") == (None, 0.0254)


@pytest.mark.parametrize("text", ["soft", "≤", "≤ 3 kg", "1 – x", "≤ ≥ 3", "– 3 mm kg"])
def test_what_is_no_limit_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(InputError, match=r"≤ 2, ≥ 2 or 1 – 2|no unit|not a number"):
        limits_of(text, "travel", METRIC, "lower")


@pytest.mark.parametrize("better", ["lower", "none"])
def test_the_text_of_a_target_reads_back(better: Better) -> None:
    for low, high in ((0.2, None), (None, 0.4), (0.2, 0.4), (-0.4, -0.2)):
        target = Target(metric="m", kind="ratio", low=low, high=high)
        assert limits_of(target_text(target, METRIC), "ratio", METRIC, better) == (low, high)
