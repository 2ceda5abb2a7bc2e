"""Key figures of levelness: how still the body keeps its attitude."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from models.analysis import Analysis
from models.judge.figure import Figure
from models.ride.channels import VIEW_DISTANCE

__all__ = ["levelness_figures"]


def levelness_figures(analysis: Analysis, values: Mapping[str, float]) -> tuple[Figure, ...]:
    """Pitch first, then what the driver sees of it, then roll where the model has it.

    Args:
        analysis: results with the time response.
        values: :func:`models.judge.random_surface.surface_values` at the speed of the run.
    """
    return (
        *_pitch(analysis, values),
        Figure(
            "rms_horizon_movement",
            "RMS horizon movement",
            values["rms_horizon_movement"],
            "angle",
            f"Random road: RMS of θ - z_eye/D, by which the road D = {VIEW_DISTANCE:.0f} m ahead moves in "
            "the windscreen; z_eye = z + y φ - x θ, height of the eye over the driver's seat.",
            "lower",
        ),
        *_roll(values),
    )


def _pitch(analysis: Analysis, values: Mapping[str, float]) -> tuple[Figure, ...]:
    return (
        Figure(
            "rms_pitch",
            "RMS pitch angle",
            values["rms_pitch"],
            "angle",
            "Random road: root mean square of the pitch angle θ.",
            "lower",
        ),
        Figure(
            "rms_pitch_velocity",
            "RMS pitch velocity",
            values["rms_pitch_velocity"],
            "angular velocity",
            "Random road: root mean square of the rate of pitch θ̇, from ω² times the spectrum of θ.",
            "lower",
        ),
        Figure(
            "rms_pitch_acceleration",
            "RMS pitch acceleration",
            values["rms_pitch_acceleration"],
            "angular acceleration",
            "Random road: root mean square of the pitch acceleration θ̈.",
            "lower",
        ),
        Figure(
            "pitch_share",
            "Pitch share",
            values["pitch_share"],
            "ratio",
            "Random road: RMS pitch acceleration · half wheelbase / RMS heave acceleration at the CG.",
            "lower",
        ),
        Figure(
            "peak_pitch",
            "Peak pitch angle",
            float(np.abs(analysis.time.channel("pitch")).max()),
            "angle",
            "Run: largest |θ| by road and manoeuvre.",
            "lower",
        ),
    )


def _roll(values: Mapping[str, float]) -> tuple[Figure, ...]:
    if "rms_roll" not in values:
        return ()
    return (
        Figure(
            "rms_roll",
            "RMS roll angle",
            values["rms_roll"],
            "angle",
            "Random road: root mean square of the roll angle φ.",
            "lower",
        ),
        Figure(
            "rms_roll_acceleration",
            "RMS roll acceleration",
            values["rms_roll_acceleration"],
            "angular acceleration",
            "Random road: root mean square of the roll acceleration φ̈.",
            "lower",
        ),
    )
