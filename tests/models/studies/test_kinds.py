"""Each kind of study against results that are known otherwise."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import binomtest, norm

from models.analysis import analyse
from models.fields import replaced
from models.judge import key_figures
from models.studies import (
    ask,
    built_cars,
    front,
    map_grid,
    run_study,
    sensitivities,
    sobol_shares,
    tuned,
)
from models.studies.judged import study_run
from models.studies.pareto import non_dominated, objective_values
from models.studies.task import Answer
from models.study import (
    GlobalSensitivity,
    Objective,
    Parameter,
    ParameterMap,
    ParetoSearch,
    Sensitivity,
    Situation,
    Sweep,
    Tolerance,
    ToleranceDraw,
    TunedStart,
)
from models.target import Target
from models.vehicle import Vehicle
from tests.study_cases import FRONT, REAR, Array, answered, by_formula, project, spread

RATE = {"place": FRONT, "kind": "rate", "low": 20e3, "high": 32e3}


def test_sweep_gives_the_figures_of_each_car() -> None:
    study = Sweep(parameter=Parameter(**RATE), points=5, metrics=("pitch_share", "front_ride_frequency"))
    asked, result = answered(study)
    assert result.finished
    assert result.columns.rows[:, 0].tolist() == [20e3, 23e3, 26e3, 29e3, 32e3]
    for row, values in zip(result.columns.rows[:, 0], result.columns.values, strict=True):
        car = replaced(Vehicle(), ("front", "spring", "rate"), float(row))
        figures = {one.key: one.value for one in key_figures(analyse(car, study_run(project().run)))}
        assert values[0].tolist() == [figures[key] for key in asked.metrics]


def test_even_ratio_keeps_its_ends() -> None:
    low, high = 20e3 + 1 / 3, 32e3 + 1 / 7
    study = Sweep(
        parameter=Parameter(place=FRONT, kind="rate", low=low, high=high),
        points=4,
        spacing="even ratio",
        metrics=("pitch_share",),
    )
    rows = answered(study)[1].columns.rows[:, 0]
    assert (rows[0], rows[-1]) == (low, high)
    assert np.ptp(rows[1:] / rows[:-1]) < 1e-12  # rounding


def test_map_knows_where_all_targets_are_met() -> None:
    """Ride frequency of an axle depends on its own rate alone, so the feasible region is a rectangle."""
    study = ParameterMap(
        x=Parameter(**RATE),
        y=Parameter(**{**RATE, "place": REAR}),
        x_points=7,
        y_points=4,
        metrics=("front_ride_frequency",),
    )
    targets = (
        Target(metric="front_ride_frequency", kind="frequency", high=1.15),
        Target(metric="rear_ride_frequency", kind="frequency", low=1.1),
    )
    asked, result = answered(study, *targets)
    grid = map_grid(result)
    assert grid.values.shape == (4, 7, 1, 2)
    assert grid.known.all()
    front_good = grid.values[0, :, 0, 0] <= 1.15
    rear_good = grid.values[:, 0, 0, asked.metrics.index("rear_ride_frequency")] >= 1.1
    assert 0 < front_good.sum() < 7
    assert 0 < rear_good.sum() < 4
    assert (grid.feasible == np.outer(rear_good, front_good)).all()


def test_sensitivity_of_powers_is_their_exponent() -> None:
    """Closed forms: heave rate is the sum of four wheel rates, a bar adds k (lever · track)² in roll."""
    study = Sensitivity(
        places=(FRONT, REAR, "front.stabiliser.bar_rate", "body.mass"),
        metrics=("heave_rate", "front_wheel_rate", "roll_rate"),
    )
    result = answered(study)[1]
    slopes = sensitivities(result)
    heave, wheel, roll = range(3)
    # Linear in the rates: exact but for rounding of the difference, 1e-16 / step.
    assert slopes.normalised[:2, 0, heave] == pytest.approx([0.5, 0.5], rel=1e-9)
    assert slopes.absolute[:2, 0, heave] == pytest.approx([2.0, 2.0], rel=1e-9)
    assert slopes.normalised[:2, 0, wheel] == pytest.approx([1.0, 0.0], abs=1e-9)
    # A bar of rate 0 cannot be made less: the slope is one-sided, and a share of nothing has no meaning.
    assert result.columns.refused == 0
    assert np.isnan(slopes.normalised[2]).all()
    lever = Vehicle().front.stabiliser.lever_ratio
    track = Vehicle().front.track
    # Opposite travels ±1 twist the bar by 2·lever; in roll they are ± track/2: K = k (lever·track)².
    assert slopes.absolute[2, 0, roll] == pytest.approx((lever * track) ** 2, rel=1e-9)


def test_second_order_at_the_end_of_a_range() -> None:
    """One-sided slopes of a parabola are exact, as those of three points are."""
    study = Sensitivity(places=("front.stabiliser.bar_rate", FRONT), step=0.1)

    asked = ask(project(), study)

    def task(rows: Array) -> Answer:
        values = 3 + 2 * rows[:, 0] + 0.5e-3 * rows[:, 0] ** 2 + rows[:, 1] ** 2
        return Answer(np.repeat(values[:, None, None], len(asked.metrics), axis=2), {})

    slopes = sensitivities(run_study(asked, task=task))
    assert slopes.absolute[0, 0, 0] == pytest.approx(
        2.0, rel=1e-6
    )  # values of 7e8: rounding of 1e-7 over 300
    assert slopes.absolute[1, 0, 0] == pytest.approx(2 * 26e3, rel=1e-9)


def test_second_order_at_the_upper_end_of_a_range() -> None:
    """Both cars of the slope are below it, as a number above its range would be refused."""
    stiffest = 2e6
    own = project()
    vehicle = replaced(own.variants[0].vehicle, ("front", "spring", "rate"), stiffest)
    asked = ask(replaced(own, ("variants", 0, "vehicle"), vehicle), Sensitivity(places=(FRONT,), step=0.1))
    assert asked.places[0].quantity.high == stiffest

    def task(rows: Array) -> Answer:
        values = 3 + 2 * rows[:, 0] + 0.5e-3 * rows[:, 0] ** 2
        return Answer(np.repeat(values[:, None, None], len(asked.metrics), axis=2), {})

    result = run_study(asked, task=task)
    assert result.columns.rows[:, 0].max() == stiffest
    # A parabola is exact with three points, but for rounding.
    assert sensitivities(result).absolute[0, 0, 0] == pytest.approx(2 + 1e-3 * stiffest, rel=1e-9)


@pytest.mark.parametrize(
    ("aim", "over", "expected"),
    [("lower", "worst", 5.0), ("higher", "worst", 1.0), ("lower", "mean", 3.0), ("higher", "mean", 3.0)],
)
def test_an_objective_over_several_situations(aim: str, over: str, expected: float) -> None:
    values = np.array([[[0.0, 1.0], [9.0, 5.0]]])  # one car, two situations, two figures
    objective = Objective(metric="second", aim=aim, over=over)
    assert objective_values((objective,), ("first", "second"), values).tolist() == [[expected]]


@pytest.mark.parametrize(
    ("distribution", "sigma"), [("normal", 1 / 3), ("uniform", 3**-0.5), ("triangular", 6**-0.5)]
)
def test_yield_of_a_linear_case(distribution: str, sigma: float) -> None:
    """Heave rate is 2 (k_f + k_r) of the plain car: the sum of two normal rates is normal."""
    plus_minus, limit = 2600.0, 105e3
    study = ToleranceDraw(
        tolerances=tuple(
            Tolerance(place=place, kind="rate", plus_minus=plus_minus, distribution=distribution)
            for place in (FRONT, REAR)
        ),
        draws=4000,
        exact_draws=1000,
        metrics=("heave_rate",),
    )
    target = Target(metric="heave_rate", kind="rate", high=limit)
    asked = ask(project(target), study)

    def task(rows: Array) -> Answer:  # checked against the car by the sensitivities above
        return Answer(2 * rows.sum(axis=1)[:, None, None], {})

    built = built_cars(run_study(asked, task=task))
    rows = run_study(asked, task=task).columns.rows[:4000]
    deviation = 2 * plus_minus * sigma * 2**0.5
    # The standard error of a standard deviation of 4000 normal draws is 1.1 %; three of them.
    assert rows.std(axis=0, ddof=1) == pytest.approx(plus_minus * sigma, rel=0.034)
    if distribution == "normal":
        exact = norm.cdf((limit - 104e3) / deviation)
        assert built.whole.low < exact < built.whole.high
        # Without one of them the spread is that of the other.
        alone = norm.cdf((limit - 104e3) / (deviation / 2**0.5))
        for cost in built.costs:
            assert cost.without_it is not None
            assert cost.without_it.low < alone < cost.without_it.high
            assert cost.gained > 0
    # Clopper and Pearson by scipy, which searches the roots of the binomial distribution.
    passed, cars = built.whole.passed, built.whole.cars
    interval = binomtest(passed, cars).proportion_ci(0.95, method="exact")
    assert (built.whole.low, built.whole.high) == pytest.approx(tuple(interval), rel=1e-9)  # of its search
    assert built.targets[0].passed == passed
    # Two alike tolerances have half of the variance each; the fit of a linear figure leaves nothing.
    assert built.linear == pytest.approx(1.0)
    shares = sorted(float(cost.variance[0, 0]) for cost in built.costs)
    assert shares == pytest.approx([0.5, 0.5], abs=0.05)


def test_yield_of_the_car_itself() -> None:
    """The whole path: shares of the car's own value, and a target that half of the cars miss."""
    study = ToleranceDraw(
        tolerances=(Tolerance(place=FRONT, kind="share", plus_minus=0.06),),
        draws=60,
        exact_draws=20,
        metrics=("front_wheel_rate",),
    )
    result = answered(study, Target(metric="front_wheel_rate", kind="rate", high=26e3))[1]
    built = built_cars(result)
    rows = result.columns.rows[:60, 0]
    assert rows.std(ddof=1) == pytest.approx(0.02 * 26e3, rel=0.3)  # 60 draws: three standard errors
    assert built.whole.passed == int((rows <= 26e3).sum())
    assert built.costs[0].without_it is not None
    assert built.costs[0].without_it.share == 1.0
    assert (built.costs[0].without_it.low, built.costs[0].without_it.high) == pytest.approx(
        tuple(binomtest(20, 20).proportion_ci(0.95, method="exact"))
    )


