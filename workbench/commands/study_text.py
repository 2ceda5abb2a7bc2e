"""Results of studies as tables."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

import numpy as np

from models.studies import (
    Place,
    StudyResult,
    Wanted,
    built_cars,
    front,
    map_grid,
    sensitivities,
    sobol_shares,
    tuned,
)
from models.studies.tolerances import CONFIDENCE, Yield
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
from workbench.commands.text import table_lines

__all__ = ["study_text"]

# Columns of figures that fit beside each other; all are in the JSON and in the file.
_MOST_COLUMNS = 6
_MOST_ROWS = 60
_MOST_REASONS = 10
_NO_TARGET = "No target holds in these situations, so that there is nothing to meet."


def study_text(result: StudyResult, path: Path, units: UnitChoice) -> str:
    """Tables of one study."""
    study, columns = result.asked.study, result.columns
    lines = [
        study.name,
        "=" * len(study.name),
        f"{study.kind} of {result.asked.variant}, {columns.done} cars",
    ]
    kinds = result.refusals()
    lines += [f"refused: {kind.words}" for kind in kinds[:_MOST_REASONS]]
    lines += [f"refused: {len(kinds) - _MOST_REASONS} other kinds of reason"] * (len(kinds) > _MOST_REASONS)
    for number, situation in enumerate(result.asked.situations):
        if len(result.asked.situations) > 1:
            lines += ["", f"Situation: {situation.name}"]
        lines += _situation_lines(result, number, units)
    lines += _whole_lines(result, units)
    return "\n".join([*lines, "", f"Results: {path}"])


# -- in each situation -----------------------------------------------------------------------------------


def _situation_lines(result: StudyResult, situation: int, units: UnitChoice) -> list[str]:
    match result.asked.study:
        case Sweep():
            return _sweep_lines(result, situation, units)
        case ParameterMap():
            return _map_lines(result, situation, units)
        case Sensitivity():
            shares = sensitivities(result).normalised[:, situation]
            return _shares_table(result, "Figure, %/%", shares)
        case GlobalSensitivity():
            found = sobol_shares(result)
            return [
                *_shares_table(result, "Share of the variance, alone", found.first[:, situation]),
                *_shares_table(result, "With interactions", found.total[:, situation]),
            ]
        case _:
            return []


def _sweep_lines(result: StudyResult, situation: int, units: UnitChoice) -> list[str]:
    place, shown = result.asked.places[0], _shown(result)
    head = [_place_head(place, units), *(_figure_head(result, number, units) for number in shown)]
    rows = []
    for row, values in zip(result.columns.rows, result.columns.values[:, situation], strict=True):
        figures = [_figure_value(result, number, values[number], units) for number in shown]
        rows.append([_place_value(place, row[0], units), *figures])
    return ["", *table_lines([head, *rows[:_MOST_ROWS]], 0), *_left_out(rows)]


def _map_lines(result: StudyResult, situation: int, units: UnitChoice) -> list[str]:
    """Least and greatest value of each figure, and where."""
    rows = []
    for number in _shown(result):
        values = result.columns.values[:, situation, number]
        known = np.flatnonzero(np.isfinite(values))
        for word, find in (("least", np.argmin), ("greatest", np.argmax)):
            if known.size:
                row = int(known[find(values[known])])
                value = _figure_value(result, number, values[row], units)
                rows.append(
                    [_figure_head(result, number, units), word, value, *_row_values(result, row, units)]
                )
    heads = [_place_head(place, units) for place in result.asked.places]
    return ["", *table_lines([["Figure", "", "Value", *heads], *rows], 2)]


def _shares_table(result: StudyResult, head: str, shares: np.ndarray) -> list[str]:
    """Rows of figures, columns of parameters; figures that nothing moves are left out."""
    labels = [place.label for place in result.asked.places]
    rows = [
        [figure.label, *(_number(value) for value in column)]
        for figure, column in zip(result.asked.figures, shares.T.tolist(), strict=True)
        if np.nanmax(np.abs([0.0, *column])) > 1e-6
    ]
    return ["", *table_lines([[head, *labels], *rows], 1)]


# -- of the whole study ----------------------------------------------------------------------------------


def _whole_lines(result: StudyResult, units: UnitChoice) -> list[str]:
    match result.asked.study:
        case ParameterMap():
            if not result.asked.wanted:
                return ["", _NO_TARGET]
            share = map_grid(result).feasible.mean()
            return ["", f"All targets are met on {100 * share:.3g} % of the map."]
        case ToleranceDraw():
            return _yield_lines(result, units)
        case ParetoSearch():
            return _front_lines(result, units)
        case TunedStart():
            return _tuned_lines(result, units)
        case _:
            return []


def _yield_lines(result: StudyResult, units: UnitChoice) -> list[str]:
    built = built_cars(result)
    head = ["Target", "Yield, %", f"{100 * CONFIDENCE:g} % sure from", "to", "Cars"]
    rows = [_yield_row(one) for one in (built.whole, *built.targets)]
    costs = []
    for cost in built.costs:
        size = _place_value(cost.place, cost.plus_minus, units)
        unit = units[cost.place.quantity.kind_name]
        costs.append([cost.place.label, f"± {size}", unit, _number(100 * cost.gained)])
    if not result.asked.wanted:
        return ["", _NO_TARGET]
    return [
        "",
        *table_lines([head, *rows], 1),
        "",
        *table_lines([["Tolerance", "", "Unit", "Yield gained if exact, %"], *costs], 1),
    ]


def _yield_row(one: Yield) -> list[str]:
    shares = (_number(100 * value) for value in (one.share, one.low, one.high))
    return [one.words, *shares, f"{one.passed} of {one.cars}"]


def _front_lines(result: StudyResult, units: UnitChoice) -> list[str]:
    study, found = result.asked.study, front(result)
    assert isinstance(study, ParetoSearch)
    numbers = [result.metric(one.metric) for one in study.objectives]
    head = [*(_figure_head(result, number, units) for number in numbers)]
    head += [_place_head(place, units) for place in result.asked.places]
    rows = [
        [
            *(_figure_value(result, n, value, units) for n, value in zip(numbers, values, strict=True)),
            *_row_values(result, row, units),
        ]
        for row, values in zip(found.rows.tolist(), found.objectives, strict=True)
    ]
    if not rows:
        return ["", "No car meets all targets."]
    table = table_lines([head, *rows[:_MOST_ROWS]], 0)
    return ["", f"Front of {len(rows)} cars", *table, *_left_out(rows)]


def _tuned_lines(result: StudyResult, units: UnitChoice) -> list[str]:
    found = tuned(result)
    if found.row < 0:
        return ["", "No car could be computed."]
    places = [
        [place.label, value, units[place.quantity.kind_name]]
        for place, value in zip(result.asked.places, _row_values(result, found.row, units), strict=True)
    ]
    wishes = []
    for one, value, missed in zip(result.asked.wanted, found.values, found.missed.tolist(), strict=True):
        reached = _figure_value(result, one.metric, value, units)
        wishes.append([one.words, reached, _wish_unit(result, one, units), _number(100 * missed)])
    return [
        "",
        *table_lines([["Parameter", "Value", "Unit"], *places], 1),
        "",
        *table_lines([["Wish", "Reached", "Unit", "Missed by, %"], *wishes], 1),
    ]


# -- pieces ----------------------------------------------------------------------------------------------


def _left_out(rows: Sequence[object]) -> list[str]:
    more = len(rows) - _MOST_ROWS
    return [f"... and {more} more, which --json and the file have"] if more > 0 else []


def _shown(result: StudyResult) -> Sequence[int]:
    """Numbers of the figures of a table: those asked for, else those with a target, else the first."""
    asked = result.asked
    numbers: Iterable[int] = [asked.metrics.index(key) for key in asked.study.metrics]
    numbers = numbers or dict.fromkeys(one.metric for one in asked.wanted) or range(len(asked.metrics))
    return list(numbers)[:_MOST_COLUMNS]


def _place_head(place: Place, units: UnitChoice) -> str:
    return _with_unit(place.label, place.quantity.kind_name, units)


def _place_value(place: Place, value: float, units: UnitChoice) -> str:
    return format_value(float(value), units[place.quantity.kind_name], place.quantity.kind.si, 4)


def _row_values(result: StudyResult, row: int, units: UnitChoice) -> list[str]:
    pairs = zip(result.asked.places, result.columns.rows[row], strict=True)
    return [_place_value(place, value, units) for place, value in pairs]


def _figure_head(result: StudyResult, number: int, units: UnitChoice) -> str:
    figure = result.asked.figures[number]
    return _with_unit(figure.label, figure.kind, units)


def _figure_value(result: StudyResult, number: int, value: float, units: UnitChoice) -> str:
    kind = result.asked.figures[number].kind
    return format_value(float(value), units[kind], KINDS[kind].si)


def _wish_unit(result: StudyResult, one: Wanted, units: UnitChoice) -> str:
    unit = units[result.asked.figures[one.metric].kind]
    return "" if unit == "1" else unit


def _with_unit(label: str, kind: str, units: UnitChoice) -> str:
    return label if units[kind] == "1" else f"{label}, {units[kind]}"


def _number(value: float) -> str:
    return format_value(value, "1", "1")
