"""Variants, baseline and candidate stay consistent whatever is done to a project."""

from __future__ import annotations

import pytest

from models.errors import InputError
from models.fields import replaced
from models.project import (
    Project,
    Variant,
    add_variant,
    duplicate_variant,
    new_project,
    remove_variant,
    rename_variant,
    set_baseline,
    set_candidate,
)
from models.project.project import MOST_VARIANTS
from models.project.text import NAME_LENGTH, NOTE_LENGTH


@pytest.fixture
def project() -> Project:
    variants = tuple(Variant(name=name) for name in ("steel", "soft", "joined"))
    return Project(variants=variants, baseline="steel", candidate="joined")


def test_new_project_has_one_variant_in_both_roles() -> None:
    project = new_project(Variant(name="as built"))
    assert project.names == ("as built",)
    assert (project.baseline, project.candidate) == ("as built", "as built")


def test_project_needs_a_variant() -> None:
    with pytest.raises(InputError, match="0 variants are outside the allowed range"):
        replaced(new_project(), ("variants",), ())


def test_project_refuses_more_variants_than_the_file_holds() -> None:
    variants = tuple(Variant(name=f"variant {number}") for number in range(MOST_VARIANTS + 1))
    with pytest.raises(InputError, match=f"1 to {MOST_VARIANTS}"):
        replaced(new_project(variants[0]), ("variants",), variants)


def test_variant_names_occur_once(project: Project) -> None:
    with pytest.raises(InputError, match="'soft' is the name of more than one variant"):
        add_variant(project, Variant(name="soft"))


@pytest.mark.parametrize("role", ["baseline", "candidate"])
def test_roles_need_a_variant_of_that_name(project: Project, role: str) -> None:
    with pytest.raises(InputError, match="'hard' is no variant") as caught:
        replaced(project, (role,), "hard")
    assert caught.value.problems[0].field == role


def test_roles_are_set(project: Project) -> None:
    assert set_baseline(project, "soft").baseline == "soft"
    assert set_candidate(project, "soft").candidate == "soft"


def test_added_variant_stands_last(project: Project) -> None:
    assert add_variant(project, Variant(name="fourth")).names == ("steel", "soft", "joined", "fourth")


def test_duplicate_stands_beside_its_original_and_differs_in_name_only(project: Project) -> None:
    heavy = replaced(project, ("variants", 0, "vehicle", "body", "mass"), "2 t")
    twice = duplicate_variant(duplicate_variant(heavy, "steel"), "steel")
    assert twice.names == ("steel", "steel copy 2", "steel copy", "soft", "joined")
    assert twice.variant("steel copy").vehicle == heavy.variant("steel").vehicle


def test_duplicate_of_the_longest_name_fits() -> None:
    name = "n" * NAME_LENGTH
    copy = duplicate_variant(new_project(Variant(name=name)), name).names[1]
    assert len(copy) == NAME_LENGTH
    assert copy.endswith("n copy")


def test_removed_roles_go_to_variants_that_are_left(project: Project) -> None:
    without_candidate = remove_variant(project, "joined")
    assert (without_candidate.baseline, without_candidate.candidate) == ("steel", "soft")
    without_baseline = remove_variant(project, "steel")
    assert (without_baseline.baseline, without_baseline.candidate) == ("soft", "joined")


def test_the_only_variant_stays() -> None:
    with pytest.raises(InputError, match="the only variant"):
        remove_variant(new_project(), "Variant 1")


def test_rename_carries_the_roles_along(project: Project) -> None:
    renamed = rename_variant(rename_variant(project, "steel", "coil"), "joined", "bars")
    assert (renamed.names, renamed.baseline, renamed.candidate) == (
        ("coil", "soft", "bars"),
        "coil",
        "bars",
    )


def test_rename_is_cleaned_before_the_roles_follow(project: Project) -> None:
    assert rename_variant(project, "joined", "  bars ").candidate == "bars"


def test_unknown_variant_is_named(project: Project) -> None:
    for change in (project.variant, lambda name: rename_variant(project, name, "x")):
        with pytest.raises(InputError, match="'hard' is no variant of the project"):
            change("hard")


def test_edits_leave_the_other_variants_as_they_are(project: Project) -> None:
    edited = replaced(project, ("variants", 2, "vehicle", "front", "spring", "rate"), "9 N/mm")
    assert edited.variants[2].vehicle.front.spring.rate == 9000.0
    assert edited.variants[0] is project.variants[0]


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("", "0 characters is outside the allowed range"),
        ("   ", "0 characters is outside the allowed range"),
        ("n" * (NAME_LENGTH + 1), "1 to 80 characters"),
        ("two\nlines", r"U\+000A is not allowed"),
        ("half \ud800 letter", r"U\+D800 is not allowed"),
        (7, "a text is expected here"),
    ],
)
def test_unfit_names_are_refused(name: object, reason: str) -> None:
    with pytest.raises(InputError, match=reason) as caught:
        replaced(new_project(), ("name",), name)
    assert caught.value.problems[0].field == "name"


def test_names_that_look_equal_are_equal() -> None:
    composed, decomposed = "caf\u00e9", "cafe\u0301"
    assert Variant(name=composed) == Variant(name=decomposed)


def test_notes_have_lines_and_a_limit() -> None:
    assert replaced(new_project(), ("note",), "one\r\ntwo\tthree").note == "one\ntwo\tthree"
    with pytest.raises(InputError, match="0 to 4000 characters"):
        replaced(new_project(), ("note",), "n" * (NOTE_LENGTH + 1))
    with pytest.raises(InputError, match=r"U\+0007"):
        replaced(new_project(), ("note",), "bell \a")
