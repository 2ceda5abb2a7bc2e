"""Many cars on the random road: mean squares of their channels behind filters."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

import numpy as np
from numpy.typing import NDArray

from models.analysis import FREQUENCIES
from models.assembly import CORNERS
from models.judge.random_surface import Rms, filter_square
from models.ride.channels import HEELS_AHEAD, VIEW_DISTANCE
from models.ride.random_road import lag_weights
from models.roads import RoughSurface, coherence, displacement_psd
from models.run import Run
from models.studies.batch_kernel import mean_squares
from models.studies.batch_model import CarModels

__all__ = ["Readings", "readings", "ride_rms"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Places = NDArray[np.intp]

# As of models.ride.frequency_response: below it the elimination is not to be trusted.
_SMALLEST_PIVOT = 1e-4
_BODY = ("heave", "roll", "pitch")
_FRAME = ("frame_shear", "frame_torsion", "frame_bending")


@dataclass(frozen=True, eq=False)
class Readings:
    """Rows of channels, as of :class:`models.ride.channels.Outputs`.

    Attributes:
        on_q: (N, C, 3, d) on q, q̇ and q̈.
        on_road: (N, C, 2, m) on w and ẇ.
    """

    on_q: Array
    on_road: Array


def readings(models: CarModels, channels: Sequence[str]) -> Readings:
    """Rows of the channels by their keys."""
    count, d, m = len(models.mass), models.mass.shape[1], models.road_stiffness.shape[2]
    rows = Readings(np.zeros((count, len(channels), 3, d)), np.zeros((count, len(channels), 2, m)))
    for number, key in enumerate(channels):
        _read(models, key, rows.on_q[:, number], rows.on_road[:, number])
    return rows


def _read(models: CarModels, key: str, on_q: Array, on_road: Array) -> None:
    """Fill the row of one channel, (N, 3, d) and (N, 2, m)."""
    cars, held = models.cars, models.holding
    t = held.motion
    body = t[:3]
    quantity, _, place = key.rpartition("_")
    if key in _BODY:
        on_q[:, 0] = body[_BODY.index(key)]
    elif key in ("seat_acceleration", "floor_acceleration"):
        ahead = HEELS_AHEAD if key == "floor_acceleration" else 0.0
        sits = key == "seat_acceleration" and held.has_occupant
        on_q[:, 2] = t[7] if sits else _point(models, ahead) @ body
    elif place == "acceleration":
        on_q[:, 2] = body[_BODY.index(quantity)]
    elif key == "horizon":
        on_q[:, 0] = (np.array([0.0, 0.0, 1.0]) - _point(models, 0.0) / VIEW_DISTANCE) @ body
    elif quantity == "travel":
        on_q[:, 0] = cars.deflections[:, CORNERS.index(place), : len(t)] @ t
    elif quantity == "tyre_force":
        corner = CORNERS.index(place)
        for rate, stiffness in enumerate((cars.tyre_stiffness, cars.tyre_damping)):
            on_q[:, rate] = -stiffness[:, corner, None] * t[3 + corner]
            on_road[:, rate] = stiffness[:, corner, None] * held.road[corner]
    else:
        load = _FRAME.index(key)
        for order, rows in enumerate(models.frame):
            on_q[:, order] = rows[:, load, : len(t)] @ t


def _point(models: CarModels, ahead: float) -> Array:
    """(N, 3) height of the place ``ahead`` of the seat, m, from heave, roll and pitch."""
    x, y = models.seat[:, 0] + ahead, models.seat[:, 1]
    return np.stack([np.ones_like(x), y, -x], axis=-1)


def ride_rms(models: CarModels, run: Run, wanted: Sequence[tuple[str, str]]) -> tuple[Rms, Flags]:
    """RMS values of the channels behind filters that are asked for.

    Args:
        models: N cars.
        run: speed and surface.
        wanted: pairs of channel and filter (:func:`models.judge.random_surface.filter_square`).

    Returns:
        A look-up of the values (N,), and (N,) whether the solution is to be trusted.
    """
    channels = list(dict.fromkeys(channel for channel, _ in wanted))
    filters = list(dict.fromkeys(behind for _, behind in wanted))
    pairs = sorted({(channels.index(channel), filters.index(behind)) for channel, behind in wanted})
    movements = _movements(models.holding.road)
    starts, columns, entries = _entries(readings(models, channels), movements)
    road_of, roads = _roads(models, run, movements.shape[1] // 2)
    count = len(models.mass)
    squares, pivots = np.empty((count, len(pairs))), np.empty(count)
    mean_squares(
        models.mass,
        models.damping,
        models.stiffness,
        np.stack([models.road_stiffness @ movements, models.road_damping @ movements], axis=1),
        2 * pi * FREQUENCIES,
        starts,
        columns,
        np.asarray(entries[:, :, 1].any(axis=0)),
        entries,
        road_of,
        roads,
        np.stack([filter_square(name) for name in filters]),
        np.array(pairs, dtype=np.intp),
        squares,
        pivots,
    )
    root = np.sqrt(np.maximum(squares, 0.0))
    place = {(channels[channel], filters[behind]): number for number, (channel, behind) in enumerate(pairs)}

    def rms(channel: str, behind: str) -> Array:
        values: Array = root[:, place[channel, behind]]
        return values

    return rms, pivots > _SMALLEST_PIVOT


def _movements(road: Array) -> Array:
    """(m, 2 or 4) inputs by front and rear wheels on the mean of the tracks, and on half their difference.

    The latter only where the model feels it; a half car in pitch takes the mean of left and right.
    """
    corners = np.array(
        [[1.0, 0.0, 1.0, 0.0], [1.0, 0.0, -1.0, 0.0], [0.0, 1.0, 0.0, 1.0], [0.0, 1.0, 0.0, -1.0]]
    )
    inputs: Array = road.T @ corners / road.sum(axis=0)[:, None]
    return inputs if inputs[:, 2:].any() else inputs[:, :2]


def _entries(rows: Readings, movements: Array) -> tuple[Places, Places, Array]:
    """Where each channel's entries begin, their columns, and (N, e, 3) entries that are not 0 in all cars."""
    count, channels = rows.on_q.shape[:2]
    moved = np.zeros((count, channels, 3, movements.shape[1]))
    moved[:, :, :2] = rows.on_road @ movements
    table = np.concatenate([rows.on_q, moved], axis=3)
    channel, columns = np.nonzero(table.any(axis=(0, 2)))
    starts = np.searchsorted(channel, np.arange(channels + 1))
    return starts, columns, np.ascontiguousarray(table[:, channel, :, columns].transpose(1, 0, 2))


