"""Studies made and changed: a kind's first definition, and what is varied and judged in it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypeVar

from pydantic import ValidationError

from models.errors import InputError, input_error
from models.fields import Part
from models.judge.situation import situated
from models.project import Project
from models.project.project import fresh_name
from models.studies import CarNumber, car_numbers
from models.studies.batch_alone import figures_alone
from models.studies.judged import study_run
from models.study import (
    GlobalSensitivity,
    Objective,
    Parameter,
    ParameterMap,
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
from workbench.pages.studies.usual import usual_parameter, usual_tolerance

__all__ = [
    "KINDS_OF_STUDY",
    "Varied",
    "figures_now",
    "judged_keys",
    "new_study",
    "numbers_of",
    "remade",
    "varied",
    "with_entry",
    "with_varied",
]

#: Kind, its name, and what it answers.
KINDS_OF_STUDY: tuple[tuple[str, str, str], ...] = (
    ("sweep", "Sweep", "Figures over one number of the car"),
    ("map", "Map", "Figures over two numbers, with the region that meets the targets"),
    ("sensitivity", "Sensitivity", "What each number moves, at the car as it is"),
    ("tolerances", "Tolerances", "Cars as built: how many meet the targets, and what each tolerance costs"),
    ("pareto", "Pareto search", "The best compromises between figures, within bounds"),
    ("tuned start", "Tuned start", "The car that comes nearest to what is wished of its figures"),
    ("global sensitivity", "Global sensitivity", "What figures depend on over the whole range (Sobol)"),
)

Varied = Parameter | Tolerance | None
P = TypeVar("P", bound=Part)

_FIRST = (
    "front.spring.rate",
    "rear.spring.rate",
    "left.coupling.bar_rate",
    "front.damper.rebound",
    "rear.damper.rebound",
)
_COUNT = {"sweep": 1, "map": 2, "tuned start": 2}
# Levelness, comfort, and the travel that they cost.
_OBJECTIVES = ("rms_pitch_acceleration", "rms_heave_acceleration", "rms_travel_front")


def remade(part: P, **fields: Any) -> P:
    """A part with other fields, checked as a whole.

    Raises:
        InputError: they are refused.
    """
    kept = {name: getattr(part, name) for name in type(part).model_fields}
    try:
        return type(part).model_validate({**kept, **fields})
    except ValidationError as error:
        raise input_error(error) from error


def numbers_of(project: Project, study_variant: str) -> dict[str, CarNumber]:
    """Numbers of the car of a study by place."""
    car = project.variant(study_variant or project.candidate).vehicle
    return {number.place: number for number in car_numbers(car)}


def figures_now(project: Project, name: str) -> dict[str, float]:
    """Figures (SI) of a variant as it is, by key, in the run of the project; none where it does not stand."""
    place = situated(project, Situation())
    if place is None or name not in project.names:
        return {}
    run, load = place
    try:
        figures = figures_alone(project.variant(name).vehicle, study_run(run), load, compiled=False)
    except InputError:
        return {}
    return {figure.key: figure.value for figure in figures}


def new_study(project: Project, kind: str, places: Sequence[str] = ()) -> Study:
    """A study of a kind, with numbers and figures that the user goes on from.

    Args:
        project: gets it.
        kind: of the study.
        places: numbers that are varied; the first usual ones by default.
    """
    numbers = numbers_of(project, "")
    usual = [place for place in _FIRST if place in numbers and numbers[place].value]
    others = [place for place, one in numbers.items() if one.value and place not in usual]
    chosen = list(dict.fromkeys((*places, *usual, *others)))[: max(_COUNT.get(kind, 4), len(places))]
    title = next(title for key, title, _ in KINDS_OF_STUDY if key == kind)
    taken = tuple(study.name for study in project.studies)
    name = title if title not in taken else fresh_name(title, taken)
    found = [numbers[place] for place in chosen]
    parameters = tuple(map(usual_parameter, found))
    match kind:
        case "sweep":
            return Sweep(name=name, parameter=parameters[0])
        case "map":
            return ParameterMap(name=name, x=parameters[0], y=parameters[1])
        case "sensitivity":
            return Sensitivity(name=name, places=tuple(chosen))
        case "tolerances":
            return ToleranceDraw(name=name, tolerances=tuple(map(usual_tolerance, found)))
        case "pareto":
            objectives = tuple(Objective(metric=key) for key in _OBJECTIVES)
            return ParetoSearch(name=name, parameters=parameters, objectives=objectives)
        case "tuned start":
            wish = Target(metric="front_ride_frequency", kind="frequency", low=1.1, high=1.2)
            return TunedStart(name=name, parameters=parameters, wishes=(wish,))
        case _:
            return GlobalSensitivity(name=name, parameters=parameters)


def varied(study: Study) -> dict[str, Varied]:
    """What is varied, by place: bounds, a tolerance, or nothing more."""
    match study:
        case Sweep():
            return {study.parameter.place: study.parameter}
        case ParameterMap():
            return {study.x.place: study.x, study.y.place: study.y}
        case Sensitivity():
            return dict.fromkeys(study.places)
        case ToleranceDraw():
            return {one.place: one for one in study.tolerances}
        case _:
            return {one.place: one for one in study.parameters}


def with_varied(study: Study, numbers: dict[str, CarNumber], places: Sequence[str]) -> Study:
    """The study with these numbers varied; those that are new take their usual bounds.

    A sweep takes the last of them, a map the last two.

    Raises:
        InputError: there are too few, or the car has no such number.
    """
    known = varied(study)
    missing = next((place for place in places if place not in known and place not in numbers), None)
    if missing is not None:
        car = study.variant or "the candidate"
        raise InputError.of(
            "parameter", missing, f"{missing}: {car}, which the study varies, has no such number"
        )
    if isinstance(study, Sensitivity):
        return remade(study, places=tuple(places))
    make = usual_tolerance if isinstance(study, ToleranceDraw) else usual_parameter
    return _with_entries(study, [known.get(place) or make(numbers[place]) for place in places])


def with_entry(study: Study, place: str, entry: Parameter | Tolerance) -> Study:
    """The study with other bounds or another tolerance of a number."""
    known = varied(study) | {place: entry}
    return _with_entries(study, list(known.values()))


def _with_entries(study: Study, entries: Sequence[Varied]) -> Study:
    match study:
        case Sweep():
            _at_least(1, entries)
            return remade(study, parameter=entries[-1])
        case ParameterMap():
            _at_least(2, entries)
            return remade(study, x=entries[-2], y=entries[-1])
        case ToleranceDraw():
            return remade(study, tolerances=tuple(entries))
        case Sensitivity():
            return study
        case _:
            return remade(study, parameters=tuple(entries))


def _at_least(count: int, entries: Sequence[Varied]) -> None:
    if len(entries) < count:
        words = "one number" if count == 1 else "two numbers"
        reason = f"it varies {words}; tick another one in place of this"
        raise InputError.of("parameters", str(len(entries)), reason)


def judged_keys(study: Study) -> tuple[str, ...]:
    """Keys of the figures that are ticked."""
    match study:
        case ParetoSearch():
            return tuple(one.metric for one in study.objectives)
        case TunedStart():
            return tuple(one.metric for one in study.wishes)
        case _:
            return study.metrics
