"""All key figures of all variants, against the targets of the project and against the baseline."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import inf, isfinite, nan
from typing import NamedTuple

from models.analysis import analyse
from models.errors import InputError
from models.judge.figure import Figure
from models.judge.figures import key_figures
from models.judge.mix import MIX_PREFIX, road_mix, run_of_mix
from models.judge.practice import PRACTICE, PRACTICE_TARGETS, practice_figures
from models.judge.situation import scope_words, situated
from models.judge.targets import Verdict, judged
from models.project import Project
from models.roads import RoadShare
from models.run import Run
from models.target import Target
from models.vehicle import LoadCase, Vehicle

__all__ = [
    "Case",
    "Cell",
    "Outcome",
    "Row",
    "Scorecard",
    "outcome",
    "scope_words",
    "scorecard",
    "wanted_cases",
]


class Case(NamedTuple):
    """One car in one situation: all that its figures depend on.

    With a mix it is driven over the roads of that, and has the figures of the mix alone.
    """

    vehicle: Vehicle
    run: Run
    load: LoadCase
    mix: tuple[RoadShare, ...] = ()


@dataclass(frozen=True, slots=True)
class Outcome:
    """Figures of a case by key, those of common practice with them; or why there are none."""

    figures: Mapping[str, Figure]
    problem: str = ""


@dataclass(frozen=True, slots=True)
class Cell:
    """One figure of one variant.

    Attributes:
        value: SI; NaN where there is none (yet).
        verdict: against the target; None without target or value.
        change: from the baseline, SI.
        change_share: of the size of the baseline's value; NaN where that is 0 or not finite.
        problem: why there is no value; empty otherwise.
    """

    value: float
    verdict: Verdict | None
    change: float
    change_share: float
    problem: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One figure of all variants.

    Attributes:
        figure: name, kind and meaning; its value is that of the first variant that has one.
        target: what is wanted; None where nothing is.
        of_project: whether the target is the user's and can be edited.
        cells: per variant, in the order of the project.
        problem: why the target cannot be judged; empty otherwise.
    """

    figure: Figure
    target: Target | None
    of_project: bool
    cells: tuple[Cell, ...]
    problem: str = ""

    @property
    def key(self) -> tuple[str, tuple[str, str, float | None]]:
        """Figure and scope: what makes the row this row."""
        return self.figure.key, ("", "", None) if self.target is None else self.target.scope


@dataclass(frozen=True, slots=True)
class Scorecard:
    """Rows by groups, the road mix after the figures of the run and common practice last.

    Attributes:
        variants: names in the order of the project.
        baseline: number of the baseline among them.
        rows: figures.
    """

    variants: tuple[str, ...]
    baseline: int
    rows: tuple[Row, ...]


def wanted_cases(project: Project) -> tuple[Case, ...]:
    """Every case that the scorecard of a project needs, each once; those of the project's run come first."""
    situations = [_situation(project, None), *(_situation(project, target) for target in project.targets)]
    if project.road_mix:
        situations.insert(1, _mixed(project, project.load))
    return tuple(
        dict.fromkeys(
            Case(variant.vehicle, *situation)
            for situation in dict.fromkeys(situations)
            if situation is not None
            for variant in project.variants
        )
    )


def outcome(case: Case, *, compiled: bool = True) -> Outcome:
    """Compute a case; an error of the input is part of the outcome."""
    try:
        if case.mix:
            return Outcome({figure.key: figure for figure in road_mix(*case).figures})
        figures = key_figures(analyse(case.vehicle, case.run, case.load, compiled=compiled))
    except (InputError, ArithmeticError) as error:
        return Outcome({}, str(error))
    by_key = {figure.key: figure for figure in figures}
    return Outcome(by_key | {figure.key: figure for figure in practice_figures(by_key)})


def scorecard(project: Project, outcomes: Mapping[Case, Outcome]) -> Scorecard:
    """Judge what has been computed; a case that is not in ``outcomes`` has no value yet."""
    baseline = project.index(project.baseline)
    return Scorecard(project.names, baseline, tuple(_rows(project, outcomes, baseline)))


