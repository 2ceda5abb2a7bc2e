"""How long the linear ride takes.  Run with ``pytest --benchmark-only tests/benchmarks``.

Limits are held against the least of the rounds: what other programs on the machine add is not ours.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

import control
import numpy as np
import pytest

from models.analysis import FREQUENCIES, analyse
from models.assembly import assemble
from models.judge import key_figures
from models.ride.channels import outputs
from models.ride.frequency_response import frequency_response
from models.ride.modes import modes
from models.ride.random_road import random_road
from models.run import Run
from tests.benchmarks.limits import on_time
from tests.cars import EVERYTHING

RUN = Run()


def _linear_ride() -> object:
    model = assemble(EVERYTHING)
    response = frequency_response(model, FREQUENCIES, RUN.speed)
    return modes(model), random_road(model, response, RUN.surface, RUN.speed)


def test_linear_ride_of_one_variant(benchmark: Any) -> None:
    """Assembly, modes, 400 frequencies, spectra and RMS: 5 ms."""
    benchmark(_linear_ride)
    on_time("linear ride", benchmark.stats.stats.min, 5e-3)


def test_whole_analysis(benchmark: Any) -> None:
    """With 4 s of time response and the key figures: 7 ms."""
    benchmark(lambda: key_figures(analyse(EVERYTHING, RUN)))
    on_time("analysis and figures", benchmark.stats.stats.min, 7e-3)


def test_frequency_response_beside_python_control(benchmark: Any, capsys: pytest.CaptureFixture[str]) -> None:
    """The same car, 14 states, 400 points, four roads and all channels, in the same run.

    python-control solves a system of twice the size point by point.  It is given its state space ready
    made, and the tyre damping taken into the state so that it needs four inputs and not eight.
    """
    model, omega = assemble(EVERYTHING), 2 * np.pi * FREQUENCIES
    rows, inverse = outputs(model), np.linalg.inv(model.mass)
    spread = inverse @ model.road_damping
    a = np.block([[np.zeros((7, 7)), np.eye(7)], [-inverse @ model.stiffness, -inverse @ model.damping]])
    b = np.vstack([spread, inverse @ (model.road_stiffness - model.damping @ spread)])
    c = np.hstack([rows.position, rows.velocity]) + rows.acceleration @ a[7:]
    system = control.ss(a, b, c, rows.road)
    frequency_response(model, FREQUENCIES, RUN.speed)  # compiles
    theirs = _least(lambda: control.frequency_response(system, omega), rounds=15)
    benchmark(lambda: frequency_response(model, FREQUENCIES, RUN.speed))
    ours = benchmark.stats.stats.min
    with capsys.disabled():
        print(
            f"\nfrequency response: {ours * 1e3:.2f} ms, python-control {theirs * 1e3:.2f} ms, "
            f"{theirs / ours:.1f} times"
        )
    assert theirs > 20 * ours


def _least(work: Callable[[], object], rounds: int) -> float:
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)
