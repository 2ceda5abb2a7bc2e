"""Options of the review in the project."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from models.errors import InputError
from models.fields import replaced
from models.project import (
    ReviewOptions,
    dumps,
    loads,
    new_project,
    remove_study,
    set_study,
)
from models.study import Parameter, Sweep

SWEEP = Sweep(name="rates", parameter=Parameter(place="front.spring.rate", kind="rate", low=20e3, high=30e3))


def test_a_project_without_options_has_the_file_that_it_had_before() -> None:
    assert '"review"' not in dumps(new_project())
    assert loads(dumps(new_project())).review == ReviewOptions()


def test_options_come_back_from_the_file() -> None:
    options = ReviewOptions(
        sections=("method", "job"), author=" A ", revision="a\nb", paper="letter", units="inch-pound"
    )
    project = replaced(new_project(), ("review",), options)
    assert loads(dumps(project)) == project
    assert loads(dumps(project)).review.author == "A"


@pytest.mark.parametrize(
    "wrong",
    [
        {"sections": ()},
        {"sections": ("job", "job")},
        {"sections": ("joke",)},
        {"paper": "a5"},
        {"author": "a\nb"},
        {"author": "a" * 81},
        {"studies": ("x", "x")},
    ],
)
def test_wrong_options_are_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        ReviewOptions.model_validate(wrong)
    with pytest.raises(InputError):
        replaced(new_project(), ("review", next(iter(wrong))), next(iter(wrong.values())))


def test_a_study_that_gets_another_name_stays_chosen_and_one_that_goes_does_not() -> None:
    project = replaced(set_study(new_project(), SWEEP), ("review", "studies"), ("rates",))
    renamed = set_study(project, replaced(SWEEP, ("name",), "front rates"), instead_of="rates")
    assert renamed.review.studies == ("front rates",)
    assert remove_study(renamed, "front rates").review.studies == ()
