"""A target: its limits as quantities of their kind, its words, and what is refused."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from models.target import Target, target_text
from models.units import INCH_POUND, METRIC


def test_limits_are_quantities_of_the_kind() -> None:
    target = Target(metric="rms_travel_front", kind="travel", high="15 mm")
    assert target.high == pytest.approx(0.015)
    assert target.model_dump(mode="json")["high"] == "15 mm"
    assert Target.model_validate(target.model_dump(mode="json")) == target


def test_words_of_the_three_rules() -> None:
    target = {"metric": "pitch_damping", "kind": "ratio"}
    assert target_text(Target(**target, high=0.4), METRIC) == "≤ 0.400"
    assert target_text(Target(**target, low=0.2), METRIC) == "≥ 0.200"
    assert target_text(Target(**target, low=0.2, high=0.4), METRIC) == "0.200 – 0.400"
    inches = Target(metric="rms_travel_front", kind="travel", high=0.0254)
    assert target_text(inches, INCH_POUND) == "≤ 1.00"


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({}, "needs a least or a greatest value"),
        ({"low": 2.0, "high": 1.0}, "outside the allowed range"),
        ({"high": "3 kg"}, "does not measure the same"),
        ({"high": "much"}, "is not a number with a unit"),
        ({"high": float("inf")}, "not a finite travel"),
        ({"high": True}, "not a finite travel"),
        ({"high": 1.0, "kind": "colour"}, "is no kind of quantity"),
        ({"high": 1.0, "road_class": "Z"}, "road_class"),
        ({"high": 1.0, "speed": "900 km/h"}, "Speed"),
        ({"high": 1.0, "metric": "a b"}, "metric"),
    ],
)
def test_refusals_say_why(fields: dict[str, object], words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        Target.model_validate({"metric": "rms_travel_front", "kind": "travel", **fields})
