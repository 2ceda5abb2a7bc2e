"""Nonlinear transient: linear limit, order, energy, lift-off, stops, friction, and what is refused."""

import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.signal import StateSpace, lsim

from models.assembly import assemble, half_car
from models.errors import InputError
from models.ride import nonlinear
from models.ride.channels import channel_index
from models.ride.laws import LawTable, linear_law, resample
from models.ride.linkage_table import LinkageTable
from models.ride.nonlinear import simulate, step_halving
from models.ride.nonlinear_model import ForceElement, Friction, Link, NonlinearModel, Stop, Tyres
from models.ride.transient import TimeResponse, road_inputs, time_response
from models.roads import HalfSine, RoughSurface, wheel_heights
from models.vehicle import Vehicle
from models.verification.engines.nonlinear_cars import EVERY_LAW, every_law, hard_bump, linear_limit, one_mass
from tests.cars import EVERYTHING
from tests.manual import near

Array = NDArray[np.float64]

MODELS = {
    "plain": assemble(Vehicle()),
    "every part": assemble(EVERYTHING),
    "half car": half_car(assemble(EVERYTHING)),
}


def worst(ours: Array, theirs: Array) -> float:
    """Largest difference relative to the peak of all rows together."""
    return float(np.abs(ours - theirs).max() / np.abs(theirs).max())


@pytest.mark.invariant
@pytest.mark.parametrize("name", MODELS)
@pytest.mark.parametrize("side", ["both sides", "left"])
def test_linear_limit_is_the_exact_linear_response(name: str, side: str) -> None:
    """Within 1e-6 of peak.  At 0.25 ms RK4 errs by (ω h)⁵/120 a step, 1e-9 for the wheel hop."""
    model = MODELS[name]
    t = 2.5e-4 * np.arange(6001)
    event = HalfSine(height=0.05, length=1.5, start=1.0, side=side)
    w = wheel_heights(event, RoughSurface(), 12.0, model.wheelbase, 1.5, t)
    if name == "half car":
        w = model.road @ road_inputs(model, w)
    exact = time_response(model, t, road_inputs(model, w))
    ours = simulate(linear_limit(model), t, w)
    rows = _rows(exact)
    groups = {
        "heave": model.body[0] @ ours.q.T,
        "pitch": model.body[2] @ ours.q.T,
        "heave_acceleration": model.body[0] @ ours.acceleration.T,
        "pitch_acceleration": model.body[2] @ ours.acceleration.T,
        "travel": model.travel @ ours.q.T,
        "wheel": model.wheels @ ours.q.T,
        "tyre_force": ours.tyre_force - 1e7,
    }
    for key, result in groups.items():
        near(f"{key}, SI", np.atleast_2d(result), rows[key], within=1e-6 * np.abs(rows[key]).max())


def _rows(exact: TimeResponse) -> dict[str, Array]:
    rows = {
        key: exact.y[[channel_index(key)]]
        for key in ("heave", "pitch", "heave_acceleration", "pitch_acceleration")
    }
    for key in ("travel", "wheel", "tyre_force"):
        rows[key] = exact.y[channel_index(f"{key}_FL") : channel_index(f"{key}_RR") + 1]
    return rows


@pytest.mark.invariant
def test_at_rest_it_stays_at_rest() -> None:
    """Weight, preload and static tyre loads balance; what is left is rounding of forces of 1e4 N."""
    t = 1e-3 * np.arange(2001)
    result = simulate(EVERY_LAW, t, np.zeros((4, 2001)))
    assert np.abs(result.q).max() < 1e-12
    assert np.abs(result.acceleration).max() < 1e-11
    assert not result.lift_off.any()
    assert not result.stop_contact.any()


