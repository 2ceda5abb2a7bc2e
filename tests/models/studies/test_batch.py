"""The batch equals the single path, figure by figure, whatever the car and whatever is varied."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import InputError
from models.fields import Path, follow, replaced
from models.judge import key_figures
from models.analysis import analyse
from models.manoeuvre import Brake, BrakeInTurn, Corner, Manoeuvre, Straight
from models.run import Run
from models.studies.batch import Batch, judge_batch, metric_keys
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    Load,
    LoadCase,
    Occupant,
    Seat,
    Side,
    Stop,
    TabulatedSpring,
    TorsionCoupling,
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


def judged(
    vehicle: Vehicle, run: Run, load: LoadCase, paths: Sequence[Path], values: np.ndarray
) -> Batch:
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


@settings(max_examples=60)
@given(variations(manoeuvred(vehicles)), load_cases, st.sampled_from(MODELS), _manoeuvres)
def test_random_linear_cars(
    variation: tuple[Vehicle, list[Path], np.ndarray], load: LoadCase, model: str, manoeuvre: Manoeuvre
) -> None:
    vehicle, paths, values = variation
    judged(vehicle, Run(model=model, manoeuvre=manoeuvre), load, paths, values)


@settings(max_examples=60)
@given(variations(manoeuvred(real_vehicles)), load_cases, st.sampled_from(MODELS), _manoeuvres)
def test_random_cars_of_every_part(
    variation: tuple[Vehicle, list[Path], np.ndarray], load: LoadCase, model: str, manoeuvre: Manoeuvre
) -> None:
    vehicle, paths, values = variation
    judged(vehicle, Run(model=model, manoeuvre=manoeuvre), load, paths, values)
