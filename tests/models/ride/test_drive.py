"""Runs of random cars: finite or refused in words; a car with linear laws runs nonlinear as linear."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from models.analysis import Analysis, analyse
from models.assembly import linearised, mechanics
from models.errors import InputError
from models.judge import key_figures
from models.ride.channels import channel_index
from models.ride.drive import steps_within, time_points
from models.roads import HalfSine, OneMinusCosine, RandomRoad, Step, Washboard
from models.run import Run
from models.vehicle import (
    Axle,
    Damper,
    DamperPoint,
    Friction,
    LoadCase,
    Stop,
    TabulatedDamper,
    Vehicle,
)
from tests.cars import load_cases, real_vehicles

events = st.sampled_from([OneMinusCosine(), Step(height=0.05), HalfSine(side="left"), RandomRoad(seed=3)])
runs = st.builds(
    Run,
    event=events,
    duration=st.just(0.6),
    speed=st.floats(3.0, 40.0),
    laws=st.sampled_from(["linear", "nonlinear"]),
    model=st.sampled_from(
        ["full car", "half car", "half car in roll", "quarter car front", "quarter car rear"]
    ),
)

#: Figures that are infinite for some cars: motion centres of a pure heave, travel without stops, lean of
#: a car that would fall over, tyre load against that of a wheel which carries nothing at rest, k²/(a b) of
#: a car whose CG is over an axle.
INFINITE = (
    "motion_centre",
    "_left_",
    "_margin_",
    "gradient",
    "transfer",
    "held_",
    "tyre_load",
    "road_holding",
    "dynamic_index",
)

FRONT, REAR = "front_ride_frequency", "rear_ride_frequency"


def none_of(analysis: Analysis) -> set[str]:
    """Frequencies of axles alone that a load behind or ahead of them leaves with no mass to carry."""
    ahead, behind = analysis.full.corners[0, 0], -analysis.full.corners[2, 0]
    return {key for key, share in ((FRONT, behind), (REAR, ahead)) if share <= 0}


def finite(analysis: Analysis) -> None:
    for values in (analysis.time.y, analysis.response.wheel, analysis.ride.rms, analysis.stand.q):
        assert np.isfinite(values).all()
    for figure in key_figures(analysis):
        if math.isnan(figure.value) and figure.key not in none_of(analysis):
            assert not analysis.stand.stable, f"{figure.key} is not a number"
        if math.isinf(figure.value) and analysis.stand.stable:
            assert any(part in figure.key for part in INFINITE), f"{figure.key} is infinite"


@settings(max_examples=60, deadline=None)
@given(vehicle=real_vehicles, load=load_cases, run=runs)
def test_any_car_gives_finite_results_or_says_why_not(vehicle: Vehicle, load: LoadCase, run: Run) -> None:
    try:
        analysis = analyse(vehicle, run, load)
    except InputError as refused:
        event(str(refused.problems[0].field))
        return
    finite(analysis)
    assert (analysis.nonlinear is not None) == (run.laws == "nonlinear" and analysis.stand.stable)


PLAIN = Axle(damper=Damper(jounce=1700.0, rebound=1700.0))


def test_the_nonlinear_run_of_a_car_with_linear_laws_is_the_linear_run() -> None:
    """1e-4 of each channel: the linear run is exact, Runge-Kutta of 1 ms at 10 Hz is good to 1e-5."""
    vehicle = Vehicle(front=PLAIN, rear=PLAIN)
    run = Run(event=OneMinusCosine(height=0.02), duration=2.0, laws="nonlinear")
    ours = analyse(vehicle, run).time.y
    exact = analyse(vehicle, run.model_copy(update={"laws": "linear"})).time.y
    for key in ("heave", "pitch", "heave_acceleration", "travel_FL", "tyre_force_RR"):
        row = channel_index(key)
        assert np.abs(ours[row] - exact[row]).max() <= 1e-4 * np.abs(exact[row]).max(), key


def test_stops_end_the_travel() -> None:
    stop = Stop(gap=0.02, rate=100e3, growth=5e6)
    stopped = PLAIN.model_copy(update={"bump_stop": stop})
    run = Run(event=OneMinusCosine(height=0.12, length=4.0), duration=2.0, speed=10.0)
    free, held = (
        analyse(Vehicle(front=axle, rear=axle), run).time.y[channel_index("travel_FL")].max()
        for axle in (PLAIN, stopped)
    )
    assert held < 0.75 * free


def test_friction_takes_its_work() -> None:
    """By hand: while a corner slides, its friction loses F |ṡ|; all four together the sum of their ways."""
    axle = PLAIN.model_copy(update={"friction": Friction(force=60.0, width=0.001)})
    run = Run(event=OneMinusCosine(), duration=2.0)
    analysis = analyse(Vehicle(front=axle, rear=axle), run)
    assert analysis.nonlinear is not None
    response = analysis.nonlinear.response
    lost = 0.0
    for element, rate, force in zip(
        response.model.elements, response.deflection_rate, response.element_force, strict=True
    ):
        if element.name.endswith("friction"):
            assert np.abs(force).max() == pytest.approx(60.0)
            assert (force * rate >= 0).all()
            lost += float(np.trapezoid(force * rate, response.t))
    assert 0 < lost < response.dissipated[-1]
    assert response.energy_residual < 1e-3


def test_steps_shorten_for_stiff_stops_and_strong_friction() -> None:
    analysis = analyse(Vehicle(), Run(duration=0.2))
    hard = Axle(bump_stop=Stop(gap=0.05, rate=10e6))
    rough = Axle(friction=Friction(force=5000.0, width=1e-3))
    calm = steps_within(analysis.car, analysis.model, 1e-3)
    for axle in (hard, rough):
        other = analyse(Vehicle(front=axle), Run(duration=0.2))
        assert steps_within(other.car, other.model, 1e-3) > calm
        assert other.nonlinear is not None
        assert other.nonlinear.response.energy_residual < 1e-3


@pytest.mark.parametrize(
    ("run", "step"),
    [
        (Run(event=RandomRoad(), duration=0.2), 0.5e-3),
        (Run(event=RandomRoad(), duration=4.0), 1e-3),
        (Run(event=RandomRoad(), duration=120.0), 2e-3),
        (Run(event=Step(), duration=4.0), 1e-3),
        (Run(event=OneMinusCosine(length=5.0), speed=20.0, duration=4.0), 2e-3),
        (Run(event=OneMinusCosine(length=0.3), speed=30.0, duration=0.2), 0.5e-3),
        (Run(event=HalfSine(length=0.5), speed=10.0, duration=2.0), 1e-3),
        (Run(event=Washboard(wavelength=0.6, length=30.0), speed=10.0, duration=2.0), 1.2e-3),
    ],
    ids=lambda value: value.event.kind if isinstance(value, Run) else "",
)
def test_points_of_time_resolve_the_road(run: Run, step: float) -> None:
    t = time_points(run)
    assert t[0] == 0.0
    assert t[-1] == run.duration
    np.testing.assert_allclose(np.diff(t), step, rtol=1e-3)


def test_a_nonlinear_run_takes_steps_of_a_millisecond_at_most() -> None:
    car = mechanics(Vehicle(front=PLAIN, rear=PLAIN))
    assert [steps_within(car, linearised(car), step) for step in (0.5e-3, 1e-3, 1.2e-3, 2e-3)] == [1, 1, 2, 2]


def test_a_measured_damper_steep_away_from_rest_is_run_in_shorter_steps() -> None:
    """A hundred kN within 0.01 m/s, as of a valve that shuts: 10 MN·s/m on a wheel of 40 kg."""
    shutting = TabulatedDamper(
        points=tuple(
            DamperPoint(speed=v, force=f)
            for v, f in ((-0.5, -1e5), (-0.49, -100.0), (0.49, 100.0), (0.5, 1e5))
        )
    )
    axle = Axle(damper=shutting)
    analysis = analyse(Vehicle(front=axle, rear=axle), Run(duration=0.6))
    finite(analysis)
    assert analysis.nonlinear is not None
    assert analysis.nonlinear.response.energy_residual < 1e-3
