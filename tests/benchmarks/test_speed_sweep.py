"""The sweep over speeds of one variant: 60 speeds, all figures, within a frame once the road is known."""

from __future__ import annotations

from pytest_benchmark.fixture import BenchmarkFixture

from models.analysis import analyse
from models.judge.speed_sweep import SPEEDS, speed_sweep
from models.ride import speed_sweep as roads
from models.run import Run
from models.vehicle import Vehicle
from tests.benchmarks.limits import on_time


def test_sweep_of_a_dragged_spring(benchmark: BenchmarkFixture) -> None:
    analysis = analyse(Vehicle(), Run())
    assert len(SPEEDS) == 60
    benchmark(speed_sweep, analysis)
    on_time("sweep over speeds", benchmark.stats.stats.median, 16e-3)


def test_sweep_on_a_road_that_is_new(benchmark: BenchmarkFixture) -> None:
    analysis = analyse(Vehicle(), Run())

    def anew() -> None:
        roads._roads.cache_clear()
        speed_sweep(analysis)

    benchmark(anew)
    on_time("sweep on a new road", benchmark.stats.stats.median, 100e-3)
