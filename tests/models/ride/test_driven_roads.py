"""Driving over measured roads and on the posts of a rig."""

from __future__ import annotations

import numpy as np
import pytest

from models.analysis import Analysis, analyse
from models.ride.channels import CHANNELS, channel_index
from models.ride.frequency_response import frequency_response
from models.roads import Event, MeasuredRoad, OneMinusCosine, SineSweep
from models.roads.samples import samples_of
from models.roads.sweep import MODE_SIGNS
from models.run import Run
from models.vehicle import Vehicle


def driven(event: Event, **fields: object) -> Analysis:
    return analyse(Vehicle(), Run.model_validate({"event": event, "duration": 3.0, "speed": 12.0, **fields}))


@pytest.mark.parametrize("laws", ["linear", "nonlinear"])
def test_a_bump_that_was_measured_is_driven_like_the_bump(laws: str) -> None:
    bump = OneMinusCosine(height=0.04, length=4.0, start=6.0)
    x = np.arange(401) * 0.02
    heights = samples_of(0.02 * (1 - np.cos(2 * np.pi * np.clip((x - 1) / 4, 0, 1))))
    road = MeasuredRoad(step=0.02, left=heights, right=heights, start=5.0, blend=0.5)
    # So long that both have the same points of time.
    expected, found = (driven(event, laws=laws, duration=8.0).time.y for event in (bump, road))
    scale = np.abs(expected).max(axis=1, keepdims=True)
    moved = scale[:, 0] > 1e-9
    # Straight between points 20 mm apart, the road keeps 1e-4 of its height; accelerations feel its corners.
    loose = np.array(
        [0.02 if "acceleration" in c.key or c.kind in ("force", "torque") else 1e-3 for c in CHANNELS]
    )
    assert moved.sum() > 20
    assert np.all((np.abs(found - expected).max(axis=1) / scale[:, 0])[moved] < loose[moved])


@pytest.mark.parametrize("mode", MODE_SIGNS)
@pytest.mark.parametrize("frequency", [1.5, 9.0])
def test_steady_sine_on_the_rig_is_the_gain_of_the_road_mode(mode: str, frequency: float) -> None:
    """The run over time and the response to frequency are computed apart from each other."""
    amplitude = 1e-3
    sweep = SineSweep.model_validate(
        {
            "mode": mode,
            "start_frequency": frequency,
            "end_frequency": frequency,
            "start_amplitude": amplitude,
            "end_amplitude": amplitude,
            "duration": 13.0,  # it dies away in its last second, after the run
        }
    )
    analysis = driven(sweep, laws="linear", duration=11.5)
    t, y = analysis.time.t, analysis.time.y
    whole = round(4 * frequency) / frequency  # the last 4 s in whole waves; what began has died away
    last = t > t[-1] - whole
    wave = np.exp(-2j * np.pi * frequency * t[last])
    found = np.abs(2 * (y[:, last] * wave).mean(axis=1)) / amplitude
    wheels = frequency_response(analysis.model, np.array([frequency]), 12.0).wheel[0]
    expected = np.abs(wheels @ np.array(MODE_SIGNS[mode]))
    for key in ("heave_acceleration", "roll", "pitch", "travel_FL", "travel_RR", "tyre_force_FR"):
        row = channel_index(key)
        # Straight pieces between samples 2 ms apart take (2π f T)²/12 of a sine, 0.1 % at 9 Hz.
        assert found[row] == pytest.approx(expected[row], rel=3e-3, abs=1e-6)


@pytest.mark.parametrize("model", ["half car", "half car in roll", "quarter car front", "quarter car rear"])
def test_smaller_models_are_driven_too(model: str) -> None:
    for event in (SineSweep(mode="heave"), MeasuredRoad(step=0.5, left="0 9 3 0", right="0 1 9 0", passes=9)):
        y = driven(event, model=model).time.y
        assert np.isfinite(y).all()
        assert np.abs(y).max() > 1e-4
