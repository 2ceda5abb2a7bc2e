"""Numbers of the ride on the random surface, from the RMS values of channels: at one speed or at many.

Every number here is made of RMS values behind filters, so the same formulas serve the run of the project, a
sweep over speeds and many cars at once; only where the RMS values come from differs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from math import pi, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.analysis import FREQUENCIES, Analysis
from models.assembly import CORNERS
from models.comfort.assessment import SICKNESS_EXPOSURE
from models.comfort.axes import AXES, hip_over_cg
from models.comfort.weighting import weighting
from models.ride.channels import channel_index

__all__ = ["RATE", "CarOnSurface", "Rms", "filter_square", "rms_of", "surface_values", "weighted_values"]

Array = NDArray[np.float64]

#: RMS of a channel behind a filter: (channel key, filter) -> 0-d array, or (S,) for S speeds or cars.
Rms = Callable[[str, str], Array]

#: Filter that makes of a motion its rate; other filters are "" (none) and the weightings of ISO 2631-1.
RATE = "rate"

# Standard deviations of the tyre force within which road-holding is counted: 0.13 % of the time is beyond.
_DEVIATIONS = 3.0

_AXLES = {"front": CORNERS[:2], "rear": CORNERS[2:]}


@dataclass(frozen=True, eq=False)
class CarOnSurface:
    """What the numbers depend on beside RMS values: each a number, or (S,) for S cars.

    Attributes:
        wheelbase: m.
        hip_over_cg: height of the driver's hip point over the CG, m.
        tyre_force: static tyre force by corner, N.
        rolls: whether the model rolls.
        frame_loads: the loads of the frame that it knows.
    """

    wheelbase: ArrayLike
    hip_over_cg: ArrayLike
    tyre_force: Mapping[str, ArrayLike]
    rolls: bool
    frame_loads: tuple[str, ...]

    @classmethod
    def of(cls, analysis: Analysis) -> CarOnSurface:
        """The car of an analysis."""
        return cls(
            wheelbase=analysis.model.wheelbase,
            hip_over_cg=hip_over_cg(analysis),
            tyre_force=dict(zip(CORNERS, analysis.stand.tyre_force.tolist(), strict=True)),
            rolls="roll" in analysis.modes.names,
            frame_loads=analysis.model.section.known,
        )


@cache
def filter_square(name: str) -> Array:
    """(F,) |W|² of a filter at the frequencies of every analysis."""
    if not name:
        return np.ones_like(FREQUENCIES)
    if name == RATE:
        return (2 * pi * FREQUENCIES) ** 2
    square: Array = np.abs(weighting(name, FREQUENCIES)) ** 2
    return square


def rms_of(analysis: Analysis) -> Rms:
    """RMS values at the speed of the run."""

    def rms(channel: str, behind: str) -> Array:
        row = channel_index(channel)
        if not behind:
            return np.asarray(analysis.ride.rms[row])
        root: Array = np.sqrt(np.maximum(analysis.ride.shares[row] @ filter_square(behind), 0.0))
        return root

    return rms


def surface_values(car: Analysis | CarOnSurface, rms: Rms) -> dict[str, Array]:
    """Values by key of the figure, SI, in the shape that ``rms`` gives.

    Args:
        car: static tyre forces, seat and wheelbase are taken from it, no RMS value.
        rms: where the RMS values come from.
    """
    if isinstance(car, Analysis):
        car = CarOnSurface.of(car)
    values = {
        **_levelness(car, rms),
        "rms_heave_acceleration": rms("heave_acceleration", ""),
        "rms_seat_acceleration": rms("seat_acceleration", ""),
        **_control(car, rms),
    }
    for load in ("torsion", "bending"):
        if load in car.frame_loads:
            values[f"rms_frame_{load}"] = rms(f"frame_{load}", "")
    return values


def _levelness(car: CarOnSurface, rms: Rms) -> dict[str, Array]:
    heave, pitch = rms("heave_acceleration", ""), rms("pitch_acceleration", "")
    values = {
        "rms_pitch": rms("pitch", ""),
        "rms_pitch_velocity": rms("pitch", RATE),
        "rms_pitch_acceleration": pitch,
        "pitch_share": _ratio(pitch * np.asarray(car.wheelbase) / 2, heave),
        "rms_horizon_movement": rms("horizon", ""),
    }
    if car.rolls:
        values |= {"rms_roll": rms("roll", ""), "rms_roll_acceleration": rms("roll_acceleration", "")}
    return values


def weighted_values(car: Analysis | CarOnSurface, rms: Rms) -> dict[str, Array]:
    """The same of the weighted accelerations; for one speed see :func:`models.comfort.assessment.comfort`."""
    height = np.asarray(hip_over_cg(car) if isinstance(car, Analysis) else car.hip_over_cg)
    felt = {axis.key: np.abs(axis.scale(height)) * rms(axis.channel, axis.weighting) for axis in AXES}

    def total(*places: str) -> Array:
        return _root_of_squares(axis.k * felt[axis.key] for axis in AXES if axis.place in places)

    return {
        "rms_weighted_seat_acceleration": felt["seat z"],
        "rms_weighted_head_acceleration": felt["head x"],
        "rms_seat_vibration_total": total("seat"),
        "rms_vibration_total": total("seat", "back", "feet"),
        "motion_sickness_dose": rms("seat_acceleration", "Wf") * sqrt(SICKNESS_EXPOSURE),
    }


def _control(car: CarOnSurface, rms: Rms) -> dict[str, Array]:
    static = {corner: np.asarray(car.tyre_force[corner]) for corner in CORNERS}
    force = {corner: rms(f"tyre_force_{corner}", "") for corner in CORNERS}
    values = {}
    for axle, corners in _AXLES.items():
        travels = [rms(f"travel_{corner}", "") for corner in corners]
        values[f"rms_travel_{axle}"] = np.maximum(*travels)
    for axle, (left, right) in _AXLES.items():
        mean = (static[left] + static[right]) / 2
        values[f"dynamic_tyre_load_{axle}"] = _per_load(np.maximum(force[left], force[right]), mean)
    worst = [_per_load(force[corner], static[corner]) for corner in CORNERS]
    values["road_holding"] = 1.0 - _DEVIATIONS * np.max(worst, axis=0)
    return values


def _root_of_squares(parts: Iterable[Array]) -> Array:
    root: Array = np.sqrt(np.sum([part**2 for part in parts], axis=0))
    return root


def _ratio(value: Array, reference: Array) -> Array:
    """0 where there is nothing to compare with."""
    return np.where(reference > 0, value / np.where(reference > 0, reference, 1.0), 0.0)


def _per_load(force: Array, load: Array) -> Array:
    """Infinite where the tyre carries nothing."""
    return np.where(load > 0, force / np.where(load > 0, load, 1.0), np.inf)
