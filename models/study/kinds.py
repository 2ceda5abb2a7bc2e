"""Kinds of study: sweep, map, sensitivity, tolerances, Pareto search, tuned start, global sensitivity."""

from __future__ import annotations

from typing import Annotated, Literal, TypeVar

from pydantic import AfterValidator, Field, StringConstraints, ValidationInfo, field_validator
from pydantic_core import PydanticCustomError

from models.fields import Label, Part, Quantity
from models.study.kept import ResultFile
from models.study.parameter import FieldPlace, Parameter, Tolerance
from models.study.situation import Situation
from models.target import FigureKey, Target

__all__ = [
    "MOST_PARAMETERS",
    "MOST_SITUATIONS",
    "MOST_STUDIES",
    "GlobalSensitivity",
    "Objective",
    "ParameterMap",
    "ParetoSearch",
    "Sensitivity",
    "Study",
    "Sweep",
    "ToleranceDraw",
    "TunedStart",
    "is_power_of_two",
]

MOST_STUDIES = 100
MOST_PARAMETERS = 40
MOST_SITUATIONS = 30

_Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=80)]
_VariantName = Annotated[str, StringConstraints(max_length=80)]
_Seed = Annotated[
    int,
    Field(ge=0, lt=2**32),
    Label("Seed", "The same seed draws the same cars, wherever they are computed."),
]
_V = TypeVar("_V", Parameter, Tolerance, str)


def _each_once(varied: tuple[_V, ...]) -> tuple[_V, ...]:
    places = [one if isinstance(one, str) else one.place for one in varied]
    for place in places:
        if places.count(place) > 1:
            raise PydanticCustomError("rule", "'{place}' is varied more than once", {"place": place})
    return varied


_Parameters = Annotated[
    tuple[Parameter, ...],
    Field(min_length=1, max_length=MOST_PARAMETERS),
    AfterValidator(_each_once),
    Label("Parameters", "What is varied, and between which values."),
]


class _Named(Part):
    """What all studies have."""

    name: Annotated[_Name, Label("Name", "Name of the study; each name occurs once in a project.")] = "Study"
    variant: Annotated[_VariantName, Label("Variant", "Car that is varied; empty: the candidate.")] = ""
    metrics: Annotated[
        tuple[FigureKey, ...],
        Field(max_length=200),
        Label("Figures", "Keys of the figures that are computed beside those with a target; none: all."),
    ] = ()
    result: Annotated[
        ResultFile | None, Label("Result", "File of the results, once there are some.", hidden=True)
    ] = None


class _Situated(_Named):
    """A study of a car in one or more situations."""

    situations: Annotated[
        tuple[Situation, ...],
        Field(min_length=1, max_length=MOST_SITUATIONS),
        Label("Situations", "Load cases, roads and speeds in which each car is judged."),
    ] = (Situation(),)


class Sweep(_Situated):
    """Figures over one parameter."""

    kind: Literal["sweep"] = "sweep"
    parameter: Annotated[Parameter, Label("Parameter", "What is varied.")]
    points: Annotated[int, Field(ge=2, le=10_000), Label("Points", "How many values are tried.")] = 41
    spacing: Annotated[
        Literal["even", "even ratio"],
        Label("Spacing", "Steps of the same size, or of the same ratio (values above 0 only)."),
    ] = "even"

    @field_validator("spacing")
    @classmethod
    def _ratios_of_positive_values(cls, spacing: str, info: ValidationInfo) -> str:
        parameter = info.data.get("parameter")
        if spacing == "even ratio" and parameter is not None and parameter.low <= 0:
            raise PydanticCustomError(
                "rule",
                "{place}, from: steps of the same ratio need values above 0",
                {"place": parameter.place},
            )
        return spacing


class ParameterMap(_Situated):
    """Figures over two parameters."""

    kind: Literal["map"] = "map"
    x: Annotated[Parameter, Label("Across", "What is varied along the map.")]
    y: Annotated[Parameter, Label("Up", "What is varied up the map.")]
    x_points: Annotated[int, Field(ge=2, le=500), Label("Points across", "How many values are tried.")] = 25
    y_points: Annotated[int, Field(ge=2, le=500), Label("Points up", "How many values are tried.")] = 25

    @field_validator("y")
    @classmethod
    def _another_one(cls, y: Parameter, info: ValidationInfo) -> Parameter:
        x = info.data.get("x")
        if x is not None and x.place == y.place:
            raise PydanticCustomError(
                "rule", "'{place}' goes across the map already; up goes another one", {"place": y.place}
            )
        return y