def _rows(project: Project, outcomes: Mapping[Case, Outcome], baseline: int) -> Iterator[Row]:
    plain = _outcomes(project, outcomes, _situation(project, None))
    figures = _by_key(plain)
    for figure in figures.values():
        if figure.group != PRACTICE:
            yield from _rows_of(project, figure, plain, outcomes, baseline)
    mixed = _outcomes(project, outcomes, _mixed(project, project.load)) if project.road_mix else []
    of_mix = _by_key(mixed)
    for figure in of_mix.values():
        yield from _rows_of(project, figure, mixed, outcomes, baseline)
    for key, figure in figures.items():
        if figure.group == PRACTICE:
            yield _row(figure, PRACTICE_TARGETS[key], False, plain, baseline)
    for target in project.targets:
        there = mixed if _of_mix(target) and project.road_mix else plain
        if target.metric not in figures | of_mix and any(one.figures for one in there):
            yield _unknown(target, project)


def _by_key(found: list[Outcome]) -> dict[str, Figure]:
    figures: dict[str, Figure] = {}
    for one in found:
        for key, figure in one.figures.items():
            figures.setdefault(key, figure)
    return figures


def _rows_of(
    project: Project, figure: Figure, found: list[Outcome], outcomes: Mapping[Case, Outcome], baseline: int
) -> Iterator[Row]:
    """A figure of the project's run or mix, and in every other situation in which it has a target."""
    own = [target for target in project.targets if target.metric == figure.key]
    here = next((target for target in own if target.scope == ("", "", None)), None)
    yield _row(figure, here, True, found, baseline)
    for target in own:
        if target is not here:
            yield _scoped_row(project, figure, target, outcomes, baseline)


def _scoped_row(
    project: Project, figure: Figure, target: Target, outcomes: Mapping[Case, Outcome], baseline: int
) -> Row:
    situation = _situation(project, target)
    if situation is None:
        problem = f"there is no load case '{target.load_case}'"
        if _of_mix(target) and (target.road_class or target.speed is not None):
            problem = "the road mix has roads and speeds of its own"
        return Row(figure, target, True, _no_cells(len(project.variants), problem), problem)
    return _row(figure, target, True, _outcomes(project, outcomes, situation), baseline)


def _row(
    figure: Figure, target: Target | None, of_project: bool, outcomes: list[Outcome], baseline: int
) -> Row:
    problem = ""
    if target is not None and target.kind != figure.kind:
        problem = f"the target is of kind {target.kind}, the figure of kind {figure.kind}"
    values = [_value(one, figure.key) for one in outcomes]
    reference = values[baseline]
    cells = tuple(
        Cell(
            value,
            None if target is None or problem else judged(target, value),
            *_change(value, reference),
            problem=one.problem,
        )
        for value, one in zip(values, outcomes, strict=True)
    )
    return Row(figure, target, of_project, cells, problem)


def _unknown(target: Target, project: Project) -> Row:
    problem = "the run of the project has no such figure"
    if _of_mix(target):
        problem = "the road mix has no such figure" if project.road_mix else "the project has no road mix"
    figure = Figure(
        target.metric, target.metric.replace("_", " "), nan, target.kind, f"{problem}.", "none", ""
    )
    return Row(figure, target, True, _no_cells(len(project.variants), problem), problem)


def _no_cells(count: int, problem: str) -> tuple[Cell, ...]:
    return (Cell(nan, None, nan, nan, problem),) * count


def _value(one: Outcome, key: str) -> float:
    return one.figures[key].value if key in one.figures else nan


def _change(value: float, reference: float) -> tuple[float, float]:
    if value == reference:  # also where both are infinite
        return 0.0, 0.0
    change = value - reference
    usable = isfinite(change) and reference not in (0.0, inf, -inf)
    return change if isfinite(change) else nan, change / abs(reference) if usable else nan


_Situation = tuple[Run, LoadCase, tuple[RoadShare, ...]]


def _outcomes(
    project: Project, outcomes: Mapping[Case, Outcome], situation: _Situation | None
) -> list[Outcome]:
    assert situation is not None
    return [outcomes.get(Case(variant.vehicle, *situation), Outcome({})) for variant in project.variants]


def _of_mix(target: Target) -> bool:
    return target.metric.startswith(MIX_PREFIX)


def _mixed(project: Project, load: LoadCase) -> _Situation:
    return run_of_mix(project.run), load, project.road_mix


def _situation(project: Project, target: Target | None) -> _Situation | None:
    """Run, load case and mix of a target; None where there is no such situation."""
    if target is None:
        return project.run, project.load, ()
    found = situated(project, target)
    if found is None:
        return None
    run, load = found
    if _of_mix(target):
        elsewhere = bool(target.road_class) or target.speed is not None
        return None if elsewhere or not project.road_mix else _mixed(project, load)
    return run, load, ()
