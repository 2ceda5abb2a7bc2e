"""What several sections of a review need, computed once."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from models.analysis import Analysis, analyse
from models.figure import Figure
from models.judge import key_figures
from models.judge.mix import Mix, road_mix
from models.judge.scorecard import Scorecard, outcome, scorecard, wanted_cases
from models.project import Project, Variant
from models.project.project import changed
from models.project.review import ReviewOptions
from models.report.watch import Watch
from models.studies import StudyResult
from models.units import INCH_POUND, METRIC, UnitChoice
from models.vehicle import AS_DESIGNED, LoadCase

__all__ = ["Bench", "Car", "ShownStudy"]


@dataclass(frozen=True, slots=True)
class ShownStudy:
    """A study that the user has chosen: its result, or why there is none."""

    name: str
    result: StudyResult | None
    problem: str = ""


@dataclass(frozen=True)
class Car:
    """One of the compared variants."""

    project: Project
    variant: Variant

    @cached_property
    def analysis(self) -> Analysis:
        """Results in the run and load case of the project."""
        return analyse(self.variant.vehicle, self.project.run, self.project.load)

    @cached_property
    def figures(self) -> tuple[Figure, ...]:
        """Key figures of the run."""
        return key_figures(self.analysis)

    @cached_property
    def mix(self) -> Mix:
        """Over the road mix, which the project has."""
        return road_mix(self.variant.vehicle, self.project.run, self.project.load, self.project.road_mix)

    def group(self, *names: str) -> tuple[Figure, ...]:
        """Key figures of some groups."""
        return tuple(figure for figure in self.figures if figure.group in names)

    def chosen(self, *keys: str) -> tuple[Figure, ...]:
        """Key figures of these keys, in the order of the keys; those that the model has not are left out."""
        by_key = {figure.key: figure for figure in self.figures}
        return tuple(by_key[key] for key in keys if key in by_key)


@dataclass
class Bench:
    """The review in the making.

    Attributes:
        project: what is reviewed.
        options: how.
        studies: chosen studies.
        watch: told how far the section is that is being written.
        window: units that the window shows, for options that want these.
    """

    project: Project
    options: ReviewOptions
    studies: tuple[ShownStudy, ...]
    watch: Watch
    window: UnitChoice = field(default_factory=lambda: METRIC)

    @property
    def units(self) -> UnitChoice:
        """Units of display."""
        return {"metric": METRIC, "inch-pound": INCH_POUND}.get(self.options.units, self.window)

    @cached_property
    def cars(self) -> tuple[Car, ...]:
        """The candidate, then the baseline where it is another variant."""
        names = dict.fromkeys((self.project.candidate, self.project.baseline))
        return tuple(Car(self.project, self.project.variant(name)) for name in names)

    @property
    def candidate(self) -> Car:
        """The variant that is reviewed."""
        return self.cars[0]

    @property
    def baseline(self) -> Car | None:
        """The variant that it is compared with."""
        return self.cars[1] if len(self.cars) > 1 else None

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the compared variants."""
        return tuple(car.variant.name for car in self.cars)

    @property
    def heads(self) -> tuple[str, ...]:
        """Heads of the columns of the cars and of the change between them."""
        return ("Candidate", "Baseline", "Change")[: 1 if len(self.cars) == 1 else 3]

    @property
    def chart_names(self) -> tuple[str, str]:
        """Names of candidate and baseline in charts."""
        return self.names[0], self.names[-1]

    @property
    def load_cases(self) -> tuple[LoadCase, ...]:
        """All load cases, the car as designed first."""
        return (AS_DESIGNED, *self.project.load_cases)

    @cached_property
    def card(self) -> Scorecard:
        """Scorecard of the compared variants, the candidate first."""
        pair = changed(
            self.project, variants=tuple(car.variant for car in self.cars), baseline=self.names[-1]
        )
        return scorecard(pair, {case: outcome(case) for case in wanted_cases(pair)})
