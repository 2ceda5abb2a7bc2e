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
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import spherical_jn

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
    delay = model.wheelbase / speed
    wavenumber = frequency / speed
    track_psd = displacement_psd(surface, wavenumber) / speed  # m²/Hz
    shared = coherence(surface, wavenumber, sum(model.track) / 2)

    steady = np.zeros(response.wheel.shape[:2])
    waving = np.zeros(response.wheel.shape[:2], dtype=np.complex128)
    shares = ((1 + shared) / 2, (1 - shared) / 2)
    for part, share in zip(track_parts(model, response.wheel), shares, strict=True):
        psd = (share * track_psd)[:, None]
        steady += psd * part.steady
        waving += psd * part.waving
    lag = np.exp(-2j * np.pi * frequency * delay)
    squares = lag_weights(frequency, 0.0).real[:, None] * steady
    squares += (lag_weights(frequency, delay)[:, None] * waving).real
    # Where front and rear cancel, as in the pitch of a level half car, round-off may fall below zero.
    return RandomRide(
        frequency=frequency,
        psd=np.maximum(steady + (lag[:, None] * waving).real, 0.0).T,
        rms=np.sqrt(np.maximum(squares.sum(axis=0), 0.0)),
        shares=squares.T,
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
    return TrackPart(np.abs(front) ** 2 + np.abs(rear) ** 2, 2 * np.conj(front) * rear)


def _axle_responses(
    model: RideModel, wheel: ComplexArray, right_side: float
) -> tuple[ComplexArray, ComplexArray]:
    """(F, channels) to the front and to the rear wheels, left by 1 m and right by ``right_side`` m."""
    corners = np.zeros((4, 2))
    corners[0, 0] = corners[2, 1] = 1.0
    corners[1, 0] = corners[3, 1] = right_side
    axles = wheel @ road_inputs(model, corners)
    return axles[..., 0], axles[..., 1]


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
    even, odd = turn * spherical_jn(0, z) / 2, turn * -0.5j * spherical_jn(1, z)
    weights = np.zeros((*lag.shape[:-1], len(frequency)), dtype=np.complex128)
    weights[..., :-1] += even - odd
    weights[..., 1:] += even + odd
    return weights
