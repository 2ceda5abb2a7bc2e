"""Damping of least acceleration of a quarter car on a road of white velocity, found by a study.

Closed form: c = k_s √((m_s + m_u) / k_t), from the variance of the acceleration over all frequencies (by the
Lyapunov equation; the forms usual in the literature on suspension control).  Data: D. C. Barton and
J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018, p. 209 (seen).
"""

from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import minimize_scalar

from models.fields import replaced
from models.project import Variant, new_project
from models.studies import ask, run_study, tuned
from models.study import Parameter, Sweep, TunedStart
from models.target import Target
from models.vehicle import (
    Axle,
    Body,
    Damper,
    IndependentWheels,
    InertiaFromDynamicIndex,
    Spring,
    Tyre,
    Vehicle,
)

SPRUNG, UNSPRUNG, SPRING, TYRE = 317.5, 45.4, 22e3, 192e3
BEST = SPRING * np.sqrt((SPRUNG + UNSPRUNG) / TYRE)
REBOUND = 400.0  # least of the sweep: a linear car has the mean of jounce and rebound

AXLE = Axle(
    wheels=IndependentWheels(unsprung_mass=UNSPRUNG),
    spring=Spring(rate=SPRING),
    damper=Damper(jounce=1500.0, rebound=REBOUND),
    tyre=Tyre(rate=TYRE, damping=0.0),
)
CAR = Vehicle(
    wheelbase=2.8,
    body=Body(mass=4 * SPRUNG, cg_to_front_axle=1.4, pitch_inertia=InertiaFromDynamicIndex(index=1.0)),
    front=AXLE,
    rear=AXLE,
)
PROJECT = replaced(new_project(Variant(name="quarter", vehicle=CAR)), ("run", "model"), "quarter car front")
JOUNCE = Parameter(place="front.damper.jounce", kind="damping", low=600.0, high=3000.0)


def mean_square(damping: float, low: float, high: float) -> float:
    """∫ |z̈_s / ż_r|² df by the transfer function of the two equations of motion, apart from the program."""

    def gain(log_f: float) -> float:
        s = 2j * np.pi * np.exp(log_f)
        strut = damping * s + SPRING
        body, wheel = SPRUNG * s**2 + strut, UNSPRUNG * s**2 + strut + TYRE
        height = strut * TYRE / (body * wheel - strut**2)
        return float(abs(height * s) ** 2 * np.exp(log_f))

    ends = np.log([low, *(f for f in (1.25, 10.9) if low < f < high), high])
    return sum(quad(gain, a, b, limit=200)[0] for a, b in pairwise(ends))


def best_damping(low: float, high: float) -> float:
    found = minimize_scalar(lambda c: mean_square(c, low, high), bounds=(300.0, 3000.0), method="bounded")
    return float(found.x)


def test_sweep_finds_the_damping_of_least_acceleration() -> None:
    study = Sweep(parameter=JOUNCE, points=97, metrics=("rms_heave_acceleration",))
    result = run_study(ask(PROJECT, study))
    damping = (result.columns.rows[:, 0] + REBOUND) / 2
    shaking = result.columns.values[:, 0, 0]
    # The middle of a parabola through the five lowest points, 12.5 N·s/m apart.
    near = np.argsort(shaking)[:5]
    curve = np.polyfit(damping[near], shaking[near], 2)
    found = -curve[1] / (2 * curve[0])
    # All frequencies: the closed form, as a check of the transfer function.
    assert best_damping(1e-3, 1e6) == pytest.approx(BEST, rel=1e-3)
    # Key figures end at 50 Hz, which moves the least by less than 1e-3.  It is flat: an error of 1e-5 of the
    # value, as the figures' points in frequency may leave, is half a per cent of the damping.
    assert best_damping(0.1, 50.0) == pytest.approx(BEST, rel=1e-3)
    assert found == pytest.approx(BEST, rel=0.005)


def test_tuned_start_finds_it_too() -> None:
    """As the wish for an acceleration that no damping gives: the nearest car is the one of the least."""
    wish = Target(metric="rms_heave_acceleration", kind="acceleration", high=1e-3)
    study = TunedStart(parameters=(JOUNCE,), wishes=(wish,), starts=8, metrics=("rms_heave_acceleration",))
    result = run_study(ask(PROJECT, study))
    found = (result.columns.rows[tuned(result).row, 0] + REBOUND) / 2
    assert found == pytest.approx(BEST, rel=0.005)
