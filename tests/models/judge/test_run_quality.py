"""Audit of a run: numbers of the run itself, sentences where they are large, and why a run is linear."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.judge.run_quality import LIMIT, PARTS_LIMIT, Check, RunQuality, run_quality, step_error
from models.ride.channels import channel_index
from models.ride.nonlinear import simulate
from models.run import Run
from models.vehicle import (
    Axle,
    Damper,
    DamperPoint,
    Friction,
    Side,
    Spring,
    Stop,
    TabulatedDamper,
    TorsionCoupling,
    Vehicle,
)

RUN = Run(duration=2.0)
RUBBED = Axle(friction=Friction(force=80.0, width=0.01), bump_stop=Stop(gap=0.03, rate=80e3))


def check(quality: RunQuality, key: str) -> Check:
    return next(check for check in quality.checks if check.key == key)


@pytest.fixture(scope="module")
def rubbed() -> Analysis:
    return analyse(Vehicle(front=RUBBED, rear=RUBBED), RUN)


def test_a_good_run_says_nothing(rubbed: Analysis) -> None:
    step = step_error(rubbed)
    quality = run_quality(rubbed, step)
    assert quality.nonlinear
    assert quality.warnings == ()
    assert step is not None
    assert rubbed.nonlinear is not None
    assert check(quality, "energy").value == rubbed.nonlinear.response.energy_residual
    assert check(quality, "step").value == max(
        step.position, step.rate, step.acceleration, step.deflection, step.tyre_force
    )
    assert check(quality, "laws").value == rubbed.nonlinear.law_error


def test_the_step_error_is_what_a_much_finer_run_shows(rubbed: Analysis) -> None:
    """The change of halving against eight times the steps: 16/15 at fourth order, some more at kinks."""
    assert rubbed.nonlinear is not None
    coarse = rubbed.nonlinear.response
    step = step_error(rubbed)
    assert step is not None
    fine = simulate(coarse.model, coarse.t, _road(rubbed), coarse.q[0], substeps=16)
    change = np.abs(coarse.tyre_force - fine.tyre_force).max() / np.abs(fine.tyre_force).max()
    assert change <= 3 * max(step.tyre_force, 1e-9)


def _road(analysis: Analysis) -> np.ndarray:
    first = channel_index("road_FL")
    return np.ascontiguousarray(analysis.time.y[first : first + 4])


def test_parts_are_uncertain_where_friction_turns_round() -> None:
    smooth = analyse(Vehicle(), RUN)
    rubbed = analyse(Vehicle(front=RUBBED, rear=RUBBED), RUN)
    without, with_ = (check(run_quality(a, step_error(a)), "parts").value for a in (smooth, rubbed))
    assert without is not None
    assert with_ is not None
    assert with_ > 10 * without


def test_before_the_step_is_halved_its_error_is_open(rubbed: Analysis) -> None:
    quality = run_quality(rubbed)
    assert check(quality, "step").value is None
    assert check(quality, "parts").value is None
    assert quality.warnings == ()


def test_what_is_large_is_said(rubbed: Analysis) -> None:
    step = step_error(rubbed)
    assert step is not None
    assert rubbed.nonlinear is not None
    bad = replace(rubbed, nonlinear=replace(rubbed.nonlinear, law_error=2 * LIMIT))
    words = run_quality(bad, replace(step, acceleration=3 * LIMIT, element_force=2 * PARTS_LIMIT)).warnings
    assert words == (
        "The time step is in the results with 0.3 %.",
        "The time step is in the force of a part with 10 %.",
        "A law of the run is off by 0.2 % of its span.",
    )
    lossy = replace(rubbed.nonlinear.response, dissipated=0.9 * rubbed.nonlinear.response.dissipated)
    broken = replace(rubbed, nonlinear=replace(rubbed.nonlinear, response=lossy))
    assert run_quality(broken).warnings[0].startswith("The energy of the run is out by ")


def test_a_car_at_rest_is_exact() -> None:
    """Without a bump there is only rounding, and a share of rounding says nothing."""
    still = analyse(Vehicle(front=RUBBED, rear=RUBBED), replaced(RUN, ("event", "height"), 0.0))
    quality = run_quality(still, step_error(still))
    assert {check.key: check.value for check in quality.checks} == {
        "energy": 0.0,
        "step": 0.0,
        "parts": 0.0,
        "laws": 0.0,
    }


def test_a_curve_that_was_left() -> None:
    short = TabulatedDamper(
        points=tuple(DamperPoint(speed=v, force=f) for v, f in ((-0.1, -300), (0, 0), (0.1, 200)))
    )
    hit = analyse(Vehicle(front=Axle(damper=short)), RUN)
    assert hit.nonlinear is not None
    names = [element.name for element in hit.car.elements]
    speed = hit.nonlinear.response.deflection_rate[names.index("front left damper")]
    past = max(-0.1 - speed.min(), speed.max() - 0.1) / 0.2
    quality = run_quality(hit)
    assert check(quality, "curves").value == pytest.approx(past)
    (words,) = quality.warnings
    assert words.startswith("Past the end of its curve, where that goes on straight: front left damper by ")
    assert "front right damper by" in words
    points = [(100 * point.speed, 100 * point.force) for point in short.points]
    long = TabulatedDamper(points=tuple(DamperPoint(speed=v / 5, force=f / 5) for v, f in points))
    assert run_quality(analyse(Vehicle(front=Axle(damper=long)), RUN)).warnings == ()


def test_linear_runs_say_why() -> None:
    wished = analyse(Vehicle(), replaced(RUN, ("laws",), "linear"))
    assert run_quality(wished) == RunQuality(False, "", ())
    assert step_error(wished) is None
    early = run_quality(analyse(Vehicle(), RUN, compiled=False))
    assert early.warnings == ("Linear only, until the nonlinear run is ready.",)
    bare = Axle(spring=Spring(rate=0.0), damper=Damper())
    loose = Vehicle(front=bare, rear=bare, left=Side(coupling=TorsionCoupling(bar_rate=1200.0)))
    assert "does not stand" in run_quality(analyse(loose, RUN)).note
