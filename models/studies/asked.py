"""A study made ready: its car, numbers, situations and figures looked up and checked before anything runs."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError, Problem
from models.fields import Path, Quantity, follow, replaced
from models.fingerprint import fingerprint
from models.judge.figure import Figure
from models.judge.situation import scope_words, situated
from models.project import Project
from models.run import Run
from models.studies.car_numbers import CarNumber, car_numbers
from models.studies.judged import study_figures, study_run
from models.study import (
    GlobalSensitivity,
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
    path_of,
)
from models.target import Target
from models.units import METRIC
from models.vehicle import AS_DESIGNED, LoadCase, Vehicle

__all__ = ["Asked", "Place", "Situated", "Wanted", "ask", "is_stale", "places_of", "wanted_of"]

Array = NDArray[np.float64]

#: Counted up when the same inputs give other results.
_RESULTS_VERSION = 1


@dataclass(frozen=True, slots=True)
class Place:
    """A number of the car that is varied.

    Attributes:
        place, path: where it stands.
        quantity: its unit, range and meaning.
        value: of the car as it is, SI.
        label: name that no other number of the car has: "Front spring rate", "Front gap (bump stop)".
    """

    place: str
    path: Path
    quantity: Quantity
    value: float
    label: str


@dataclass(frozen=True, slots=True)
class Situated:
    """A situation looked up: run, load and words for it."""

    name: str
    run: Run
    load: LoadCase


@dataclass(frozen=True, slots=True)
class Wanted:
    """A target that a study can judge: numbers of its situation and figure, and words for it."""

    target: Target
    situation: int
    metric: int
    words: str


@dataclass(frozen=True, eq=False)
class Asked:
    """A study ready to run.

    Attributes:
        study: what is asked.
        variant: name of the car.
        car: that car.
        places: (P,) numbers that are varied.
        situations: (S,) in which each car is judged.
        metrics: (K,) keys of the figures.
        figures: of those keys, for their names and kinds.
        wanted: targets of the project (wishes of a tuned start) in these situations.
        inputs: SHA-256 of all that the results depend on.
    """

    study: Study
    variant: str
    car: Vehicle
    places: tuple[Place, ...]
    situations: tuple[Situated, ...]
    metrics: tuple[str, ...]
    figures: tuple[Figure, ...]
    wanted: tuple[Wanted, ...]
    inputs: str

    @property
    def paths(self) -> tuple[Path, ...]:
        """(P,) where the numbers stand in the vehicle."""
        return tuple(place.path for place in self.places)

    @property
    def nominal(self) -> Array:
        """(P,) numbers of the car as it is, SI."""
        return np.array([place.value for place in self.places])

    def car_of(self, row: Array) -> Vehicle:
        """The car of a row of parameters (P,); raises :class:`InputError` where it is refused."""
        car = self.car
        for path, value in zip(self.paths, row.tolist(), strict=True):
            car = replaced(car, path, value)
        return car


def ask(project: Project, study: Study) -> Asked:
    """Look up all that a study needs.

    Raises:
        InputError: what is asked does not fit the project; every problem is listed with its allowed range.
    """
    name = study.variant or project.candidate
    car = project.variant(name).vehicle
    problems: list[Problem] = []
    try:
        places = places_of(car, study)
    except InputError as error:
        problems += error.problems
    scopes = _scopes(study)
    situations = tuple(_situations(project, scopes, problems))
    known = study_figures(project.run.model)
    asked_for = list(dict.fromkeys((*study.metrics, *_own_metrics(study))))
    problems += [_unknown_figure(key, project.run.model) for key in asked_for if key not in known]
    if problems:
        raise InputError(*problems)
    targets = study.wishes if isinstance(study, TunedStart) else project.targets
    in_reach = [
        target
        for target in targets
        if target.metric in known and _place_of(project, target, situations) is not None
    ]
    metrics = tuple(dict.fromkeys((*asked_for, *(target.metric for target in in_reach))))
    if not study.metrics:
        metrics = tuple(known)
    figures = tuple(known[key] for key in metrics)
    wanted = wanted_of(project, targets, situations, figures)
    if isinstance(study, TunedStart):
        _check_wishes(study, figures)
    inputs = _inputs(study, car, situations, metrics, wanted)
    return Asked(study, name, car, places, situations, metrics, figures, wanted, inputs)


def places_of(car: Vehicle, study: Study) -> tuple[Place, ...]:
    """(P,) numbers that a study varies.

    Raises:
        InputError: the car has no such number, it is of another kind, or a bound is out of its range.
    """
    places: list[Place] = []
    problems: list[Problem] = []
    labels = _labels(car)
    for varied in _varied(study):
        try:
            places.append(_place(car, varied, labels))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(*problems)
    return tuple(places)


def is_stale(project: Project, study: Study) -> bool:
    """Whether the results that a project keeps of a study are of another car, run or definition."""
    if study.result is None:
        return False
    try:
        return ask(project, study).inputs != study.result.inputs
    except InputError:
        return True


def wanted_of(
    project: Project,
    targets: Iterable[Target],
    situations: tuple[Situated, ...],
    figures: tuple[Figure, ...],
) -> tuple[Wanted, ...]:
    """Those targets that are of these figures and hold in one of these situations."""
    keys = {(figure.key, figure.kind): number for number, figure in enumerate(figures)}
    found = []
    for target in targets:
        metric = keys.get((target.metric, target.kind))
        situation = _place_of(project, target, situations)
        if metric is not None and situation is not None:
            words = ", ".join(filter(None, (figures[metric].label, scope_words(target, METRIC))))
            found.append(Wanted(target, situation, metric, words))
    return tuple(found)


def _varied(study: Study) -> tuple[Parameter | Tolerance | str, ...]:
    match study:
        case Sweep():
            return (study.parameter,)
        case ParameterMap():
            return (study.x, study.y)
        case Sensitivity():
            return study.places
        case ToleranceDraw():
            return study.tolerances
        case ParetoSearch() | TunedStart() | GlobalSensitivity():
            return study.parameters


def _labels(car: Vehicle) -> dict[str, str]:
    """Names of all numbers of a car by place; those that several would have say to which part they belong."""
    numbers = {number.place: number for number in car_numbers(car)}
    short = {place: _short_label(car, number) for place, number in numbers.items()}
    count = Counter(short.values())
    return {
        place: label if count[label] == 1 else f"{label} ({_part(numbers[place])})"
        for place, label in short.items()
    }


def _short_label(car: Vehicle, number: CarNumber) -> str:
    above, label = str(number.path[0]), number.quantity.label
    if above not in ("front", "rear", "left", "right") or (above == "left" and car.right is None):
        return label  # where the right side is like the left, a number is that of both
    own = label if label[1:2].isupper() else label[:1].lower() + label[1:]
    return f"{above.capitalize()} {own}"


def _part(number: CarNumber) -> str:
    """The part within the axle, side or body: "dampers, curve 3"."""
    words = ", ".join(number.above[1:] or number.above)
    return re.sub(r", (\d)", r" \1", words[:1].lower() + words[1:].replace(", C", ", c"))


def _place(car: Vehicle, varied: Parameter | Tolerance | str, labels: dict[str, str]) -> Place:
    place = varied if isinstance(varied, str) else varied.place
    path = path_of(place)
    try:
        part, value = follow(car, path[:-1]), follow(car, path)
        notes = type(part).model_fields[path[-1]].metadata
    except (AttributeError, KeyError, IndexError, TypeError):
        reason = f"{place}: the car has no such number; a part of it may be of another kind"
        raise InputError.of("parameter", place, reason) from None
    quantity = next((note for note in notes if isinstance(note, Quantity)), None)
    if quantity is None or not isinstance(value, float):
        raise InputError.of("parameter", place, f"{place} is no number that can be varied")
    if not isinstance(varied, str):
        _check_range(varied, quantity)
    return Place(place, path, quantity, value, labels[place])


def _check_range(varied: Parameter | Tolerance, quantity: Quantity) -> None:
    relative = isinstance(varied, Tolerance) and varied.kind == "share"
    if varied.kind != quantity.kind_name and not relative:
        raise InputError.of(
            varied.place,
            varied.kind,
            f"values of kind {varied.kind} are given, the number is of kind {quantity.kind_name} "
            f"(in {quantity.kind.usual}; {quantity.range_text()})",
        )
    if isinstance(varied, Parameter):
        for value in (varied.low, varied.high):
            if not quantity.low <= value <= quantity.high:
                raise InputError.of(
                    varied.place,
                    quantity.text(value),
                    f"{quantity.label}: {quantity.text(value)} is outside the allowed range "
                    f"({quantity.range_text()})",
                )


def _scopes(study: Study) -> tuple[Situation | Target, ...]:
    """Situations of a study, each scope once."""
    every = study.wishes if isinstance(study, TunedStart) else study.situations
    return tuple({one.scope: one for one in every}.values())


def _situations(
    project: Project, scopes: tuple[Situation | Target, ...], problems: list[Problem]
) -> Iterator[Situated]:
    for scope in scopes:
        found = _situated(project, scope)
        if found is None:
            known = ", ".join(f"'{case.name}'" for case in (AS_DESIGNED, *project.load_cases[:10]))
            reason = f"there is no load case '{scope.load_case}' (allowed: {known})"
            problems.append(Problem("load case", scope.load_case, reason))
        else:
            yield found


def _situated(project: Project, scope: Situation | Target) -> Situated | None:
    found = situated(project, scope)
    if found is None:
        return None
    run, load = found
    return Situated(scope_words(scope, METRIC) or "run of the project", study_run(run), load)


def _place_of(project: Project, target: Target, situations: tuple[Situated, ...]) -> int | None:
    """Number of the situation in which a target holds, where it is one of a study."""
    own = _situated(project, target)
    if own is None:
        return None
    same = ((one.run, one.load) == (own.run, own.load) for one in situations)
    return next((number for number, found in enumerate(same) if found), None)


def _own_metrics(study: Study) -> tuple[str, ...]:
    if isinstance(study, ParetoSearch):
        return tuple(one.metric for one in study.objectives)
    if isinstance(study, TunedStart):
        return tuple(wish.metric for wish in study.wishes)
    return ()


def _unknown_figure(key: str, model: str) -> Problem:
    reason = f"a study of the {model} has no figure '{key}' (figures of the road event are none of a study)"
    return Problem("figure", key, reason)


def _check_wishes(study: TunedStart, figures: tuple[Figure, ...]) -> None:
    kinds = {figure.key: figure.kind for figure in figures}
    problems = [
        Problem(
            wish.metric,
            wish.kind,
            f"the wish is of kind {wish.kind}, the figure of kind {kinds[wish.metric]}",
        )
        for wish in study.wishes
        if wish.kind != kinds[wish.metric]
    ]
    if problems:
        raise InputError(*problems)


def _inputs(
    study: Study,
    car: Vehicle,
    situations: tuple[Situated, ...],
    metrics: tuple[str, ...],
    wanted: tuple[Wanted, ...],
) -> str:
    """Hash of all that the results depend on; names and notes are not part of it."""
    definition = study.model_dump(
        mode="json", exclude={"name", "variant", "situations", "metrics", "result", "wishes"}
    )
    steering = isinstance(study, TunedStart) or (isinstance(study, ParetoSearch) and study.within_targets)
    return fingerprint(
        {
            "version": _RESULTS_VERSION,
            "study": definition,
            "car": car.model_dump(mode="json"),
            "situations": [
                [one.run.model_dump(mode="json"), one.load.model_dump(mode="json")["loads"]]
                for one in situations
            ],
            "metrics": metrics,
            # Targets steer a search; of other studies they only judge the results.
            "targets": [
                [one.target.model_dump(mode="json", include={"metric", "low", "high"}), one.situation]
                for one in wanted
                if steering
            ],
        }
    )
