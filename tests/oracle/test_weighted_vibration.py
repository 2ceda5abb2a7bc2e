"""Weighted vibration against python-control and scipy, on filters and a car written out anew.

The filters are built from the parameters of ISO 8041 (see tests/reference/test_iso_2631.py for its factors).
"""

from __future__ import annotations

import control
import numpy as np
import pytest
from scipy.integrate import simpson
from scipy.linalg import solve_continuous_lyapunov

from models.analysis import analyse
from models.comfort.assessment import comfort
from models.comfort.filters import weighted
from models.comfort.measures import measures
from models.run import Run
from models.vehicle import Vehicle
from tests.manual import near

# f1, f2, f3, f4, Q4, f5, Q5, f6, Q6
PARAMETERS = {
    "Wk": (0.4, 100.0, 12.5, 12.5, 0.63, 2.37, 0.91, 3.35, 0.91),
    "Wd": (0.4, 100.0, 2.0, 2.0, 0.63, None, None, None, None),
}


def _filter(name: str) -> control.StateSpace:
    f1, f2, f3, f4, q4, f5, q5, f6, q6 = PARAMETERS[name]
    w1, w2, w3, w4 = (2 * np.pi * f for f in (f1, f2, f3, f4))
    root = np.sqrt(2)
    system = control.ss(control.tf([1, 0, 0], [1, root * w1, w1**2]))
    system *= control.ss(control.tf([w2**2], [1, root * w2, w2**2]))
    system *= control.ss(control.tf([w4**2 / w3, w4**2], [1, w4 / q4, w4**2]))
    if f5 is not None:
        w5, w6 = 2 * np.pi * f5, 2 * np.pi * f6
        system *= control.ss(control.tf([1, w5 / q5, w5**2], [1, w6 / q6, w6**2]))
    return system


@pytest.mark.parametrize("name", ["Wk", "Wd"])
@pytest.mark.parametrize(("frequency", "waves"), [(1.0, 2), (8.0, 4), (31.5, 16)])
def test_tone_burst(name: str, frequency: float, waves: int) -> None:
    """Burst of whole sine waves in ten seconds of rest, sampled at 1000 Hz against 16000 Hz.

    The burst is bent where it begins and ends.  What that has above 500 Hz is folded back when it is sampled,
    about (frequency / 500)² of it: 4e-3 at 31.5 Hz.
    """
    fine, ratio = 1 / 16_000, 16
    t = np.arange(160_001) * fine
    burst = np.where((t >= 1) & (t < 1 + waves / frequency), np.sin(2 * np.pi * frequency * (t - 1)), 0.0)
    exact = control.forced_response(_filter(name), t, burst).outputs
    found = weighted(name, burst[::ratio], fine * ratio)
    peak = np.abs(exact).max()
    near("history", found, exact[::ratio], within=max(1e-4, (frequency / 500) ** 2) * peak)

    result = measures(found, fine * ratio)
    integral = np.concatenate([[0.0], np.cumsum((exact[1:] ** 2 + exact[:-1] ** 2) * fine / 2)])
    second = np.concatenate([np.zeros(16_000), integral[:-16_000]])
    near("RMS", result.rms, np.sqrt(simpson(exact**2, dx=fine) / 10), relative=1e-3)
    near("dose", result.dose, simpson(exact**4, dx=fine) ** 0.25, relative=1e-3)
    near("greatest running RMS", result.mtvv, np.sqrt((integral - second).max()), relative=1e-3)


def test_weighted_rms_of_a_quarter_car_on_white_road_velocity() -> None:
    """Covariance of car and filter in one state space, by Lyapunov's equation, over all frequencies.

    A road of waviness 2 is white in velocity, with (2π n0)² G(n0) V per Hz.  Outside the band of 0.1 to 50 Hz
    the weighted seat has less than 1e-3 of its mean square; linear interpolation of the spectrum on the grid
    of the analysis gives another 1e-3.
    """
    vehicle, run = Vehicle(), Run(model="quarter car front", laws="linear")
    body, axle = vehicle.body, vehicle.front
    sprung = body.mass * (vehicle.wheelbase - body.cg_to_front_axle) / vehicle.wheelbase / 2
    unsprung, tyre = axle.wheels.unsprung_mass, axle.tyre.rate  # type: ignore[union-attr]
    rate = axle.spring.rate * axle.spring.motion_ratio**2  # type: ignore[union-attr]
    damping = (axle.damper.jounce + axle.damper.rebound) / 2  # type: ignore[union-attr]
    damping *= axle.damper.motion_ratio**2

    # States: travel, tyre deflection, velocities of body and wheel; input: road velocity.
    a = np.array(
        [
            [0, 0, -1, 1],
            [0, 0, 0, -1],
            [rate / sprung, 0, -damping / sprung, damping / sprung],
            [
                -rate / unsprung,
                tyre / unsprung,
                damping / unsprung,
                -(damping + axle.tyre.damping) / unsprung,
            ],
        ]
    )
    b = np.array([[0.0], [1.0], [0.0], [axle.tyre.damping / unsprung]])
    car = control.ss(a, b, a[2:3], np.zeros((1, 1)))
    whole = _filter("Wk") * car
    surface = run.surface
    density = (2 * np.pi * 0.1) ** 2 * surface.roughness * run.speed / 2  # two-sided
    covariance = solve_continuous_lyapunov(whole.A, -whole.B @ whole.B.T * density)
    expected = np.sqrt((whole.C @ covariance @ whole.C.T).item())
    assert surface.waviness == 2.0
    near("weighted RMS, m/s²", comfort(analyse(vehicle, run)).rms["seat z"], expected, relative=2e-3)
