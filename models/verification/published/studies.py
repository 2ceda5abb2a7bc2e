"""Studies of functions whose answer is known."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from models.project import new_project
from models.studies import StudyResult, ask, front, run_study, sobol_shares
from models.studies.task import Answer
from models.study import GlobalSensitivity, Objective, Parameter, ParetoSearch, Study
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER"]

CHAPTER = Chapter("studies", "Studies of known functions")

Array = NDArray[np.float64]
# Numbers of the car that stand for the inputs of a function, each from 1,000 to 2,000 SI.
INPUTS = (
    Parameter(place="front.spring.rate", kind="rate", low=1000.0, high=2000.0),
    Parameter(place="rear.spring.rate", kind="rate", low=1000.0, high=2000.0),
    Parameter(place="front.tyre.rate", kind="rate", low=1000.0, high=2000.0),
    Parameter(place="rear.tyre.rate", kind="rate", low=1000.0, high=2000.0),
    Parameter(place="front.damper.jounce", kind="damping", low=1000.0, high=2000.0),
)


def answered(study: Study, function: Callable[[Array], Array]) -> StudyResult:
    """Run a study whose figures are a function of inputs between 0 and 1 in place of those of a car."""

    def task(rows: Array) -> Answer:
        return Answer(function((rows - 1000.0) / 1000.0)[:, None, :], {})

    return run_study(ask(new_project(), study), task=task)


def ishigami(share: Array) -> Array:
    """Function sin x1 + 7 sin² x2 + 0.1 x3⁴ sin x1 of inputs from -π to π, and a constant."""
    x = np.pi * (2 * share - 1)
    y = np.sin(x[:, 0]) + 7 * np.sin(x[:, 1]) ** 2 + 0.1 * x[:, 2] ** 4 * np.sin(x[:, 0])
    return np.column_stack([y, np.full(len(y), 3.0)])


@CHAPTER.check(
    "Sobol indices of the Ishigami function",
    source="T. Ishigami and T. Homma (1990); variances as in the manual of scipy.stats.sobol_indices",
    status="closed form",
    reason="errors of a Sobol sequence of 1024 points are below the standard error of as many random "
    "points, 0.03",
)
def sobol_indices() -> Numbers:
    """Shares of V1 = ½ (1 + b π⁴/5)², V2 = a²/8, V13 = b² π⁸ (1/18 - 1/50) in their sum, a = 7, b = 0.1."""
    study = GlobalSensitivity(parameters=INPUTS[:3], samples=1024, metrics=("heave_rate", "pitch_rate"))
    shares = sobol_shares(answered(study, ishigami))
    a, b, pi = 7.0, 0.1, np.pi
    v1, v2, v13 = 0.5 * (1 + b * pi**4 / 5) ** 2, a**2 / 8, b**2 * pi**8 * (1 / 18 - 1 / 50)
    whole = v1 + v2 + v13
    for number, (alone, with_others) in enumerate(((v1, v1 + v13), (v2, v2), (0.0, v13))):
        name = f"x{number + 1}"
        yield beside(f"{name}: share alone", shares.first[number, 0, 0], alone / whole, within=0.02)
        yield beside(
            f"{name}: share with others", shares.total[number, 0, 0], with_others / whole, within=0.02
        )
    yield beside("samples", shares.samples, 1024)
    yield beside("greatest error that it tells", shares.first_error[:, 0, 0].max(), 0.0, within=0.1)
    unknown = np.isnan(shares.first[:, 0, 1])  # a constant has no variance to share
    yield beside("a constant has no shares (1: so)", unknown.astype(float), 1.0)


def zdt1(share: Array) -> Array:
    """First input, and g (1 - √(f1/g)) with g of the others."""
    g = 1 + 9 * share[:, 1:].mean(axis=1)
    first = share[:, 0]
    return np.column_stack([first, g * (1 - np.sqrt(first / g))])


@CHAPTER.check(
    "Front of a known function of two aims",
    source="ZDT1 of E. Zitzler, K. Deb and L. Thiele, Evol. Comput. 8 (2000)",
    status="closed form",
    reason="a hundredth in the mean is half of what its cars are apart",
)
def pareto_front() -> Numbers:
    """On it f2 = 1 - √f1, where all inputs but the first are 0; 40 cars, 60 generations, five inputs."""
    study = ParetoSearch(
        parameters=INPUTS,
        objectives=(Objective(metric="heave_rate"), Objective(metric="pitch_rate")),
        population=40,
        generations=60,
        metrics=("heave_rate",),
    )
    first, second = front(answered(study, zdt1)).objectives.T
    off = np.abs(second - (1 - np.sqrt(first))).mean()
    yield beside("mean distance from the front", off, 0.0, within=0.01)
    yield beside("its first end", first[0], 0.0, within=0.02)
    yield beside("its last end", first[-1], 1.0, within=0.02)
