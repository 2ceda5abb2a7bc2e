from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.assembly import CORNERS, assemble, half_car
from models.ride.channels import CHANNELS, channel_index, outputs
from models.ride.frequency_response import (
    ROAD_MODES,
    FrequencyResponse,
    _compiled_gains,
    frequency_response,
)
from models.vehicle import Axle, Damper, IndependentWheels, Spring, Tyre, Vehicle
from tests.cars import EVERYTHING, symmetric_vehicles, vehicles

FREQUENCY = np.geomspace(0.05, 60.0, 60)


def _gain(response: FrequencyResponse, key: str, mode: str) -> np.ndarray:
    return response.road_modes[:, channel_index(key), ROAD_MODES.index(mode)]


@given(vehicles)
def test_against_one_solution_at_a_time(vehicle: Vehicle) -> None:
    """All channels at three frequencies, written out without stacking."""
    model, rows = assemble(vehicle), outputs(assemble(vehicle))
    frequency = np.array([0.2, 3.0, 25.0])
    response = frequency_response(model, frequency, speed=20.0)
    for number, f in enumerate(frequency):
        s = 2j * np.pi * f
        q = np.linalg.inv(s**2 * model.mass + s * model.damping + model.stiffness) @ (
            model.road_stiffness + s * model.road_damping
        )
        y = (
            (rows.position + s * rows.velocity + s**2 * rows.acceleration) @ q
            + rows.road
            + s * rows.road_rate
        )
        np.testing.assert_allclose(response.wheel[number], y, rtol=1e-9, atol=1e-9 * np.abs(y).max())


def test_shapes() -> None:
    full = frequency_response(assemble(EVERYTHING), FREQUENCY, speed=20.0)
    assert full.wheel.shape == (60, len(CHANNELS), 4)
    assert full.travelling.shape == (60, len(CHANNELS))
    assert full.road_modes.shape == (60, len(CHANNELS), 4)
    half = frequency_response(half_car(assemble(EVERYTHING)), FREQUENCY, speed=20.0)
    assert half.wheel.shape == (60, len(CHANNELS), 2)


@pytest.mark.parametrize(("mode", "key"), [("heave", "heave"), ("roll", "roll"), ("pitch", "pitch")])
def test_slow_roads_carry_the_body_along(mode: str, key: str) -> None:
    """At 1 mHz the body follows the road; what is left is (f / f_n)² = 1e-6 or so."""
    response = frequency_response(assemble(EVERYTHING), np.array([1e-3]), speed=20.0)
    assert _gain(response, key, mode)[0] == pytest.approx(1.0, abs=1e-4)


def test_a_slow_warp_moves_body_by_the_stiffness_alone() -> None:
    """For a car alike left and right and front and rear, warp moves no body at any frequency."""
    response = frequency_response(assemble(Vehicle()), FREQUENCY, speed=20.0)
    for key in ("heave", "roll", "pitch"):
        assert np.abs(_gain(response, key, "warp")).max() < 1e-12
    assert abs(_gain(response, "travel_FL", "warp")[0]) > 0.1


@given(vehicles, st.floats(5.0, 50.0))
def test_the_travelling_road_is_a_delayed_sum_of_the_wheels(vehicle: Vehicle, speed: float) -> None:
    response = frequency_response(assemble(vehicle), FREQUENCY, speed)
    lag = np.exp(-2j * np.pi * FREQUENCY * vehicle.wheelbase / speed)[:, None]
    wheel = response.wheel
    expected = wheel[..., 0] + wheel[..., 1] + lag * (wheel[..., 2] + wheel[..., 3])
    np.testing.assert_allclose(response.travelling, expected, rtol=1e-9, atol=1e-9 * np.abs(expected).max())


@given(symmetric_vehicles)
def test_both_tracks_alike_make_no_roll(vehicle: Vehicle) -> None:
    response = frequency_response(assemble(vehicle), FREQUENCY, speed=20.0)
    largest = np.abs(response.wheel[:, channel_index("roll")]).max()
    assert np.abs(response.travelling[:, channel_index("roll")]).max() <= 1e-9 * max(largest, 1e-3)


