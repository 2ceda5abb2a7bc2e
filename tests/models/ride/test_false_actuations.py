"""False actuations on rough roads: none with the sample's setting, some with too short a delay."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from models.errors import InputError
from models.fields import replaced
from models.project import load
from models.ride.false_actuations import CLASSES, FalseActuations, false_actuations
from models.run import Run

PROJECT = load(Path(__file__).parents[3] / "sample_projects" / "large_saloon.corduroy")
SALOON = PROJECT.variant("joined torsion bars").vehicle


@pytest.fixture(scope="module")
def found() -> FalseActuations:
    return false_actuations(SALOON, PROJECT.run)


def test_sample_leaves_rough_roads_alone(found: FalseActuations) -> None:
    assert found.classes == CLASSES == ("C", "D", "E")
    assert found.set_counts.tolist() == [0, 0, 0]
    assert found.in_words == "No actuation in 10 minutes on classes C, D, E."


@pytest.mark.parametrize("seed", [2, 3])
def test_not_only_on_one_road(seed: int) -> None:
    assert not false_actuations(SALOON, PROJECT.run, seed=seed).set_counts.any()


def test_too_short_a_delay_acts_on_bumps(found: FalseActuations) -> None:
    at_once = found.counts[:, 0]
    assert found.delays[0] == 0.0
    assert at_once[2] > 100
    assert at_once[0] <= at_once[1] <= at_once[2]
    # Of the same delay as set, within the table: nothing either.
    assert found.counts[:, np.searchsorted(found.delays, SALOON.levelling.delay)].tolist() == [0, 0, 0]


def test_short_delay_is_told_in_words() -> None:
    hasty = replaced(SALOON, ("levelling", "delay"), 0.0)
    found = false_actuations(hasty, PROJECT.run, classes=("A", "E"), minutes=1.0)
    assert found.set_counts[0] == 0
    assert found.set_counts[1] > 0
    assert found.in_words == (
        f"False actuations in 1 minute: none on class A, {found.set_counts[1]} on class E."
    )


def test_same_seed_same_counts() -> None:
    first, second = (false_actuations(SALOON, PROJECT.run, ("D",), 1.0, seed=7) for _ in range(2))
    assert first.counts.tolist() == second.counts.tolist()


def test_progress_reaches_the_end() -> None:
    told: list[float] = []
    false_actuations(SALOON, PROJECT.run, ("C", "D"), 2.0, report=told.append)
    assert told == sorted(told)
    assert 0.8 <= told[-1] < 1.0


def test_bad_input_is_named() -> None:
    with pytest.raises(InputError, match="'K' is none of A to H"):
        false_actuations(SALOON, Run(), classes=("K",))
    with pytest.raises(InputError, match=r"0 min is outside the allowed range \(0.1 to 120 min\)"):
        false_actuations(SALOON, Run(), minutes=0.0)
    with pytest.raises(InputError, match="winding speed"):
        false_actuations(PROJECT.variant("separate coil springs").vehicle, Run())
