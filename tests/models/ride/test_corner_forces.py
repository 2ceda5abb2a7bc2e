"""Forces of the parts at the corners against Newton's law for the body."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.constants import g

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.ride.corner_forces import PARTS, CornerForces, corner_forces, fitted_parts
from models.roads import OneMinusCosine
from models.run import Run
from models.vehicle import Load, LoadCase, Vehicle
from tests.cars import EVERYTHING

BUMP = OneMinusCosine(height=0.08, side="left")
LOAD = LoadCase(name="boot", loads=(Load(mass=120.0, x=-3.2, y=0.2),))


def forces_of(analysis: Analysis) -> CornerForces:
    response = analysis.nonlinear.response if analysis.nonlinear else None
    return corner_forces(analysis.car, analysis.model, analysis.stand, analysis.time, response)


# The difference quotient of the linear run smooths its damper forces over two steps of 0.5 ms, and a
# 1-cos bump of 5 m at 80 km/h bends within tens of them.  The nonlinear run keeps its own forces.
@pytest.mark.parametrize(("laws", "tolerance"), [("nonlinear", 1e-9), ("linear", 2e-3)])
def test_the_parts_carry_and_accelerate_the_body(laws: str, tolerance: float) -> None:
    run = Run.model_validate({"event": BUMP, "duration": 1.0, "laws": laws})
    analysis = analyse(EVERYTHING, run, LOAD)
    total = forces_of(analysis).force.sum(axis=0)
    mass = EVERYTHING.body.mass + 120.0
    weight = mass * g
    lifted = total.sum(axis=0) - weight
    wanted = mass * analysis.time.channel("heave_acceleration")
    assert np.abs(wanted).max() > 0.05 * weight
    np.testing.assert_allclose(lifted, wanted, rtol=0.0, atol=tolerance * weight)


def test_at_rest_the_parts_carry_the_weight_at_its_place() -> None:
    analysis = analyse(EVERYTHING, Run(duration=0.2, event=BUMP), LOAD)
    rest = forces_of(analysis).rest.sum(axis=0)
    arms = analysis.car.corners
    assert rest.sum() == pytest.approx((EVERYTHING.body.mass + 120.0) * g, rel=1e-9)
    # No moment about the CG of the load case; a metre of arm turns rounding into newton metres.
    np.testing.assert_allclose(arms.T @ rest, 0.0, atol=1e-5)


def test_parts_are_told_apart() -> None:
    analysis = analyse(EVERYTHING, Run(duration=0.5, event=BUMP))
    forces = forces_of(analysis)
    assert fitted_parts(analysis.car) == tuple(p for p in PARTS if p not in ("stop", "diagonal coupling"))
    peak = dict(zip(PARTS, np.abs(forces.change).max(axis=2), strict=True))
    # A bump on the left winds the stabilisers, which press left and right with opposite forces.
    stabiliser = forces.force[PARTS.index("stabiliser")]
    np.testing.assert_allclose(stabiliser[0], -stabiliser[1], atol=1e-9)
    assert peak["stabiliser"].min() > 10.0
    # Each trim spring holds one wheel: the rear left one and the front right one.
    assert (peak["trim spring"] > 1.0).tolist() == [False, True, True, False]


def test_a_plain_car_has_springs_and_dampers_at_work_only() -> None:
    car = replaced(Vehicle(), ("front", "stabiliser", "bar_rate"), 0.0)
    analysis = analyse(car, Run(duration=0.5))
    forces = forces_of(analysis)
    assert fitted_parts(analysis.car) == ("spring", "damper")
    for part, change in zip(PARTS, forces.change, strict=True):
        assert (np.abs(change).max() > 1.0) == (part in ("spring", "damper")), part


@pytest.mark.parametrize("laws", ["nonlinear", "linear"])
@pytest.mark.parametrize("samples", [slice(0, 1), slice(120, 123), slice(249, 251)])
def test_a_part_of_the_run_is_as_in_the_whole(laws: str, samples: slice) -> None:
    analysis = analyse(EVERYTHING, Run.model_validate({"event": BUMP, "duration": 0.5, "laws": laws}))
    response = analysis.nonlinear.response if analysis.nonlinear else None
    args = (analysis.car, analysis.model, analysis.stand, analysis.time, response)
    part, whole = corner_forces(*args, samples).force, corner_forces(*args).force[:, :, samples]
    assert part.shape == whole.shape != (0,)
    np.testing.assert_allclose(part, whole, rtol=0.0, atol=1e-8)  # sums of kN in another order