@given(symmetric_vehicles)
def test_half_car_answers_as_the_full_car_to_both_tracks_alike(vehicle: Vehicle) -> None:
    full = assemble(vehicle)
    ours = frequency_response(half_car(full), FREQUENCY, speed=17.0)
    theirs = frequency_response(full, FREQUENCY, speed=17.0)
    for key in ("heave", "pitch", "pitch_acceleration", "travel_RL", "tyre_force_FR", "wheel_RR"):
        row = channel_index(key)
        largest = np.abs(theirs.travelling[:, row]).max()
        np.testing.assert_allclose(
            ours.travelling[:, row], theirs.travelling[:, row], rtol=0, atol=1e-9 * largest + 1e-15
        )


def test_half_car_has_no_road_in_roll_and_warp() -> None:
    response = frequency_response(half_car(assemble(EVERYTHING)), FREQUENCY, speed=20.0)
    for mode in ("roll", "warp"):
        assert np.abs(response.road_modes[..., ROAD_MODES.index(mode)]).max() < 1e-9
    assert _gain(response, "pitch", "pitch")[0] == pytest.approx(1.0, abs=0.05)


@given(spring=st.floats(0.0, 80e3), damping=st.floats(100.0, 6000.0))
def test_at_the_tyre_frequency_the_body_feels_neither_spring_nor_damper(
    spring: float, damping: float
) -> None:
    """ms z̈_s + mu z̈_u = kt (w - z_u): at ω² = kt/mu body acceleration is kt/ms per metre (four alike)."""
    axle = Axle(
        wheels=IndependentWheels(unsprung_mass=40.0),
        spring=Spring(rate=spring),
        damper=Damper(jounce=damping, rebound=damping),
        tyre=Tyre(rate=190e3, damping=0.0),
    )
    f = np.array([np.sqrt(190e3 / 40.0) / (2 * np.pi)])
    response = frequency_response(assemble(Vehicle(front=axle, rear=axle)), f, speed=20.0)
    assert abs(_gain(response, "heave_acceleration", "heave")[0]) == pytest.approx(4 * 190e3 / 1700, rel=1e-9)


@given(vehicles)
def test_newton_for_the_whole_car(vehicle: Vehicle) -> None:
    """The tyre forces accelerate body and wheels, whatever is between: Σ F = m z̈ + Σ m_u z̈_u."""
    model = assemble(vehicle)
    response = frequency_response(model, FREQUENCY, speed=20.0)
    s2 = -((2 * np.pi * FREQUENCY) ** 2)[:, None]

    def corners(key: str) -> np.ndarray:
        return response.wheel[:, channel_index(f"{key}_FL") : channel_index(f"{key}_RR") + 1]

    forces = corners("tyre_force").sum(axis=1)
    wheels = np.einsum("c,fcm->fm", model.wheel_mass.sum(axis=0), corners("wheel"))
    body = model.body_mass[0, 0] * response.wheel[:, channel_index("heave")]
    scale = np.abs(corners("tyre_force")).max()
    np.testing.assert_allclose(forces, s2 * (body + wheels), rtol=0, atol=1e-10 * scale)


@given(vehicles)
def test_both_solvers_leave_no_remainder(vehicle: Vehicle) -> None:
    """Z q = K_t + iωC_t to rounding, measured against the sizes of its terms.

    The compiled elimination may lose four digits of sixteen to small pivots before it hands over.
    """
    model = assemble(vehicle)
    s = 2j * np.pi * FREQUENCY[:, None, None]
    dynamic = s**2 * model.mass + s * model.damping + model.stiffness
    wanted = model.road_stiffness + s * model.road_damping
    keys = ("heave", "roll", "pitch", *(f"wheel_{corner}" for corner in CORNERS))
    for compiled, bound in ((True, 1e-11), (False, 1e-14)):
        response = frequency_response(model, FREQUENCY, 20.0, compiled=compiled)
        q = response.wheel[:, [channel_index(key) for key in keys]]
        size = np.abs(dynamic) @ np.abs(q) + np.abs(wanted)
        assert (np.abs(dynamic @ q - wanted) <= bound * size.max(axis=1, keepdims=True)).all()


def test_an_undamped_car_at_its_resonance_goes_to_the_general_solver() -> None:
    """The pivot of heave vanishes where the body swings on its springs with the wheels held."""
    axle = Axle(damper=Damper(jounce=0.0, rebound=0.0), tyre=Tyre(damping=0.0))
    model = assemble(Vehicle(front=axle, rear=axle))
    held = np.sqrt(model.stiffness[0, 0] / model.mass[0, 0])
    assert _compiled_gains(model, np.array([held])) is None
    assert np.isfinite(frequency_response(model, np.array([held]) / (2 * np.pi), 20.0).wheel).all()
