"""Figures as they are written for a reader."""

from __future__ import annotations

import pytest

from models.figure_text import distance_text


@pytest.mark.parametrize(
    ("distance", "unit", "text"),
    [
        (84.26e6, "km", "84\u202f300"),
        (12.34e3, "km", "12.3"),
        (1.2345e9, "km", "1.23·10⁶"),
        (999.6e6, "km", "1.00·10⁶"),
        (2e12, "km", "> 10⁹"),
        (float("inf"), "km", "> 10⁹"),
        (160.9344e6, "mi", "100\u202f000"),
        (0.0, "km", "0"),
    ],
)
def test_distances_in_three_digits(distance: float, unit: str, text: str) -> None:
    assert distance_text(distance, unit) == text