class Sensitivity(_Situated):
    """Slopes of all figures over all parameters at the car as it is."""

    kind: Literal["sensitivity"] = "sensitivity"
    places: Annotated[
        tuple[FieldPlace, ...],
        Field(min_length=1, max_length=200),
        AfterValidator(_each_once),
        Label("Parameters", "Numbers of the car that are moved, one at a time."),
    ]
    step: Annotated[
        float,
        Quantity(
            "share",
            "Step",
            "Share of its value by which a number is moved to either side; of one that is 0, of its usual "
            "range.",
            low=1e-5,
            high=0.3,
            typical=(0.001, 0.05),
        ),
    ] = 0.01


class ToleranceDraw(_Situated):
    """Cars as built: how many meet the targets, and which tolerance keeps the others from it."""

    kind: Literal["tolerances"] = "tolerances"
    tolerances: Annotated[
        tuple[Tolerance, ...],
        Field(min_length=1, max_length=MOST_PARAMETERS),
        AfterValidator(_each_once),
        Label("Tolerances", "What is off as built, each on its own."),
    ]
    draws: Annotated[int, Field(ge=10, le=1_000_000), Label("Draws", "How many cars are built.")] = 1000
    exact_draws: Annotated[
        int,
        Field(ge=0, le=1_000_000),
        Label(
            "Draws without a tolerance",
            "How many of the cars are built once more for each tolerance, with that one exact, to see the "
            "yield that it costs; 0: none.",
        ),
    ] = 500
    seed: _Seed = 1


class Objective(Part):
    """A figure that is to be as low or as high as can be."""

    metric: Annotated[FigureKey, Label("Figure", "Key of the figure.")]
    aim: Annotated[Literal["lower", "higher"], Label("Aim", "Which way is better.")] = "lower"
    over: Annotated[
        Literal["worst", "mean"],
        Label("Over situations", "The worst of all situations counts, or their mean."),
    ] = "worst"


class ParetoSearch(_Situated):
    """Cars none of which another one beats in all objectives."""

    kind: Literal["pareto"] = "pareto"
    parameters: _Parameters
    objectives: Annotated[
        tuple[Objective, ...],
        Field(min_length=2, max_length=6),
        Label("Objectives", "Figures between which a choice has to be made."),
    ]
    within_targets: Annotated[
        bool, Label("Within targets", "Cars that miss a target of the project count as unfit.")
    ] = True
    population: Annotated[int, Field(ge=8, le=5000), Label("Population", "Cars of one generation.")] = 60
    generations: Annotated[int, Field(ge=1, le=5000), Label("Generations", "How often cars are bred.")] = 40
    seed: _Seed = 1


class TunedStart(_Named):
    """The car that comes nearest to what is wished of its figures."""

    kind: Literal["tuned start"] = "tuned start"
    parameters: _Parameters
    wishes: Annotated[
        tuple[Target, ...],
        Field(min_length=1, max_length=40),
        Label("Wishes", "What figures should be: a limit, two, or with both limits alike one value."),
    ]
    starts: Annotated[
        int, Field(ge=1, le=4096), Label("Starts", "Cars tried all over the range before the best are tuned.")
    ] = 64
    seed: _Seed = 1


class GlobalSensitivity(_Situated):
    """Share of each parameter in the variance of the figures over the whole range (Sobol indices)."""

    kind: Literal["global sensitivity"] = "global sensitivity"
    parameters: _Parameters
    samples: Annotated[
        int,
        Field(ge=8, le=2**17),
        Label("Samples", "A power of two; (parameters + 2) cars are computed for each."),
    ] = 256
    seed: _Seed = 1

    @field_validator("samples")
    @classmethod
    def _balanced(cls, samples: int) -> int:
        if not is_power_of_two(samples):
            raise PydanticCustomError(
                "rule",
                "{samples} samples are outside the allowed range (a power of two: 64, 128, 256, ...)",
                {"samples": samples},
            )
        return samples


Study = Annotated[
    Sweep | ParameterMap | Sensitivity | ToleranceDraw | ParetoSearch | TunedStart | GlobalSensitivity,
    Field(discriminator="kind"),
]


def is_power_of_two(number: int) -> bool:
    """Whether it is 1, 2, 4, 8, ..."""
    return number > 0 and number & (number - 1) == 0
