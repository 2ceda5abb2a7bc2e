"""Time response: exact for a road that is straight between the samples."""

import numpy as np
import pytest
import scipy.linalg
from scipy.integrate import solve_ivp
from scipy.signal import cont2discrete, dlsim

from models.assembly import RideModel, assemble, half_car
from models.fields import replaced
from models.ride.channels import channel_index, outputs
from models.ride.frequency_response import frequency_response
from models.ride.transient import TimeResponse, _exponential, _propagate, road_inputs, time_response
from models.roads import Event, OneMinusCosine, Ramp, RoughSurface, Step, Washboard, wheel_heights
from models.vehicle import Side, TorsionCoupling, Vehicle

SURFACE = RoughSurface()


@pytest.fixture(scope="module")
def lopsided() -> RideModel:
    """Car without any symmetry: sides differ, seat off centre, tyres damped."""
    vehicle = replaced(Vehicle(), ("right",), Side(coupling=TorsionCoupling(bar_rate=900.0)))
    vehicle = replaced(vehicle, ("rear", "tyre", "damping"), 400.0)
    return assemble(replaced(vehicle, ("body", "cg_to_front_axle"), 1.3))


def drive(model: RideModel, event: Event, speed: float, t: np.ndarray) -> TimeResponse:
    """Response to an event."""
    heights = wheel_heights(event, SURFACE, speed, model.wheelbase, sum(model.track) / 2, t)
    return time_response(model, t, road_inputs(model, heights))


def rough(model: RideModel, samples: int) -> np.ndarray:
    """(m, samples) uneven road of some cm that begins at zero."""
    w = 0.02 * np.random.default_rng(5).standard_normal((len(model.inputs), samples))
    w[:, 0] = 0
    return w


def worst(actual: np.ndarray, expected: np.ndarray) -> float:
    """Largest deviation in terms of the peak of its channel; below 1e-8 (SI) a channel counts as zero."""
    peak = np.abs(expected).reshape(len(expected), -1).max(axis=1)
    deviation = np.abs(actual - expected).reshape(len(expected), -1).max(axis=1)
    return float((deviation / np.maximum(peak, 1e-8)).max())


def test_states_equal_scipy_discretisation_with_the_road_rate_as_input(lopsided: RideModel) -> None:
    """Another form of the same equations: state (q, q̇, w) driven by ẇ, constant over each step.

    No shifted velocity and no hold of first order is in it; scipy's zero-order hold is exact for it.
    """
    model, step = lopsided, 2e-3
    n, m = len(model.dof), len(model.inputs)
    w = rough(model, 400)
    inverse = np.linalg.inv(model.mass)
    a = np.zeros((2 * n + m, 2 * n + m))
    a[:n, n : 2 * n] = np.eye(n)
    a[n : 2 * n] = inverse @ np.hstack([-model.stiffness, -model.damping, model.road_stiffness])
    b = np.vstack([np.zeros((n, m)), inverse @ model.road_damping, np.eye(m)])
    discrete = cont2discrete((a, b, np.eye(2 * n + m), np.zeros((2 * n + m, m))), step, method="zoh")
    slope = np.diff(w, axis=1, append=w[:, -1:]) / step
    _, states, _ = dlsim(discrete, slope.T)
    q, rate = states[:, :n].T, states[:, n : 2 * n].T

    rows = outputs(model)
    mean_slope = np.gradient(w, step, axis=1)
    forces = model.road_stiffness @ w + model.road_damping @ mean_slope
    acceleration = inverse @ (forces - model.damping @ rate - model.stiffness @ q)
    expected = (
        rows.position @ q
        + rows.velocity @ rate
        + rows.acceleration @ acceleration
        + rows.road @ w
        + rows.road_rate @ mean_slope
    )
    y = time_response(model, np.arange(400) * step, w).y
    # round-off of 400 steps and of an inverse of the mass matrix
    assert worst(y, expected) < 1e-11


