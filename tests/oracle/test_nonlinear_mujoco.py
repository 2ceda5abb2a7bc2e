"""The nonlinear transient against MuJoCo, which is given bodies, tendons and the laws of force only."""

import numpy as np

from models.ride.nonlinear import simulate
from models.roads import OneMinusCosine, RoughSurface, wheel_heights
from models.verification.engines.independent_car import IndependentCar
from models.verification.engines.mujoco_car import compiled_car, driven, stepped
from models.verification.engines.nonlinear_cars import EVERY_LAW


def test_hard_bump_with_stops_and_lift_off() -> None:
    """Body, seat and wheels within 1e-3 of the peak of their own.

    Both take fourth-order steps of 0.5 ms with the road at the time of each stage.  At the end of a step
    MuJoCo is already given the rate of the road that follows, ours takes the one of the step: that leaves
    some 2e-4 through the damping of the tyres.
    """
    step, count = 0.5e-3, 2000
    t = step * np.arange(count + 1)
    event = OneMinusCosine(height=0.1, length=1.6, start=0.5)
    w = wheel_heights(event, RoughSurface(), 14.0, 2.8, 1.5, t) * np.array([1.0, 0.6, 1.0, 0.6])[:, None]
    ours = simulate(EVERY_LAW, t, w)
    assert ours.stop_contact.any()
    assert ours.lift_off.any()
    engine = compiled_car(EVERY_LAW, step)
    with driven(IndependentCar(EVERY_LAW, t, w)):
        theirs = stepped(engine, count)
    assert (np.abs(ours.q - theirs).max(axis=0) < 1e-3 * np.abs(theirs).max(axis=0)).all()