def test_order_is_four_where_nothing_has_a_corner() -> None:
    """Halving the step divides the error by sixteen: a stop in touch all the time, the road straight between
    samples, and steps that end where it bends."""
    model = one_mass(spring=lambda x: 3e4 * x, damper=600.0, jounce_stop=Stop(-0.2, 5e4, 2e6))
    t = np.linspace(0.0, 0.8, 41)
    push = (5e4 * 0.2 + 2e6 * 0.04) * -1 + 900 * np.sin(18 * t)[None]
    flat = np.zeros((4, 41))
    exact = simulate(model, t, flat, forces=push, substeps=2048)
    errors = [worst(simulate(model, t, flat, forces=push, substeps=s).q, exact.q) for s in (4, 8, 16)]
    assert exact.stop_contact.all()
    np.testing.assert_allclose(np.log2(np.array(errors[:-1]) / errors[1:]), 4.0, atol=0.25)


def test_order_in_the_spacing_of_a_table_is_two() -> None:
    """Half the spacing of the points, a quarter of the error: 32, 64 and 128 cells against 4096."""
    t = 1e-3 * np.arange(501)
    runs = []
    for cells in (32, 64, 128, 4096):
        law, _ = resample(lambda x: 3e4 * x + 2e7 * x**3, -0.08, 0.08, cells + 1)
        model = one_mass(spring=lambda x: x, damper=900.0)
        model = replace(model, elements=(replace(model.elements[0], spring=law),))
        runs.append(simulate(model, t, np.zeros((4, 501)), q0=np.array([0.07])).q)
    errors = np.array([worst(run, runs[-1]) for run in runs[:-1]])
    np.testing.assert_allclose(np.log2(errors[:-1] / errors[1:]), 2.0, atol=0.2)


def test_order_with_kinks_is_two_or_more() -> None:
    """At the corner of a stop, of friction or of a wheel off the road a step is right to second order.

    The fit over four halvings is held between 1.5 and 4: the error of single steps jumps with where in the
    step the corner falls.
    """
    t = np.linspace(0.0, 1.0, 501)
    w = hard_bump(t)
    exact = simulate(EVERY_LAW, t, w, substeps=512)
    steps = np.array([1, 2, 4, 8, 16])
    errors = [worst(simulate(EVERY_LAW, t, w, substeps=int(s)).q, exact.q) for s in steps]
    order = -np.polyfit(np.log2(steps), np.log2(errors), 1)[0]
    assert 1.5 < order < 4.0


@pytest.mark.invariant
def test_energy_is_kept_on_a_hard_bump() -> None:
    t = 1e-3 * np.arange(3001)
    result = simulate(EVERY_LAW, t, hard_bump(t))
    assert result.stop_contact.any()
    assert result.lift_off.any()
    near("energy residual", result.energy_residual, 0.0, within=1e-3)
    assert (np.diff(result.dissipated) > -1e-9).all()


def test_energy_residual_shows_too_long_a_step() -> None:
    t = 16e-3 * np.arange(151)
    assert simulate(EVERY_LAW, t, hard_bump(t)).energy_residual > 1e-3


@pytest.mark.invariant
def test_work_of_outside_forces_is_in_the_audit() -> None:
    t = 1e-3 * np.arange(1501)
    forces = np.zeros((8, 1501))
    forces[2] = 4000 * np.sin(6 * t)
    result = simulate(EVERY_LAW, t, np.zeros((4, 1501)), forces=forces)
    power = forces[2] * result.rate[:, 2]
    # trapezoid of a smooth power at 1 ms: relative error h² ω²/12
    near("work, J", result.outside_work[-1], np.trapezoid(power, t), relative=1e-4)
    assert result.energy_residual < 1e-3
    assert np.abs(result.road_work).max() == 0


