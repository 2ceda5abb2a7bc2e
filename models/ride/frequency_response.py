"""Frequency response of every output channel to the road under each wheel."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.assembly import RideModel
from models.ride.channels import outputs
from models.ride.rates import warp_shape

__all__ = ["ROAD_MODES", "FrequencyResponse", "frequency_response"]

Array = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]

#: Order of the road modes.
ROAD_MODES = ("heave", "roll", "pitch", "warp")


@dataclass(frozen=True, eq=False)
class FrequencyResponse:
    """Complex gains from road heights to the channels of :data:`models.ride.channels.CHANNELS`.

    Attributes:
        model: what responds.
        frequency: (F,) Hz.
        speed: m/s; only the travelling road depends on it.
        wheel: (F, channels, m) from each road input, SI unit of the channel per m.
    """

    model: RideModel
    frequency: Array
    speed: float
    wheel: ComplexArray

    @property
    def travelling(self) -> ComplexArray:
        """(F, channels) from a road alike in both tracks, in terms of its height at the front axle, per m.

        The rear wheels meet it wheelbase / speed later.
        """
        delay = self.delay
        rear = (self.model.corners[:, 0] < 0) @ self.model.road > 0
        inputs = np.where(rear, delay[:, None], 1.0)
        gains: ComplexArray = np.einsum("fcm,fm->fc", self.wheel, inputs)
        return gains

    @property
    def delay(self) -> ComplexArray:
        """(F,) factor exp(-iωL/V) of the road under the rear wheels."""
        phase: ComplexArray = np.exp(-2j * pi * self.frequency * (self.model.wheelbase / self.speed))
        return phase

    @property
    def road_modes(self) -> ComplexArray:
        """(F, channels, 4) from heave (per m), roll, pitch (per rad, signs of the body) and warp (per m).

        All wheels move at once, without delay.  A half car has no road in roll and warp: zero there.
        """
        shapes = np.column_stack([self.model.corner_map, warp_shape(self.model)])
        road = self.model.road
        inputs = np.linalg.solve(road.T @ road, road.T @ shapes)
        gains: ComplexArray = self.wheel @ inputs
        return gains


def frequency_response(model: RideModel, frequency: Array, speed: float) -> FrequencyResponse:
    """Response of a model at the frequencies, by one direct solution at each.

    Args:
        model: full or half car.
        frequency: (F,) Hz, above 0.
        speed: of the car, m/s.
    """
    omega = 2 * pi * np.asarray(frequency, dtype=np.float64)
    s = 1j * omega[:, None, None]
    dynamic = (s * s) * model.mass + s * model.damping + model.stiffness
    motion = np.linalg.solve(dynamic, model.road_stiffness + s * model.road_damping)
    return FrequencyResponse(model, frequency, speed, _channel_gains(model, omega, motion))


def _channel_gains(model: RideModel, omega: Array, motion: NDArray[Any]) -> ComplexArray:
    """(F, channels, m) from (F, n, m): y = (P + iωQ - ω²R) q + S + iωU.

    Few channels have a rate or an acceleration in them; only those rows are multiplied out.
    """
    rows = outputs(model)
    points, n, m = motion.shape
    flat = np.ascontiguousarray(motion.transpose(1, 0, 2)).reshape(n, points * m)
    s = (1j * omega)[:, None]
    gains = _real_product(rows.position, flat).reshape(-1, points, m) + rows.road[:, None, :]
    for factor, table, road in ((s, rows.velocity, rows.road_rate), (s * s, rows.acceleration, None)):
        used = np.flatnonzero(table.any(axis=1))
        part = _real_product(table[used], flat).reshape(-1, points, m)
        gains[used] += factor * (part if road is None else part + road[used, None, :])
    wheel: ComplexArray = gains.transpose(1, 0, 2)
    return wheel


def _real_product(table: Array, values: ComplexArray) -> ComplexArray:
    """Real times complex matrix as one real product, at half the work of a complex one."""
    return (table @ values.view(np.float64)).view(np.complex128)
