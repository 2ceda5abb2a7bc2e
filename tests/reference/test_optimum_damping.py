"""Best damping of a quarter car on a road of white velocity, found by a study: closed forms for the optimum.

The mean squares of the quarter car come from its Lyapunov equation, in forms usual in the literature on
suspensions (D. Hrovat, Automatica 33 (1997) 1781, reviews them, from memory; the forms here are derived, and
held against scipy below).  Each is α c + β/c + γ in the damping c, so that it is least at c = √(β/α):

    body acceleration   c = k_s √((m_s + m_u)/k_t)
    tyre force          c = √((k_s² M³/(k_t m_s²) - 2 k_s m_u M/m_s + m_u k_t) m_s²/M²),  M = m_s + m_u

A study sees the band from 0.1 to 50 Hz.  The car is made so slow and heavy in its wheels (body 0.9 Hz, wheel
hop 4 Hz) that next to nothing of the acceleration is outside; of the tyre force much is beyond 50 Hz, where
it is k_t times the road and no damping changes it.
"""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.linalg import solve_continuous_lyapunov
from scipy.optimize import minimize_scalar

from models.roads import RoughSurface
from models.run import Run
from models.studies.batch import judge_batch
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    Body,
    Damper,
    IndependentWheels,
    InertiaFromDynamicIndex,
    Spring,
    Tyre,
    Vehicle,
)

SPRUNG, UNSPRUNG, SPRING, TYRE = 400.0, 120.0, 16e3, 60e3
TOTAL = SPRUNG + UNSPRUNG
BEST_FOR_BODY = SPRING * sqrt(TOTAL / TYRE)
BEST_FOR_TYRE = sqrt(
    (SPRING**2 * TOTAL**3 / (TYRE * SPRUNG**2) - 2 * SPRING * UNSPRUNG * TOTAL / SPRUNG + UNSPRUNG * TYRE)
    * SPRUNG**2
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
            [0.0, SPRING / SPRUNG, -damping / SPRUNG, damping / SPRUNG],
            [-TYRE / UNSPRUNG, -SPRING / UNSPRUNG, damping / UNSPRUNG, -damping / UNSPRUNG],
        ]
    )
    b = np.array([[-1.0], [0.0], [0.0], [0.0]])
    intensity = (2 * pi * 0.1) ** 2 * RUN.surface.roughness * RUN.speed / 2
    state = solve_continuous_lyapunov(a, -b @ b.T * intensity)
    return float(a[2] @ state @ a[2]), float(TYRE**2 * state[0, 0])


def study(best: float) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Dampings about an expected optimum, the RMS accelerations and the dynamic tyre loads."""
    axle = Axle(
        wheels=IndependentWheels(unsprung_mass=UNSPRUNG),
        spring=Spring(rate=SPRING),
        damper=Damper(jounce=best, rebound=best),
        tyre=Tyre(rate=TYRE, damping=0.0),
    )
    car = Vehicle(
        wheelbase=2.8,
        body=Body(mass=4 * SPRUNG, cg_to_front_axle=1.4, pitch_inertia=InertiaFromDynamicIndex(index=1.0)),
        front=axle,
        rear=axle,
    )
    dampings = best * DAMPINGS
    paths = [("front", "damper", "jounce"), ("front", "damper", "rebound")]
    metrics = ["rms_heave_acceleration", "dynamic_tyre_load_front"]
    batch = judge_batch(car, RUN, AS_DESIGNED, paths, np.column_stack([dampings, dampings]), metrics)
    return dampings, batch.values[:, 0], batch.values[:, 1]


def least(dampings: NDArray[np.float64], values: NDArray[np.float64]) -> float:
    """Damping at the vertex of α c + β/c + γ laid through the squares of the values."""
    columns = np.column_stack([dampings, 1 / dampings, np.ones_like(dampings)])
    up, down, _ = np.linalg.lstsq(columns, values**2, rcond=None)[0]
    return float(np.sqrt(down / up))


@pytest.mark.parametrize(("which", "best"), [(0, BEST_FOR_BODY), (1, BEST_FOR_TYRE)])
def test_closed_forms_are_the_optima_of_the_lyapunov_equation(which: int, best: float) -> None:
    found = minimize_scalar(lambda c: mean_squares(c)[which], bounds=(0.3 * best, 3 * best), method="bounded")
    # A minimum is as flat as the square root of rounding.
    assert found.x == pytest.approx(best, rel=1e-5)


def test_damping_of_least_body_acceleration() -> None:
    dampings, acceleration, _ = study(BEST_FOR_BODY)
    # What is outside the band, and the integration over 400 points (found: 6e-5 and 2e-5).
    assert least(dampings, acceleration) == pytest.approx(BEST_FOR_BODY, rel=3e-4)
    assert acceleration.min() == pytest.approx(sqrt(mean_squares(BEST_FOR_BODY)[0]), rel=1e-4)
    # The next points of the study are 0.6 % away.
    assert dampings[np.argmin(acceleration)] == pytest.approx(BEST_FOR_BODY, rel=3e-3)


def test_damping_of_least_tyre_force() -> None:
    dampings, _, tyre_load = study(BEST_FOR_TYRE)
    assert least(dampings, tyre_load) == pytest.approx(BEST_FOR_TYRE, rel=3e-4)
    # Beyond the band, where body and wheel nearly stand still, the tyre force is k_t w.
    beyond = TYRE**2 * RUN.surface.roughness * 0.1**2 * RUN.speed / 50.0
    static = TOTAL * 9.80665
    inside = sqrt(mean_squares(BEST_FOR_TYRE)[1] - beyond) / static
    assert tyre_load.min() == pytest.approx(inside, rel=1e-4)
