"""Refusals are worded for the one who reads them, with field, value and allowed range."""

from __future__ import annotations

import pytest

from models.errors import InputError
from models.fields import replaced
from models.project import Project, Variant
from models.vehicle import Load, LoadCase, TabulatedSpring


def test_a_list_of_the_wrong_length_says_how_many_are_allowed() -> None:
    spring = TabulatedSpring()
    with pytest.raises(InputError, match=r"points: 1 entry is outside the allowed range \(at least 2\)"):
        replaced(spring, ("points",), spring.points[:1])
    with pytest.raises(InputError, match=r"loads: 51 entries are outside the allowed range \(at most 50\)"):
        replaced(LoadCase(), ("loads",), (Load(),) * 51)


def test_a_text_of_the_wrong_length_says_how_long_it_may_be() -> None:
    with pytest.raises(InputError, match=r"a text of 0 characters is .* \(at least 1\)"):
        replaced(Load(), ("name",), "")
    with pytest.raises(InputError, match=r"a text of 99 characters is .* \(at most 80\)"):
        replaced(Load(), ("name",), "n" * 99)


def test_the_place_of_a_refused_value_is_named() -> None:
    project = Project(
        variants=(Variant(name="A"),), baseline="A", candidate="A", load_cases=(LoadCase(loads=(Load(),)),)
    )
    with pytest.raises(InputError) as caught:
        replaced(project, ("load_cases", 0, "loads", 0, "mass"), "90 t")
    assert caught.value.problems[0].field == "load cases > 1 > loads > 1 > mass"
