"""Cars as built: draws of tolerances, yield against targets, and what each tolerance costs."""

from __future__ import annotations

from dataclasses import dataclass
from math import nan

import numpy as np
from numpy.typing import NDArray
from scipy.special import betaincinv

from models.studies.asked import Asked, Place, Wanted
from models.studies.columns import MISSING
from models.studies.read_once import read_once
from models.studies.result import StudyResult, passes
from models.study import Tolerance, ToleranceDraw

__all__ = ["CONFIDENCE", "BuiltCars", "ToleranceCost", "Yield", "built_cars", "tolerance_rows"]

Array = NDArray[np.float64]

#: Confidence of the interval of a yield.
CONFIDENCE = 0.95


@dataclass(frozen=True, slots=True)
class Yield:
    """Share of cars that meet something.

    Attributes:
        words: what is met.
        passed, cars: how many of how many; a refused car does not pass.
        share: of them; NaN without cars.
        low, high: interval of the true share after Clopper and Pearson (exact, at least
            :data:`CONFIDENCE`).
    """

    words: str
    passed: int
    cars: int
    share: float
    low: float
    high: float


@dataclass(frozen=True, eq=False)
class ToleranceCost:
    """What one tolerance does.

    Attributes:
        place: the number that is off.
        plus_minus: ± SI.
        with_it, without_it: yield of the same draws with it and with the number exact; None where no such
            draws were asked for.
        variance: (S, K) share of the variance of each figure by a linear fit; the shares of all tolerances
            add up to :attr:`BuiltCars.linear`.
    """

    place: Place
    plus_minus: float
    with_it: Yield | None
    without_it: Yield | None
    variance: Array

    @property
    def gained(self) -> float:
        """Yield that would be gained if the number were exact; NaN where it was not computed."""
        if self.with_it is None or self.without_it is None:
            return nan
        return self.without_it.share - self.with_it.share


@dataclass(frozen=True, eq=False)
class BuiltCars:
    """All cars of a draw.

    Attributes:
        whole: yield against all targets together.
        targets: yield against each.
        costs: what each tolerance costs, the dearest first.
        linear: (S, K) share of the variance that a linear fit explains.
    """

    whole: Yield
    targets: tuple[Yield, ...]
    costs: tuple[ToleranceCost, ...]
    linear: Array


def tolerance_rows(asked: Asked, study: ToleranceDraw) -> Array:
    """(draws + P exact draws, P): cars as built, then some again with one number after the other exact."""
    # A stream of its own for each tolerance: the number of draws and later tolerances change no earlier one.
    streams = np.random.SeedSequence(study.seed).spawn(len(study.tolerances))
    nominal = asked.nominal
    built = np.column_stack(
        [
            place.value + _plus_minus(tolerance, place) * _drawn(tolerance, stream, study.draws)
            for tolerance, place, stream in zip(study.tolerances, asked.places, streams, strict=True)
        ]
    )
    exact = np.tile(built[: _exact_draws(study)], (len(nominal), 1, 1))
    for number, value in enumerate(nominal):
        exact[number, :, number] = value
    return np.concatenate([built, exact.reshape(-1, len(nominal))])


def built_cars(result: StudyResult, wanted: tuple[Wanted, ...] | None = None) -> BuiltCars:
    """Yield and costs of a result, as far as it has come, against targets (by default those of its time)."""
    return _built(result) if wanted is None else _built_within(result, wanted)


@read_once
def _built(result: StudyResult) -> BuiltCars:
    return _built_within(result, result.asked.wanted)


def _built_within(result: StudyResult, wanted: tuple[Wanted, ...]) -> BuiltCars:
    asked, study = result.asked, result.asked.study
    assert isinstance(study, ToleranceDraw)
    met = passes(result.columns.values, wanted) & result.columns.computed[:, None]
    good = met.all(axis=1) & result.columns.computed
    known = result.columns.state != MISSING
    built = slice(0, study.draws)
    linear, variance = _variance_shares(result, study)
    costs = [
        ToleranceCost(
            place,
            _plus_minus(tolerance, place),
            *_with_and_without(study, number, good, known),
            variance[number],
        )
        for number, (place, tolerance) in enumerate(zip(asked.places, study.tolerances, strict=True))
    ]
    return BuiltCars(
        _yield("all targets", good[built], known[built]),
        tuple(_yield(one.words, met[built, column], known[built]) for column, one in enumerate(wanted)),
        tuple(sorted(costs, key=lambda cost: -np.nan_to_num(cost.gained, nan=-1.0))),
        linear,
    )


