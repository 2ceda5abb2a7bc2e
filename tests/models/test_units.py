from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.units import INCH_POUND, KINDS, METRIC, UnitError, factor, format_value, from_text, to_text

_finite = st.floats(allow_nan=False, allow_infinity=False)
_everyday = st.floats(-1e9, 1e9, allow_nan=False)


@pytest.mark.parametrize(
    ("text", "si", "expected"),
    [
        # The international pound and inch are exact: 0.45359237 kg, 25.4 mm.
        ("180 deg", "rad", math.pi),
        ("1 rad", "rad", 1.0),
        ("26 N/mm", "N/m", 26e3),
        ("150 lbf/in", "N/m", 150 * 0.45359237 * 9.80665 / 0.0254),
        ("40 N·m/deg", "N·m/rad", 40 * 180 / math.pi),
        ("1 lbf·in/deg", "N·m/rad", 0.45359237 * 9.80665 * 0.0254 * 180 / math.pi),
        ("100 lb·ft²", "kg·m²", 100 * 0.45359237 * 0.3048**2),
        ("3 deg/mm", "rad/m", 3000 * math.pi / 180),
        ("80 km/h", "m/s", 80 / 3.6),
        ("60 mph", "m/s", 60 * 1609.344 / 3600),
        ("256 cm³", "m³", 256e-6),
        ("25 %", "1", 0.25),
        ("0.3", "1", 0.3),
        ("1 g₀", "m/s²", 9.80665),
        ("−12.5 mm", "m", -0.0125),
        ("  7.5e3N/m ", "N/m", 7500.0),
    ],
)
def test_text_to_si(text: str, si: str, expected: float) -> None:
    assert from_text(text, si) == pytest.approx(expected, rel=1e-15)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("rad", "deg", 180 / math.pi),
        ("N/mm", "lbf/in", 1000 * 0.0254 / (0.45359237 * 9.80665)),
        ("N·m/deg", "N·m/rad", 180 / math.pi),
    ],
)
def test_a_switch_of_unit_converts_the_number_both_ways(one: str, other: str, ratio: float) -> None:
    si = next(kind.si for kind in KINDS.values() if one in kind.units and other in kind.units)
    assert factor(one, si) / factor(other, si) == pytest.approx(ratio, rel=1e-15)
    assert float(format_value(from_text(f"2 {one}", si), other, si, digits=12)) == pytest.approx(
        2 * ratio, rel=1e-11
    )


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)
@given(value=_everyday)
def test_text_gives_back_the_value_to_the_bit(kind, value: float) -> None:  # type: ignore[no-untyped-def]
    for unit in kind.units:
        assert from_text(to_text(value, unit, kind.si), kind.si) == value


@given(value=_finite)
def test_any_number_at_all_comes_back_to_the_bit(value: float) -> None:
    assert from_text(to_text(value, "N/mm", "N/m"), "N/m") == value


def test_a_readable_number_stays_readable() -> None:
    assert to_text(26e3, "N/mm", "N/m") == "26 N/mm"
    assert to_text(math.radians(3), "deg", "rad") == "3 deg"
    assert to_text(0.95, "1", "1") == "0.95"


@pytest.mark.parametrize(
    "text",
    [
        "",
        "N/mm",
        "26 apples",
        "26 N/mm extra",
        "1e999 N/m",
        "nan N/m",
        "inf N/m",
        "26",
        "26 kg",
        "2**9999 N/m",
    ],
)
def test_refused_text(text: str) -> None:
    with pytest.raises(UnitError):
        from_text(text, "N/m")


@pytest.mark.parametrize("unit", ["m**99999999", "m**2**9", "__import__('os')", "m" * 100])
def test_a_unit_is_names_and_small_powers_only(unit: str) -> None:
    with pytest.raises(UnitError):
        factor(unit, "m")


def test_a_bare_number_takes_the_unit_at_hand() -> None:
    assert from_text("26", "N/m", default_unit="N/mm") == 26e3


def test_every_unit_of_choice_measures_its_kind() -> None:
    for kind in KINDS.values():
        assert kind.units, kind.name
        for unit in kind.units:
            assert factor(unit, kind.si) > 0


def test_both_unit_systems_name_a_unit_of_choice_for_each_kind() -> None:
    for choice in (METRIC, INCH_POUND):
        assert {name: choice[name] in kind.units for name, kind in KINDS.items()} == dict.fromkeys(
            KINDS, True
        )


@pytest.mark.parametrize(
    ("value", "unit", "si", "shown"),
    [
        (26e3, "N/mm", "N/m", "26.0"),
        (0.0, "mm", "m", "0"),
        (0.0123456, "mm", "m", "12.3"),
        (math.pi, "deg", "rad", "180"),
        (9.996, "1", "1", "10.0"),
        (123456.0, "N", "N", "123000"),
        (-0.5, "1", "1", "-0.500"),
        (1.5e7, "N", "N", "1.50e+07"),
        (math.inf, "m", "m", "–"),
        (math.nan, "m", "m", "–"),
    ],
)
def test_number_for_a_reader(value: float, unit: str, si: str, shown: str) -> None:
    assert format_value(value, unit, si) == shown


def test_inch_and_pound_are_chosen_wherever_they_are_offered() -> None:
    """But for the roughness of roads, which is told as its standards tell it."""
    american = re.compile("(in|ft|lbf?|M?psi|ksi|mi|mph)[²³]?")
    offered = {
        name
        for name, kind in KINDS.items()
        if any(american.fullmatch(part) for unit in kind.units for part in re.split(r"[·/]", unit))
    }
    left = {name for name in offered if INCH_POUND[name] == METRIC[name]}
    assert left == {"wavenumber", "roughness index"}
