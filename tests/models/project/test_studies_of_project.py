"""Studies of a project: kept in its file, each of its own name, following what is renamed."""

from __future__ import annotations

import json

import pytest

from models.errors import InputError
from models.fields import replaced
from models.project import (
    dumps,
    loads,
    new_project,
    remove_study,
    rename_variant,
    set_study,
    study_of,
)
from models.study import Sweep
from tests.study_cases import RATE

SWEEP = Sweep(name="Front rate", parameter=RATE, variant="Variant 1")


def test_set_find_and_remove() -> None:
    project = set_study(new_project(), SWEEP)
    assert loads(dumps(project)) == project
    assert study_of(project, "Front rate") == SWEEP
    other = replaced(SWEEP, ("points",), 7)
    assert set_study(project, other).studies == (other,)
    renamed = replaced(SWEEP, ("name",), "Rear rate")
    assert set_study(project, renamed).studies == (SWEEP, renamed)
    assert set_study(project, renamed, instead_of="Front rate").studies == (renamed,)
    assert remove_study(project, "Front rate").studies == ()
    with pytest.raises(InputError, match="'Rear rate' is no study of the project"):
        study_of(project, "Rear rate")
    with pytest.raises(InputError, match="more than one study"):
        replaced(project, ("studies",), (SWEEP, SWEEP))


def test_a_study_follows_its_variant() -> None:
    project = rename_variant(set_study(new_project(), SWEEP), "Variant 1", "Soft")
    assert project.studies[0].variant == "Soft"


def test_a_file_without_studies_says_nothing_of_them() -> None:
    assert "studies" not in json.loads(dumps(new_project()))


def test_a_field_of_a_study_must_be_there() -> None:
    """Filled in silently it would change the result."""
    content = json.loads(dumps(set_study(new_project(), SWEEP)))
    del content["studies"][0]["points"]
    with pytest.raises(InputError, match="studies > 1 > points: the field is missing"):
        loads(json.dumps(content))
