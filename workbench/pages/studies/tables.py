"""Tables of results, by kind of study."""

from __future__ import annotations

from collections.abc import Sequence
from math import nan
from textwrap import wrap

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError
from models.figure_text import unit_text
from models.studies import Situated, StudyResult, built_cars, front, sensitivities, sobol_shares, tuned
from models.studies.batch_alone import figures_alone
from models.study import Parameter, ParetoSearch, TunedStart
from models.target import target_text
from models.units import KINDS, UnitChoice, format_value
from models.vehicle import Vehicle
from workbench.pages.studies.sheet import Cell, Sheet

__all__ = ["cost_sheet", "front_sheet", "percent", "sensitivity_sheet", "sobol_sheet", "tuned_sheet"]

# Letters of a line of a head.
_LINE = 14


def sensitivity_sheet(result: StudyResult, situation: int) -> Sheet:
    """Per cent of each figure per per cent of each parameter."""
    shares = sensitivities(result).normalised[:, situation]
    return _figures_by_number("Sensitivities, % per %", result, shares, 1.0)


def sobol_sheet(result: StudyResult, situation: int) -> Sheet:
    """Per cent of the variance of each figure that each parameter takes part in."""
    total = sobol_shares(result).total[:, situation]
    return _figures_by_number("Share of the variance with interactions, %", result, 100 * total, 100.0)


def _figures_by_number(
    name: str, result: StudyResult, values: NDArray[np.float64], strongest: float
) -> Sheet:
    """A row per figure and a column per number of values (P, K)."""
    rows = tuple(
        (
            Cell(figure.label),
            *(Cell(_plain(v), v, round(v / strongest, 2)) for v in values[:, column].tolist()),
        )
        for column, figure in enumerate(result.asked.figures)
    )
    heads = ("Figure", *(_head(place.label) for place in result.asked.places))
    return Sheet(name, heads, rows, tuple(figure.key for figure in result.asked.figures))


def cost_sheet(result: StudyResult, metric: str, situation: int, units: UnitChoice) -> Sheet:
    """What each tolerance costs, the dearest first, and its share in the spread of the figure on show."""
    number = result.metric(metric)
    rows = []
    for cost in built_cars(result).costs:
        kind, share = cost.place.quantity.kind_name, 100 * float(cost.variance[situation, number])
        gained = 100 * cost.gained
        rows.append(
            (
                Cell(cost.place.label),
                Cell(_number(cost.plus_minus, kind, units)),
                Cell(unit_text(kind, units)),
                Cell(_plain(gained), gained),
                Cell(_plain(share), share, round(share / 100, 2)),
            )
        )
    heads = "Tolerance", "±", "Unit", "Yield gained\nif exact, %", "Share of the\nspread, %"
    keys = tuple(row[0].text for row in rows)
    return Sheet("What each tolerance costs", heads, tuple(rows), keys, frozenset({2}))


def tuned_sheet(result: StudyResult, units: UnitChoice) -> Sheet:
    """Wished figures and numbers of the tuned car beside those of the car as it is."""
    asked, found, study = result.asked, tuned(result), result.asked.study
    assert isinstance(study, TunedStart)
    rows = []
    before = [_figures_now(asked.car, one) for one in asked.situations]
    for one, value, miss in zip(asked.wanted, found.values.tolist(), found.missed.tolist(), strict=True):
        kind, now = one.target.kind, before[one.situation].get(one.target.metric, nan)
        met = "met" if miss == 0 else f"{percent(abs(miss))} off"
        texts = [_number(now, kind, units), _number(value, kind, units), unit_text(kind, units)]
        rows.append((one.words, *texts, target_text(one.target, units), met))
    bounds: tuple[Parameter, ...] = study.parameters
    for place, value, bound in zip(
        asked.places, result.columns.rows[found.row].tolist(), bounds, strict=True
    ):
        kind = place.quantity.kind_name
        texts = [_number(place.value, kind, units), _number(value, kind, units), unit_text(kind, units)]
        ends = f"{_number(bound.low, kind, units)} to {_number(bound.high, kind, units)}"
        at_end = "at its bound" if min(value - bound.low, bound.high - value) <= 0 else ""
        rows.append((place.label, *texts, ends, at_end))
    heads = "Figure or number", "Now", "Tuned", "Unit", "Wish or bounds", ""
    cells = tuple(tuple(map(Cell, row)) for row in rows)
    return Sheet("Tuned start", heads, cells, tuple(range(len(rows))), frozenset({3, 4, 5}))


def front_sheet(result: StudyResult, rows: Sequence[int], units: UnitChoice) -> Sheet:
    """Objectives, numbers and figures with a target of some cars of a search."""
    asked, study, every = result.asked, result.asked.study, front(result).every
    assert isinstance(study, ParetoSearch)
    heads, kinds, columns = ["Car"], [], []
    for number, objective in enumerate(study.objectives):
        figure = asked.figures[result.metric(objective.metric)]
        heads.append(_head(figure.label, figure.kind, units))
        kinds.append(figure.kind)
        columns.append(every[:, number])
    for number, place in enumerate(asked.places):
        heads.append(_head(place.label, place.quantity.kind_name, units))
        kinds.append(place.quantity.kind_name)
        columns.append(result.columns.rows[:, number])
    own = {objective.metric for objective in study.objectives}
    for one in asked.wanted:
        if one.target.metric not in own:
            heads.append(_head(one.words, one.target.kind, units))
            kinds.append(one.target.kind)
            columns.append(result.columns.values[:, one.situation, one.metric])
    cells = tuple(
        (
            Cell(f"{row + 1}", float(row)),
            *(
                Cell(_number(float(column[row]), kind, units), float(column[row]))
                for column, kind in zip(columns, kinds, strict=True)
            ),
        )
        for row in rows
    )
    return Sheet("Cars of the front", tuple(heads), cells, tuple(rows))


def _figures_now(car: Vehicle, one: Situated) -> dict[str, float]:
    try:
        figures = figures_alone(car, one.run, one.load, compiled=False)
    except InputError:  # the car as it is does not stand there; the tuned one does
        return {}
    return {figure.key: figure.value for figure in figures}


def percent(share: float) -> str:
    """A share for a reader."""
    return _plain(100 * share) + " %"


def _head(label: str, kind: str = "", units: UnitChoice | None = None) -> str:
    unit = unit_text(kind, units) if units is not None else ""
    return "\n".join([*wrap(label, _LINE, break_long_words=False), *([unit] if unit else [])])


def _number(value: float, kind: str, units: UnitChoice) -> str:
    return format_value(value, units[kind], KINDS[kind].si, 4).replace("-", "−")


def _plain(value: float) -> str:
    small = abs(value) < 5e-4
    return "0" if small else format_value(value, "1", "1").replace("-", "−")
