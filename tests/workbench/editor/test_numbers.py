"""Numbers in a chosen unit: shown, read, stepped."""

from __future__ import annotations

import math

import pytest

from models.errors import InputError
from models.fields import Quantity
from workbench.editor.numbers import at_fraction, fraction, full_number, read, short_number, stepped

RATE = Quantity("rate", "Spring rate", "Force per deflection.", 0.0, 2e6, (0.0, 60e3))
LEAN = Quantity("angle", "Lean", "How far it leans.", -1.5, 1.5, (-0.2, 0.2))


@pytest.mark.parametrize(
    ("value", "unit", "si", "text"),
    [
        (26e3, "N/mm", "N/m", "26"),
        (1 / 0.35, "rad/m", "rad/m", "2.857"),
        (123456.0, "kg", "kg", "123456"),
        (math.radians(1), "rad", "rad", "0.01745"),
        (0.0, "N/mm", "N/m", "0"),
        (4e-6, "m³", "m³", "4e-06"),
        (-0.1, "mm", "m", "-100"),
    ],
)
def test_short_numbers(value: float, unit: str, si: str, text: str) -> None:
    assert short_number(value, unit, si) == text


@pytest.mark.parametrize("unit", ["N/mm", "N/m", "kN/m", "lbf/in"])
def test_a_full_number_reads_back_as_the_value(unit: str) -> None:
    value = 26123.456789
    # Twelve digits: half a unit in the last is at most 5e-12 of the value.
    assert read(RATE, full_number(value, unit, "N/m"), unit) == pytest.approx(value, rel=5e-12)


def test_a_typed_unit_is_converted() -> None:
    # 1 lbf = 4.4482216152605 N and 1 in = 25.4 mm by definition.
    assert read(RATE, "150 lbf/in", "N/mm") == pytest.approx(150 * 4.4482216152605 / 0.0254, rel=1e-12)


def test_a_bare_number_is_in_the_chosen_unit() -> None:
    assert read(LEAN, "10", "deg") == pytest.approx(math.pi / 18, rel=1e-15)


@pytest.mark.parametrize("text", ["", "soft", "26 kg", "-1", "2001 N/mm", "1e999"])
def test_refusals_name_field_range_and_unit(text: str) -> None:
    with pytest.raises(InputError, match=r"Spring rate: .*\(0 to 2000 N/mm\)"):
        read(RATE, text, "N/mm")


def test_steps_are_round_in_the_chosen_unit() -> None:
    assert stepped(RATE, 26e3, "N/mm", 1) == pytest.approx(26.5e3, rel=1e-12)
    assert stepped(RATE, 26e3, "N/mm", -0.1) == pytest.approx(25.95e3, rel=1e-12)
    assert stepped(RATE, 26e3, "N/m", 1) == pytest.approx(26.5e3, rel=1e-12)


def test_steps_stop_at_the_allowed_range() -> None:
    assert stepped(RATE, 100.0, "N/mm", -1) == 0.0
    assert stepped(RATE, 2e6, "N/mm", 1) == 2e6
    assert stepped(RATE, 60e3, "N/mm", 1) == pytest.approx(60.5e3, rel=1e-12)


def test_a_slider_ends_at_the_typical_range() -> None:
    assert fraction(RATE, 90e3) == 1.0
    assert at_fraction(RATE, 1.0, "lbf/in") == 60e3
    assert at_fraction(LEAN, 0.0, "deg") == -0.2


def test_a_place_of_the_slider_is_a_round_number() -> None:
    assert at_fraction(RATE, 0.4333, "N/mm") == pytest.approx(26e3, rel=1e-12)