def test_error_on_a_smooth_road_falls_with_the_square_of_the_step(lopsided: RideModel) -> None:
    """Against solve_ivp on the smooth road itself (rtol 1e-10), from the equations of motion."""
    model, speed, bump = lopsided, 15.0, OneMinusCosine(height=0.06, length=6.0, start=1.0)
    n = len(model.dof)
    inverse = np.linalg.inv(model.mass)
    ahead = np.where(model.corners[:, 0] > 0, 0.0, -model.wheelbase)

    def motion(t: float, x: np.ndarray) -> np.ndarray:
        place = np.clip((speed * t + ahead - bump.start) / bump.length, 0, 1) * 2 * np.pi
        w = bump.height / 2 * (1 - np.cos(place))
        rate = bump.height / 2 * np.sin(place) * 2 * np.pi * speed / bump.length
        force = model.road_stiffness @ w + model.road_damping @ rate
        q, velocity = x[:n], x[n:]
        return np.append(velocity, inverse @ (force - model.damping @ velocity - model.stiffness @ q))

    end = 1.2
    exact = solve_ivp(motion, (0, end), np.zeros(2 * n), rtol=1e-10, atol=1e-12, max_step=0.02).y[:n, -1]
    errors = []
    for steps in (300, 600, 1200):
        response = drive(model, bump, speed, np.linspace(0, end, steps + 1))
        heave_roll_pitch = response.y[:3, -1]
        errors.append(np.abs(heave_roll_pitch - exact[:3]).max() / np.abs(exact[:3]).max())
    # a chord of a sine misses (ωh)²/12 of it on average, ω = 2πV/length
    assert errors[0] < (2 * np.pi * speed / bump.length * end / 300) ** 2 / 12
    # 4 for a halved step; the rest is the next order
    assert errors[0] / errors[1] == pytest.approx(4, rel=0.05)
    assert errors[1] / errors[2] == pytest.approx(4, rel=0.05)


def test_washboard_settles_to_the_frequency_response() -> None:
    """2 Hz for 16 s, amplitude and phase by projection on the last two waves.

    Straight lines between samples cut the sine by (ωh)²/12 = 1.3e-5, and the tyre force, the small
    difference of road and wheel, by five times that; the start has died out to e^-24.
    """
    model, speed, t = assemble(Vehicle()), 20.0, np.arange(16001) * 1e-3
    washboard = Washboard(amplitude=0.01, wavelength=10.0, length=1000.0, start=0.0)
    y = drive(model, washboard, speed, t).y[:, -1000:]
    wave = np.exp(-2j * np.pi * 2.0 * t[-1000:])
    measured = 2 * (y @ wave) / 1000 * 1j / 0.01  # road is the imaginary part of e^{iωt}
    expected = frequency_response(model, np.array([2.0]), speed).travelling[0]
    twist, bend = channel_index("frame_torsion"), channel_index("frame_bending")
    assert np.abs([measured[twist], expected[twist]]).max() < 1e-12 * np.abs(expected[bend])  # rounding
    assert worst(np.delete(measured, twist), np.delete(expected, twist)) < 1e-4


def test_car_comes_to_rest_on_a_step() -> None:
    response = drive(assemble(Vehicle()), Step(height=0.04), 20.0, np.linspace(0, 12, 6001))
    # the slowest mode has decayed by about e^-20 = 2e-9 of the 0.04 m, felt by a tyre as 200 kN/m
    assert response.channel("heave")[-1] == pytest.approx(0.04, abs=1e-9)
    for key in ("pitch", "roll", "travel_FL"):
        assert response.channel(key)[-1] == pytest.approx(0, abs=1e-9)
    assert response.channel("tyre_force_RR")[-1] == pytest.approx(0, abs=200e3 * 1e-9)


@pytest.mark.invariant
def test_symmetric_car_and_road_do_not_roll() -> None:
    response = drive(assemble(Vehicle()), OneMinusCosine(), 20.0, np.linspace(0, 4, 4001))
    assert np.abs(response.channel("roll")).max() < 1e-13 * np.abs(response.channel("pitch")).max()
    for key in ("travel", "tyre_force", "wheel"):
        left, right = response.channel(f"{key}_FL"), response.channel(f"{key}_FR")
        np.testing.assert_allclose(left, right, atol=1e-12 * np.abs(left).max())


