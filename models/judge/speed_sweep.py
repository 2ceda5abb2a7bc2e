"""Every figure of the random road against vehicle speed: wheelbase filtering makes one speed lie."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.judge.random_surface import filter_square, surface_values, weighted_values
from models.ride.speed_sweep import ride_at_speeds

__all__ = ["SPEEDS", "SURFACE_KEYS", "Sweep", "speed_sweep"]

Array = NDArray[np.float64]

#: (60,) m/s of a sweep: the wheelbase filters in steps of 1/V, which even steps of the logarithm resolve.
SPEEDS: Array = np.geomspace(5.0, 60.0, 60)

#: Figures that a sweep of a full car has; a smaller model has not all of them.
SURFACE_KEYS = (
    "rms_pitch",
    "rms_pitch_velocity",
    "rms_pitch_acceleration",
    "pitch_share",
    "rms_horizon_movement",
    "rms_roll",
    "rms_roll_acceleration",
    "rms_heave_acceleration",
    "rms_seat_acceleration",
    "rms_weighted_seat_acceleration",
    "rms_weighted_head_acceleration",
    "rms_seat_vibration_total",
    "rms_vibration_total",
    "motion_sickness_dose",
    "rms_travel_front",
    "rms_travel_rear",
    "dynamic_tyre_load_front",
    "dynamic_tyre_load_rear",
    "road_holding",
    "rms_frame_torsion",
    "rms_frame_bending",
)


@dataclass(frozen=True, eq=False)
class Sweep:
    """Figures of one variant against speed.

    Attributes:
        speeds: (S,) m/s.
        values: (S,) each, SI, by key of the figure.
    """

    speeds: Array
    values: Mapping[str, Array]


def speed_sweep(analysis: Analysis, speeds: Array = SPEEDS) -> Sweep:
    """Figures at speeds, on the surface and in the load case of an analysis.

    Args:
        analysis: results at any speed.
        speeds: (S,) m/s, above 0.
    """
    ride = ride_at_speeds(analysis.model, analysis.response, analysis.run.surface, speeds)

    def rms(channel: str, behind: str) -> Array:
        return ride.rms(channel, filter_square(behind))

    return Sweep(speeds, {**surface_values(analysis, rms), **weighted_values(analysis, rms)})
