"""Charts of studies: the numbers of the results, at the places and levels that they claim."""

from __future__ import annotations

import numpy as np
import pytest

from models.charts import Curve
from models.charts.figure import figure, figure_bytes
from models.charts.studies import (
    cost_chart,
    figure_spread_chart,
    front_chart,
    front_numbers_chart,
    map_chart,
    sensitivity_chart,
    sobol_chart,
    study_sweep_chart,
    yield_chart,
)
from models.charts.table import table_text
from models.fields import replaced
from models.studies import (
    StudyResult,
    ask,
    built_cars,
    front,
    map_grid,
    run_study,
    sensitivities,
    sobol_shares,
)
from models.study import (
    GlobalSensitivity,
    Parameter,
    ParameterMap,
    Sensitivity,
    Situation,
    Study,
    Sweep,
    Tolerance,
    ToleranceDraw,
)
from models.target import Target
from models.units import METRIC
from tests.study_cases import FRONT, RATE, REAR, SEARCH, project

OTHER = Parameter(place=REAR, kind="rate", low=20e3, high=32e3)
METRICS = ("front_ride_frequency", "heave_rate")
TARGET = Target(metric="front_ride_frequency", kind="frequency", high=1.15)


def answer(study: Study) -> StudyResult:
    return run_study(ask(project(TARGET), study))


@pytest.fixture(scope="module")
def mapped() -> StudyResult:
    return answer(ParameterMap(x=RATE, y=OTHER, x_points=7, y_points=5, metrics=METRICS))


@pytest.fixture(scope="module")
def built() -> StudyResult:
    tolerances = tuple(Tolerance(place=place, kind="rate", plus_minus=4e3) for place in (FRONT, REAR))
    return answer(ToleranceDraw(tolerances=tolerances, draws=60, exact_draws=20, metrics=METRICS))


def test_sweep_has_a_curve_for_each_situation() -> None:
    study = Sweep(parameter=RATE, points=4, metrics=METRICS, situations=(Situation(), Situation(speed=40.0)))
    result = answer(study)
    chart = study_sweep_chart(result, "front_ride_frequency")
    own = [curve for curve in chart.curves if curve.role != "limit"]
    assert [curve.variant for curve in own] == ["144 km/h", "run of the project"]
    assert own[1].y.tolist() == result.columns.values[:, 0, 0].tolist()
    assert own[1].x.tolist() == result.columns.rows[:, 0].tolist()
    assert [curve.y.tolist() for curve in chart.curves if curve.role == "limit"] == [[1.15, 1.15]]
    assert [mark.x for mark in chart.marks] == [26e3]
    assert chart.x.title(METRIC) == "Front spring rate (N/mm)"


def test_contours_stand_where_the_figure_has_their_level(mapped: StudyResult) -> None:
    """Heave rate is 2 (k_f + k_r): its contours are straight, k_f + k_r = level / 2."""
    chart = map_chart(mapped, "heave_rate", METRIC)
    contours = [curve for curve in chart.curves if curve.variant == "Heave rate, N/mm"]
    assert len(contours) >= 3
    for curve in contours:
        total = 2 * (curve.x + curve.y)
        assert total[np.isfinite(total)] == pytest.approx(float(curve.label) * 1e3, rel=1e-9)
    assert {note.text for note in chart.notes} == {curve.label for curve in contours}
    limit = next(curve for curve in chart.curves if curve.variant.endswith("≤ 1.15 Hz"))
    # Straight up the map, where the front alone decides; linear between cars that are 2 N/mm apart.
    assert np.nanmax(limit.x) - np.nanmin(limit.x) < 1.0
    missing = next(curve for curve in chart.curves if curve.variant == "misses a target")
    assert missing.x.size == np.count_nonzero(~map_grid(mapped).feasible) > 0
    assert missing.x.min() > np.nanmax(limit.x)
    car = next(curve for curve in chart.curves if curve.variant == "car as it is")
    assert (car.x.tolist(), car.y.tolist(), car.form) == ([26e3], [26e3], "points")


def test_map_of_a_figure_that_does_not_vary_or_is_not_there_yet(mapped: StudyResult) -> None:
    columns = mapped.columns.copy()
    columns.values[:] = np.nan
    columns.state[:] = 0
    empty = StudyResult(mapped.asked, columns, mapped.total, False)
    assert [curve.variant for curve in map_chart(empty, "heave_rate", METRIC).curves] == ["car as it is"]
    columns.values[:] = 1.0
    level = map_chart(StudyResult(mapped.asked, columns, mapped.total, True), "heave_rate", METRIC)
    assert not level.notes