@pytest.mark.invariant
def test_mirrored_road_mirrors_the_response() -> None:
    model, t = assemble(replaced(Vehicle(), ("seat", "y"), 0.0)), np.linspace(0, 3, 1501)
    left = drive(model, OneMinusCosine(side="left"), 20.0, t)
    right = drive(model, OneMinusCosine(side="right"), 20.0, t)
    for ours, theirs, sign in (("roll", "roll", -1), ("pitch", "pitch", 1), ("travel_RL", "travel_RR", 1)):
        peak = np.abs(left.channel(ours)).max()
        assert peak > 1e-3
        np.testing.assert_allclose(left.channel(ours), sign * right.channel(theirs), atol=1e-12 * peak)


@pytest.mark.invariant
def test_left_and_right_add_up(lopsided: RideModel) -> None:
    t = np.linspace(0, 2, 1001)
    sides = [drive(lopsided, Ramp(side=side), 20.0, t).y for side in ("left", "right")]
    both = drive(lopsided, Ramp(), 20.0, t).y
    np.testing.assert_allclose(sum(sides), both, atol=1e-12 * np.abs(both).max())


@pytest.mark.invariant
def test_half_car_equals_the_full_car_on_a_road_alike_on_both_sides() -> None:
    full, t = assemble(Vehicle()), np.linspace(0, 4, 2001)
    whole = drive(full, OneMinusCosine(), 20.0, t).y
    half = drive(half_car(full), OneMinusCosine(), 20.0, t).y
    rolling = [channel_index("roll"), channel_index("roll_acceleration")]
    assert np.abs(whole[rolling]).max() < 1e-12
    assert not half[rolling].any()
    twist, bend = channel_index("frame_torsion"), channel_index("frame_bending")
    assert np.abs(whole[twist]).max() < 1e-12 * np.abs(whole[bend]).max()
    rolling.append(twist)
    assert worst(np.delete(half, rolling, axis=0), np.delete(whole, rolling, axis=0)) < 1e-11


def test_half_car_takes_the_mean_of_left_and_right() -> None:
    heights = np.array([[4.0], [2.0], [1.0], [0.0]])
    np.testing.assert_array_equal(road_inputs(half_car(assemble(Vehicle())), heights), [[3.0], [0.5]])


def test_car_without_springs_stays_finite() -> None:
    vehicle = Vehicle()
    for place in ("front", "rear"):
        for path in (("spring", "rate"), ("damper", "jounce"), ("damper", "rebound"), ("tyre", "damping")):
            vehicle = replaced(vehicle, (place, *path), 0.0)
    response = drive(assemble(vehicle), Step(), 20.0, np.linspace(0, 4, 2001))
    assert np.isfinite(response.y).all()
    assert not response.channel("heave").any()


@pytest.mark.parametrize("samples", [2, 3, 4, 5, 16, 17, 101])
def test_blocks_give_what_stepping_one_by_one_gives(samples: int) -> None:
    random = np.random.default_rng(samples)
    phi = scipy.linalg.expm(random.standard_normal((4, 4)) / 4)
    start, pushes = random.standard_normal(4), random.standard_normal((4, samples))
    expected = [start]
    for k in range(samples - 1):
        expected.append(phi @ expected[-1] + pushes[:, k])
    np.testing.assert_allclose(_propagate(phi, start, pushes), np.transpose(expected), rtol=1e-9)


@pytest.mark.parametrize("size", [0.0, 1e-8, 0.3, 4.0, 60.0])
def test_exponential_equals_that_of_scipy(size: float) -> None:
    a = size * np.random.default_rng(2).standard_normal((12, 12)) / 12
    expected = scipy.linalg.expm(a)
    # both lose about the norm of the argument times round-off
    assert np.abs(_exponential(a) - expected).max() <= 1e-14 * (1 + 12 * size) * np.abs(expected).max()


def test_refuses_unequal_steps_and_a_road_of_another_shape() -> None:
    model = assemble(Vehicle())
    with pytest.raises(ValueError, match="equal steps"):
        time_response(model, np.array([0.0, 0.1, 0.3]), np.zeros((4, 3)))
    with pytest.raises(ValueError, match=r"\(2, 3\), not \(4, 3\)"):
        time_response(model, np.array([0.0, 0.1, 0.2]), np.zeros((2, 3)))