def test_the_same_seed_draws_the_same_cars() -> None:
    tolerances = (
        Tolerance(place=FRONT, kind="rate", plus_minus=1000.0),
        Tolerance(place=REAR, kind="rate", plus_minus=1000.0, distribution="uniform"),
    )
    draw = {"draws": 10, "exact_draws": 0, "metrics": ("heave_rate",)}
    first = answered(ToleranceDraw(tolerances=tolerances, seed=7, **draw))[1].columns
    again = answered(ToleranceDraw(tolerances=tolerances, seed=7, **draw))[1].columns
    assert first.rows.tobytes() == again.rows.tobytes()
    assert first.values.tobytes() == again.values.tobytes()
    other = answered(ToleranceDraw(tolerances=tolerances, seed=8, **draw))[1].columns
    assert (other.rows != first.rows).all()
    # A tolerance that is added at the end leaves the draws of those before it.
    alone = answered(ToleranceDraw(tolerances=tolerances[:1], seed=7, **draw))[1].columns
    assert (alone.rows[:, 0] == first.rows[:, 0]).all()


def ishigami(share: Array) -> Array:
    x = np.pi * (2 * share - 1)
    y = np.sin(x[:, 0]) + 7 * np.sin(x[:, 1]) ** 2 + 0.1 * x[:, 2] ** 4 * np.sin(x[:, 0])
    return np.column_stack([y, np.full(len(y), 3.0)])


