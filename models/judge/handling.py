"""Key figures of braking, driving and cornering."""

from __future__ import annotations

from math import inf

import numpy as np

from models.analysis import Analysis
from models.judge.figure import Figure
from models.ride.manoeuvres import full_accelerations, support, support_angle
from models.ride.steady import gradients, steady

__all__ = ["handling_figures"]

_GRADIENT = "angle per acceleration"
_SMALL = "Small steady {}: {} per acceleration, with springs and tyres about the trim of the load case."
_BRAKE, _DRIVE = "brake", "drive"


def handling_figures(analysis: Analysis) -> tuple[Figure, ...]:
    """Gradients, support by the links, and the manoeuvre of the run; roll only where the model has it."""
    rolls = "roll" in analysis.modes.names
    given = gradients(analysis.vehicle, analysis.car, analysis.full)
    figures = (
        Figure(
            "dive_gradient",
            "Dive gradient",
            given.dive,
            _GRADIENT,
            _SMALL.format("braking", "nose-down pitch"),
            "lower",
        ),
        Figure(
            "squat_gradient",
            "Squat gradient",
            given.squat,
            _GRADIENT,
            _SMALL.format("driving", "nose-up pitch"),
            "lower",
        ),
        *_support_figures(analysis),
        *_support_angles(analysis),
        *_held(analysis, rolls),
        Figure(
            "minimum_tyre_load",
            "Minimum tyre load",
            float(analysis.tyre_load.min()),
            "force",
            "Run: smallest whole force of any tyre; at 0 a wheel is off the road, in a linear run below 0.",
            "higher",
        ),
    )
    if not rolls:
        return figures
    return (
        *figures,
        Figure(
            "roll_gradient",
            "Roll gradient",
            given.roll,
            _GRADIENT,
            "Small steady turn: roll per lateral acceleration, m_s d / (k_φ - m_s g d), tyres in series; d "
            "from the roll axis to the CG.",
            "lower",
        ),
        Figure(
            "front_load_transfer",
            "Front share of load transfer",
            given.front_transfer,
            "share",
            "Small steady turn: front axle's share of the load that goes from inner to outer wheels.",
        ),
        Figure(
            "peak_roll",
            "Peak roll angle",
            float(np.abs(analysis.time.channel("roll")).max()),
            "angle",
            "Run: largest |φ| by road and manoeuvre.",
            "lower",
        ),
    )


def _support_figures(analysis: Analysis) -> tuple[Figure, ...]:
    rows = (
        ("anti_dive_front", "Anti-dive front", _BRAKE, 0),
        ("anti_lift_rear", "Anti-lift rear, braking", _BRAKE, 1),
        ("anti_lift_front", "Anti-lift front, driving", _DRIVE, 0),
        ("anti_squat_rear", "Anti-squat rear", _DRIVE, 1),
    )
    return tuple(
        Figure(
            key,
            label,
            float(support(analysis.vehicle, braking=cause == _BRAKE)[axle]),
            "share",
            f"Share of the load change of the axle that the links take; 0 for an axle without {cause} force.",
        )
        for key, label, cause, axle in rows
    )


def _support_angles(analysis: Analysis) -> tuple[Figure, ...]:
    angles = support_angle(analysis.vehicle, analysis.car)
    return tuple(
        Figure(
            f"brake_support_angle_{axle}",
            f"Brake support angle {axle}",
            float(angle),
            "angle",
            "Side view: slope of the line from the contact point to the instant centre, "
            "tan α = support · (h/L) / brake share, outboard brakes.",
        )
        for axle, angle in zip(("front", "rear"), angles, strict=True)
    )


def _held(analysis: Analysis, rolls: bool) -> tuple[Figure, ...]:
    """Attitude of the full car in the manoeuvre of the run when it is held for long."""
    a_x, a_y = full_accelerations(analysis.run.manoeuvre)
    pitch = roll = 0.0
    if a_x or a_y:
        found = steady(analysis.vehicle, analysis.car, analysis.stand, a_x, a_y)
        pitch, roll = (found.pitch, found.roll) if found.held else (inf, inf)
    where = (
        "Manoeuvre of the run when held for long: {} of the full car from its trim; infinite if it tips over."
    )
    held_pitch = Figure("held_pitch", "Held pitch angle", pitch, "angle", where.format("nose-down pitch"))
    held_roll = Figure("held_roll", "Held roll angle", roll, "angle", where.format("roll, left side up"))
    return (held_pitch, held_roll) if rolls else (held_pitch,)
