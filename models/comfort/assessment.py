"""Comfort of the driver in one analysis, after ISO 2631-1."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from models.analysis import FREQUENCIES, Analysis
from models.comfort.axes import AXES, AxisMotion, hip_over_cg, seat_axes
from models.comfort.filters import weighted
from models.comfort.measures import Measures, measures, total_value
from models.comfort.weighting import WEIGHTINGS, weighting
from models.ride.channels import channel_index

__all__ = ["SICKNESS_EXPOSURE", "Comfort", "comfort", "event_measures"]

Array = NDArray[np.float64]

#: Time on the random road for which the motion sickness dose is given, s.
SICKNESS_EXPOSURE = 3600.0

#: (F,) |W|² at the frequencies of an analysis.
_SQUARES: Mapping[str, Array] = {name: np.abs(weighting(name, FREQUENCIES)) ** 2 for name in WEIGHTINGS}


@dataclass(frozen=True, slots=True)
class Comfort:
    """Comfort of the driver; the random road in the band of the analysis (0.1 to 50 Hz).

    Attributes:
        rms: weighted RMS on the random road per key of :data:`models.comfort.axes.AXES`, without k; m/s², or
            rad/s² for a rotation.
        seat_total, back_total, feet_total: vibration total value at each point, m/s².
        overall_total: of the three points, m/s².
        sickness_dose: MSDV_z of :data:`SICKNESS_EXPOSURE` on the random road, from 0.1 Hz up, m/s^1.5.
        event: vertical at the seat (Wk) over the road event.
    """

    rms: Mapping[str, float]
    seat_total: float
    back_total: float
    feet_total: float
    overall_total: float
    sickness_dose: float
    event: Measures


def comfort(analysis: Analysis) -> Comfort:
    """Comfort of the driver of a variant."""
    height = hip_over_cg(analysis)
    values = {
        axis.key: abs(axis.scale(height)) * _weighted_rms(analysis, axis.channel, axis.weighting)
        for axis in AXES
    }
    seat, back, feet = (
        total_value((axis.k, values[axis.key]) for axis in AXES if axis.place == place)
        for place in ("seat", "back", "feet")
    )
    return Comfort(
        rms=values,
        seat_total=seat,
        back_total=back,
        feet_total=feet,
        overall_total=total_value(((1.0, seat), (1.0, back), (1.0, feet))),
        sickness_dose=_weighted_rms(analysis, "seat_acceleration", "Wf") * sqrt(SICKNESS_EXPOSURE),
        event=event_measures(seat_axes(analysis)["seat z"]),
    )


def event_measures(motion: AxisMotion) -> Measures:
    """One axis over the road event, weighted."""
    t = motion.analysis.time.t
    step = float(t[-1] - t[0]) / (len(t) - 1)
    return measures(weighted(motion.axis.weighting, motion.history, step), step)


def _weighted_rms(analysis: Analysis, channel: str, name: str) -> float:
    """RMS of a channel behind a weighting, by the rule that gives the RMS of the channel itself."""
    mean_square = float(analysis.ride.shares[channel_index(channel)] @ _SQUARES[name])
    return sqrt(max(mean_square, 0.0))
