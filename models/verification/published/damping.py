"""Best damping of a quarter car on a road of white velocity, found by studies: closed forms for the optimum.

The mean squares of the quarter car come from its Lyapunov equation, in forms usual in the literature on
suspensions.  Each is α c + β/c + γ in the damping c, so that it is least at c = √(β/α).  A study sees the
band from 0.1 to 50 Hz.
"""

from __future__ import annotations

from itertools import pairwise
from math import pi, sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import quad
from scipy.linalg import solve_continuous_lyapunov
from scipy.optimize import minimize_scalar

from models.fields import replaced
from models.project import Project, Variant, new_project
from models.roads import RoughSurface
from models.run import Run
from models.studies import ask, run_study, tuned
from models.studies.batch import judge_batch
from models.study import Parameter, Sweep, TunedStart
from models.target import Target
from models.vehicle import AS_DESIGNED, Damper
from models.verification.cars import quarter_car_twice
from models.verification.check import Chapter, Numbers, beside
from models.verification.published.quarter_car import SPRING, SPRUNG, TYRE, UNSPRUNG

__all__ = ["CHAPTER"]

CHAPTER = Chapter("damping", "Studies: the best damping")

Array = NDArray[np.float64]
HROVAT = "D. Hrovat, Automatica 33 (1997) 1781 reviews them (from memory); derived by the Lyapunov equation"

# Slow and heavy in its wheels (0.9 and 4 Hz): next to nothing of the acceleration is outside the band.
SLOW_SPRUNG, SLOW_UNSPRUNG, SLOW_SPRING, SLOW_TYRE = 400.0, 120.0, 16e3, 60e3
TOTAL = SLOW_SPRUNG + SLOW_UNSPRUNG
BEST_FOR_BODY = SLOW_SPRING * sqrt(TOTAL / SLOW_TYRE)
BEST_FOR_TYRE = sqrt(
    (
        SLOW_SPRING**2 * TOTAL**3 / (SLOW_TYRE * SLOW_SPRUNG**2)
        - 2 * SLOW_SPRING * SLOW_UNSPRUNG * TOTAL / SLOW_SPRUNG
        + SLOW_UNSPRUNG * SLOW_TYRE
    )
    * SLOW_SPRUNG**2
    / TOTAL**2
)
DAMPINGS = np.geomspace(0.3, 3.0, 401)
RUN = Run(speed=20.0, surface=RoughSurface(waviness=2.0), model="quarter car front")


def mean_squares(damping: float) -> tuple[float, float]:
    """Of body acceleration and tyre force, by scipy from the state (tyre deflection, travel, speeds)."""
    a = np.array(
        [
            [0.0, 0.0, 0.0, 1.0],
            [0.0, 0.0, -1.0, 1.0],
            [0.0, SLOW_SPRING / SLOW_SPRUNG, -damping / SLOW_SPRUNG, damping / SLOW_SPRUNG],
            [
                -SLOW_TYRE / SLOW_UNSPRUNG,
                -SLOW_SPRING / SLOW_UNSPRUNG,
                damping / SLOW_UNSPRUNG,
                -damping / SLOW_UNSPRUNG,
            ],
        ]
    )
    b = np.array([[-1.0], [0.0], [0.0], [0.0]])
    intensity = (2 * pi * 0.1) ** 2 * RUN.surface.roughness * RUN.speed / 2
    state = solve_continuous_lyapunov(a, -b @ b.T * intensity)
    return float(a[2] @ state @ a[2]), float(SLOW_TYRE**2 * state[0, 0])


def batch(best: float) -> tuple[Array, Array, Array]:
    """Dampings about an expected optimum, the RMS accelerations and the dynamic tyre loads."""
    car = quarter_car_twice(SLOW_SPRUNG, SLOW_UNSPRUNG, SLOW_SPRING, best, SLOW_TYRE)
    dampings = best * DAMPINGS
    paths = [("front", "damper", "jounce"), ("front", "damper", "rebound")]
    metrics = ["rms_heave_acceleration", "dynamic_tyre_load_front"]
    found = judge_batch(car, RUN, AS_DESIGNED, paths, np.column_stack([dampings, dampings]), metrics)
    return dampings, found.values[:, 0], found.values[:, 1]


def least(dampings: Array, values: Array) -> float:
    """Damping at the vertex of α c + β/c + γ laid through the squares of the values."""
    columns = np.column_stack([dampings, 1 / dampings, np.ones_like(dampings)])
    up, down, _ = np.linalg.lstsq(columns, values**2, rcond=None)[0]
    return float(np.sqrt(down / up))


@CHAPTER.check(
    "Closed forms of the optimum",
    source=HROVAT,
    status="closed form",
    reason="a minimum is as flat as the square root of rounding",
)
def optima() -> Numbers:
    """Damping of least acceleration c = ks √(M/kt), M = ms + mu, and of least tyre force

    c = √((ks² M³/(kt ms²) - 2 ks mu M/ms + mu kt) ms²/M²), beside scipy's minimum of the Lyapunov equation.
    """
    for which, name, best in ((0, "acceleration", BEST_FOR_BODY), (1, "tyre force", BEST_FOR_TYRE)):
        found = minimize_scalar(
            lambda c, which=which: mean_squares(c)[which], bounds=(0.3 * best, 3 * best), method="bounded"
        )
        yield beside(f"least {name}: damping, N·s/m", found.x, best, relative=1e-5)


