"""RMS values at many speeds: the same as one speed at a time, and as the spectra say."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.analysis import FREQUENCIES, analyse
from models.assembly import MODELS, assemble
from models.fields import replaced
from models.judge import key_figures
from models.judge.speed_sweep import SPEEDS, speed_sweep
from models.ride.channels import CHANNELS
from models.ride.frequency_response import frequency_response
from models.ride.random_road import random_road
from models.ride.speed_sweep import ride_at_speeds
from models.roads import RoughSurface
from models.run import Run
from models.vehicle import Vehicle
from tests.cars import EVERYTHING, vehicles

ROADS = (RoughSurface(), RoughSurface(roughness=64e-6, waviness=2.5))


@given(vehicle=vehicles, speed=st.floats(5.0, 60.0), road=st.sampled_from(ROADS))
@settings(max_examples=25, deadline=None)
def test_each_speed_is_that_of_the_single_speed_path(
    vehicle: Vehicle, speed: float, road: RoughSurface
) -> None:
    """To 1e-9 of the channel, or of the largest of its kind: cancellation leaves rounding of that."""
    model = assemble(vehicle)
    response = frequency_response(model, FREQUENCIES, speed)
    speeds = np.array([7.0, speed, 41.0])
    sweep = ride_at_speeds(model, response, road, speeds)
    single = random_road(model, response, road, speed)
    largest: dict[str, float] = {}
    for number, channel in enumerate(CHANNELS):
        largest[channel.kind] = max(largest.get(channel.kind, 0.0), float(single.rms[number]))
    for number, channel in enumerate(CHANNELS):
        expected = float(single.rms[number])
        # Mean squares cancel, so rounding of 1e-16 of them is 1e-8 of the root; below that it is none.
        near = pytest.approx(expected, rel=1e-9, abs=1e-7 * largest[channel.kind])
        assert sweep.rms(channel.key)[1] == near, channel.key


def test_all_figures_of_the_random_road_at_every_speed_are_those_of_the_run() -> None:
    base = analyse(EVERYTHING, Run(laws="linear"))
    sweep = speed_sweep(base)
    for place in (0, 17, 31, 59):
        run = replaced(base.run, ("speed",), float(SPEEDS[place]))
        figures = {figure.key: figure.value for figure in key_figures(analyse(EVERYTHING, run))}
        assert set(sweep.values) <= set(figures)
        for key, values in sweep.values.items():
            assert values[place] == pytest.approx(figures[key], rel=1e-9), key


def test_every_figure_said_to_be_of_the_random_road_is_swept() -> None:
    figures = key_figures(analyse(EVERYTHING, Run(laws="linear")))
    of_road = {figure.key for figure in figures if figure.meaning.startswith("Random road")}
    assert of_road == set(speed_sweep(analyse(EVERYTHING, Run(laws="linear"))).values)


def test_smaller_models_sweep_what_they_have() -> None:
    for name in MODELS:
        analysis = analyse(EVERYTHING, Run(laws="linear", model=name))
        values = speed_sweep(analysis).values
        assert ("rms_roll" in values) == ("roll" in analysis.modes.names)
        assert all(np.isfinite(curve).all() and curve.shape == SPEEDS.shape for curve in values.values())


def test_wheelbase_filtering_is_resolved_at_the_slowest_speed() -> None:
    """Against the trapezoidal rule on a grid of 40 points per wave of the delay at 5 m/s."""
    model = assemble(Vehicle())
    wave = 5.0 / model.wheelbase
    fine = np.concatenate([np.geomspace(0.1, 1.0, 4000)[:-1], np.arange(1.0, 50.0, wave / 40)])
    dense = random_road(model, frequency_response(model, fine, 5.0), RoughSurface(), 5.0)
    coarse = ride_at_speeds(
        model, frequency_response(model, FREQUENCIES, 5.0), RoughSurface(), np.array([5.0])
    )
    for key in ("pitch", "pitch_acceleration", "heave_acceleration", "travel_FL"):
        trapezoid = np.sqrt(np.trapezoid(dense.channel(key), dense.frequency))
        # 400 points leave some 1e-3 of the resonances; the delay itself adds nothing.
        assert coarse.rms(key)[0] == pytest.approx(trapezoid, rel=2e-3), key


def test_pitch_of_a_level_car_dips_where_the_wheelbase_is_a_whole_number_of_waves() -> None:
    """One speed lies: pitch over heave changes by more than a quarter between speeds on the same road."""
    share = speed_sweep(analyse(Vehicle(), Run(laws="linear"))).values["pitch_share"]
    assert share.max() / share.min() > 1.25