def test_sobol_indices_of_the_ishigami_function() -> None:
    """Analytic indices: Ishigami and Homma (1990); variances as in the manual of scipy's sobol_indices.

    V1 = ½ (1 + b π⁴/5)², V2 = a²/8, V13 = b² π⁸ (1/18 - 1/50), a = 7, b = 0.1.
    """
    study = GlobalSensitivity(parameters=spread(3), samples=1024, metrics=("heave_rate", "pitch_rate"))
    shares = sobol_shares(by_formula(study, ishigami, 3))
    a, b, pi = 7.0, 0.1, np.pi
    v1, v2, v13 = 0.5 * (1 + b * pi**4 / 5) ** 2, a**2 / 8, b**2 * pi**8 * (1 / 18 - 1 / 50)
    whole = v1 + v2 + v13
    assert shares.samples == 1024
    # Errors of a Sobol sequence of 1024 points: below the standard error of as many random points, 0.03.
    assert shares.first[:, 0, 0] == pytest.approx([v1 / whole, v2 / whole, 0.0], abs=0.02)
    assert shares.total[:, 0, 0] == pytest.approx([(v1 + v13) / whole, v2 / whole, v13 / whole], abs=0.02)
    assert (shares.first_error[:, 0, 0] < 0.1).all()
    assert np.isnan(shares.first[:, 0, 1]).all()  # a constant has no variance to share


def zdt1(share: Array) -> Array:
    g = 1 + 9 * share[:, 1:].mean(axis=1)
    first = share[:, 0]
    return np.column_stack([first, g * (1 - np.sqrt(first / g))])


def test_front_of_a_known_function() -> None:
    """ZDT1 of Zitzler, Deb and Thiele (2000): f2 = 1 - √f1 where all inputs but the first are 0."""
    study = ParetoSearch(
        parameters=spread(5),
        objectives=(Objective(metric="heave_rate"), Objective(metric="pitch_rate")),
        population=40,
        generations=60,
        metrics=("heave_rate",),
    )
    found = front(by_formula(study, zdt1, 5))
    first, second = found.objectives.T
    assert (np.diff(first) > 0).all()
    assert (np.diff(second) < 0).all()
    # All over the front, and within a hundredth of it in the mean: half of what its cars are apart.
    assert first[0] < 0.02
    assert first[-1] > 0.98
    assert np.abs(second - (1 - np.sqrt(first))).mean() < 0.01


