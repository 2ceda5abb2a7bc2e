"""The sweep over speed against python-control and the whole 4 by 4 matrix of cross spectra of the road.

The response is that of the state space from Newton's laws, the road that of ISO 8608 with delay and coherence
written out for the four wheels, S_y = H S_w Hᴴ, and the integral the trapezoidal rule on a grid of 40 points
per wave of the delay.  Grid and rule of the program leave some 1e-3 at its resonances; nothing else is left.
"""

from __future__ import annotations

import control
import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.special import kv

from models.analysis import analyse
from models.judge.speed_sweep import speed_sweep
from models.ride.channels import VIEW_DISTANCE
from models.run import Run
from models.vehicle import Vehicle
from models.verification.engines.newton import KEYS
from models.verification.engines.python_control import system
from tests.cars import EVERYTHING
from tests.manual import near

CARS = {"plain": Vehicle(), "every part": EVERYTHING}


def rms_by_control(vehicle: Vehicle, speed: float) -> dict[str, float]:
    wave = speed / vehicle.wheelbase
    f = np.concatenate([np.geomspace(0.1, 1.0, 2000)[:-1], np.arange(1.0, 50.0, min(wave / 40, 0.01))])
    s = 2j * np.pi * f
    gains = control.frequency_response(system(vehicle), s.imag).frdata
    h = gains[:, :4] + s * gains[:, 4:]  # (outputs, wheels, F)
    at = {key: h[number] for number, key in enumerate(KEYS)}
    seat = vehicle.seat
    eye = at["heave"] + seat.y * at["roll"] - seat.x * at["pitch"]
    wanted = {
        "rms_pitch": at["pitch"],
        "rms_pitch_velocity": s * at["pitch"],
        "rms_pitch_acceleration": at["pitch_acceleration"],
        "rms_horizon_movement": at["pitch"] - eye / VIEW_DISTANCE,
        "rms_roll": at["roll"],
        "rms_heave_acceleration": at["heave_acceleration"],
        "rms_seat_acceleration": at["seat_acceleration"],
    }
    road = cross_spectra(vehicle, speed, f)
    return {
        key: float(np.sqrt(np.trapezoid(np.einsum("if,ijf,jf->f", row, road, row.conj()).real, f)))
        for key, row in wanted.items()
    }


def cross_spectra(vehicle: Vehicle, speed: float, f: NDArray[np.float64]) -> NDArray[np.complex128]:
    """(4, 4, F) of FL, FR, RL, RR; w = 2, for which γ = x K1(x)."""
    n = f / speed
    one = Run().surface.roughness * (n / 0.1) ** -2 / speed
    x = 2 * np.pi * n * (vehicle.front.track + vehicle.rear.track) / 2
    shared = x * kv(1, x)
    lag = np.exp(-2j * np.pi * f * vehicle.wheelbase / speed)
    spectra = np.empty((4, 4, len(f)), dtype=complex)
    for i in range(4):
        for j in range(4):
            delay = lag ** ((i >= 2) - (j >= 2))  # y_i y_j*: the rear comes later
            spectra[i, j] = one * delay * (1.0 if i % 2 == j % 2 else shared)
    return spectra


@pytest.mark.parametrize("car", CARS)
@pytest.mark.parametrize("speed", [6.0, 22.0, 55.0])
def test_figures_over_speed(car: str, speed: float) -> None:
    vehicle = CARS[car]
    ours = speed_sweep(analyse(vehicle, Run(laws="linear")), np.array([speed])).values
    for key, expected in rms_by_control(vehicle, speed).items():
        near(f"{key}, SI", ours[key][0], expected, relative=2e-3)
