"""Time taken by a time response, a random road and the random ride; run with --benchmark-only."""

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture
from scipy.signal import dlsim

from models.assembly import RideModel, assemble
from models.ride.frequency_response import frequency_response
from models.ride.random_road import random_road
from models.ride.transient import _first_order_hold, _state_space, road_inputs, time_response
from models.roads import OneMinusCosine, RandomRoad, RoughSurface, wheel_heights
from models.vehicle import Vehicle

SPEED = 80 / 3.6
T = np.linspace(0.0, 4.0, 4001)


@pytest.fixture(scope="module")
def car() -> RideModel:
    return assemble(Vehicle())


@pytest.fixture(scope="module")
def road(car: RideModel) -> np.ndarray:
    heights = wheel_heights(OneMinusCosine(), RoughSurface(), SPEED, car.wheelbase, 1.5, T)
    return road_inputs(car, heights)


def test_time_response(benchmark: BenchmarkFixture, car: RideModel, road: np.ndarray) -> None:
    """4000 steps, 7 degrees of freedom, all channels; allowed: 3 ms."""
    benchmark(time_response, car, T, road)


def test_time_response_by_scipy(benchmark: BenchmarkFixture, car: RideModel, road: np.ndarray) -> None:
    """The states alone by scipy's discrete simulation, for comparison."""
    a, b = _state_space(car)
    phi, held, rising = _first_order_hold(a, b, T[1])
    drive = held - rising + phi @ rising
    benchmark(dlsim, (phi, drive, np.eye(len(phi)), rising, T[1]), road.T)


def test_random_road_heights(benchmark: BenchmarkFixture, car: RideModel) -> None:
    """Road under four wheels for 4 s; allowed: 5 ms."""
    benchmark(wheel_heights, RandomRoad(), RoughSurface(), SPEED, car.wheelbase, 1.5, T)


def test_random_ride(benchmark: BenchmarkFixture, car: RideModel) -> None:
    """Spectra and RMS values of all channels at 400 frequencies."""
    response = frequency_response(car, np.geomspace(0.1, 50, 400), SPEED)
    benchmark(random_road, car, response, RoughSurface(), SPEED)
