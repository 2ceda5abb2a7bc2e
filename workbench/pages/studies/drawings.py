"""Charts of a result, by kind of study."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from models.charts import Chart, Curve
from models.charts.studies import study_charts, study_pairs
from models.studies import StudyResult, built_cars, front, map_grid, sobol_shares, tuned
from models.study import (
    GlobalSensitivity,
    ParameterMap,
    ParetoSearch,
    Sensitivity,
    Sweep,
    ToleranceDraw,
    TunedStart,
)
from models.units import UnitChoice
from workbench.pages.studies.sheet import Sheet
from workbench.pages.studies.state_words import refusal_words
from workbench.pages.studies.tables import (
    cost_sheet,
    front_sheet,
    percent,
    sensitivity_sheet,
    sobol_sheet,
    tuned_sheet,
)

__all__ = ["Drawn", "View", "drawn", "row_at", "rows_within"]

# Points of one colour beyond these cannot be told apart, and cost frames.
_MOST_POINTS = 1500
_NO_TARGET = "No target holds in these situations; set some on the Scorecard to see {}."
_HOW_TO_BRUSH = (
    "Drag over points to brush them, Ctrl+click adds or drops one; click a point or a line of the table to "
    "choose its car."
)


@dataclass(frozen=True, slots=True)
class View:
    """What is looked at: key of the figure, number of the situation, units, cars brushed and chosen."""

    metric: str
    situation: int
    units: UnitChoice
    brushed: tuple[int, ...] = ()
    chosen: int = -1


@dataclass(frozen=True, eq=False)
class Drawn:
    """Words, charts, the first one the largest, a table, the car that the study proposes, and lines on those
    that were refused."""

    result: StudyResult
    charts: tuple[Chart, ...]
    words: str
    sheet: Sheet | None = None
    row: int = -1
    pairs: tuple[tuple[int, int], ...] = ()
    refusals: tuple[str, ...] = ()


def drawn(result: StudyResult, view: View) -> Drawn:
    """Charts, table and words of a result, as far as it has come."""
    refusals = refusal_words(result)
    if not result.columns.computed.any():
        return Drawn(result, (), "No car could be computed." if result.finished else "", refusals=refusals)
    found = _drawn(result, view)
    return replace(found, charts=tuple(map(_thinned, found.charts)), refusals=refusals)


def _drawn(result: StudyResult, view: View) -> Drawn:
    situation = view.situation
    shown = study_charts(result, view.units, (view.metric,), (situation,), view.brushed, view.chosen)
    charts = tuple(chart for _, chart in shown)
    match result.asked.study:
        case Sweep():
            return Drawn(result, charts, "")
        case ParameterMap():
            return Drawn(result, charts, _map_words(result))
        case Sensitivity():
            return Drawn(result, charts, "", sensitivity_sheet(result, situation))
        case GlobalSensitivity():
            words = f"From {sobol_shares(result).samples} samples."
            return Drawn(result, charts, words, sobol_sheet(result, situation))
        case ToleranceDraw():
            costs = cost_sheet(result, view.metric, situation, view.units)
            return Drawn(result, charts, _built_words(result), costs)
        case ParetoSearch() as study:
            return _searched(result, study, view, charts)
        case TunedStart():
            row = tuned(result).row
            sheet = tuned_sheet(result, view.units) if row >= 0 else None
            return Drawn(result, charts, "" if row >= 0 else "No car has all wished figures yet.", sheet, row)


def _map_words(result: StudyResult) -> str:
    if not result.asked.wanted:
        return _NO_TARGET.format("which cars meet them")
    grid = map_grid(result)
    good, known = int(grid.feasible.sum()), int(grid.known.sum())
    return f"{good:,} of {known:,} cars meet all targets; dots mark those that miss one."


def _built_words(result: StudyResult) -> str:
    if not result.asked.wanted:
        return _NO_TARGET.format("the yield")
    built = built_cars(result)
    whole = built.whole
    words = (
        f"{percent(whole.share)} of {whole.cars:,} cars as built meet all targets "
        f"(95 % sure: {percent(whole.low)} to {percent(whole.high)})."
    )
    dearest = built.costs[0]
    if dearest.gained > 0:
        words += (
            f"\nDearest: {dearest.place.label}; were it exact, {percent(dearest.gained)} more would pass."
        )
    elif dearest.gained <= 0:
        words += "\nNo tolerance alone, made exact, would let more cars pass."
    return words


def _searched(result: StudyResult, study: ParetoSearch, view: View, charts: tuple[Chart, ...]) -> Drawn:
    rows, pairs = front(result).rows.tolist(), study_pairs(study)
    if not rows:
        return Drawn(result, charts, _no_front(study, result), pairs=pairs)
    listed = list(view.brushed) or rows
    if view.chosen >= 0 and view.chosen not in listed:
        listed.insert(0, view.chosen)
    words = f"Front of {len(rows):,} cars. {_HOW_TO_BRUSH}"
    if len(rows) == 1:
        words = (
            "Front of 1 car, which is best in all objectives: choose some that conflict to see a compromise."
        )
    if view.brushed:
        words = f"{len(view.brushed):,} of {len(rows):,} cars of the front brushed. {_HOW_TO_BRUSH}"
    return Drawn(result, charts, words, front_sheet(result, listed, view.units), view.chosen, pairs)


def _no_front(study: ParetoSearch, result: StudyResult) -> str:
    if study.within_targets and result.asked.wanted:
        return (
            f"None of {result.columns.done:,} cars meets all targets, so there is no front. Loosen the "
            "targets on the Scorecard, widen bounds, or take the tick off “Within targets”."
        )
    return "No car has all objectives."


def row_at(result: StudyResult, pair: tuple[int, int], x: float, y: float) -> int:
    """Number of the car with these values of two objectives; -1 where there is none."""
    every = front(result).every
    found = np.flatnonzero((every[:, pair[0]] == x) & (every[:, pair[1]] == y))
    return int(found[0]) if found.size else -1


def rows_within(
    result: StudyResult, pair: tuple[int, int], area: tuple[float, float, float, float]
) -> tuple[int, ...]:
    """Numbers of the cars of the front in a rectangle: least x, greatest x, least y, greatest y."""
    found = front(result)
    x, y = (found.objectives[:, one] for one in pair)
    inside = (area[0] <= x) & (x <= area[1]) & (area[2] <= y) & (y <= area[3])
    return tuple(found.rows[inside].tolist())


def _thinned(chart: Chart) -> Chart:
    return replace(chart, curves=tuple(map(_fewer, chart.curves)))


def _fewer(curve: Curve) -> Curve:
    if curve.form != "points" or len(curve.x) <= _MOST_POINTS:
        return curve
    step = -(-len(curve.x) // _MOST_POINTS)
    return replace(curve, x=curve.x[::-step], y=curve.y[::-step])  # the latest are sure to be there
