"""Sections of a stabiliser bar for a wanted rate."""

from __future__ import annotations

import pytest

from models.hardware.stabiliser_bar import StabiliserBar
from models.hardware.stabiliser_beam import stabiliser_beam
from models.hardware.stabiliser_sizing import StabiliserWish, stabiliser_sizes
from models.hardware.standard_sizes import HOLLOW_RATIOS, ROUND_BARS


def test_all_sections_within_the_tolerance_are_found() -> None:
    """Against each section solved: what the foreseen rate leaves out must not be missing."""
    like, wish = StabiliserBar(), StabiliserWish(rate=1500.0, tolerance=0.1, travel=0.06)
    found = stabiliser_sizes(like, wish).found
    every = {
        (d, round(1e3 * share * d, 1) * 1e-3)
        for d in ROUND_BARS
        for share in HOLLOW_RATIOS
        if 0.015 < d < 0.04
    }
    rates = {
        section: stabiliser_beam(
            like.model_copy(update={"diameter": section[0], "bore": section[1]})
        ).bar_rate
        for section in every
    }
    expected = {section for section, rate in rates.items() if abs(rate / 1500.0 - 1) <= 0.1}
    assert {(size.part.diameter, size.part.bore) for size in found} == expected
    assert [size.mass for size in found] == sorted(size.mass for size in found)
    for size in found:
        beam = stabiliser_beam(size.part)
        assert size.stress == pytest.approx(0.06 * beam.stress.von_mises.max())
        assert StabiliserBar.model_validate(size.part.model_dump()) == size.part


def test_reasons_say_what_would_help() -> None:
    far = stabiliser_sizes(StabiliserBar(), StabiliserWish(rate=1.0, tolerance=0.05, travel=0.06))
    assert (far.found, "within 5 % of the rate" in far.reason) == ((), True)
    weak = stabiliser_sizes(StabiliserBar(), StabiliserWish(1500.0, 0.1, travel=0.06, stress_limit=1e8))
    assert (weak.found, "100 MPa allowed" in weak.reason) == ((), True)


def test_life_is_told_for_each() -> None:
    wish = StabiliserWish(rate=1500.0, tolerance=0.1, travel=0.06)
    found = stabiliser_sizes(StabiliserBar(), wish, life=lambda bar: bar.diameter).found
    assert [size.life for size in found] == [size.part.diameter for size in found]
