"""What a study asks is looked up and checked before anything runs."""

from __future__ import annotations

import pytest

from models.errors import InputError
from models.fields import replaced
from models.judge.event_sweep import EVENT_KEYS
from models.project import Project, add_load_case, rename_load_case, set_study
from models.studies import Asked, ask, car_numbers, study_figures
from models.studies.asked import places_of
from models.study import (
    Objective,
    Parameter,
    ParetoSearch,
    Sensitivity,
    Situation,
    Study,
    Sweep,
    Tolerance,
    ToleranceDraw,
    TunedStart,
)
from models.target import Target
from models.vehicle import Load, LoadCase, TabulatedDamper, Vehicle
from tests.study_cases import FRONT, RATE, project

LOADED = add_load_case(project(), LoadCase(name="boot full", loads=(Load(mass=100.0, x=-3.5),)))


def problems(study: Study, of: Project = LOADED) -> str:
    with pytest.raises(InputError) as caught:
        ask(of, study)
    return str(caught.value)


def sweep(**fields: object) -> Sweep:
    return Sweep.model_validate({"parameter": RATE, "metrics": ("pitch_share",), **fields})


def test_numbers_situations_and_figures_are_found() -> None:
    target = Target(metric="roll_frequency", kind="frequency", low=1.0, load_case="boot full")
    elsewhere = replaced(target, ("speed",), 44.0)
    of = replaced(LOADED, ("targets",), (target, elsewhere))
    asked = ask(of, sweep(situations=(Situation(), Situation(load_case="boot full"))))
    assert isinstance(asked, Asked)
    assert [place.label for place in asked.places] == ["Front spring rate"]
    assert asked.nominal.tolist() == [26e3]
    assert [one.name for one in asked.situations] == ["run of the project", "boot full"]
    # The figure of a target comes along, and only the target of a situation of the study is judged.
    assert asked.metrics == ("pitch_share", "roll_frequency")
    assert [(one.situation, one.metric, one.words) for one in asked.wanted] == [
        (1, 1, "Roll frequency, boot full")
    ]


def test_the_same_situation_in_other_words_counts_once_for_a_target() -> None:
    asked = ask(LOADED, sweep(situations=(Situation(), Situation(road_class="C"))))
    assert len(asked.situations) == 2  # the run is on class C too, but its roughness is the user's


def test_without_figures_all_are_computed() -> None:
    known = study_figures("full car")
    assert ask(LOADED, sweep(metrics=())).metrics == tuple(known)
    assert not set(known) & set(EVENT_KEYS)
    half = replaced(LOADED, ("run", "model"), "half car")
    assert "roll_frequency" not in ask(half, sweep(metrics=())).metrics


def test_what_does_not_fit_the_car_is_told_with_its_range() -> None:
    text = problems(sweep(parameter=Parameter(place=FRONT, kind="travel", low=0.01, high=0.02)))
    assert "values of kind travel are given, the number is of kind rate" in text
    assert "N/mm" in text
    text = problems(sweep(parameter=Parameter(place=FRONT, kind="rate", low=-5e3, high=1e4)))
    assert "Spring rate: -5 N/mm is outside the allowed range (0 to 2000 N/mm)" in text
    for place in (
        "front.spring.volume",
        "front.nothing",
        "front.damper.points.3.force",
        "body",
        "front.spring.kind",
    ):
        text = problems(Sensitivity(places=(place,)))
        assert place in text
    tolerance = Tolerance(place=FRONT, kind="mass", plus_minus=1.0)
    assert "of kind mass" in problems(ToleranceDraw(tolerances=(tolerance,)))


def test_all_problems_are_told_at_once() -> None:
    study = sweep(
        parameter=Parameter(place="front.nothing", kind="rate", low=1.0, high=2.0),
        situations=(Situation(load_case="roof box"),),
        metrics=("peak_pitch", "colour"),
    )
    text = problems(study)
    for words in ("front.nothing", "roof box", "boot full", "'peak_pitch'", "'colour'"):
        assert words in text
    with pytest.raises(InputError, match="no variant"):
        ask(LOADED, replaced(study, ("variant",), "none"))


def test_wishes_of_another_kind() -> None:
    wish = Target(metric="front_ride_frequency", kind="rate", low=1.0)
    study = TunedStart(parameters=(RATE,), wishes=(wish,))
    assert "the wish is of kind rate, the figure of kind frequency" in problems(study)


def test_targets_steer_a_search_and_only_judge_a_sweep() -> None:
    target = Target(metric="pitch_share", kind="ratio", high=1.0)
    stricter = replaced(target, ("high",), 0.9)
    first, second = (replaced(LOADED, ("targets",), (one,)) for one in (target, stricter))
    assert ask(first, sweep()).inputs == ask(second, sweep()).inputs
    search = ParetoSearch(
        parameters=(RATE,),
        objectives=(Objective(metric="pitch_share"), Objective(metric="road_holding", aim="higher")),
    )
    assert ask(first, search).inputs != ask(second, search).inputs
    free = replaced(search, ("within_targets",), False)
    assert ask(first, free).inputs == ask(second, free).inputs


def test_a_load_case_keeps_its_studies_when_it_is_renamed() -> None:
    wish = Target(metric="pitch_share", kind="ratio", high=1.0, load_case="boot full")
    of = set_study(LOADED, sweep(situations=(Situation(load_case="boot full"), Situation())))
    of = set_study(of, TunedStart(name="Start", parameters=(RATE,), wishes=(wish,)))
    before = [ask(of, study).inputs for study in of.studies]
    of = rename_load_case(of, "boot full", "luggage")
    assert [ask(of, study).inputs for study in of.studies] == before


def test_each_number_of_a_car_has_a_name_of_its_own() -> None:
    """Both stops have a gap, and each point of a curve a force."""
    points = "front.damper.points.2.force", "front.damper.points.3.force"
    car = replaced(Vehicle(), ("front", "damper"), TabulatedDamper())
    gaps = "front.bump_stop.gap", "front.rebound_stop.gap", "left.coupling.bar_rate"
    labels = [place.label for place in places_of(car, Sensitivity(places=(*gaps, *points)))]
    assert labels == [
        "Front gap (bump stop)",
        "Front gap (rebound stop)",
        "Interconnection bar rate",  # of both sides, as the right one is like the left
        "Front force (dampers, curve 3)",
        "Front force (dampers, curve 4)",
    ]
    every = tuple(number.place for number in car_numbers(car))
    labels = [place.label for place in places_of(car, Sensitivity(places=every))]
    assert len(set(labels)) == len(labels)
    apart = replaced(car, ("right",), car.left)
    assert places_of(apart, Sensitivity(places=gaps[2:]))[0].label == "Left interconnection bar rate"
