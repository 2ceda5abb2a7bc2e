"""Charts of a result, by kind of study."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from models.charts import Chart, Curve
from models.charts.studies import (
    cost_chart,
    figure_spread_chart,
    front_chart,
    map_chart,
    sensitivity_chart,
    sobol_chart,
    study_sweep_chart,
    yield_chart,
)
from models.studies import StudyResult, built_cars, front, sobol_shares, tuned
from models.study import (
    GlobalSensitivity,
    ParameterMap,
    ParetoSearch,
    Sensitivity,
    Sweep,
    ToleranceDraw,
    TunedStart,
)
from models.units import KINDS, UnitChoice, format_value

__all__ = ["Drawn", "View", "car_words", "drawn", "row_at"]

# Points of one colour beyond these cannot be told apart, and cost frames.
_MOST_POINTS = 1500


@dataclass(frozen=True, slots=True)
class View:
    """What is looked at: key of the figure, number of the situation, units, and a car that is chosen."""

    metric: str
    situation: int
    units: UnitChoice
    chosen: int = -1


@dataclass(frozen=True, eq=False)
class Drawn:
    """Charts, the first one the largest, words below them, and the car that the study proposes."""

    result: StudyResult
    charts: tuple[Chart, ...]
    words: str
    row: int = -1


def drawn(result: StudyResult, view: View) -> Drawn:
    """Charts and words of a result, as far as it has come."""
    metric, situation, row = view.metric, view.situation, view.chosen
    charts: tuple[Chart, ...]
    words = ""
    if not result.columns.computed.any():
        return Drawn(result, (), "No car could be computed." if result.finished else "")
    match result.asked.study:
        case Sweep():
            charts = (study_sweep_chart(result, metric),)
        case ParameterMap():
            charts = (map_chart(result, metric, view.units, situation),)
        case Sensitivity():
            charts = (sensitivity_chart(result, metric, situation),)
        case ToleranceDraw():
            whole = built_cars(result).whole
            charts = figure_spread_chart(result, metric, situation), yield_chart(result), cost_chart(result)
            words = (
                f"{_percent(whole.share)} of {whole.cars:,} cars as built meet all targets "
                f"(95 % sure: {_percent(whole.low)} to {_percent(whole.high)})."
            )
            if not result.asked.wanted:
                charts = charts[:1]
                words = "No target holds in these situations; set some on the Scorecard to see the yield."
        case ParetoSearch() as study:
            row = row if row >= 0 else -1
            words = f"Front of {len(front(result).rows)} cars. Click a point to see its car."
            pairs = [(0, y) for y in range(1, len(study.objectives))]
            charts = tuple(front_chart(result, x, y, [row] if row >= 0 else []) for x, y in pairs[:3])
        case TunedStart():
            found = tuned(result)
            row, charts = found.row, ()
            words = _tuned_words(result, found.missed, found.values, view.units)
        case GlobalSensitivity():
            charts = (sobol_chart(result, metric, situation),)
            words = f"From {sobol_shares(result).samples} samples."
    if row >= 0:
        words += "\n" + car_words(result, row, view.units)
    return Drawn(result, tuple(map(_thinned, charts)), words.strip(), row)


def row_at(result: StudyResult, objective: int, x: float, y: float) -> int:
    """Number of the car whose first and given objective are these; -1 where there is none."""
    every = front(result).every
    found = np.flatnonzero((every[:, 0] == x) & (every[:, objective] == y))
    return int(found[0]) if found.size else -1


def car_words(result: StudyResult, row: int, units: UnitChoice) -> str:
    """Numbers of the car of a row."""
    pairs = zip(result.asked.places, result.columns.rows[row].tolist(), strict=True)
    texts = [f"{place.label} {_value(value, place.quantity.kind_name, units)}" for place, value in pairs]
    return "Car: " + "; ".join(texts) + "."


def _tuned_words(result: StudyResult, missed: np.ndarray, values: np.ndarray, units: UnitChoice) -> str:
    lines = []
    for one, value, miss in zip(result.asked.wanted, values.tolist(), missed.tolist(), strict=True):
        reached = _value(value, one.target.kind, units)
        end = "met" if miss <= 0 else f"missed by {_percent(miss)}"
        lines.append(f"{one.words}: {reached}, {end}")
    return "\n".join(lines)


def _value(value: float, kind: str, units: UnitChoice) -> str:
    unit = units[kind]
    text = format_value(value, unit, KINDS[kind].si, 4).replace("-", "−")
    return text if unit == "1" else f"{text} {unit}"


def _percent(share: float) -> str:
    return format_value(100 * share, "1", "1").replace("-", "−") + " %"


def _thinned(chart: Chart) -> Chart:
    return replace(chart, curves=tuple(map(_fewer, chart.curves)))


def _fewer(curve: Curve) -> Curve:
    if curve.form != "points" or len(curve.x) <= _MOST_POINTS:
        return curve
    step = -(-len(curve.x) // _MOST_POINTS)
    return replace(curve, x=curve.x[::-step], y=curve.y[::-step])  # the latest are sure to be there
