"""A part of another kind keeps what is described alike."""

from __future__ import annotations

from models.roads import HalfSine, Ramp, RandomRoad, Washboard
from models.run import Run
from models.vehicle import InertiaFromGyration, MeasuredInertia
from workbench.editor.conversions import other_kind, remark


def test_an_event_keeps_its_height_length_place_and_side() -> None:
    bump = HalfSine(height=-0.04, length=0.7, start=9.0, side="left")
    assert other_kind(Run(), Run(), bump, Ramp) == Ramp(height=-0.04, length=0.7, start=9.0, side="left")


def test_a_field_of_the_same_name_and_other_meaning_is_not_kept() -> None:
    # The length of a bump is one wave, that of a washboard many.
    washboard = other_kind(Run(), Run(), HalfSine(length=0.7, start=9.0), Washboard)
    assert washboard == Washboard(start=9.0)
    assert other_kind(Run(), Run(), washboard, RandomRoad) == RandomRoad()


def test_only_estimates_are_remarked_on() -> None:
    assert remark(InertiaFromGyration()) == "estimated"
    assert remark(MeasuredInertia()) == ""
    assert remark(HalfSine()) == ""
