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

# Elimination without exchange of rows loses as many digits as its pivots are small: four of sixteen.
_SMALLEST_PIVOT = 1e-4

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


def frequency_response(
    model: RideModel, frequency: Array, speed: float, *, compiled: bool = True
) -> FrequencyResponse:
    """Response of a model at the frequencies, by one direct solution at each.

    Args:
        model: full car or one of its smaller models.
        frequency: (F,) Hz, above 0.
        speed: of the car, m/s.
        compiled: use the compiled solver, which is faster; at its first use on a machine it has to be
            compiled.  Both give the same to rounding.
    """
    omega = 2 * pi * np.asarray(frequency, dtype=np.float64)
    gains = _compiled_gains(model, omega) if compiled else None
    return FrequencyResponse(model, frequency, speed, _gains(model, omega) if gains is None else gains)


def _compiled_gains(model: RideModel, omega: Array) -> ComplexArray | None:
    """(F, channels, m), or None where the elimination met a pivot too small to be trusted."""
    from models.ride.response_kernel import solve_and_read  # loads the compiler, which takes a while

    out = outputs(model)
    on_q = np.stack([out.position, out.velocity, out.acceleration])
    on_w = np.stack([out.road, out.road_rate, np.zeros_like(out.road)])
    table = np.concatenate([on_q, on_w], axis=2)
    rows, columns = np.nonzero(table.any(axis=0))
    gains = np.zeros((2, table.shape[1], len(model.inputs), len(omega)))
    pivot = solve_and_read(
        np.ascontiguousarray(model.mass),
        np.ascontiguousarray(model.damping),
        np.ascontiguousarray(model.stiffness),
        np.ascontiguousarray(model.road_stiffness),
        np.ascontiguousarray(model.road_damping),
        omega,
        rows,
        columns,
        np.ascontiguousarray(table[:, rows, columns].T),
        gains[0],
        gains[1],
    )
    if not pivot > _SMALLEST_PIVOT:
        return None
    both = np.empty(gains.shape[1:], dtype=np.complex128)
    both.real, both.imag = gains
    wheel: ComplexArray = both.transpose(2, 0, 1)
    return wheel


def _gains(model: RideModel, omega: Array) -> ComplexArray:
    """(F, channels, m) by a general solver."""
    s = 1j * omega[:, None, None]
    dynamic = (s * s) * model.mass + s * model.damping + model.stiffness
    motion = np.linalg.solve(dynamic, model.road_stiffness + s * model.road_damping)
    return _channel_gains(model, omega, motion)


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
