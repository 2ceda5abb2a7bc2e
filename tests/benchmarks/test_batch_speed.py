"""Speed of a study on the random road: many half and full cars, against its peers in the same run.

Asserted are ratios of times on one core, which hold on a busy machine too; the whole studies, on all cores,
have their limits as on a machine of one's own (see tests/benchmarks/limits.py).
"""

from __future__ import annotations

import time
from collections.abc import Callable

import control
import numpy as np
import pytest
from numpy.typing import NDArray
from pytest_benchmark.fixture import BenchmarkFixture

from models.analysis import FREQUENCIES
from models.fields import Path, follow
from models.roads import coherence, displacement_psd
from models.run import Run
from models.studies.batch import judge_batch
from models.studies.batch_alone import judged_alone
from models.studies.batch_vehicle import varied
from models.vehicle import (
    AS_DESIGNED,
    Load,
    LoadCase,
    Side,
    TorsionCoupling,
    TrimSpring,
    Vehicle,
)
from tests.benchmarks.limits import on_time

Array = NDArray[np.float64]

CAR = Vehicle(left=Side(coupling=TorsionCoupling(bar_rate=800.0), trim=TrimSpring(bar_rate=100.0)))
PATHS: list[Path] = [
    ("wheelbase",),
    ("body", "mass"),
    ("body", "cg_to_front_axle"),
    ("front", "spring", "rate"),
    ("rear", "spring", "rate"),
    ("front", "damper", "jounce"),
    ("rear", "damper", "rebound"),
    ("front", "tyre", "rate"),
    ("left", "coupling", "bar_rate"),
    ("left", "coupling", "front_lever_ratio"),
]
LOADED = LoadCase(name="two up", loads=(Load(mass=150.0, x=-1.6, y=0.3),))


def variants(count: int) -> Array:
    """(count, 10) values about those of the car."""
    present = np.array([float(follow(CAR, path)) for path in PATHS])
    return present * np.random.default_rng(11).uniform(0.9, 1.1, (count, len(PATHS)))


