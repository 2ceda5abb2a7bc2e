"""The nonlinear transient against an adaptive solver of scipy on equations written a second time."""

import numpy as np
from scipy.integrate import solve_ivp

from models.ride.nonlinear import simulate
from models.roads import OneMinusCosine, RoughSurface, wheel_heights
from models.verification.engines.independent_car import IndependentCar
from models.verification.engines.nonlinear_cars import EVERY_LAW


def test_hard_bump_with_stops_and_lift_off() -> None:
    """Within 1e-4 of the peak of all that moves together, with steps of 0.25 ms.

    The solver works to 1e-8 and is made to stop at each corner of the road.  Of ours the error at this step
    is some 2e-5 of peak, from steps across the corners of stops and friction (halving: test_nonlinear).
    """
    model = EVERY_LAW
    t = 3e-3 * np.arange(221)
    event = OneMinusCosine(height=0.1, length=1.6, start=0.5)
    w = wheel_heights(event, RoughSurface(), 14.0, 2.8, 1.5, t) * np.array([1.0, 0.6, 1.0, 0.6])[:, None]
    ours = simulate(model, t, w, substeps=12)
    assert ours.stop_contact.any()
    assert ours.lift_off.any()

    car, n = IndependentCar(model, t, w), len(model.dof)
    y = np.zeros((len(t), 2 * n))
    for k in range(len(t) - 1):
        # Times a hair inside keep the slope of the road that of this interval.
        span = (t[k] + 1e-12, t[k + 1] - 1e-12)
        y[k + 1] = solve_ivp(car, span, y[k], method="DOP853", rtol=1e-8, atol=1e-10).y[:, -1]
    theirs = {"wheel and body": y[:, :n], "rates": y[:, n:]}
    for name, result in (("wheel and body", ours.q), ("rates", ours.rate)):
        peak = np.abs(theirs[name]).max()
        assert np.abs(result - theirs[name]).max() < 1e-4 * peak, name
    forces = np.array(
        [car.tyre_force(a, s[:n] @ model.wheels.T, s[n:] @ model.wheels.T) for a, s in zip(t, y, strict=True)]
    ).T
    # Samples at a corner of the road carry the mean of two rates, those of the solver one of them.
    straight = np.abs(np.diff(w, 2, axis=1)).max(axis=0) < 1e-12
    ours_inside, theirs_inside = ours.tyre_force[:, 1:-1][:, straight], forces[:, 1:-1][:, straight]
    assert np.abs(ours_inside - theirs_inside).max() < 1e-4 * theirs_inside.max()