def test_front_goes_up_where_more_is_better() -> None:
    study = ParetoSearch(
        parameters=spread(2),
        objectives=(Objective(metric="heave_rate"), Objective(metric="pitch_rate", aim="higher")),
        population=12,
        generations=8,
        metrics=("heave_rate",),
    )
    found = front(
        by_formula(study, lambda share: np.column_stack([share[:, 0], share[:, 0] - share[:, 1]]), 2)
    )
    assert (np.diff(found.objectives, axis=0) > 0).all()


def test_non_dominated_by_all_pairs() -> None:
    random = np.random.default_rng(3)
    costs = random.integers(0, 6, (80, 3)).astype(float)
    beaten = [any((other <= own).all() and (other < own).any() for other in costs) for own in costs]
    kept = set(map(tuple, costs[~np.array(beaten)]))
    assert set(map(tuple, costs[non_dominated(costs)])) == kept
    assert len(non_dominated(costs)) == len(kept)
    assert non_dominated(np.empty((0, 2))).size == 0


def test_a_search_stays_within_targets_and_over_situations() -> None:
    study = ParetoSearch(
        parameters=(Parameter(**RATE), Parameter(**{**RATE, "place": REAR})),
        objectives=(
            Objective(metric="rms_heave_acceleration"),
            Objective(metric="rms_travel_front", over="mean"),
        ),
        situations=(Situation(), Situation(road_class="B", speed=30.0)),
        population=8,
        generations=3,
        metrics=("rms_heave_acceleration",),
    )
    target = Target(metric="front_ride_frequency", kind="frequency", low=1.15)
    asked, result = answered(study, target)
    found = front(result)
    assert result.columns.values.shape == (24, 2, len(asked.metrics))
    assert len(found.rows) > 1
    frequencies = result.columns.values[found.rows, 0, asked.metrics.index("front_ride_frequency")]
    assert (frequencies >= 1.15).all()
    heave = result.columns.values[:, :, asked.metrics.index("rms_heave_acceleration")]
    assert (found.every[:, 0] == heave.max(axis=1)).all()
    travel = result.columns.values[:, :, asked.metrics.index("rms_travel_front")]
    assert (found.every[:, 1] == travel.mean(axis=1)).all()
    assert result.car(int(found.rows[0])).front.spring.rate == result.columns.rows[found.rows[0], 0]


def test_tuned_start_recovers_a_known_car() -> None:
    car = replaced(
        replaced(Vehicle(), ("front", "spring", "rate"), 21.7e3), ("rear", "spring", "rate"), 27.3e3
    )
    car = replaced(car, ("rear", "damper", "jounce"), 1650.0)
    figures = {one.key: one for one in key_figures(analyse(car, study_run(project().run)))}
    wishes = tuple(
        Target(metric=key, kind=figures[key].kind, low=figures[key].value, high=figures[key].value)
        for key in ("front_ride_frequency", "pitch_share", "rms_travel_rear")
    )
    study = TunedStart(
        parameters=(
            Parameter(**RATE),
            Parameter(**{**RATE, "place": REAR}),
            Parameter(place="rear.damper.jounce", kind="damping", low=800.0, high=3000.0),
        ),
        wishes=wishes,
        starts=16,
        metrics=("pitch_share",),
    )
    asked, result = answered(study)
    found = tuned(result)
    assert result.finished
    assert len(result.columns.rows) < result.total + 1
    # Misses of a millionth, through the inverse of slopes of about one.
    assert result.columns.rows[found.row] == pytest.approx([21.7e3, 27.3e3, 1650.0], rel=1e-4)
    assert found.values == pytest.approx([wish.low for wish in wishes], rel=2e-6)
    assert len(asked.situations) == 1


def test_tuned_start_takes_limits_for_what_they_are() -> None:
    """Any car within limits will do; where wishes contradict each other, the least squares stand between."""
    parameters = (Parameter(**RATE),)
    within = TunedStart(
        parameters=parameters,
        wishes=(Target(metric="front_wheel_rate", kind="rate", low=24e3, high=25e3),),
        starts=2,
        metrics=("front_wheel_rate",),
    )
    found = tuned(answered(within)[1])
    assert found.missed.tolist() == [0.0]
    torn = replaced(
        within,
        ("wishes",),
        (
            Target(metric="front_wheel_rate", kind="rate", high=22e3),
            Target(metric="front_ride_rate", kind="rate", low=24e3),
        ),
    )
    found = tuned(answered(torn)[1])
    assert found.missed[0] > 0 > found.missed[1]