def test_histories_are_those_of_the_laws() -> None:
    """Deflections and forces of a run, evaluated again element by element with the tables themselves."""
    t = 1e-3 * np.arange(1201)
    result = simulate(EVERY_LAW, t, hard_bump(t))
    x, rate = EVERY_LAW.coordinates @ result.q.T, EVERY_LAW.coordinates @ result.rate.T
    pulled = np.zeros_like(x)
    for number, element in enumerate(EVERY_LAW.elements):
        lever = np.tile(element.incidence[:, None], (1, len(t)))
        bent = element.incidence @ x
        for link in element.links:
            bent = bent + link.table.deflection(x[link.coordinate])
            lever[link.coordinate] = link.table.ratio(x[link.coordinate])
        turning = (lever * rate).sum(axis=0)
        force = element.spring.value(bent) + element.damper.value(turning)
        if element.jounce_stop:
            past = np.maximum(bent - element.jounce_stop.gap, 0)
            force = force + element.jounce_stop.rate * past + element.jounce_stop.progression * past**2
            past = np.maximum(-element.rebound_stop.gap - bent, 0)
            force = force - element.rebound_stop.rate * past
        if element.friction:
            part = np.clip(turning / element.friction.width, -1, 1)
            force = force + element.friction.force * part
        np.testing.assert_allclose(result.deflection[number], bent, atol=1e-12, err_msg=element.name)
        np.testing.assert_allclose(result.deflection_rate[number], turning, atol=1e-9, err_msg=element.name)
        np.testing.assert_allclose(result.element_force[number], force, atol=1e-6, err_msg=element.name)
        pulled += lever * force
    np.testing.assert_allclose(result.coordinate, x, atol=1e-12)
    np.testing.assert_allclose(result.coordinate_rate, rate, atol=1e-10)
    np.testing.assert_allclose(result.coordinate_force, pulled, atol=1e-6)
    balance = (
        -EVERY_LAW.coordinates.T @ pulled
        + EVERY_LAW.wheels.T @ result.tyre_force
        + EVERY_LAW.constant_force[:, None]
    )
    np.testing.assert_allclose(EVERY_LAW.mass @ result.acceleration.T, balance, atol=1e-6)


@pytest.mark.invariant
def test_a_thrown_car_flies() -> None:
    """With all wheels in the air the centre of gravity falls with g, whatever the springs do."""
    model = every_law(seat=False)
    t = 1e-3 * np.arange(401)
    v0 = np.full(7, 4.0)
    v0[1:3] = 0
    result = simulate(model, t, np.zeros((4, 401)), q0=np.array([0.3, 0, 0, 0.3, 0.3, 0.3, 0.3]), v0=v0)
    flying = result.lift_off.all(axis=0)
    assert flying.all()
    heights = np.diag(model.mass)[[0, 3, 4, 5, 6]] @ result.q[:, [0, 3, 4, 5, 6]].T
    total = np.diag(model.mass)[[0, 3, 4, 5, 6]].sum()
    # RK4 is exact for a parabola; rounding only
    np.testing.assert_allclose(heights / total, 0.3 + 4.0 * t - 9.80665 * t**2 / 2, atol=1e-10)


def test_friction_takes_four_force_over_rate_of_the_amplitude_each_cycle() -> None:
    """Free vibration with Coulomb friction: amplitude falls by 4 F/k a cycle (den Hartog, Mechanical
    Vibrations, free vibration with Coulomb damping; from memory).

    The regularisation rounds the reversal off within the width: at 1 mm/s against a peak rate of 0.5 m/s
    the loss per cycle is less by about its square, and the reading of the peaks at 0.1 ms adds (ω h)²/8 =
    1e-7 of the amplitude; 1e-3 of the loss is asked for.
    """
    mass, rate, force, amplitude = 400.0, 40e3, 120.0, 0.05
    model = one_mass(spring=lambda x: rate * x, damper=0.0, mass=mass, friction=Friction(force, 1e-3))
    t = 1e-4 * np.arange(20001)
    result = simulate(model, t, np.zeros((4, len(t))), q0=np.array([amplitude]))
    z = result.q[:, 0]
    peaks = z[1:-1][(z[1:-1] > z[:-2]) & (z[1:-1] >= z[2:]) & (z[1:-1] > 2 * force / rate)]
    loss = -np.diff([amplitude, *peaks])
    assert len(loss) >= 3
    np.testing.assert_allclose(loss, 4 * force / rate, rtol=1e-3)
    period = 2 * np.pi * np.sqrt(mass / rate)
    at = t[1:-1][(z[1:-1] > z[:-2]) & (z[1:-1] >= z[2:])][:3]
    np.testing.assert_allclose(at, period * np.arange(1, 4), atol=2e-4)


