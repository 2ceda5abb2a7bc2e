"""RMS values on a random road at many speeds at once.

The response from the road under each wheel does not depend on speed; only the delay of the rear wheels and
the spectrum of the road over frequency do.  So the mean squares at all speeds are products of two tables, one
of the road (speeds by frequencies) and one of the car (frequencies by channels), by the same rule of
integration as :mod:`models.ride.random_road`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from models.assembly import RideModel
from models.ride.channels import channel_index
from models.ride.random_road import TrackPart, WheelResponse, lag_weights, track_parts
from models.roads import RoughSurface, coherence, displacement_psd

__all__ = ["SpeedSweep", "ride_at_speeds"]

Array = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]


@dataclass(frozen=True, eq=False)
class SpeedSweep:
    """Mean squares on a random road, to be read behind any filter.

    Attributes:
        speeds: (S,) m/s.
        parts: response to the mean of the tracks and to half their difference.
        roads: weights of the road for each of the two parts.
    """

    speeds: Array
    parts: tuple[TrackPart, TrackPart]
    roads: tuple[_Road, _Road]

    def rms(self, channel: str, square: Array | float = 1.0) -> Array:
        """(S,) RMS of a channel behind a filter.

        Args:
            channel: key in :data:`models.ride.channels.CHANNELS`.
            square: (F,) |W|² of the filter at the frequencies of the response.
        """
        row = channel_index(channel)
        total = np.zeros(len(self.speeds))
        for part, road in zip(self.parts, self.roads, strict=True):
            waving = square * part.waving[:, row]
            total += road.steady @ (square * part.steady[:, row])
            total += road.cosine @ waving.real - road.sine @ waving.imag
        root: Array = np.sqrt(np.maximum(total, 0.0))
        return root


def ride_at_speeds(
    model: RideModel, response: WheelResponse, surface: RoughSurface, speeds: Array
) -> SpeedSweep:
    """Sweep of a car.

    Args:
        model: the car.
        response: its response from each road input, at any speed.
        surface: the road.
        speeds: (S,) m/s, above 0.
    """
    roads = _roads(
        response.frequency.tobytes(),
        np.asarray(speeds, dtype=np.float64).tobytes(),
        surface,
        model.wheelbase,
        sum(model.track) / 2,
    )
    return SpeedSweep(speeds, track_parts(model, response.wheel), roads)


@dataclass(frozen=True, eq=False)
class _Road:
    """(S, F) weights that, summed over the frequencies, integrate: steady, and real and imaginary part of
    the waving ones."""

    steady: Array
    cosine: Array
    sine: Array


@lru_cache(maxsize=8)
def _roads(
    frequencies: bytes, speeds: bytes, surface: RoughSurface, wheelbase: float, track: float
) -> tuple[_Road, _Road]:
    """Kept, since a drag of a spring changes nothing of it; arrays are handed over as bytes for that."""
    frequency, speed = np.frombuffer(frequencies), np.frombuffer(speeds)[:, None]
    wavenumber = frequency / speed
    psd = displacement_psd(surface, wavenumber) / speed
    shared = coherence(surface, wavenumber, track)
    steady = lag_weights(frequency, 0.0).real
    waving = lag_weights(frequency, wheelbase / speed[:, 0])
    mean, half_difference = (
        _Road(share * steady, share * waving.real, share * waving.imag)
        for share in (psd * (1 + shared) / 2, psd * (1 - shared) / 2)
    )
    return mean, half_difference
