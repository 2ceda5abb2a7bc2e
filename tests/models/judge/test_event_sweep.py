"""Figures of the time run over speed: the run at its own speed, length of runs, meaning of the keys."""

from __future__ import annotations

import numpy as np
import pytest

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.judge import key_figures
from models.judge.event_sweep import (
    EVENT_KEYS,
    event_figures,
    event_speeds,
    event_sweep,
    event_values,
    run_at,
    sweep_of,
)
from models.judge.speed_sweep import SURFACE_KEYS, speed_sweep
from models.manoeuvre import Brake
from models.roads import OneMinusCosine, RandomRoad, SineSweep, Washboard
from models.run import Run
from models.vehicle import Vehicle

RUN = Run(duration=2.0)


@pytest.fixture(scope="module")
def hump() -> Analysis:
    return analyse(Vehicle(), RUN)


def test_keys_are_the_figures_of_the_run_and_those_of_the_random_road(hump: Analysis) -> None:
    said = {figure.key: figure.meaning for figure in key_figures(hump)}
    of_run = [key for key, meaning in said.items() if meaning.startswith(("Run:", "Road event:"))]
    assert set(of_run) == set(EVENT_KEYS)
    assert [figure.key for figure in event_figures(hump)] == list(EVENT_KEYS)
    assert set(speed_sweep(hump).values) == set(SURFACE_KEYS)


def test_the_sweep_at_the_speed_of_the_run_is_the_run(hump: Analysis) -> None:
    speeds = event_speeds(RUN.speed)
    assert len(speeds) == 31
    place = int(np.flatnonzero(speeds == RUN.speed)[0])
    sweep = event_sweep(hump, speeds[place - 1 : place + 2])
    figures = {figure.key: figure.value for figure in key_figures(hump)}
    for key in EVENT_KEYS:
        assert sweep.values[key][1] == figures[key]
        assert not np.isnan(sweep.values[key]).any()  # margins are infinite without a stop


@pytest.mark.parametrize("laws", ["linear", "nonlinear"])
def test_another_speed_is_that_of_a_run_of_its_own(laws: str) -> None:
    own = analyse(Vehicle(), replaced(RUN, ("laws",), laws))
    found = event_values(own, 10.0)
    there = analyse(Vehicle(), run_at(own.run, 10.0, own.model.wheelbase))
    figures = {figure.key: figure.value for figure in key_figures(there)}
    assert {key: figures[key] for key in EVENT_KEYS} == found


def test_how_long_a_run_is_at_another_speed() -> None:
    """Event over at 5 + 5 m, wheelbase 3 m: 13 m of road, then as long as in the run."""
    run = Run(speed=26.0, duration=4.0, event=OneMinusCosine(start=5.0, length=5.0))
    assert run_at(run, 26.0, 3.0) == run
    assert run_at(run, 13.0, 3.0).duration == pytest.approx(1.0 + 3.5)
    assert run_at(run, 52.0, 3.0).duration == pytest.approx(0.25 + 3.5)
    # A run that ends before the event does, or on a road without end, drives the same stretch.
    board = replaced(run, ("event",), Washboard(length=500.0, wavelength=5.0))
    endless = replaced(run, ("event",), RandomRoad())
    assert run_at(board, 13.0, 3.0).duration == pytest.approx(8.0)
    assert run_at(endless, 13.0, 3.0).duration == pytest.approx(8.0)
    assert run_at(replaced(endless, ("duration",), 100.0), 13.0, 3.0).duration == 120.0
    # What goes over time does not wait for the road.
    assert run_at(replaced(run, ("event",), SineSweep()), 13.0, 3.0).duration == 4.0
    braking = replaced(run, ("manoeuvre",), Brake())
    assert run_at(braking, 52.0, 3.0).duration == 4.0
    assert run_at(braking, 13.0, 3.0).duration == pytest.approx(4.5)


def test_a_random_road_has_rms_values_over_the_run_beside_the_peaks() -> None:
    analysis = analyse(Vehicle(), replaced(RUN, ("event",), RandomRoad()))
    found = {figure.key: figure for figure in event_figures(analysis)}
    t, pitch = analysis.time.t, analysis.time.channel("pitch")
    by_hand = np.sqrt(np.trapezoid(pitch**2, t) / t[-1])
    assert found["run_rms_pitch"].value == pytest.approx(by_hand, rel=1e-9)
    assert found["run_rms_pitch"].label == "RMS pitch angle of the run"


def test_a_speed_without_figures_leaves_a_gap() -> None:
    sweep = sweep_of({20.0: {}, 10.0: {"peak_pitch": 1.0}})
    np.testing.assert_array_equal(sweep.speeds, [10.0, 20.0])
    np.testing.assert_array_equal(sweep.values["peak_pitch"], [1.0, np.nan])