def timed(work: Callable[[], object], rounds: int = 3) -> float:
    """Shortest of several times, s."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


@pytest.fixture(scope="module", autouse=True)
def _compiled() -> None:
    for model in ("half car", "full car"):
        judge_batch(CAR, Run(model=model), LOADED, PATHS, variants(4), threads=2)


@pytest.mark.parametrize(
    ("model", "count", "limit"), [("half car", 100_000, 20.0), ("full car", 20_000, 30.0)]
)
@pytest.mark.parametrize("load", [AS_DESIGNED, LOADED], ids=["as designed", "loaded"])
def test_whole_study(
    benchmark: BenchmarkFixture, model: str, count: int, limit: float, load: LoadCase
) -> None:
    """All figures of each variant, ten parameters, every one with its own wheelbase."""
    values = variants(count)
    batch = benchmark.pedantic(
        judge_batch, args=(CAR, Run(model=model), load, PATHS, values), rounds=1, iterations=1
    )
    assert not batch.refused
    on_time(f"{count} variants of the {model}", benchmark.stats.stats.min, limit)


@pytest.mark.parametrize(("model", "times"), [("half car", 12.0), ("full car", 8.0)])
def test_against_a_loop_over_the_single_path(
    benchmark: BenchmarkFixture, model: str, times: float, capsys: pytest.CaptureFixture[str]
) -> None:
    """The same figures, one variant after the other, without the drive over an event as far as that goes."""
    run, values = Run(model=model), variants(512)

    def loop() -> None:
        for row in values[:40]:
            judged_alone(varied(CAR, PATHS, row), run, LOADED)

    theirs = timed(loop) / 40
    benchmark(judge_batch, CAR, run, LOADED, PATHS, values, threads=1)
    ours = benchmark.stats.stats.min / len(values)
    with capsys.disabled():
        print(f"\n{model}: {ours * 1e6:.0f} µs, alone {theirs * 1e6:.0f} µs, {theirs / ours:.1f} times")
    assert theirs > times * ours


def half_car_by_control(row: Array, run: Run) -> tuple[float, float, float, Array]:
    """RMS of heave and pitch acceleration and of front travel, and damping, of a half car by python-control.

    The plain half car (springs, dampers, tyres and the levelling bar on both sides), written out by hand.
    """
    wheelbase, mass, a, kf, kr, jounce, rebound, tyre, bar, lever = row.tolist()
    b, side = wheelbase - a, CAR.left
    assert isinstance(side.coupling, TorsionCoupling)
    cf = jounce + CAR.front.damper.rebound  # type: ignore[union-attr]
    cr = CAR.rear.damper.jounce + rebound  # type: ignore[union-attr]
    lifted = np.array([[-1.0, a, 1.0, 0.0], [-1.0, -b, 0.0, 1.0]])
    wound = np.array([lever, side.coupling.rear_lever_ratio]) @ lifted
    trim = side.trim.lever_ratio * lifted[1]
    springs = lifted.T @ np.diag([2 * kf, 2 * kr]) @ lifted
    stiffness = springs + 2 * bar * np.outer(wound, wound) + 2 * side.trim.bar_rate * np.outer(trim, trim)
    tyres, losses = np.diag([0.0, 0.0, 2 * tyre, 2 * CAR.rear.tyre.rate]), np.zeros((4, 4))
    losses[2, 2], losses[3, 3] = 2 * CAR.front.tyre.damping, 2 * CAR.rear.tyre.damping
    damping = lifted.T @ np.diag([cf, cr]) @ lifted + losses
    unsprung = [2 * axle.wheels.unsprung_mass for axle in (CAR.front, CAR.rear)]  # type: ignore[union-attr]
    inverse = np.diag(1 / np.array([mass, CAR.body.pitch_inertia.value, *unsprung]))  # type: ignore[union-attr]
    spread = inverse @ losses[:, 2:]
    state = np.block([[np.zeros((4, 4)), np.eye(4)], [-inverse @ (stiffness + tyres), -inverse @ damping]])
    road = np.vstack([spread, inverse @ tyres[:, 2:] - inverse @ damping @ spread])
    system = control.ss(
        state, road, np.vstack([state[4:6], [*lifted[0], 0, 0, 0, 0]]), np.vstack([road[4:6], [0.0, 0.0]])
    )
    gain = control.frequency_response(system, 2 * np.pi * FREQUENCIES).complex
    delayed = gain[:, 0] + gain[:, 1] * np.exp(-2j * np.pi * FREQUENCIES * wheelbase / run.speed)
    wavenumber, track = FREQUENCIES / run.speed, (CAR.front.track + CAR.rear.track) / 2
    shared = (1 + coherence(run.surface, wavenumber, track)) / 2
    spectrum = shared * displacement_psd(run.surface, wavenumber) / run.speed
    heave, pitch, travel = np.sqrt(np.trapezoid(np.abs(delayed) ** 2 * spectrum, FREQUENCIES))
    return heave, pitch, travel, control.damp(system, doprint=False)[1]


def test_half_cars_against_python_control(
    benchmark: BenchmarkFixture, capsys: pytest.CaptureFixture[str]
) -> None:
    """Three RMS values and the damping ratios by python-control, all figures by the batch."""
    run, values = Run(model="half car"), variants(512)
    batch = judge_batch(CAR, run, AS_DESIGNED, PATHS, values, threads=1)
    keys = ("rms_heave_acceleration", "rms_pitch_acceleration", "rms_travel_front")
    for row in range(3):
        # The trapezoidal rule over a spectrum that the delay makes wave: 400 points are good for 1 %.
        ours = [batch.values[row, batch.keys.index(key)] for key in keys]
        assert half_car_by_control(values[row], run)[:3] == pytest.approx(ours, rel=0.01)
    theirs = timed(lambda: [half_car_by_control(row, run) for row in values[:10]]) / 10
    benchmark(judge_batch, CAR, run, AS_DESIGNED, PATHS, values, threads=1)
    taken = benchmark.stats.stats.min / len(values)
    with capsys.disabled():
        print(
            f"\nhalf car: {taken * 1e6:.0f} µs, python-control {theirs * 1e6:.0f} µs, "
            f"{theirs / taken:.0f} times"
        )
    assert theirs > 20 * taken
