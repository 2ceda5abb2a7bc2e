"""The load case that the car carries stays one of the project's, whatever is done to them."""

from __future__ import annotations

import pytest

from models.errors import InputError
from models.project import (
    Project,
    add_load_case,
    choose_load_case,
    duplicate_load_case,
    new_project,
    remove_load_case,
    rename_load_case,
)
from models.vehicle import AS_DESIGNED, Load, LoadCase


@pytest.fixture
def project() -> Project:
    two_up = LoadCase(name="two up", loads=(Load(name="passenger", mass=75.0), Load(name="bags", mass=30.0)))
    full = LoadCase(name="full", loads=(Load(name="all", mass=400.0),))
    return choose_load_case(add_load_case(add_load_case(new_project(), two_up), full), "two up")


def names(project: Project) -> list[str]:
    return [case.name for case in project.load_cases]


def test_an_added_case_stands_last_and_is_numbered_where_its_name_is_taken(project: Project) -> None:
    longer = add_load_case(add_load_case(project, LoadCase(name="full")), LoadCase(name="as designed"))
    assert names(longer) == ["two up", "full", "full 2", "as designed 2"]
    assert longer.load_case == "two up"


def test_a_copy_stands_beside_its_original(project: Project) -> None:
    twice = duplicate_load_case(project, "two up")
    assert names(twice) == ["two up", "two up copy", "full"]
    assert twice.load_cases[1].loads == twice.load_cases[0].loads


def test_a_new_name_carries_the_choice_along(project: Project) -> None:
    renamed = rename_load_case(project, "two up", "  pair ")
    assert (names(renamed), renamed.load_case, renamed.load.loads[0].name) == (
        ["pair", "full"],
        "pair",
        "passenger",
    )
    assert rename_load_case(project, "full", "laden").load_case == "two up"


def test_a_name_is_not_taken_twice(project: Project) -> None:
    for name in ("full", AS_DESIGNED.name):
        with pytest.raises(InputError, match=f"'{name}' is the name of more than one load case"):
            rename_load_case(project, "two up", name)
    with pytest.raises(InputError):
        rename_load_case(project, "two up", "   ")


def test_without_its_load_case_the_car_is_as_designed(project: Project) -> None:
    assert remove_load_case(project, "two up").load == AS_DESIGNED
    assert remove_load_case(project, "full").load_case == "two up"


def test_the_car_as_designed_is_chosen_but_not_edited(project: Project) -> None:
    assert choose_load_case(project, AS_DESIGNED.name).load == AS_DESIGNED
    for change in (remove_load_case, duplicate_load_case):
        with pytest.raises(InputError, match="'as designed' is no load case that can be edited"):
            change(project, AS_DESIGNED.name)


def test_an_unknown_choice_is_refused(project: Project) -> None:
    with pytest.raises(InputError, match=r"'half' is no load case of the project \(allowed: 'as designed', "):
        choose_load_case(project, "half")