def test_bars_have_the_height_of_the_results() -> None:
    slopes = answer(Sensitivity(places=(FRONT, REAR, "body.mass"), metrics=METRICS))
    chart = sensitivity_chart(slopes, "front_ride_frequency")
    lengths = lengths_of(chart.curves[0])
    shares = sensitivities(slopes).normalised[:, 0, 0]
    assert sorted(lengths) == sorted(shares.tolist())
    assert (np.diff(np.abs(lengths)) <= 0).all()
    places = [place.label for place in slopes.asked.places]
    assert chart.y.names[-1] == places[int(np.argmax(np.abs(shares)))]  # on top
    assert chart.extent("y") == (0.5, 3.5)
    assert chart.measure is chart.x

    sobol = answer(GlobalSensitivity(parameters=(RATE, OTHER), samples=8, metrics=METRICS))
    chart = sobol_chart(sobol, "heave_rate")
    whole, alone = (lengths_of(curve) for curve in chart.curves)
    found = sobol_shares(sobol)
    order = np.argsort(-found.total[:, 0, 1])
    assert whole == found.total[order, 0, 1].tolist()
    assert alone == found.first[order, 0, 1].tolist()
    assert chart.y.names[::-1] == tuple(sobol.asked.places[row].label for row in order)


def lengths_of(curve: Curve) -> list[float]:
    """Lengths of lying bars, from the top."""
    lengths: list[float] = curve.x.reshape(-1, 4)[::-1, 1].tolist()
    return lengths


def test_built_cars(built: StudyResult) -> None:
    spread = figure_spread_chart(built, "front_ride_frequency")
    assert spread.curves[0].y[1:-1:2].sum() == pytest.approx(1.0)  # all cars stand
    assert [mark.x for mark in spread.marks] == [1.15]
    found = built_cars(built)
    chart = yield_chart(built)
    bars, sure = chart.curves
    assert lengths_of(bars) == [found.whole.share, found.targets[0].share]
    assert sure.x[:2].tolist() == [found.whole.low, found.whole.high]
    assert sure.y[:2].tolist() == [2.0, 2.0]
    assert chart.y.names == ("Front ride frequency", "all targets")
    costs = cost_chart(built)
    assert lengths_of(costs.curves[0]) == [cost.gained for cost in found.costs]
    assert costs.y.names[::-1] == tuple(cost.place.label for cost in found.costs)


def test_names_beside_bars_in_files(built: StudyResult) -> None:
    chart = cost_chart(built)
    labels = [text.get_text() for text in figure(chart, METRIC).axes[0].get_yticklabels()]
    assert labels == list(chart.y.names)
    text = table_text(chart, METRIC)
    assert f"# Tolerance: 1 {chart.y.names[0]}, 2 {chart.y.names[1]}" in text
    assert "Yield gained if exact (%)" in text


def test_front_and_what_is_chosen() -> None:
    result = answer(replaced(SEARCH, ("within_targets",), False))
    found = front(result)
    first, last = int(found.rows[0]), int(found.rows[-1])
    chart = front_chart(result, 1, 0, brushed=(first, last), chosen=first)
    curves = {curve.variant: curve for curve in chart.curves if curve.form == "points"}
    assert set(curves) == {"all cars", "front", "brushed", "chosen"}
    assert curves["front"].x.tolist() == found.objectives[:, 1].tolist()
    assert curves["front"].y.tolist() == found.objectives[:, 0].tolist()
    assert curves["chosen"].x.tolist() == [found.objectives[0, 1]]
    assert curves["brushed"].y.tolist() == found.objectives[[0, -1], 0].tolist()
    cross = next(curve for curve in chart.curves if curve.form == "path")
    assert (cross.y[0], cross.x[3]) == (found.objectives[0, 0], found.objectives[0, 1])


def test_numbers_of_the_front_are_shares_of_their_bounds() -> None:
    result = answer(replaced(SEARCH, ("within_targets",), False))
    rows = front(result).rows
    chart = front_numbers_chart(result, brushed=(int(rows[1]),), chosen=int(rows[1]))
    every, brushed, chosen = chart.curves
    low = np.array([one.low for one in SEARCH.parameters])
    high = np.array([one.high for one in SEARCH.parameters])
    shares = (result.columns.rows[rows] - low) / (high - low)
    count = len(low)
    assert every.y.reshape(len(rows), count + 1)[:, :count] == pytest.approx(shares, rel=1e-12)
    assert np.isnan(every.x[count])  # a line per car
    assert brushed.y[:count] == pytest.approx(shares[1], rel=1e-12)
    assert chosen.y[:count].tolist() == brushed.y[:count].tolist()
    assert chart.x.names == tuple(place.label for place in result.asked.places)
    assert every.role == "limit"  # faint behind what is brushed


def test_on_paper_points_are_points_and_paths_are_paths(mapped: StudyResult) -> None:
    chart = map_chart(mapped, "heave_rate", METRIC)
    axes = figure(chart, METRIC).axes[0]
    drawn = {str(line.get_gid()): line for line in axes.lines if line.get_gid()}
    for curve in chart.curves:
        line = drawn[curve.name]
        assert (line.get_marker() == "o") == (curve.form == "points")
        assert (line.get_linestyle() == "None") == (curve.form == "points")
        assert np.asarray(line.get_xdata()) * 1e3 == pytest.approx(curve.x, nan_ok=True)
    assert {text.get_text() for text in axes.texts} == {note.text for note in chart.notes}
    assert figure_bytes(chart, "svg", METRIC) == figure_bytes(chart, "svg", METRIC)
