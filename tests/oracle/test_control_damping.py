"""Damping ratios of the dampers found, against python-control on the state matrix of the new car."""

from __future__ import annotations

import control
import numpy as np
import pytest

from models.assembly import assemble
from models.ride.damping import dampers_for
from models.vehicle import AS_DESIGNED
from tests.cars import EVERYTHING


@pytest.mark.parametrize(
    "wanted",
    [
        {"bounce": 0.33},
        {"roll": 0.42},
        {"rear axle tramp": 0.2},
        {"pitch": 0.36, "roll": 0.4},
        {"bounce": 0.3, "rear wheel hop": 0.31},
    ],
    ids=lambda wanted: " and ".join(wanted),
)
def test_a_pole_has_the_ratio_that_was_wanted(wanted: dict[str, float]) -> None:
    proposal = dampers_for(EVERYTHING, AS_DESIGNED, wanted)
    model = assemble(proposal.vehicle)
    n = len(model.mass)
    state = np.block(
        [
            [np.zeros((n, n)), np.eye(n)],
            [-np.linalg.solve(model.mass, model.stiffness), -np.linalg.solve(model.mass, model.damping)],
        ]
    )
    system = control.ss(state, np.zeros((2 * n, 1)), np.zeros((1, 2 * n)), 0)
    natural, ratio, _ = control.damp(system, doprint=False)
    for name, value in wanted.items():
        place = proposal.modes.index(name)
        damped = proposal.modes.damped_frequency[place]
        # A pole of a swinging mode: both its ratio and its frequency, to the accuracy that is promised.
        pole = np.argmin(np.abs(natural * np.sqrt(1 - np.minimum(ratio, 1) ** 2) / (2 * np.pi) - damped))
        assert ratio[pole] == pytest.approx(value, abs=1e-6)
