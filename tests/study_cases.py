"""Studies for the tests: of a sample car, and of functions whose answer is known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.fields import replaced
from models.project import Project, new_project
from models.studies import Asked, StudyResult, Watch, Workers, ask, run_study
from models.studies.ledger import CHUNK
from models.studies.task import Answer
from models.study import Objective, Parameter, ParetoSearch, ResultFile, Situation, Study
from models.study.kinds import MOST_PARAMETERS, MOST_SITUATIONS
from models.target import Target

__all__ = [
    "FRONT",
    "RATE",
    "REAR",
    "SEARCH",
    "FormulaTask",
    "answered",
    "by_formula",
    "project",
    "same",
    "spread",
    "widest_study",
]

Array = NDArray[np.float64]

FRONT, REAR = "front.spring.rate", "rear.spring.rate"
RATE = Parameter(place=FRONT, kind="rate", low=20e3, high=32e3)
#: Two generations of more cars than go into one piece of work.
SEARCH = ParetoSearch(
    parameters=(RATE, Parameter(place=REAR, kind="rate", low=20e3, high=32e3)),
    objectives=(Objective(metric="rms_heave_acceleration"), Objective(metric="rms_travel_front")),
    population=CHUNK + 6,
    generations=2,
    metrics=("pitch_share",),
)

#: Numbers of the car that formulas of several inputs take in turn.
_PLACES = (FRONT, REAR, "front.tyre.rate", "rear.tyre.rate", "front.damper.jounce", "rear.damper.jounce")
_KINDS = ("rate", "rate", "rate", "rate", "damping", "damping")


@dataclass(frozen=True)
class FormulaTask:
    """Figures by a formula of parameters between 0 and 1 in place of those of a car."""

    formula: Callable[[Array], Array]
    low: tuple[float, ...]
    high: tuple[float, ...]

    def __call__(self, rows: Array) -> Answer:
        share = (rows - np.array(self.low)) / (np.array(self.high) - np.array(self.low))
        return Answer(self.formula(share)[:, None, :], {})


def project(*targets: Target) -> Project:
    """The plain car, with targets."""
    return replaced(new_project(), ("targets",), targets)


def spread(count: int) -> tuple[Parameter, ...]:
    """So many parameters of the car, each over its range from 1,000 to 2,000 SI."""
    return tuple(
        Parameter(place=place, kind=kind, low=1000.0, high=2000.0)
        for place, kind in zip(_PLACES[:count], _KINDS[:count], strict=True)
    )


def by_formula(study: Study, formula: Callable[[Array], Array], parameters: int) -> StudyResult:
    """Answer a study over :func:`spread` by (N, P) -> (N, K)."""
    task = FormulaTask(formula, (1000.0,) * parameters, (2000.0,) * parameters)
    return run_study(ask(project(), study), task=task)


def answered(
    study: Study, *targets: Target, workers: Workers | None = None, watch: Watch | None = None
) -> tuple[Asked, StudyResult]:
    """Answer a study of the plain car."""
    asked = ask(project(*targets), study)
    return asked, run_study(asked, workers, watch=watch)


def same(one: StudyResult, other: StudyResult) -> bool:
    """Whether two results are equal to the bit."""
    pairs = zip(
        (one.columns.rows, one.columns.values, one.columns.state),
        (other.columns.rows, other.columns.values, other.columns.state),
        strict=True,
    )
    return one.finished == other.finished and all(a.tobytes() == b.tobytes() for a, b in pairs)


def widest_study(number: int) -> ParetoSearch:
    """A study that takes as much room in a file as one can."""
    letters = "\U0001f697" * 77
    seal = "0" * 64
    return ParetoSearch(
        name=f"{number:03}{letters}",
        variant=letters,
        metrics=tuple(f"{n:080}" for n in range(200)),
        result=ResultFile(file="a" * 147 + ".npz", checksum=seal, inputs=seal),
        situations=(Situation(load_case=letters, speed=1 / 3 + 1),) * MOST_SITUATIONS,
        parameters=tuple(
            Parameter(place=f"front.{'x' * 190}.{n}", kind="rate", low=0.1 / 3, high=1 / 3)
            for n in range(MOST_PARAMETERS)
        ),
        objectives=tuple(Objective(metric=f"{n:080}") for n in range(6)),
    )