@pytest.mark.invariant
def test_a_stop_turns_back_at_the_height_that_energy_gives() -> None:
    """Mass thrown into a quadratic stop: k p²/2 + k₂ p³/3 = m v²/2 at the turning point."""
    stop = Stop(gap=0.02, rate=50e3, progression=2e6)
    model = one_mass(spring=lambda x: 0 * x, damper=0.0, mass=300.0, jounce_stop=stop)
    t = 2e-5 * np.arange(8001)
    result = simulate(model, t, np.zeros((4, len(t))), v0=np.array([-1.5]))  # down is jounce
    p = np.roots([stop.progression / 3, stop.rate / 2, 0, -300.0 * 1.5**2 / 2])
    p = float(p[(abs(p.imag) < 1e-12) & (p.real > 0)].real[0])
    assert result.deflection[0].max() == pytest.approx(stop.gap + p, rel=1e-6)


def test_step_halving_foretells_the_error() -> None:
    t = 1e-3 * np.arange(1501)
    w = hard_bump(t, height=0.03)
    foretold = step_halving(EVERY_LAW, t, w)
    exact, run = simulate(EVERY_LAW, t, w, substeps=64), simulate(EVERY_LAW, t, w)
    error = np.abs(run.tyre_force - exact.tyre_force).max() / np.abs(exact.tyre_force).max()
    assert 0.5 * error < foretold.tyre_force < 4 * error
    assert foretold.largest >= foretold.tyre_force


def test_motion_beyond_all_bounds_is_refused_with_the_time() -> None:
    runaway = one_mass(spring=lambda x: -4e6 * x, damper=0.0)
    t = 1e-2 * np.arange(2001)
    with pytest.raises(InputError, match=r"beyond all bounds at \d+(\.\d+)? s"):
        simulate(runaway, t, np.zeros((4, len(t))), q0=np.array([1e-3]))


def test_numbers_that_are_not_finite_are_refused() -> None:
    t, w = 1e-3 * np.arange(11), np.zeros((4, 11))
    w[2, 5] = np.nan
    with pytest.raises(InputError, match="finite"):
        simulate(EVERY_LAW, t, w)
    with pytest.raises(InputError, match="finite"):
        simulate(EVERY_LAW, t, np.zeros((4, 11)), q0=np.full(8, np.inf))


@pytest.mark.parametrize("t", [np.zeros(5), np.array([0.0]), np.array([0.0, 0.1, 0.3]), np.array([1.0, 0.5])])
def test_unequal_steps_are_refused(t: Array) -> None:
    with pytest.raises(ValueError, match="equal steps"):
        simulate(EVERY_LAW, t, np.zeros((4, len(t))))


def test_wrong_shapes_are_refused() -> None:
    t = 1e-3 * np.arange(11)
    with pytest.raises(ValueError, match="shape"):
        simulate(EVERY_LAW, t, np.zeros((2, 11)))
    with pytest.raises(ValueError, match="shape"):
        simulate(EVERY_LAW, t, np.zeros((4, 11)), forces=np.zeros((7, 11)))
    with pytest.raises(ValueError, match="substeps"):
        simulate(EVERY_LAW, t, np.zeros((4, 11)), substeps=0)


def test_a_law_left_is_told() -> None:
    short = LawTable(-0.01, 0.01, np.array([-300.0, 0.0, 300.0]))
    model = one_mass(spring=lambda x: 3e4 * x, damper=600.0)
    model = replace(model, elements=(replace(model.elements[0], spring=short),))
    t = 1e-3 * np.arange(201)
    assert simulate(model, t, np.zeros((4, 201)), q0=np.array([0.005])).extrapolated == ()
    assert simulate(model, t, np.zeros((4, 201)), q0=np.array([0.02])).extrapolated == ("spring",)


