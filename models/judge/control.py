"""Key figures of control: wheel travel, what is left of it, and how the tyres hold the road."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from models.analysis import Analysis
from models.judge.figure import Figure
from models.ride.channels import channel_index

__all__ = ["control_figures"]

_AXLES = {"front": slice(0, 2), "rear": slice(2, 4)}


def control_figures(analysis: Analysis, values: Mapping[str, float]) -> tuple[Figure, ...]:
    """Travel, margins to the stops, tyre forces.

    Args:
        analysis: results with the time response.
        values: :func:`models.judge.random_surface.surface_values` at the speed of the run.
    """
    return (
        *_random_travel(values),
        *_peak_travel(analysis),
        *_margins(analysis),
        *_tyres(values),
    )


def _random_travel(values: Mapping[str, float]) -> tuple[Figure, ...]:
    return tuple(
        Figure(
            f"rms_travel_{axle}",
            f"RMS travel {axle}",
            values[f"rms_travel_{axle}"],
            "travel",
            "Random road: root mean square of the wheel travel, the larger of left and right.",
            "lower",
        )
        for axle in _AXLES
    )


def _peak_travel(analysis: Analysis) -> tuple[Figure, ...]:
    travel = _travel(analysis)
    return tuple(
        Figure(
            f"peak_travel_{axle}",
            f"Peak travel {axle}",
            float(np.abs(travel[corners]).max()),
            "travel",
            "Run: largest wheel travel, jounce or rebound, left or right.",
            "lower",
        )
        for axle, corners in _AXLES.items()
    )


def _margins(analysis: Analysis) -> tuple[Figure, ...]:
    """Travel that the run leaves before a stop, from the trim of the load case."""
    travel, stand = _travel(analysis), analysis.stand
    rows = (
        ("jounce", "bump stop", stand.jounce_left - travel.max(axis=1)),
        ("rebound", "rebound stop", stand.rebound_left + travel.min(axis=1)),
    )
    return tuple(
        Figure(
            f"{way}_margin_{axle}",
            f"{way.capitalize()} margin {axle}",
            float(left[corners].min()),
            "travel",
            f"Run: least {axle} wheel travel left to the {stop}, of left and right; below 0 it is pressed; "
            "none without a stop.",
            "higher",
        )
        for way, stop, left in rows
        for axle, corners in _AXLES.items()
    )


def _tyres(values: Mapping[str, float]) -> tuple[Figure, ...]:
    return (
        *(
            Figure(
                f"dynamic_tyre_load_{axle}",
                f"Dynamic tyre load {axle}",
                values[f"dynamic_tyre_load_{axle}"],
                "ratio",
                "Random road: RMS tyre force change / static tyre force, the larger of left and right.",
                "lower",
            )
            for axle in _AXLES
        ),
        Figure(
            "road_holding",
            "Road-holding",
            values["road_holding"],
            "share",
            "Random road: 1 - 3 · RMS tyre force change / static force at the worst wheel, the share of its "
            "load that it keeps 99.87 % of the time; at 0 it begins to leave the road.",
            "higher",
        ),
    )


def _travel(analysis: Analysis) -> np.ndarray:
    """(4, N) wheel travels from the trim of the load case, m."""
    first = channel_index("travel_FL")
    return analysis.time.y[first : first + 4]
