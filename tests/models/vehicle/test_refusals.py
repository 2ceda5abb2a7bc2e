"""Values that are refused, each with field, value, allowed range and unit."""

from __future__ import annotations

from typing import Any

import pytest

from models.errors import InputError
from models.fields import Path, replaced
from models.vehicle import (
    DamperPoint,
    FluidCoupling,
    GasSpring,
    LoadCase,
    SolidAxle,
    SpringPoint,
    TabulatedDamper,
    TabulatedSpring,
    Vehicle,
)


def springs(*points: tuple[float, float]) -> TabulatedSpring:
    return TabulatedSpring(points=tuple(SpringPoint(deflection=x, force=f) for x, f in points))


def dampers(*points: tuple[float, float]) -> TabulatedDamper:
    return TabulatedDamper(points=tuple(DamperPoint(speed=x, force=f) for x, f in points))


def refusal(path: Path, value: Any, car: Vehicle | None = None) -> str:
    with pytest.raises(InputError) as refused:
        replaced(car or Vehicle(), path, value)
    return str(refused.value)


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (("front", "bump_stop", "gap"), -0.01, "Gap: -10 mm is outside the allowed range (0 to 1000 mm)"),
        (
            ("front", "bump_stop", "rate"),
            -1.0,
            "Stop rate: -0.001 N/mm is outside the allowed range (0 to 10000 N/mm)",
        ),
        (("body", "mass"), 0.0, "Sprung mass: 0 kg is outside the allowed range (10 to 50000 kg)"),
        (("body", "mass"), float("nan"), "(10 to 50000 kg)"),
        (
            ("front", "wheels", "unsprung_mass"),
            -45.0,
            "Unsprung mass per wheel: -45 kg is outside the allowed range (0.1 to 3000 kg)",
        ),
        (
            ("seat", "occupant", "mass"),
            -1.0,
            "Occupant mass: -1 kg is outside the allowed range (0 to 300 kg)",
        ),
        (("rear", "friction", "force"), -5.0, "Friction: -5 N is outside the allowed range (0 to 100000 N)"),
        (("wheelbase",), "long", "Wheelbase: 'long' is not a number with a unit (0.2 to 15 m)"),
    ],
)
def test_a_number_outside_its_range_is_named(path: Path, value: Any, words: str) -> None:
    text = refusal(path, value)
    assert words in text
    if len(path) > 1:
        assert " > ".join(str(step).replace("_", " ") for step in path[:-1]) in text


def test_a_cg_behind_the_rear_axle_is_refused() -> None:
    text = refusal(("body", "cg_to_front_axle"), 3.0)
    assert text == "CG to front axle: 3 m is outside the allowed range (less than the wheelbase, 2.9 m)"


def test_spacing_wider_than_the_track_is_refused() -> None:
    text = refusal(("rear", "wheels"), SolidAxle(spring_spacing=2.0))
    assert "Rear spring spacing: 2 m is outside the allowed range (0.05 m to the track, 1.5 m)" in text


@pytest.mark.parametrize(
    ("build", "words"),
    [
        (
            lambda: springs((0.0, 0.0), (0.02, 500.0), (0.02, 600.0)),
            "Deflection: 20 mm in row 3 is outside the allowed range (more than 20 mm)",
        ),
        (
            lambda: springs((0.0, 0.0), (-0.02, 500.0)),
            "Deflection: -20 mm in row 2 is outside the allowed range (more than 0 mm)",
        ),
        (
            lambda: springs((0.0, 100.0), (0.05, 50.0)),
            "Force: 50 N in row 2 is outside the allowed range (at least 100 N)",
        ),
        (lambda: springs((0.0, 0.0)), "at least 2 items"),
        (
            lambda: dampers((-1.0, -500.0), (0.0, 100.0), (1.0, 500.0)),
            "Force: 100 N at 0 m/s is outside the allowed range (the sign of the speed, and 0 N at rest)",
        ),
        (
            lambda: dampers((-1.0, -500.0), (1.0, -100.0)),
            "Force: -100 N at 1 m/s is outside the allowed range",
        ),
        (
            lambda: dampers((0.1, 500.0), (1.0, 900.0)),
            "Damper speed: 0.1 to 1 m/s is outside the allowed range",
        ),
        (
            lambda: GasSpring(volume=0.0),
            "Gas volume: 0 cm³ is outside the allowed range (1 to 500000 cm³)",
        ),
        (lambda: GasSpring(exponent=0.5), "Polytropic exponent: 0.5 is outside the allowed range (1 to 1.7)"),
        (lambda: FluidCoupling(front_area=-1.0), "Front area: -10000 cm² is outside the allowed range"),
    ],
)
def test_a_curve_that_no_part_can_have_is_refused(build: Any, words: str) -> None:
    with pytest.raises(ValueError, match="1 validation error") as refused:
        build()
    assert words in str(refused.value)


def test_a_load_case_needs_a_name() -> None:
    with pytest.raises(ValueError, match="at least 1 character"):
        LoadCase(name="  ")
