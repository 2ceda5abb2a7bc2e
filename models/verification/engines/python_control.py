"""Frequency and step response, damping ratios and filters beside python-control.

python-control is told a state space from Newton's laws (:mod:`models.verification.engines.newton`), or the
transfer function of a lag.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from models.assembly import assemble
from models.fields import replaced
from models.ride.channels import channel_index
from models.ride.damping import dampers_for
from models.ride.frequency_response import frequency_response
from models.ride.levelling_control import low_passed
from models.ride.transient import time_response
from models.vehicle import AS_DESIGNED, Vehicle
from models.verification.cars import EVERYTHING
from models.verification.check import Chapter, Numbers, beside
from models.verification.engines.newton import CORNERS, KEYS, state_space

__all__ = ["CHAPTER", "system"]

CHAPTER = Chapter("control", "python-control", group="engine", needs=("control",))

CARS = (("plain", Vehicle()), ("every part", EVERYTHING))


def system(vehicle: Vehicle) -> Any:
    """The car from Newton's laws as python-control's state space."""
    import control

    found = state_space(vehicle)
    return control.ss(found.a, found.b, found.c, found.d)


@CHAPTER.check(
    "Frequency response of the car",
    source="python-control, frequency_response",
    status="computed apart",
    reason="1e-9 of the largest gain of each channel leaves six digits for rounding",
    cases=CARS,
)
def gains(case: tuple[str, Vehicle]) -> Numbers:
    """20 channels from the road under each wheel at 200 frequencies from 0.05 to 60 Hz; complex, SI."""
    import control

    name, vehicle = case
    frequency = np.geomspace(0.05, 60.0, 200)
    s = 2j * np.pi * frequency
    answer = control.frequency_response(system(vehicle), s.imag).frdata
    theirs = (answer[:, :4] + s * answer[:, 4:]).transpose(2, 0, 1)
    ours = frequency_response(assemble(vehicle), frequency, speed=20.0).wheel
    for row, key in enumerate(KEYS):
        largest = np.abs(theirs[:, row]).max()
        yield beside(f"{name}: {key}", ours[:, channel_index(key)], theirs[:, row], within=1e-9 * largest)


@CHAPTER.check(
    "Step response of the car",
    source="python-control, step_response",
    status="computed apart",
    reason="both are exact for a constant input; rounding over 2000 steps stays below 1e-9 of the peak",
    cases=[(name, vehicle, wheel) for name, vehicle in CARS for wheel in range(4)],
)
def steps(case: tuple[str, Vehicle, int]) -> Numbers:
    """A step of the road under one wheel, from undamped tyres, over 2 s; all channels, SI per metre.

    With damping in the tyre a step is an impulse of force, for which a state space with inputs w and ẇ has
    no input.
    """
    import control

    name, vehicle, wheel = case
    for axle in ("front", "rear"):
        vehicle = replaced(vehicle, (axle, "tyre", "damping"), 0.0)
    t = np.linspace(0.0, 2.0, 2001)
    theirs = control.step_response(system(vehicle), t, input_indices=wheel).outputs[:, 0]
    road = np.zeros((4, len(t)))
    road[wheel] = 1.0
    ours = time_response(assemble(vehicle), t, road).y[[channel_index(key) for key in KEYS]]
    largest = np.abs(theirs).max(axis=1)[:, None]
    yield beside(f"{name}, {CORNERS[wheel]}", ours, theirs, within=1e-9 * largest)


@CHAPTER.check(
    "Dampers for a wanted ratio",
    source="python-control, damp",
    status="computed apart",
    reason="the accuracy that is promised, 1e-6",
    cases=[
        {"bounce": 0.33},
        {"roll": 0.42},
        {"rear axle tramp": 0.2},
        {"pitch": 0.36, "roll": 0.4},
        {"bounce": 0.3, "rear wheel hop": 0.31},
    ],
)
def damping_ratios(wanted: dict[str, float]) -> Numbers:
    """Ratio of the pole of each mode of the car with every part on the dampers that were found."""
    import control

    proposal = dampers_for(EVERYTHING, AS_DESIGNED, wanted)
    model = assemble(proposal.vehicle)
    n = len(model.mass)
    state = np.block(
        [
            [np.zeros((n, n)), np.eye(n)],
            [-np.linalg.solve(model.mass, model.stiffness), -np.linalg.solve(model.mass, model.damping)],
        ]
    )
    natural, ratio, _ = control.damp(control.ss(state, np.zeros((2 * n, 1)), np.zeros((1, 2 * n)), 0), False)
    for name, value in wanted.items():
        damped = proposal.modes.damped_frequency[proposal.modes.index(name)]
        # A pole of a swinging mode: both its ratio and its frequency.
        pole = np.argmin(np.abs(natural * np.sqrt(1 - np.minimum(ratio, 1) ** 2) / (2 * np.pi) - damped))
        yield beside(f"{' and '.join(wanted)}: {name}", ratio[pole], value, within=1e-6)


@CHAPTER.check(
    "Low-pass of the levelling",
    source="python-control, step_response of a first-order lag",
    status="computed apart",
    reason="both are exact for a held signal, so only rounding is left",
)
def low_pass() -> Numbers:
    """Lag of 1.3 s, steps of 5 ms over 8 s."""
    import control

    t = np.arange(0.0, 8.0, 0.005)
    _, expected = control.step_response(control.tf([1.0], [1.3, 1.0]), T=t)
    found = low_passed(np.ones_like(t), 0.0, 1.3, 0.005)
    yield beside("step response", found, expected, within=1e-12)