@CHAPTER.check(
    "Damping of least body acceleration, over 401 cars",
    source=HROVAT,
    status="closed form",
    reason="what is outside the band and the integration over 400 points leave 6e-5 and 2e-5; the next cars "
    "of the study are 0.6 % away",
)
def least_acceleration() -> Numbers:
    """Quarter car of 400 and 120 kg, 16 and 60 kN/m; a batch of cars from 0.3 to 3 times the best damping."""
    dampings, acceleration, _ = batch(BEST_FOR_BODY)
    yield beside("vertex, N·s/m", least(dampings, acceleration), BEST_FOR_BODY, relative=3e-4)
    expected = sqrt(mean_squares(BEST_FOR_BODY)[0])
    yield beside("least RMS, m/s²", acceleration.min(), expected, relative=1e-4)
    yield beside("best car, N·s/m", dampings[np.argmin(acceleration)], BEST_FOR_BODY, relative=3e-3)


@CHAPTER.check(
    "Damping of least tyre force, over 401 cars",
    source=HROVAT,
    status="closed form",
    reason="as for the acceleration; beyond the band the tyre force is kt times the road, which no damping "
    "changes",
)
def least_tyre_force() -> Numbers:
    """The same batch; dynamic tyre load relative to the static one."""
    dampings, _, tyre_load = batch(BEST_FOR_TYRE)
    yield beside("vertex, N·s/m", least(dampings, tyre_load), BEST_FOR_TYRE, relative=3e-4)
    beyond = SLOW_TYRE**2 * RUN.surface.roughness * 0.1**2 * RUN.speed / 50.0
    inside = sqrt(mean_squares(BEST_FOR_TYRE)[1] - beyond) / (TOTAL * 9.80665)
    yield beside("least dynamic tyre load", tyre_load.min(), inside, relative=1e-4)


# The quarter car of the book, by the studies of a project.
BEST = SPRING * sqrt((SPRUNG + UNSPRUNG) / TYRE)
REBOUND = 400.0  # least of the sweep: a linear car has the mean of jounce and rebound
JOUNCE = Parameter(place="front.damper.jounce", kind="damping", low=600.0, high=3000.0)
METRIC = "rms_heave_acceleration"


def project() -> Project:
    """The quarter car of the book, its rebound damping fixed."""
    car = quarter_car_twice(SPRUNG, UNSPRUNG, SPRING, 1500.0, TYRE)
    damper = Damper(jounce=1500.0, rebound=REBOUND)
    for axle in ("front", "rear"):
        car = replaced(car, (axle, "damper"), damper)
    return replaced(new_project(Variant(name="quarter", vehicle=car)), ("run", "model"), "quarter car front")


def mean_square(damping: float, low: float, high: float) -> float:
    """∫ |z̈_s / ż_r|² df by the transfer function of the two equations of motion, apart from the program."""

    def gain(log_f: float) -> float:
        s = 2j * np.pi * np.exp(log_f)
        strut = damping * s + SPRING
        body, wheel = SPRUNG * s**2 + strut, UNSPRUNG * s**2 + strut + TYRE
        height = strut * TYRE / (body * wheel - strut**2)
        return float(abs(height * s) ** 2 * np.exp(log_f))

    ends = np.log([low, *(f for f in (1.25, 10.9) if low < f < high), high])
    return sum(float(quad(gain, a, b, limit=200)[0]) for a, b in pairwise(ends))


def best_damping(low: float, high: float) -> float:
    """Of least acceleration in a band, by scipy."""
    found = minimize_scalar(lambda c: mean_square(c, low, high), bounds=(300.0, 3000.0), method="bounded")
    return float(found.x)


@CHAPTER.check(
    "Damping of least acceleration, by a sweep and by a tuned start",
    source=HROVAT,
    status="closed form",
    reason="half a per cent: the minimum is so flat that an error of 1e-5 of the value, as the figures' "
    "points in frequency may leave, is half a per cent of the damping; the band that key figures end at, 50 "
    "Hz, moves it by less than 1e-3",
)
def by_studies() -> Numbers:
    """Damping c = ks √((ms + mu)/kt) of the quarter car of the book, jounce varied, rebound held.

    The sweep: middle of a parabola through its five lowest points, 12.5 N·s/m apart.  The tuned start wishes
    for an acceleration that no damping gives: the nearest car is the one of the least.
    """
    yield beside("scipy, all frequencies, N·s/m", best_damping(1e-3, 1e6), BEST, relative=1e-3)
    yield beside("scipy, 0.1 to 50 Hz, N·s/m", best_damping(0.1, 50.0), BEST, relative=1e-3)
    result = run_study(ask(project(), Sweep(parameter=JOUNCE, points=97, metrics=(METRIC,))))
    damping = (result.columns.rows[:, 0] + REBOUND) / 2
    shaking = result.columns.values[:, 0, 0]
    near = np.argsort(shaking)[:5]
    curve = np.polyfit(damping[near], shaking[near], 2)
    yield beside("sweep, N·s/m", -curve[1] / (2 * curve[0]), BEST, relative=0.005)
    wish = Target(metric=METRIC, kind="acceleration", high=1e-3)
    study = TunedStart(parameters=(JOUNCE,), wishes=(wish,), starts=8, metrics=(METRIC,))
    result = run_study(ask(project(), study))
    found = (result.columns.rows[tuned(result).row, 0] + REBOUND) / 2
    yield beside("tuned start, N·s/m", found, BEST, relative=0.005)
