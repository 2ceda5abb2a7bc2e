"""The batch equals the single path, figure by figure, whatever the car and whatever is varied."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.analysis import analyse
from models.errors import InputError
from models.fields import Path, follow, replaced
from models.judge import key_figures
from models.linkage import RockerPushrod
from models.manoeuvre import Brake, BrakeInTurn, Corner, Manoeuvre, Straight
from models.run import Run
from models.studies.batch import Batch, judge_batch, metric_keys
from models.vehicle import (
    AS_DESIGNED,
    FluidCoupling,
    GasSpring,
    Load,
    LoadCase,
    Occupant,
    Side,
    Stop,
    TabulatedSpring,
    TrimSpring,
    Vehicle,
)
from tests.cars import EVERYTHING, load_cases, manoeuvred, real_vehicles, vehicles
from tests.same_figures import around, assert_same, plain_paths

MODELS = ("full car", "half car", "half car in roll", "quarter car front", "quarter car rear")
LOADED = LoadCase(name="two up", loads=(Load(mass=150.0, x=-1.6, y=0.3), Load(mass=40.0, x=-3.4)))

_manoeuvres = st.sampled_from(
    [Straight(), Brake(longitudinal=3.0), Corner(lateral=2.0), BrakeInTurn(longitudinal=1.0, lateral=-2.0)]
)


def judged(vehicle: Vehicle, run: Run, load: LoadCase, paths: Sequence[Path], values: np.ndarray) -> Batch:
    batch = judge_batch(vehicle, run, load, paths, values, threads=1)
    assert_same(batch, vehicle, run, load, paths, values)
    return batch


@st.composite
def variations(draw: st.DrawFn, cars: st.SearchStrategy[Vehicle]) -> tuple[Vehicle, list[Path], np.ndarray]:
    """A car, some of its numbers, and three values of each."""
    vehicle = draw(cars)
    paths = draw(st.lists(st.sampled_from(list(plain_paths(vehicle))), min_size=1, max_size=6, unique=True))
    factors = draw(st.lists(st.floats(0.7, 1.4), min_size=3 * len(paths), max_size=3 * len(paths)))
    table = np.reshape(factors, (3, len(paths)))
    columns = [around(vehicle, path, column) for path, column in zip(paths, table.T, strict=True)]
    return vehicle, paths, np.column_stack(columns)


@settings(max_examples=25)
@given(variations(manoeuvred(vehicles)), load_cases, st.sampled_from(MODELS), _manoeuvres)
def test_random_linear_cars(
    variation: tuple[Vehicle, list[Path], np.ndarray], load: LoadCase, model: str, manoeuvre: Manoeuvre
) -> None:
    vehicle, paths, values = variation
    judged(vehicle, Run(model=model, manoeuvre=manoeuvre), load, paths, values)


@settings(max_examples=25)
@given(variations(manoeuvred(real_vehicles)), load_cases, st.sampled_from(MODELS), _manoeuvres)
def test_random_cars_of_every_part(
    variation: tuple[Vehicle, list[Path], np.ndarray], load: LoadCase, model: str, manoeuvre: Manoeuvre
) -> None:
    vehicle, paths, values = variation
    judged(vehicle, Run(model=model, manoeuvre=manoeuvre), load, paths, values)


#: With stops, gas, fluid, an occupant and a chain, which the car of the other tests has not.
CURVED = replaced(
    replaced(
        replaced(
            replaced(EVERYTHING, ("seat", "occupant"), Occupant(mass=60.0)),
            ("front", "spring"),
            GasSpring(motion_ratio=0.9),
        ),
        ("rear", "bump_stop"),
        Stop(gap=0.07, rate=60e3, growth=1e6),
    ),
    ("right",),
    Side(coupling=FluidCoupling(resistance=1e8), trim=TrimSpring(bar_rate=300.0, linkage=RockerPushrod())),
)


@pytest.mark.parametrize("vehicle", [EVERYTHING, CURVED], ids=["every part", "curved"])
def test_every_number_of_the_car(vehicle: Vehicle, monkeypatch: pytest.MonkeyPatch) -> None:
    """One after the other, so that none is forgotten, and all by array formulas: the other way is barred."""

    def barred(*_: object) -> dict[str, float]:
        raise AssertionError("judged alone")

    monkeypatch.setattr("models.studies.batch.judged_alone", barred)
    run = Run(manoeuvre=BrakeInTurn(longitudinal=2.0, lateral=1.5))
    for path in plain_paths(vehicle):
        values = around(vehicle, path, [0.93, 1.04])[:, None]
        assert not judged(vehicle, run, LOADED, [path], values).refused


def test_keys_are_those_of_the_key_figures_without_the_event() -> None:
    run = Run()
    every = [figure.key for figure in key_figures(analyse(Vehicle(), run, compiled=False))]
    known = metric_keys(run)
    assert [key for key in every if key in known] == list(known)
    left_out = set(every) - set(known)
    assert {"peak_pitch", "event_vibration_dose", "jounce_margin_front", "minimum_tyre_load"} <= left_out
    assert all(
        key.startswith(("peak_", "event_")) or "margin" in key for key in left_out - {"minimum_tyre_load"}
    )
    assert "roll_gradient" not in metric_keys(Run(model="half car"))


def test_parts_come_and_go() -> None:
    """Rates of 0 among others: stops, bars and occupant are then not there."""
    paths: list[Path] = [
        ("left", "coupling", "bar_rate"),
        ("front", "bump_stop", "rate"),
        ("seat", "occupant", "mass"),
        ("diagonal", "bar_rate"),
    ]
    values = np.array(
        [[0.0, 0.0, 0.0, 0.0], [900.0, 5e4, 70.0, 500.0], [0.0, 5e4, 70.0, 0.0], [900.0, 0.0, 0.0, 500.0]]
    )
    batch = judged(Vehicle(), Run(), LOADED, paths, values)
    assert np.isposinf(batch.values[[0, 3], batch.keys.index("jounce_left_front")]).all()


def test_what_is_no_car_is_counted_with_its_reason() -> None:
    paths: list[Path] = [
        ("body", "cg_to_front_axle"),
        ("front", "spring", "rate"),
        ("rear", "spring", "rate"),
    ]
    values = np.array(
        [
            [1.3, 30e3, 30e3],
            [3.0, 30e3, 30e3],  # the CG behind the rear axle
            [1.3, -1.0, 30e3],
            [1.3, 30e3, np.nan],
            [1.3, 0.0, 0.0],  # falls
            [1.4, 28e3, 25e3],
        ]
    )
    batch = judged(Vehicle(), Run(), AS_DESIGNED, paths, values)
    assert list(batch.refused) == [1, 2, 3, 4]
    assert "less than the wheelbase, 2.9 m" in batch.refused[1]
    assert "front > spring > rate" in batch.refused[2]
    assert "0 to 2000 N/mm" in batch.refused[2]
    assert "nothing holds the body" in batch.refused[4]
    assert np.isfinite(batch.values[[0, 5], 0]).all()


def test_values_are_judged_together_and_not_one_by_one() -> None:
    """A CG that only the longer wheelbase allows."""
    batch = judged(
        Vehicle(), Run(), AS_DESIGNED, [("body", "cg_to_front_axle"), ("wheelbase",)], np.array([[3.0, 5.0]])
    )
    assert not batch.refused


def test_a_load_may_be_too_heavy_for_some() -> None:
    away = LoadCase(name="less", loads=(Load(mass=-300.0, x=-1.4),))
    batch = judged(Vehicle(), Run(), away, [("body", "mass")], np.array([[250.0], [1500.0]]))
    assert list(batch.refused) == [0]
    assert "more than 0 kg" in batch.refused[0]


def test_points_of_curves_and_of_linkages() -> None:
    car = replaced(
        replaced(Vehicle(), ("front", "spring"), TabulatedSpring()),
        ("left", "trim"),
        TrimSpring(bar_rate=300.0, linkage=RockerPushrod()),
    )
    linkage = follow(car, ("left", "trim", "linkage"))
    number = next(plain_paths(linkage))
    paths: list[Path] = [("front", "spring", "points", 1, "force"), ("left", "trim", "linkage", *number)]
    present = [float(follow(car, path)) for path in paths]
    batch = judged(car, Run(), AS_DESIGNED, paths, np.outer([1.0, 1.01], present))
    assert not batch.refused
    assert not np.array_equal(batch.values[0], batch.values[1])


def test_a_car_that_rests_on_its_stops() -> None:
    """Without springs it is let down onto them: no plain case, and a car all the same."""
    stop = Stop(gap=0.01, rate=100e3)
    car = Vehicle()
    for axle in ("front", "rear"):
        car = replaced(replaced(car, (axle, "bump_stop"), stop), (axle, "spring", "rate"), 0.0)
    batch = judged(car, Run(), AS_DESIGNED, [("body", "mass")], np.array([[1500.0], [1600.0]]))
    assert not batch.refused


def test_rows_do_not_depend_on_each_other_nor_on_threads() -> None:
    paths: list[Path] = [("front", "spring", "rate"), ("wheelbase",), ("left", "coupling", "bar_rate")]
    factors = np.random.default_rng(3).uniform(0.8, 1.2, (1100, 3))
    values = np.column_stack([around(EVERYTHING, path, f) for path, f in zip(paths, factors.T, strict=True)])
    together = judge_batch(EVERYTHING, Run(), LOADED, paths, values, threads=2)
    for part in (slice(0, 1), slice(511, 513), slice(1000, 1100)):
        alone = judge_batch(EVERYTHING, Run(), LOADED, paths, values[part], threads=1)
        assert np.array_equal(together.values[part], alone.values)
    again = judge_batch(EVERYTHING, Run(), LOADED, paths, values, threads=1)
    assert np.array_equal(together.values, again.values)


def test_only_what_is_asked_for() -> None:
    paths, values = [("front", "spring", "rate")], np.array([[25e3], [30e3]])
    every = judge_batch(Vehicle(), Run(), AS_DESIGNED, paths, values)
    for keys in (("heave_rate",), ("roll_damping", "rms_pitch"), ("trim_front", "held_roll")):
        some = judge_batch(Vehicle(), Run(), AS_DESIGNED, paths, values, keys)
        assert some.keys == keys
        assert np.array_equal(some.values, every.values[:, [every.keys.index(key) for key in keys]])


def test_nothing_to_judge() -> None:
    batch = judge_batch(Vehicle(), Run(), AS_DESIGNED, [("wheelbase",)], np.empty((0, 1)))
    assert batch.values.shape == (0, len(batch.keys))
    fixed = judge_batch(Vehicle(), Run(), AS_DESIGNED, [], np.empty((2, 0)))
    assert np.array_equal(fixed.values[0], fixed.values[1])


def test_what_is_not_known_is_refused() -> None:
    with pytest.raises(InputError, match="front > spring > weight: the car has no number of this name"):
        judge_batch(Vehicle(), Run(), AS_DESIGNED, [("front", "spring", "weight")], [[1.0]])
    with pytest.raises(InputError, match="right"):
        judge_batch(Vehicle(), Run(), AS_DESIGNED, [("right", "trim", "bar_rate")], [[1.0]])
    with pytest.raises(InputError, match="'peak_pitch' is not known for the full car in a batch"):
        judge_batch(Vehicle(), Run(), AS_DESIGNED, [("wheelbase",)], [[2.8]], ["peak_pitch"])
    with pytest.raises(ValueError, match="shape"):
        judge_batch(Vehicle(), Run(), AS_DESIGNED, [("wheelbase",)], [[2.8, 2.9]])