def _exact_draws(study: ToleranceDraw) -> int:
    return min(study.exact_draws, study.draws)


def _plus_minus(tolerance: Tolerance, place: Place) -> float:
    """± SI; a share is one of the car's own value."""
    relative = tolerance.kind == "share" and place.quantity.kind_name != "share"
    return tolerance.plus_minus * (abs(place.value) if relative else 1.0)


def _drawn(tolerance: Tolerance, stream: np.random.SeedSequence, draws: int) -> Array:
    """(draws,) by how many ± numbers are off."""
    random = np.random.default_rng(stream)
    match tolerance.distribution:
        case "normal":
            return random.standard_normal(draws) / 3
        case "uniform":
            return random.uniform(-1.0, 1.0, draws)
        case "triangular":
            return random.triangular(-1.0, 0.0, 1.0, draws)


def _with_and_without(
    study: ToleranceDraw, number: int, good: NDArray[np.bool_], known: NDArray[np.bool_]
) -> tuple[Yield | None, Yield | None]:
    """Yield of the first draws as built, and with one number exact, over those draws that both have."""
    count = _exact_draws(study)
    first = study.draws + number * count
    if not count or len(known) < first + count:
        return None, None
    both = known[:count] & known[first : first + count]
    return (
        _yield("with it", good[:count], both),
        _yield("without it", good[first : first + count], both),
    )


def _yield(words: str, good: NDArray[np.bool_], known: NDArray[np.bool_]) -> Yield:
    passed, cars = int(np.count_nonzero(good & known)), int(np.count_nonzero(known))
    if not cars:
        return Yield(words, 0, 0, nan, 0.0, 1.0)
    return Yield(words, passed, cars, passed / cars, *_interval(passed, cars))


def _interval(passed: int, cars: int) -> tuple[float, float]:
    """Ends of the interval by quantiles of the beta distribution, which need no search for a root."""
    miss = (1 - CONFIDENCE) / 2
    low = betaincinv(passed, cars - passed + 1, miss) if passed else 0.0
    high = betaincinv(passed + 1, cars - passed, 1 - miss) if passed < cars else 1.0
    return float(low), float(high)


def _variance_shares(result: StudyResult, study: ToleranceDraw) -> tuple[Array, Array]:
    """(S, K) share that a linear fit explains, and (P, S, K) of each tolerance: b² var(p) / var(m)."""
    columns = result.columns
    used = columns.computed[: study.draws]
    rows, values = columns.rows[: study.draws][used], columns.values[: study.draws][used]
    shape = (rows.shape[1], *values.shape[1:])
    shares, whole = np.full(shape, np.nan), np.full(shape[1:], np.nan)
    if len(rows) <= rows.shape[1] + 1:
        return whole, shares
    spread = rows.std(axis=0)
    inputs = np.divide(rows - rows.mean(axis=0), spread, out=np.zeros_like(rows), where=spread > 0)
    flat = values.reshape(len(values), -1)
    usable = np.asarray(np.isfinite(flat).all(axis=0))
    usable[usable] = np.ptp(flat[:, usable], axis=0) > 0
    outputs = flat[:, usable] - flat[:, usable].mean(axis=0)
    slopes = np.linalg.lstsq(inputs, outputs, rcond=None)[0]
    variance = (outputs**2).mean(axis=0)
    shares.reshape(len(shares), -1)[:, usable] = slopes**2 / variance
    whole.reshape(-1)[usable] = 1 - ((outputs - inputs @ slopes) ** 2).mean(axis=0) / variance
    return whole, shares
