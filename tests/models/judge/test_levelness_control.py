"""Levelness and control: each figure against its definition, by hand or from the spectra."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from scipy.constants import g

from models.analysis import Analysis, analyse
from models.judge import GROUPS, Figure, key_figures
from models.ride.channels import VIEW_DISTANCE, channel_index
from models.roads import OneMinusCosine
from models.run import Run
from models.vehicle import Axle, Stop, Vehicle
from tests.cars import EVERYTHING


def by_key(analysis: Analysis) -> dict[str, Figure]:
    return {figure.key: figure for figure in key_figures(analysis)}


@pytest.fixture(scope="module")
def analysis() -> Analysis:
    return analyse(EVERYTHING, Run())


def test_figures_of_a_group_stand_together_in_the_order_of_the_groups(analysis: Analysis) -> None:
    seen = list(dict.fromkeys(figure.group for figure in key_figures(analysis)))
    assert seen == list(GROUPS)
    runs = [figure.group for figure in key_figures(analysis)]
    assert sum(a != b for a, b in itertools.pairwise(runs)) == len(GROUPS) - 1


def test_pitch_velocity_is_the_rate_of_the_pitch_angle(analysis: Analysis) -> None:
    """From ω² times the spectrum; the grid is fine against the ripple of the delay, so to half a per cent."""
    f = analysis.ride.frequency
    expected = np.sqrt(np.trapezoid((2 * np.pi * f) ** 2 * analysis.ride.channel("pitch"), f))
    assert by_key(analysis)["rms_pitch_velocity"].value == pytest.approx(expected, rel=5e-3)


def test_horizon_movement_is_pitch_less_the_rise_of_the_eye_over_the_distance(analysis: Analysis) -> None:
    x, y = EVERYTHING.seat.x, EVERYTHING.seat.y
    time = analysis.time
    heave, roll, pitch = (time.channel(key) for key in ("heave", "roll", "pitch"))
    eye = heave + y * roll - x * pitch
    np.testing.assert_allclose(time.channel("horizon"), pitch - eye / VIEW_DISTANCE, atol=1e-12)


def test_horizon_movement_in_the_frequency_response() -> None:
    linear = analyse(EVERYTHING, Run(laws="linear"))
    gains = linear.response.travelling
    heave, roll, pitch, seen = (gains[:, channel_index(key)] for key in ("heave", "roll", "pitch", "horizon"))
    eye = heave + EVERYTHING.seat.y * roll - EVERYTHING.seat.x * pitch
    np.testing.assert_allclose(seen, pitch - eye / VIEW_DISTANCE, atol=1e-12)


def test_road_holding_is_that_of_the_worst_wheel() -> None:
    analysis = analyse(Vehicle(), Run())
    figures = by_key(analysis)
    a, wheelbase, mass = 1.45, 2.9, 1700.0
    assert (Vehicle().wheelbase, Vehicle().body.mass) == (wheelbase, mass)
    share = {"front": wheelbase - a, "rear": a}
    worst = []
    for axle, corner in (("front", "FL"), ("rear", "RL")):
        unsprung = getattr(Vehicle(), axle).wheels.unsprung_mass
        static = g * (mass * share[axle] / wheelbase / 2 + unsprung)
        worst.append(analysis.ride.channel_rms(f"tyre_force_{corner}") / static)
    assert figures["road_holding"].value == pytest.approx(1 - 3 * max(worst), rel=1e-9)


def test_margin_to_the_stop_is_the_travel_at_rest_less_that_of_the_run() -> None:
    stops = Axle(bump_stop=Stop(gap=0.08, rate=50e3), rebound_stop=Stop(gap=0.09, rate=50e3))
    analysis = analyse(Vehicle(front=stops), Run(event=OneMinusCosine(height=0.03)))
    figures = by_key(analysis)
    travel = np.stack([analysis.time.channel(f"travel_{corner}") for corner in ("FL", "FR")])
    # As designed the car stands at design trim, where the gaps are given.
    assert figures["jounce_margin_front"].value == pytest.approx(0.08 - travel.max(), abs=1e-9)
    assert figures["rebound_margin_front"].value == pytest.approx(0.09 + travel.min(), abs=1e-9)
    assert figures["jounce_margin_rear"].value == np.inf


def test_least_wheel_damping_is_the_least_of_hop_and_tramp(analysis: Analysis) -> None:
    modes = analysis.modes
    body = {"bounce", "pitch", "roll"}
    wheels = [ratio for name, ratio in zip(modes.names, modes.damping_ratio, strict=True) if name not in body]
    assert len(wheels) == 4
    assert by_key(analysis)["wheel_mode_damping"].value == min(wheels)
