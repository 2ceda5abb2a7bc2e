"""Charts of studies: curves, maps, bars, histograms and fronts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, product
from typing import Any

import contourpy
import numpy as np
from numpy.typing import NDArray

from models.charts.bars import lying_bars
from models.charts.chart import Array, Axis, Chart, Curve, Mark, Note, Role
from models.charts.ticks import round_ticks
from models.judge.figure import Figure
from models.studies import (
    Place,
    StudyResult,
    Wanted,
    built_cars,
    front,
    map_grid,
    sensitivities,
    sobol_shares,
)
from models.study import (
    GlobalSensitivity,
    ParameterMap,
    ParetoSearch,
    Sensitivity,
    Sweep,
    ToleranceDraw,
    TunedStart,
)
from models.target import Target, target_text
from models.units import UnitChoice

__all__ = [
    "cost_chart",
    "figure_spread_chart",
    "front_chart",
    "front_numbers_chart",
    "map_chart",
    "sensitivity_chart",
    "sobol_chart",
    "study_charts",
    "study_pairs",
    "study_sweep_chart",
    "yield_chart",
]

#: Objectives up to which each is drawn against each other one.
_ALL_PAIRS = 4
_BINS = 40
_LEVELS = 9
#: Half of the width of a bar, and how far beside each other two of them stand.
_HALF, _ASIDE = 0.3, 0.2
#: Bars beyond these, the least of all, are left to the table.
_MOST_BARS = 14
#: Colours of what is brushed and of the car that is chosen.
_BRUSHED, _CHOSEN = 3, 1


def study_charts(
    result: StudyResult,
    units: UnitChoice,
    metrics: Sequence[str],
    situations: Sequence[int] = (0,),
    brushed: Sequence[int] = (),
    chosen: int = -1,
) -> Iterator[tuple[str, Chart]]:
    """Charts of a result of any kind, each with a name among them that stays the same.

    Args:
        result: whole or in part.
        units: of maps, whose levels are round numbers in them.
        metrics: keys of the figures that are drawn, of kinds that draw one at a time.
        situations: numbers of those in which they are drawn, of kinds that draw one at a time.
        brushed, chosen: rows of a search, as of :func:`front_chart`.
    """
    study = result.asked.study
    match study:
        case Sweep():
            yield from ((metric, study_sweep_chart(result, metric)) for metric in metrics)
        case ParetoSearch():
            for x, y in study_pairs(study):
                yield f"front-{x + 1}-{y + 1}", front_chart(result, x, y, brushed, chosen)
            if front(result).rows.size:
                yield "numbers", front_numbers_chart(result, brushed, chosen)
        case TunedStart():
            return
        case _:
            for metric, situation in product(metrics, situations):
                yield f"{metric}-{situation + 1}", _one(result, units, metric, situation)
            if isinstance(study, ToleranceDraw) and result.asked.wanted:
                yield "yield", yield_chart(result)
                yield "cost", cost_chart(result)


def study_pairs(study: ParetoSearch) -> tuple[tuple[int, int], ...]:
    """Numbers of the objectives that are drawn against each other, x and y."""
    count = len(study.objectives)
    if count <= _ALL_PAIRS:
        return tuple(combinations(range(count), 2))
    return tuple((0, y) for y in range(1, count))


def _one(result: StudyResult, units: UnitChoice, metric: str, situation: int) -> Chart:
    """Chart of a figure in a situation."""
    match result.asked.study:
        case ParameterMap():
            return map_chart(result, metric, units, situation)
        case Sensitivity():
            return sensitivity_chart(result, metric, situation)
        case GlobalSensitivity():
            return sobol_chart(result, metric, situation)
        case ToleranceDraw():
            return figure_spread_chart(result, metric, situation)
    raise TypeError(f"a study of the kind {result.asked.study.kind} has no chart of one figure")


def study_sweep_chart(result: StudyResult, metric: str, wanted: tuple[Wanted, ...] | None = None) -> Chart:
    """A figure over the parameter, a curve per situation; the car as it is and the limits are marked."""
    number, place = result.metric(metric), result.asked.places[0]
    x, order = result.columns.rows[:, 0], np.argsort(result.columns.rows[:, 0], kind="stable")
    limits = _limits(result, number, wanted)
    curves = [
        Curve("limit", "", np.array([x.min(), x.max()]), np.full(2, level), "limit", place="rear")
        for level in dict.fromkeys(level for _, one in limits for level in one)
        if len(x)
    ]
    for situation, one in reversed(list(enumerate(result.asked.situations))):
        y = result.columns.values[order, situation, number]
        curves.append(_of_situation(situation, one.name, x[order], y))
    figure = result.asked.figures[number]
    title = f"{figure.label} over {_within(place.label)}"
    return Chart(
        f"study-sweep-{metric}", title, _axis(place), _figure_axis(figure), tuple(curves), _now(place)
    )


def map_chart(
    result: StudyResult,
    metric: str,
    units: UnitChoice,
    situation: int = 0,
    wanted: tuple[Wanted, ...] | None = None,
) -> Chart:
    """Contours of a figure over two parameters, at round levels in ``units``.

    Cars that miss a target and cars that were refused are dots, so that what is left bare is the feasible
    region; the limits of the targets are contours of their own.
    """
    number, grid = result.metric(metric), map_grid(result, wanted)
    figure, (across, up) = result.asked.figures[number], result.asked.places
    scale, unit = _figure_axis(figure).display(units)
    name = figure.label if unit == "1" else f"{figure.label}, {unit}"
    values = grid.values[:, :, situation, number]
    curves, notes = [], []
    unfit = grid.known & ~grid.feasible
    at_x, at_y = np.meshgrid(grid.x, grid.y)
    curves.append(Curve("misses a target", "", at_x[unfit], at_y[unfit], "limit", form="points"))
    for level, text in _levels(values, scale):
        x, y = _contour(grid.x, grid.y, values, level)
        if x.size:
            curves.append(Curve(name, text, x, y, "baseline", form="path"))
            notes.append(_note(x, y, text))
    for shade, one in enumerate(result.asked.wanted if wanted is None else wanted):
        own = grid.values[:, :, one.situation, one.metric]
        for level in _ends(one.target):
            x, y = _contour(grid.x, grid.y, own, level)
            unit = "" if units[one.target.kind] == "1" else f" {units[one.target.kind]}"
            words = f"{one.words} {target_text(one.target, units)}{unit}"
            curves.append(Curve(words, "", x, y, "other", shade=shade, form="path"))
    car = np.array([across.value]), np.array([up.value])
    curves.append(Curve("car as it is", "", *car, form="points"))
    kept = tuple(curve for curve in curves if curve.x.size)
    title = f"{name}; up: {_within(up.label)}"
    return Chart(f"study-map-{metric}", title, _axis(across), _axis(up), kept, notes=tuple(notes))


def sensitivity_chart(result: StudyResult, metric: str, situation: int = 0) -> Chart:
    """Per cent of a figure per per cent of each parameter, the greatest on top."""
    number = result.metric(metric)
    shares = sensitivities(result).normalised[:, situation, number]
    order = _greatest(np.abs(shares))
    figure = result.asked.figures[number]
    x = Axis(f"{figure.label}, change per change", "ratio", sign="% per %")
    bars = lying_bars(0.0, _HALF, shares[order])
    curve = Curve(result.asked.situations[situation].name, "", *bars, form="path")
    title = f"What moves {_within(figure.label)}"
    return Chart("study-sensitivity", title, x, _up("Parameter", _labels(result, order)), (curve,))


def sobol_chart(result: StudyResult, metric: str, situation: int = 0) -> Chart:
    """Share of each parameter in the variance of a figure, alone and with its interactions."""
    number, found = result.metric(metric), sobol_shares(result)
    alone, total = found.first[:, situation, number], found.total[:, situation, number]
    order = _greatest(total)
    figure = result.asked.figures[number]
    whole = Curve(
        "with interactions", "", *lying_bars(_ASIDE, _HALF / 2, total[order]), "baseline", form="path"
    )
    own = Curve("alone", "", *lying_bars(-_ASIDE, _HALF / 2, alone[order]), form="path")
    title = f"What {_within(figure.label)} depends on"
    y = _up("Parameter", _labels(result, order))
    return Chart("study-sobol", title, Axis("Share of the variance", "share"), y, (whole, own))


def figure_spread_chart(
    result: StudyResult, metric: str, situation: int = 0, wanted: tuple[Wanted, ...] | None = None
) -> Chart:
    """Share of cars as built over a figure; limits are marked."""
    study = result.asked.study
    assert isinstance(study, ToleranceDraw)
    number = result.metric(metric)
    values = result.columns.values[: study.draws, situation, number]
    cars = np.count_nonzero(result.columns.state[: study.draws])
    counts, edges = np.histogram(values[np.isfinite(values)], _BINS)
    y = np.concatenate([[0.0], np.repeat(counts / max(cars, 1), 2), [0.0]])
    figure = result.asked.figures[number]
    limits = [level for at, ends in _limits(result, number, wanted) if at == situation for level in ends]
    return Chart(
        f"study-spread-{metric}",
        f"{figure.label} of cars as built",
        _figure_axis(figure),
        Axis("Share of cars", "share"),
        (Curve(result.asked.situations[situation].name, "", np.repeat(edges, 2), y),),
        tuple(Mark(level, "limit") for level in dict.fromkeys(limits)),
    )


def yield_chart(result: StudyResult, wanted: tuple[Wanted, ...] | None = None) -> Chart:
    """Share of cars that meet all targets and each of them, the least first, with its confidence interval."""
    built = built_cars(result, wanted)
    least = sorted(built.targets, key=lambda one: np.nan_to_num(one.share))
    every = (built.whole, *least)[:_MOST_BARS]
    place = np.arange(float(len(every)), 0.0, -1.0)
    interval = np.array([[one.low, one.high, np.nan] for one in every])
    curves = (
        Curve(
            "cars as built",
            "",
            *lying_bars(0.0, _HALF, np.array([one.share for one in every])),
            form="path",
        ),
        Curve("95 % sure", "", interval.ravel(), np.repeat(place, 3), "baseline", form="path"),
    )
    y = _up("Target", [one.words for one in every])
    return Chart("study-yield", "Yield", Axis("Share of cars", "share"), y, curves)


def cost_chart(result: StudyResult, wanted: tuple[Wanted, ...] | None = None) -> Chart:
    """Yield that would be gained if one number after the other were exact, the dearest first."""
    costs = built_cars(result, wanted).costs[:_MOST_BARS]
    bars = lying_bars(0.0, _HALF, np.array([cost.gained for cost in costs]))
    y = _up("Tolerance", [cost.place.label for cost in costs])
    x = Axis("Yield gained if exact", "share")
    return Chart(
        "study-costs", "What each tolerance costs", x, y, (Curve("cars as built", "", *bars, form="path"),)
    )


def front_chart(
    result: StudyResult, x: int = 0, y: int = 1, brushed: Sequence[int] = (), chosen: int = -1
) -> Chart:
    """Two objectives of all cars, those of the front, those brushed and the one chosen on top.

    Args:
        result: of a search.
        x, y: numbers of the objectives.
        brushed: rows that are shown apart.
        chosen: row at which lines cross; -1 for none.
    """
    study, found = result.asked.study, front(result)
    assert isinstance(study, ParetoSearch)
    figures = [result.asked.figures[result.metric(study.objectives[one].metric)] for one in (x, y)]
    across, up = found.every[:, x], found.every[:, y]

    def dots(name: str, rows: NDArray[np.generic] | list[int], role: Role, **look: Any) -> Curve:
        return Curve(name, "", across[rows], up[rows], role, form="points", **look)

    curves = [
        dots("misses a target", ~found.fit, "limit"),
        dots("all cars", found.fit, "baseline"),
        dots("front", found.rows, "candidate"),
        dots("brushed", list(brushed), "other", shade=_BRUSHED, side="left"),
    ]
    if chosen >= 0:
        cross = _cross(across, up, chosen)
        curves.append(Curve("chosen", "", *cross, "other", shade=_CHOSEN, form="path"))
        curves.append(dots("chosen", [chosen], "other", shade=_CHOSEN, side="left"))
    shown = tuple(curve for curve in curves if np.isfinite(curve.x).any())
    title = f"{figures[1].label} against {_within(figures[0].label)}"
    return Chart(f"study-front-{x}-{y}", title, _figure_axis(figures[0]), _figure_axis(figures[1]), shown)


def front_numbers_chart(result: StudyResult, brushed: Sequence[int] = (), chosen: int = -1) -> Chart:
    """A line per car of the front over its numbers, each as a share of the range between its bounds."""
    study, found = result.asked.study, front(result)
    assert isinstance(study, ParetoSearch)
    low = np.array([one.low for one in study.parameters])
    high = np.array([one.high for one in study.parameters])
    shares = (result.columns.rows - low) / (high - low)

    def lines(name: str, rows: Sequence[int], role: Role, **look: Any) -> Curve:
        gaps = np.full((len(rows), 1), np.nan)
        x = np.hstack([np.tile(np.arange(1.0, len(low) + 1), (len(rows), 1)), gaps])
        y = np.hstack([shares[list(rows)], gaps])
        return Curve(name, "", x.ravel(), y.ravel(), role, form="path", **look)

    curves = [
        lines("front", found.rows.tolist(), "limit" if len(brushed) else "candidate", side="right"),
        lines("brushed", brushed, "other", shade=_BRUSHED),
        lines("chosen", [chosen] if chosen >= 0 else [], "other", shade=_CHOSEN, side="left"),
    ]
    x = Axis("Number", "ratio", names=tuple(place.label for place in result.asked.places))
    shown = tuple(curve for curve in curves if curve.x.size)
    return Chart(
        "study-front-numbers", "Numbers of the front", x, Axis("From least to greatest", "share"), shown
    )


def _cross(x: Array, y: Array, row: int) -> tuple[Array, Array]:
    """Lines through a point over all points that there are."""
    ends = np.nanmin(x), np.nanmax(x), np.nanmin(y), np.nanmax(y)
    across = np.array([ends[0], ends[1], np.nan, x[row], x[row]])
    return across, np.array([y[row], y[row], np.nan, ends[2], ends[3]])


def _greatest(sizes: Array) -> NDArray[np.intp]:
    """Numbers of the bars that are drawn, the greatest first."""
    return np.argsort(-np.nan_to_num(sizes), kind="stable")[:_MOST_BARS]


def _labels(result: StudyResult, order: NDArray[np.intp]) -> list[str]:
    return [result.asked.places[row].label for row in order]


def _within(label: str) -> str:
    """A name within a sentence: "front spring rate", but "RMS travel"."""
    return label if label[1:2].isupper() else label[:1].lower() + label[1:]


def _axis(place: Place) -> Axis:
    return Axis(place.label, place.quantity.kind_name)


def _figure_axis(figure: Figure) -> Axis:
    return Axis(figure.label, figure.kind)


def _of_situation(number: int, name: str, x: Array, y: Array) -> Curve:
    if number == 0:
        return Curve(name, "", x, y)
    return Curve(name, "", x, y, "other", shade=number - 1)


def _now(place: Place) -> tuple[Mark, ...]:
    return (Mark(place.value, "car as it is"),)


def _up(label: str, names: Sequence[str]) -> Axis:
    """Names beside lying bars, the first one on top."""
    return Axis(label, "ratio", names=tuple(names[::-1]))


def _ends(target: Target) -> tuple[float, ...]:
    return tuple(level for level in (target.low, target.high) if level is not None)


def _limits(
    result: StudyResult, metric: int, wanted: tuple[Wanted, ...] | None
) -> list[tuple[int, tuple[float, ...]]]:
    """Situation and limits of the targets of a figure."""
    every = result.asked.wanted if wanted is None else wanted
    return [(one.situation, _ends(one.target)) for one in every if one.metric == metric]


def _levels(values: Array, scale: float) -> list[tuple[float, str]]:
    """Round levels between the least and the greatest value, SI and as text in the unit of display."""
    known = values[np.isfinite(values)] / scale
    if not known.size or np.ptp(known) == 0:
        return []
    ticks = round_ticks(float(known.min()), float(known.max()), _LEVELS)
    return [(tick.place * scale, tick.text) for tick in ticks if tick.text]


def _contour(x: Array, y: Array, values: Array, level: float) -> tuple[Array, Array]:
    """Pieces of the contour of (Y, X) values, with NaN between them; none where values are not finite."""
    lines = contourpy.contour_generator(x, y, np.ma.masked_invalid(values)).lines(level)
    gap = np.full((1, 2), np.nan)
    pieces = np.concatenate(
        [part for line in lines for part in (np.asarray(line), gap)] or [np.empty((0, 2))]
    )
    return pieces[:-1, 0], pieces[:-1, 1]


def _note(x: Array, y: Array, text: str) -> Note:
    """The text in the middle of the longest piece."""
    pieces = np.split(np.arange(len(x)), np.flatnonzero(np.isnan(x)))
    longest = max(pieces, key=len)
    middle = int(longest[len(longest) // 2])
    return Note(float(x[middle]), float(y[middle]), text)
