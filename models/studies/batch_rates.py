"""Stiffness figures and pitch plane of many cars, as of models.ride.rates and models.ride.pitch_plane."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np
from numpy.typing import NDArray

from models.ride.pitch_plane import ALIKE
from models.ride.rates import AXLES
from models.studies.batch_car import heights, times
from models.studies.batch_model import CarModels

__all__ = ["PitchPlanes", "pitch_planes", "rate_values"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

# As of models.ride.pitch_plane: a smaller coupling of heave and pitch is rounding.
_NO_COUPLING = 1e-12


@dataclass(frozen=True, eq=False)
class PitchPlanes:
    """Undamped modes of the bodies in the pitch plane, the slower first.

    Attributes:
        motion_centre: (N, 2) node of each mode, m ahead of the CG; inf for pure heave.
        bounce_first: (N,) whether the slower one is bounce.
    """

    motion_centre: Array
    bounce_first: Flags

    @property
    def values(self) -> dict[str, Array]:
        """Motion centres by key of the figure."""
        slow, fast = self.motion_centre.T
        return {
            "bounce_motion_centre": np.where(self.bounce_first, slow, fast),
            "pitch_motion_centre": np.where(self.bounce_first, fast, slow),
        }


def rate_values(full: CarModels) -> dict[str, Array]:
    """Rates of full cars by key of the figure, SI."""
    cars, k_s = full.cars, full.rates[:, :4, :4]
    corner_map = heights(cars.corners)
    body = corner_map.transpose(0, 2, 1) @ k_s @ corner_map
    front, rear = (cars.corners[:, i, 1] - cars.corners[:, i + 1, 1] for i in (0, 2))
    warp = np.stack([rear, -rear, -front, front], axis=-1) / np.sqrt(front * rear)[:, None]
    a, b = cars.corners[:, 0, 0], -cars.corners[:, 2, 0]
    mass, wheelbase = full.body_mass[:, 0, 0], a + b
    values = {
        "heave_rate": body[:, 0, 0],
        "pitch_rate": body[:, 2, 2],
        "roll_rate": body[:, 1, 1],
        "warp_rate": (warp * times(k_s, warp)).sum(axis=1),
        "dynamic_index": full.body_mass[:, 2, 2] / (mass * a * b),
    }
    axles = AXLES.T @ k_s @ AXLES
    shares = (mass * b / wheelbase, mass * a / wheelbase)
    for end, (axle, share) in enumerate(zip(("front", "rear"), shares, strict=True)):
        wheel, tyre = axles[:, end, end] / 2, cars.tyre_stiffness[:, 2 * end]
        ride = wheel * tyre / (wheel + tyre)
        swings = (share > 0) & (ride >= 0)
        square = np.where(swings, 2 * ride / np.where(swings, share, 1.0), np.nan)
        values[f"{axle}_ride_frequency"] = np.sqrt(square) / (2 * pi)
        values[f"{axle}_wheel_rate"], values[f"{axle}_ride_rate"] = wheel, ride
    for number, side in enumerate(("left", "right")):
        values[f"coupling_fraction_{side}"] = _coupling_fraction(k_s, number)
    return values


def pitch_planes(full: CarModels) -> PitchPlanes:
    """Bounce and pitch of the bodies alone, with the tyres in series."""
    cars = full.cars
    axles = AXLES.T @ full.rates[:, :4, :4] @ AXLES
    tyres = AXLES.T @ (cars.tyre_stiffness[..., None] * AXLES)
    axles = axles @ np.linalg.solve(axles + tyres, tyres)
    ff, fr, rr = axles[:, 0, 0], (axles[:, 0, 1] + axles[:, 1, 0]) / 2, axles[:, 1, 1]
    a, b = cars.corners[:, 0, 0], -cars.corners[:, 2, 0]
    mass, inertia = full.body_mass[:, 0, 0], full.body_mass[:, 2, 2]
    heave = (ff + 2 * fr + rr) / mass
    pitch = (ff * a * a - 2 * fr * a * b + rr * b * b) / inertia
    cross = (rr * b - ff * a + fr * (b - a)) / np.sqrt(mass * inertia)
    centres = _motion_centres(heave, pitch, cross, np.sqrt(inertia / mass))
    distance = np.abs(centres) / np.where(centres > 0, a[:, None], b[:, None])
    return PitchPlanes(centres, distance[:, 0] >= distance[:, 1] * (1 - ALIKE))


def _motion_centres(heave: Array, pitch: Array, cross: Array, gyration: Array) -> Array:
    """(N, 2) nodes of the slow and the fast mode."""
    coupled = np.abs(cross) > _NO_COUPLING * (heave + pitch)
    angle = np.where(coupled, np.arctan2(2 * cross, heave - pitch) / 2, 1.0)
    slow, fast = -gyration * np.sin(angle) / np.cos(angle), gyration * np.cos(angle) / np.sin(angle)
    heaves_first = heave <= pitch
    slow = np.where(coupled, slow, np.where(heaves_first, np.inf, 0.0))
    fast = np.where(coupled, fast, np.where(heaves_first, 0.0, np.inf))
    return np.stack([slow, fast], axis=-1)


def _coupling_fraction(k_s: Array, side: int) -> Array:
    """(N,) k_fr / √(k_ff k_rr) of a side with left and right moving together."""
    k = k_s[:, [side, side + 2]] @ AXLES
    front, rear = k[:, 0, 0], k[:, 1, 1]
    there = (front > 0) & (rear > 0)
    scale = np.sqrt(np.where(there, front, 1.0)) * np.sqrt(np.where(there, rear, 1.0))
    return np.where(there, k[:, 0, 1] / scale, 0.0)