def test_two_coordinates_more_and_sixteen_degrees_of_freedom() -> None:
    """The compiled loops at their full size, with linear laws, against scipy's exact linear response."""
    n, rng = 16, np.random.default_rng(3)
    coordinates = 0.2 * rng.standard_normal((6, n))
    wheels = np.zeros((4, n))
    wheels[:, 12:] = np.eye(4)
    elements = tuple(
        ForceElement(f"{i}", rng.standard_normal(6), spring=linear_law(9e3), damper=linear_law(300.0))
        for i in range(11)
    )
    tyres = Tyres(np.full(4, 5e4), np.zeros(4), np.full(4, 1e6))
    mass = np.diag(rng.uniform(20.0, 90.0, n))
    model = NonlinearModel(
        tuple("abcdefghijklmnop"), mass, coordinates, wheels, elements, tyres, -wheels.T @ np.full(4, 1e6)
    )
    t = 5e-4 * np.arange(1001)
    w = 0.02 * np.sin(9 * t) * np.array([[1.0], [0.5], [-0.3], [0.8]])
    ours = simulate(model, t, w)
    b = np.array([element.incidence for element in elements]) @ coordinates
    stiffness, damping = 9e3 * b.T @ b + 5e4 * wheels.T @ wheels, 300.0 * b.T @ b
    inverse = np.linalg.inv(mass)
    zero, unit = np.zeros((n, n)), np.eye(n)
    system = StateSpace(
        np.block([[zero, unit], [-inverse @ stiffness, -inverse @ damping]]),
        np.vstack([np.zeros((n, 4)), inverse @ wheels.T * 5e4]),
        np.eye(2 * n),
        np.zeros((2 * n, 4)),
    )
    _, states, _ = lsim(system, w.T, t)  # exact for an input that is straight between samples
    # The fastest rate is 192/s: RK4 errs by (λ h)⁵/120 = 7e-8 a step, and that mode is gone at once.
    assert worst(ours.q, states[:, :n]) < 1e-6


@pytest.mark.parametrize(
    "change",
    [
        {"mass": -np.eye(1)},
        {"coordinates": np.zeros((3, 1))},
        {"coordinates": np.zeros((7, 1))},
        {"wheels": np.full((4, 1), np.nan)},
        {"tyres": Tyres(np.zeros(4), np.zeros(4), np.zeros(4))},
        {"elements": (ForceElement("x", np.zeros(5)),)},
        {
            "elements": (
                ForceElement(
                    "x", np.ones(4), links=(Link(0, LinkageTable(0.0, 1.0, np.zeros(2), np.zeros(2))),)
                ),
            )
        },
    ],
)
def test_a_model_that_does_not_fit_together_is_refused(change: dict[str, object]) -> None:
    with pytest.raises(InputError):
        replace(one_mass(spring=lambda x: x, damper=1.0), **change)


def test_stops_and_friction_refuse_pulling_and_no_width() -> None:
    with pytest.raises(InputError):
        Stop(gap=0.1, rate=-1.0)
    with pytest.raises(InputError):
        Friction(force=10.0, width=0.0)


def test_one_compilation_serves_all_cars() -> None:
    from models.ride import kernel

    t = 1e-3 * np.arange(51)
    frozen = np.zeros((4, 51))
    frozen.flags.writeable = False
    simulate(every_law(seat=False), t, np.asfortranarray(np.zeros((4, 51))), substeps=3)
    simulate(EVERY_LAW, t, frozen, forces=np.zeros((51, 8)).T)
    simulate(one_mass(spring=lambda x: x, damper=1.0), list_free(t), frozen)
    assert [len(loop.signatures) for loop in kernel.LOOPS] == [1] * len(kernel.LOOPS)
    assert not nonlinear.needs_compiling()


def list_free(t: Array) -> Array:
    """A view with a stride."""
    return np.repeat(t, 2)[::2]


def test_the_compiler_is_imported_at_the_first_run_only() -> None:
    code = (
        "import sys, models.ride.nonlinear as n; assert 'numba' not in sys.modules; "
        "n.warm_up(); assert 'numba' in sys.modules; assert not n.needs_compiling()"
    )
    subprocess.run([sys.executable, "-c", code], check=True, timeout=120)
