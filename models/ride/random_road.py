"""Ride on a random road: spectra and RMS values of all channels.

The road of two tracks alike in all directions is the sum of two uncorrelated parts, the mean height
of the tracks with the spectrum G (1 + γ)/2 and half their difference with G (1 - γ)/2.  The rear
wheels follow in the tracks of the front wheels, wheelbase / speed later; where the tracks of the axles
differ, the road takes their mean.  With H the response of a
channel to the front, H' that to the rear wheels and τ the delay, each part adds
|H + H' e^{-iωτ}|² times its spectrum.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.assembly import RideModel
from models.ride.channels import channel_index
from models.ride.transient import road_inputs
from models.roads import RoughSurface, coherence, displacement_psd

__all__ = ["RandomRide", "TrackPart", "WheelResponse", "lag_weights", "random_road", "track_parts"]

Array = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]


class WheelResponse(Protocol):
    """Frequency response from each road input: all that the random road needs of it."""

    @property
    def frequency(self) -> Array:
        """(F,) Hz, rising, above 0."""

    @property
    def wheel(self) -> ComplexArray:
        """(F, channels, m) channel per metre of each road input."""


@dataclass(frozen=True, eq=False)
class RandomRide:
    """Spectra and RMS values on a random road.

    Attributes:
        frequency: (F,) Hz.
        psd: (channels, F) one-sided, unit of the channel squared per Hz, channels in the order of
            :data:`models.ride.channels.CHANNELS`.
        rms: (channels,) over the closed band from the first to the last frequency.
        shares: (channels, F) of each frequency in the mean square of the band, which is their sum: behind a
            filter of gain |W| the mean square is Σ |W|² shares.  One alone may be below 0.
    """

    frequency: Array
    psd: Array
    rms: Array
    shares: Array

    def channel(self, key: str) -> Array:
        """(F,) spectrum of one channel by its key."""
        row: Array = self.psd[channel_index(key)]
        return row

    def channel_rms(self, key: str) -> float:
        """RMS of one channel by its key."""
        return float(self.rms[channel_index(key)])


def random_road(model: RideModel, response: WheelResponse, surface: RoughSurface, speed: float) -> RandomRide:
    """Spectra and RMS values of all channels at constant speed.

    The RMS is the root of the integral of the spectrum over the band of ``response``.  The delay makes
    the spectrum wave with a period of V/L, which at low speed is finer than the grid; so the smooth
    parts |H|² + |H'|² and H* H' are taken as linear between the frequencies and the factor e^{-iωτ}
    is integrated with them in closed form.

    Args:
        model: the car.
        response: its response from each road input.
        surface: the road.
        speed: V, m/s.
    """
    frequency = response.frequency
    track = sum(model.track) / 2
    road = _road(surface, speed, model.wheelbase / speed, track, frequency.tobytes())

    mean, half_difference = track_parts(model, response.wheel)
    of_mean, of_difference = road.of_mean[:, None], road.of_difference[:, None]
    steady = of_mean * mean.steady + of_difference * half_difference.steady
    waving = of_mean * mean.waving + of_difference * half_difference.waving
    squares = road.steady_weight[:, None] * steady + (road.waving_weight[:, None] * waving).real
    # Where front and rear cancel, as in the pitch of a level half car, round-off may fall below zero.
    return RandomRide(
        frequency=frequency,
        psd=np.maximum(steady + (road.lag[:, None] * waving).real, 0.0).T,
        rms=np.sqrt(np.maximum(squares.sum(axis=0), 0.0)),
        shares=squares.T,
    )


@dataclass(frozen=True, eq=False)
class _Road:
    """What the road and the speed give, whatever the car; all (F,).

    Attributes:
        of_mean, of_difference: spectrum of the mean height of the tracks and of half their difference, m²/Hz.
        lag: turn from the front to the rear axle.
        steady_weight, waving_weight: to integrate over frequency without and with the lag, Hz.
    """

    of_mean: Array
    of_difference: Array
    lag: ComplexArray
    steady_weight: Array
    waving_weight: ComplexArray


@lru_cache(maxsize=64)
def _road(surface: RoughSurface, speed: float, delay: float, track: float, frequencies: bytes) -> _Road:
    """Kept, as all cars of a study and all steps of a drag meet the same road."""
    frequency = np.frombuffer(frequencies)
    wavenumber = frequency / speed
    of_track = displacement_psd(surface, wavenumber) / speed
    shared = coherence(surface, wavenumber, track)
    return _Road(
        of_mean=(1 + shared) / 2 * of_track,
        of_difference=(1 - shared) / 2 * of_track,
        lag=np.exp(-2j * np.pi * frequency * delay),
        steady_weight=lag_weights(frequency, 0.0).real,
        waving_weight=lag_weights(frequency, delay),
    )


@dataclass(frozen=True, eq=False)
class TrackPart:
    """Response to one of the two uncorrelated parts of the road, per its spectrum; no speed is in it.

    Attributes:
        steady: (F, channels) |H|² + |H'|².
        waving: (F, channels) 2 H* H', which turns with e^{-iωτ}.
    """

    steady: Array
    waving: ComplexArray


def track_parts(model: RideModel, wheel: ComplexArray) -> tuple[TrackPart, TrackPart]:
    """Of the mean height of the tracks, and of half their difference.

    Args:
        model: the car.
        wheel: (F, channels, m) response from each road input.
    """
    mean, half_difference = (_part(*_axle_responses(model, wheel, right)) for right in (1.0, -1.0))
    return mean, half_difference


def _part(front: ComplexArray, rear: ComplexArray) -> TrackPart:
    steady = front.real**2 + front.imag**2 + rear.real**2 + rear.imag**2
    return TrackPart(steady, 2 * np.conj(front) * rear)


def _axle_responses(
    model: RideModel, wheel: ComplexArray, right_side: float
) -> tuple[ComplexArray, ComplexArray]:
    """(F, channels) to the front and to the rear wheels, left by 1 m and right by ``right_side`` m."""
    corners = np.zeros((4, 2))
    corners[0, 0] = corners[2, 1] = 1.0
    corners[1, 0] = corners[3, 1] = right_side
    front, rear = (np.zeros_like(wheel[..., 0]) for _ in range(2))
    # Term by term: the product of a complex and a real matrix would be taken as one of complex ones.
    for axle, by_input in zip((front, rear), road_inputs(model, corners).T, strict=True):
        for number in np.flatnonzero(by_input):
            axle += float(by_input[number]) * wheel[..., number]
    return front, rear


def lag_weights(frequency: Array, delay: ArrayLike) -> ComplexArray:
    """(..., F) weights that integrate g(f) e^{-i2πf·delay} df for g linear between the frequencies.

    With f = middle + u Δ, u from -1/2 to 1/2, and z = πΔ·delay: ∫ e^{-2izu} du = j0(z) and
    ∫ u e^{-2izu} du = -(i/2) j1(z), with j0, j1 the spherical Bessel functions.  No delay gives the
    trapezoidal rule.

    Args:
        frequency: (F,) Hz, rising.
        delay: (...) s.
    """
    lag = np.asarray(delay, dtype=np.float64)[..., None]
    width = np.diff(frequency)
    middle = (frequency[1:] + frequency[:-1]) / 2
    z = np.pi * width * lag
    turn = width * np.exp(-2j * np.pi * middle * lag)
    j0, j1 = _spherical_bessel(z)
    even, odd = turn * j0 / 2, turn * -0.5j * j1
    weights = np.zeros((*lag.shape[:-1], len(frequency)), dtype=np.complex128)
    weights[..., :-1] += even - odd
    weights[..., 1:] += even + odd
    return weights


def _spherical_bessel(z: Array) -> tuple[Array, Array]:
    """j0 and j1, to rounding.

    scipy has them too, but its call takes longer than all the rest of the weights.
    """
    over = np.where(z == 0.0, 1.0, z)
    j0 = np.where(z == 0.0, 1.0, np.sin(z) / over)
    square = z * z
    # Near 0 the two terms of j1 cancel; there its series is exact to rounding.
    series = 1.0 - square / 10 * (
        1 - square / 28 * (1 - square / 54 * (1 - square / 88 * (1 - square / 130)))
    )
    j1 = np.where(square < 0.25, z / 3 * series, (j0 - np.cos(z)) / over)
    return j0, j1