def _roads(models: CarModels, run: Run, parts: int) -> tuple[Places, Array]:
    """(N,) number of each car's road, and (R, 3, parts, F) spectra times weights of integration, m²."""
    corners = models.cars.corners
    wheelbase = corners[:, 0, 0] - corners[:, 2, 0]
    track = (corners[:, 0, 1] - corners[:, 1, 1] + corners[:, 2, 1] - corners[:, 3, 1]) / 2
    met, road_of = np.unique(np.stack([wheelbase, track], axis=-1), axis=0, return_inverse=True)
    steady = lag_weights(FREQUENCIES, 0.0).real
    waving = lag_weights(FREQUENCIES, met[:, 0] / run.speed)
    weights = np.stack([np.broadcast_to(steady, waving.shape), waving.real, waving.imag], axis=1)
    spectra = _spectra(run.surface, run.speed, met[:, 1])[:, :parts]
    return road_of.reshape(-1), weights[:, :, None] * spectra[:, None]


def _spectra(surface: RoughSurface, speed: float, track: Array) -> Array:
    """(R, 2, F) of the mean height of the tracks and of half their difference, m²/Hz."""
    wavenumber = FREQUENCIES / speed
    of_track = displacement_psd(surface, wavenumber) / speed
    tracks, number = np.unique(track, return_inverse=True)
    shared = coherence(surface, wavenumber, tracks[:, None])[number]
    return np.stack([(1 + shared) / 2 * of_track, (1 - shared) / 2 * of_track], axis=1)
