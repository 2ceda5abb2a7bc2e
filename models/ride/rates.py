"""Stiffness figures of the suspension: wheel rates, body rates, mode rates, coupling, ride rates."""

from __future__ import annotations

from dataclasses import dataclass
from math import nan, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from models.assembly import RideModel

__all__ = ["AXLES", "Rates", "in_series", "rates", "warp_shape"]

Array = NDArray[np.float64]

#: (4, 2) corner heights when both wheels of the front or of the rear axle move together.
AXLES: Array = np.array([[1.0, 0.0], [1.0, 0.0], [0.0, 1.0], [0.0, 1.0]])


@dataclass(frozen=True, eq=False)
class Rates:
    """Rates of the springs, without dampers.  Pairs are front, rear unless said otherwise.

    Attributes:
        wheel_rates: (4, 4) K_s over the travels FL, FR, RL, RR, N/m.
        body_rates: (3, 3) AᵀK_sA over heave, roll, pitch of the body on rigid tyres.
        heave: N/m.
        roll: N·m/rad.
        pitch: N·m/rad.
        warp: N/m, for the unit shape of :func:`warp_shape`.
        coupling_fraction: left, right; k_fr / √(k_ff k_rr) of a side, -1 to 1.
        wheel_rate: rate of one wheel, N/m, both wheels of the axle moving and the other axle held.
        ride_rate: the same with the tyre in series, N/m.
        ride_frequency: of each axle alone on its ride rate, with its static share of the sprung mass, Hz;
            NaN where it has none.
    """

    wheel_rates: Array
    body_rates: Array
    heave: float
    roll: float
    pitch: float
    warp: float
    coupling_fraction: tuple[float, float]
    wheel_rate: tuple[float, float]
    ride_rate: tuple[float, float]
    ride_frequency: tuple[float, float]


def rates(model: RideModel) -> Rates:
    """Rates of a model, SI."""
    k_s = model.wheel_rates
    body = model.corner_map.T @ k_s @ model.corner_map
    warp = warp_shape(model)
    axle_rates = AXLES.T @ k_s @ AXLES
    wheel = (float(axle_rates[0, 0]) / 2, float(axle_rates[1, 1]) / 2)
    tyre = model.tyre_stiffness
    ride = (in_series(wheel[0], float(tyre[0])), in_series(wheel[1], float(tyre[2])))
    shares = _static_shares(model)
    return Rates(
        wheel_rates=k_s,
        body_rates=body,
        heave=float(body[0, 0]),
        roll=float(body[1, 1]),
        pitch=float(body[2, 2]),
        warp=float(warp @ k_s @ warp),
        coupling_fraction=(_coupling_fraction(k_s, 0), _coupling_fraction(k_s, 1)),
        wheel_rate=wheel,
        ride_rate=ride,
        ride_frequency=(_ride_frequency(ride[0], shares[0]), _ride_frequency(ride[1], shares[1])),
    )


def warp_shape(model: RideModel) -> Array:
    """(4,) travels that move the body nowhere: Aᵀw = 0; (1, -1, -1, 1) for equal tracks."""
    front, rear = model.track
    return np.array([rear, -rear, -front, front]) / sqrt(front * rear)


def in_series(wheel_rate: float, tyre_rate: float) -> float:
    """Ride rate k_w k_t / (k_w + k_t), N/m."""
    return wheel_rate * tyre_rate / (wheel_rate + tyre_rate)


def _ride_frequency(ride_rate: float, share: float) -> float:
    """Hz of an axle alone; NaN where it has no mass to carry, or a rate below zero."""
    return sqrt(2 * ride_rate / share) / (2 * pi) if share > 0 and ride_rate >= 0 else nan


def _static_shares(model: RideModel) -> tuple[float, float]:
    """Sprung mass carried by the front and rear axle, m b/L and m a/L, kg."""
    mass, a, b = float(model.body_mass[0, 0]), float(model.corners[0, 0]), -float(model.corners[2, 0])
    return mass * b / model.wheelbase, mass * a / model.wheelbase


def _coupling_fraction(k_s: Array, side: int) -> float:
    """k_fr / √(k_ff k_rr) of a side with left and right moving together, so that stabilisers drop out."""
    k = k_s[[side, side + 2]] @ AXLES
    if k[0, 0] <= 0 or k[1, 1] <= 0:
        return 0.0
    return float(k[0, 1] / (sqrt(k[0, 0]) * sqrt(k[1, 1])))  # the product of tiny rates would be 0
