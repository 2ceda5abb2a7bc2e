"""Manoeuvres over time, linear and nonlinear, alone and with a road."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.linalg import expm

from models.analysis import Analysis, analyse
from models.assembly import assemble, mechanics
from models.charts import build
from models.errors import InputError
from models.fields import replaced
from models.judge import key_figures
from models.judge.handling import handling_figures
from models.manoeuvre import Accelerate, Brake, BrakeInTurn, Corner, Manoeuvre, Straight
from models.ride.channels import CHANNELS
from models.ride.drive import drive_error
from models.ride.lean import roll_gravity
from models.ride.manoeuvres import manoeuvre_forces
from models.ride.steady import steady
from models.ride.transient import time_response
from models.roads import OneMinusCosine
from models.run import Run
from models.vehicle import AS_DESIGNED, Load, LoadCase, Stop, Vehicle
from tests.cars import EVERYTHING, load_cases, long_levers, manoeuvred, real_vehicles
from tests.manual import near

FLAT = OneMinusCosine(height=0.0)
LUGGAGE = LoadCase(name="luggage", loads=(Load(mass=150.0, x=-3.0, y=-0.3, z=0.8),))
STOPPED = replaced(
    replaced(EVERYTHING, ("front", "bump_stop"), Stop(gap=0.02, rate=60e3, growth=1e6)),
    ("rear", "rebound_stop"),
    Stop(gap=0.02, rate=40e3),
)


def run(
    manoeuvre: Manoeuvre,
    laws: str = "linear",
    vehicle: Vehicle = EVERYTHING,
    load: LoadCase = AS_DESIGNED,
    **more: object,
) -> Analysis:
    return analyse(vehicle, Run(manoeuvre=manoeuvre, laws=laws, event=FLAT, duration=8.0, **more), load)


def corners(analysis: Analysis, key: str) -> np.ndarray:
    return np.stack([analysis.time.channel(f"{key}_{corner}") for corner in ("FL", "FR", "RL", "RR")])


# Forces on the linear car


def test_a_force_that_is_held_brings_the_static_deflection() -> None:
    model = assemble(EVERYTHING)
    t = np.linspace(0.0, 20.0, 10001)
    force = np.random.default_rng(2).normal(size=len(model.dof)) * 500.0
    response = time_response(model, t, np.zeros((4, len(t))), np.outer(force, np.minimum(t, 1.0)))
    rest = np.linalg.solve(model.stiffness, force)
    np.testing.assert_allclose(response.y[:3, -1], model.body @ rest, rtol=1e-8)


def test_ramp_of_forces_by_the_matrix_exponential() -> None:
    """One step of 0.3 s, exact for a straight line: against the augmented system solved by scipy."""
    model = assemble(EVERYTHING)
    n = len(model.dof)
    force = np.random.default_rng(3).normal(size=n) * 500.0
    step = 0.3
    response = time_response(model, np.array([0.0, step]), np.zeros((4, 2)), np.outer(force, [0.0, step]))
    a = np.zeros((2 * n + 2, 2 * n + 2))
    a[:n, n : 2 * n] = np.eye(n)
    a[n : 2 * n, :n] = -np.linalg.solve(model.mass, model.stiffness)
    a[n : 2 * n, n : 2 * n] = -np.linalg.solve(model.mass, model.damping)
    a[n : 2 * n, 2 * n] = np.linalg.solve(model.mass, force)
    a[2 * n, 2 * n + 1] = 1.0
    x = expm(a * step)[:, -1]
    np.testing.assert_allclose(response.y[:3, 1], x[:3], rtol=1e-9)
    acceleration = a[n : 2 * n] @ x
    np.testing.assert_allclose(response.y[3:6, 1], acceleration[:3], rtol=1e-8)


def test_forces_of_another_shape_are_refused() -> None:
    model = assemble(EVERYTHING)
    with pytest.raises(ValueError, match="forces has the shape"):
        time_response(model, np.linspace(0, 1, 11), np.zeros((4, 11)), np.zeros((3, 11)))


# Against the equilibrium


@pytest.mark.parametrize("load", [AS_DESIGNED, LUGGAGE], ids=lambda load: load.name)
@pytest.mark.parametrize("laws", ["linear", "nonlinear"])
@pytest.mark.parametrize(
    "manoeuvre",
    [Brake(longitudinal=3.0), Accelerate(), Corner(lateral=3.0), BrakeInTurn(longitudinal=2.0, lateral=-3.0)],
    ids=lambda manoeuvre: manoeuvre.kind,
)
def test_settles_to_the_quasi_static_value(manoeuvre: Manoeuvre, laws: str, load: LoadCase) -> None:
    # About its equilibrium only a car whose levers hardly turn is a linear one.
    vehicle = long_levers(EVERYTHING) if laws == "linear" else EVERYTHING
    analysis = run(manoeuvre, laws, vehicle, load)
    a_x = {"brake": -3.0, "accelerate": 3.0, "brake in turn": -2.0}.get(manoeuvre.kind, 0.0)
    a_y = getattr(manoeuvre, "lateral", 0.0)
    expected = steady(vehicle, analysis.car, analysis.stand, a_x, a_y)
    # After seven seconds the slowest mode, of some 1 Hz and 0.2 of critical damping, has died to 1e-4.
    at_end = analysis.time.y[:, -1]
    assert at_end[1] == pytest.approx(expected.roll, rel=1e-3, abs=1e-6)
    assert at_end[2] == pytest.approx(expected.pitch, rel=1e-3, abs=1e-6)
    np.testing.assert_allclose(corners(analysis, "travel")[:, -1], expected.travel, rtol=1e-3, atol=1e-5)
    np.testing.assert_allclose(
        corners(analysis, "tyre_force")[:, -1], expected.load_change, rtol=1e-3, atol=0.5
    )
    np.testing.assert_allclose(analysis.tyre_load[:, -1], expected.stand.tyre_force, rtol=1e-3)


def test_settles_on_the_stops() -> None:
    analysis = run(BrakeInTurn(longitudinal=4.0, lateral=4.0), "nonlinear", STOPPED)
    expected = steady(STOPPED, analysis.car, analysis.stand, -4.0, 4.0)
    assert expected.travel[1] > 0.02
    np.testing.assert_allclose(corners(analysis, "travel")[:, -1], expected.travel, rtol=1e-3, atol=1e-5)


def test_the_car_rights_itself_after_the_manoeuvre() -> None:
    pulse = BrakeInTurn(longitudinal=3.0, lateral=3.0, start=0.5, onset=0.3, hold=0.2)
    for laws in ("linear", "nonlinear"):
        y = run(pulse, laws).time.y
        assert np.abs(y[1]).max() > 0.02
        assert np.abs(y[:3, -1]).max() < 1e-3 * np.abs(y[:3]).max()


# Linear and nonlinear


@pytest.mark.parametrize("manoeuvre", [Brake(longitudinal=0.1), Corner(lateral=0.1)], ids=lambda m: m.kind)
def test_linear_and_nonlinear_agree_for_small_accelerations(manoeuvre: Manoeuvre) -> None:
    """Dampers alike in jounce and rebound; step errors of the nonlinear run are the tolerance."""
    even = long_levers(EVERYTHING, 30.0)
    for axle in ("front", "rear"):
        even = replaced(even, (axle, "damper", "rebound"), getattr(even, axle).damper.jounce)
    linear, nonlinear = (run(manoeuvre, laws, even).time.y for laws in ("linear", "nonlinear"))
    for row, channel in enumerate(CHANNELS):
        if channel.key.startswith("frame"):
            continue
        peak = np.abs(linear[row]).max()
        # Of tyre loads of 4000 N some 1e-9 round off, on changes of some N.
        np.testing.assert_allclose(
            nonlinear[row], linear[row], rtol=0, atol=1e-5 * peak + 1e-8, err_msg=channel.key
        )


def test_braking_in_a_turn_is_the_sum_in_the_linear_car() -> None:
    """Of a car with like sides; its turn has the roll gravity, which braking, without roll, does not feel."""
    brake, turn, both = (
        run(manoeuvre, vehicle=Vehicle()).time.y
        for manoeuvre in (
            Brake(longitudinal=4.0, onset=0.5),
            Corner(lateral=4.0),
            BrakeInTurn(longitudinal=4.0, lateral=4.0),
        )
    )
    for row, channel in enumerate(CHANNELS):
        np.testing.assert_allclose(
            both[row],
            brake[row] + turn[row],
            atol=1e-9 * max(np.abs(both[row]).max(), 1.0),
            err_msg=channel.key,
        )


@pytest.mark.invariant
@pytest.mark.parametrize("laws", ["linear", "nonlinear"])
def test_right_turn_mirrors_left_turn(laws: str) -> None:
    left, right = (run(Corner(lateral=a_y), laws, Vehicle()) for a_y in (5.0, -5.0))
    np.testing.assert_allclose(left.time.y[1], -right.time.y[1], atol=1e-9)
    np.testing.assert_allclose(left.time.y[2], right.time.y[2], atol=1e-9)
    np.testing.assert_allclose(left.tyre_load, right.tyre_load[[1, 0, 3, 2]], atol=1e-4)


@pytest.mark.invariant
def test_manoeuvre_and_road_add_in_the_linear_car() -> None:
    bump = OneMinusCosine(height=0.05, side="left")
    parts = [
        analyse(Vehicle(), Run(manoeuvre=manoeuvre, event=event, laws="linear")).time.y
        for manoeuvre, event in ((Brake(), bump), (Brake(), FLAT), (Straight(), bump))
    ]
    np.testing.assert_allclose(parts[0], parts[1] + parts[2], atol=1e-7)


def test_stiff_springs_of_a_turn_roll_by_the_closed_form() -> None:
    """φ(t) of one degree of freedom, I φ̈ + c φ̇ + (k - m g d) φ = m d a, settles to m d a / (k - m g d)."""
    analysis = run(Corner(lateral=2.0), vehicle=Vehicle())
    force = manoeuvre_forces(Vehicle(), analysis.car, 0.0, 2.0)
    lean = analysis.full.stiffness.copy()
    lean[1, 1] -= roll_gravity(Vehicle(), analysis.car)
    assert analysis.time.y[1, -1] == pytest.approx(np.linalg.solve(lean, force)[1], rel=1e-4)


# Energy, rows, step


@pytest.mark.invariant
@pytest.mark.parametrize("manoeuvre", [Brake(), Corner(lateral=6.0), BrakeInTurn()], ids=lambda m: m.kind)
def test_the_energy_of_the_run_adds_up(manoeuvre: Manoeuvre) -> None:
    """Work of the manoeuvre against storage, roll gravity included, and dampers."""
    driven = run(manoeuvre, "nonlinear", STOPPED).nonlinear
    assert driven is not None
    assert np.abs(driven.response.outside_work).max() > 10.0
    # The step is not aimed at the places where the stops begin.
    near("energy residual", driven.response.energy_residual, 0.0, within=1e-5)


def test_the_rows_of_a_turn_are_those_of_the_elements_of_the_car() -> None:
    driven = run(Corner(), "nonlinear").nonlinear
    assert driven is not None
    names = [element.name for element in mechanics(EVERYTHING).elements]
    assert [element.name for element in driven.response.model.elements] == names
    assert len(driven.response.element_force) == len(driven.response.stop_contact) == len(names)
    assert driven.response.extrapolated == ()


def test_the_step_is_short_enough() -> None:
    analysis = run(BrakeInTurn(), "nonlinear", STOPPED)
    error = drive_error(STOPPED, analysis.car, analysis.stand, analysis.model, analysis.run)
    # Of the peak; most of it where the stops begin, which the steps do not meet.
    assert error.position < 1e-4


# Smaller models


@pytest.mark.parametrize("laws", ["linear", "nonlinear"])
def test_half_car_brakes_as_the_full_car(laws: str) -> None:
    full, half = (run(Brake(), laws, Vehicle(), model=model) for model in ("full car", "half car"))
    for key in ("pitch", "heave", "travel_FL", "tyre_force_RR"):
        np.testing.assert_allclose(half.time.channel(key), full.time.channel(key), atol=1e-6, err_msg=key)
    turning = run(Corner(), laws, Vehicle(), model="half car").time
    np.testing.assert_allclose(turning.channel("pitch"), 0.0, atol=1e-12)


@pytest.mark.parametrize("laws", ["linear", "nonlinear"])
def test_half_car_in_roll_corners_as_a_full_car_of_equal_axles(laws: str) -> None:
    full, half = (run(Corner(), laws, Vehicle(), model=model) for model in ("full car", "half car in roll"))
    for key in ("roll", "travel_FL", "tyre_force_RR"):
        np.testing.assert_allclose(half.time.channel(key), full.time.channel(key), atol=1e-6, err_msg=key)


@pytest.mark.parametrize(
    ("model", "corner", "sign"), [("quarter car front", "FL", 1), ("quarter car rear", "RL", -1)]
)
def test_quarter_car_dives_with_its_load_change(model: str, corner: str, sign: int) -> None:
    quarter = run(Brake(longitudinal=4.0), vehicle=Vehicle(), model=model)
    change = (1700 * 0.55 + 180 * 0.31) * 4.0 / 2.9 / 2 * sign
    assert quarter.time.channel(f"tyre_force_{corner}")[-1] == pytest.approx(change, rel=1e-3)
    assert quarter.time.channel(f"travel_{corner}")[-1] == pytest.approx(0.75 * change / 26e3, rel=1e-3)


# What is shown


def test_tyre_load_chart_shows_whole_forces() -> None:
    for laws in ("linear", "nonlinear"):
        analysis = run(Brake(), laws, Vehicle())
        chart = build("time-tyre-load", analysis)
        assert [curve.label for curve in chart.curves] == ["front", "rear"]
        for curve, corner in zip(chart.curves, (0, 2), strict=True):
            np.testing.assert_array_equal(curve.y, analysis.tyre_load[corner])
            assert curve.y[0] == pytest.approx(analysis.stand.tyre_force[corner])


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    vehicle=manoeuvred(real_vehicles),
    load=load_cases,
    manoeuvre=st.builds(Brake, longitudinal=st.floats(0, 15), start=st.just(0.0), onset=st.floats(0.01, 0.5))
    | st.builds(Corner, lateral=st.floats(-15, 15), start=st.just(0.0), onset=st.floats(0.01, 0.5))
    | st.builds(Accelerate, longitudinal=st.floats(0, 10), start=st.just(0.0), hold=st.just(0.1))
    | st.builds(BrakeInTurn, longitudinal=st.floats(0, 10), lateral=st.floats(-10, 10), start=st.just(0.0)),
    laws=st.sampled_from(["linear", "nonlinear"]),
    model=st.sampled_from(
        ["full car", "half car", "half car in roll", "quarter car front", "quarter car rear"]
    ),
)
def test_any_car_in_any_manoeuvre_gives_numbers_or_says_why_not(
    vehicle: Vehicle, load: LoadCase, manoeuvre: Manoeuvre, laws: str, model: str
) -> None:
    drive = Run(manoeuvre=manoeuvre, laws=laws, model=model, duration=0.6, event=OneMinusCosine(start=0.5))
    try:
        analysis = analyse(vehicle, drive, load)
    except InputError:  # in words
        return
    assert np.isfinite(analysis.time.y).all()
    assert np.isfinite(analysis.tyre_load).all()
    # Of a car that does not stand, what it has at rest is no number and shown as such.
    shown = key_figures(analysis) if analysis.stand.stable else handling_figures(analysis)
    assert not any(np.isnan(figure.value) for figure in shown)
