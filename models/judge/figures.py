"""Key figures of one analysis: single numbers to put beside those of another variant."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from models.analysis import Analysis
from models.comfort.assessment import comfort
from models.judge.comfort import comfort_figures, shock_figures
from models.judge.control import control_figures
from models.judge.figure import Figure, grouped
from models.judge.frame import frame_figures
from models.judge.handling import handling_figures
from models.judge.levelness import levelness_figures
from models.judge.random_surface import rms_of, surface_values
from models.judge.statics import statics_figures

__all__ = ["key_figures"]

_UPRIGHT = " Without the moment of the weight about the roll axis, which counts in turns only."


def key_figures(analysis: Analysis) -> tuple[Figure, ...]:
    """Figures by groups in the order in which a ride engineer reads them, the same for every vehicle.

    A half car has none of roll and warp, and a smaller model none of the modes that it leaves out.
    """
    felt = comfort(analysis)
    values = {key: float(value) for key, value in surface_values(analysis, rms_of(analysis)).items()}
    return (
        *grouped("Levelness", levelness_figures(analysis, values)),
        *grouped(
            "Comfort",
            (
                *_accelerations(values),
                *comfort_figures(felt),
                _peak_heave(analysis),
                *shock_figures(felt.event),
            ),
        ),
        *grouped("Control", control_figures(analysis, values)),
        *grouped("Modes", (*_modes(analysis), *_motion_centres(analysis), _dynamic_index(analysis))),
        *grouped("Rates", (*_body_rates(analysis), *_axle_rates(analysis), *_coupling(analysis))),
        *grouped("Handling", handling_figures(analysis)),
        *grouped("Frame", frame_figures(analysis)),
        *grouped("Trim", statics_figures(analysis)),
    )


def _accelerations(values: Mapping[str, float]) -> tuple[Figure, ...]:
    return (
        Figure(
            "rms_heave_acceleration",
            "RMS heave acceleration",
            values["rms_heave_acceleration"],
            "acceleration",
            "Random road: root mean square of the vertical acceleration of the CG.",
            "lower",
        ),
        Figure(
            "rms_seat_acceleration",
            "RMS seat acceleration",
            values["rms_seat_acceleration"],
            "acceleration",
            "Random road: root mean square of z̈ + y φ̈ - x θ̈ at the driver's seat, unweighted.",
            "lower",
        ),
    )


def _peak_heave(analysis: Analysis) -> Figure:
    return Figure(
        "peak_heave_acceleration",
        "Peak heave acceleration",
        float(np.abs(analysis.time.channel("heave_acceleration")).max()),
        "acceleration",
        "Run: largest |z̈| at the CG.",
        "lower",
    )


def _modes(analysis: Analysis) -> tuple[Figure, ...]:
    """Frequency and damping of the body modes, and the least damping of the wheels."""
    names = analysis.modes.names
    found = list(
        _mode_figures(analysis, tuple(name for name in ("bounce", "pitch", "roll") if name in names))
    )
    wheels = [ratio for name, ratio in zip(names, analysis.modes.damping_ratio, strict=True) if "hop" in name]
    wheels += [
        ratio for name, ratio in zip(names, analysis.modes.damping_ratio, strict=True) if "tramp" in name
    ]
    found.append(
        Figure(
            "wheel_mode_damping",
            "Least wheel damping ratio",
            float(min(wheels)),
            "ratio",
            "Least damping over critical damping, ζ = -Re λ / |λ|, of the wheel hop and axle tramp modes.",
        )
    )
    return tuple(found)


def _mode_figures(analysis: Analysis, names: tuple[str, ...]) -> tuple[Figure, ...]:
    found = []
    for name in names:
        mode = analysis.modes.index(name)
        found += [
            Figure(
                f"{name}_frequency",
                f"{name.capitalize()} frequency",
                float(analysis.modes.frequency[mode]),
                "frequency",
                f"Undamped natural frequency of the {name} mode of the whole car, tyres included."
                f"{_UPRIGHT if name == 'roll' else ''}",
            ),
            Figure(
                f"{name}_damping",
                f"{name.capitalize()} damping ratio",
                float(analysis.modes.damping_ratio[mode]),
                "ratio",
                f"Damping of the {name} mode over critical damping, ζ = -Re λ / |λ|.",
            ),
        ]
    return tuple(found)


def _motion_centres(analysis: Analysis) -> tuple[Figure, ...]:
    plane = analysis.pitch_plane_on_tyres
    return tuple(
        Figure(
            f"{name}_motion_centre",
            f"{name.capitalize()} motion centre",
            plane.motion_centre_of(name),
            "length",
            f"Point about which the body turns in {name}, z/θ ahead of the CG (negative: behind), on tyres.",
        )
        for name in ("bounce", "pitch")
    )


def _coupling(analysis: Analysis) -> tuple[Figure, ...]:
    sides = zip(("left", "right"), analysis.rates.coupling_fraction, strict=True)
    return tuple(
        Figure(
            f"coupling_fraction_{side}",
            f"Coupling fraction {side}",
            value,
            "ratio",
            "k_fr / √(k_ff k_rr) of the side: 0 separate springs, 1 fully joined, below 0 pitch stiffening.",
        )
        for side, value in sides
    )


def _dynamic_index(analysis: Analysis) -> Figure:
    return Figure(
        "dynamic_index",
        "Dynamic index",
        analysis.pitch_plane.dynamic_index,
        "ratio",
        "k²/(a b); at 1 front and rear move independently of each other.",
    )


def _body_rates(analysis: Analysis) -> tuple[Figure, ...]:
    rates = analysis.rates
    figures = (
        Figure("heave_rate", "Heave rate", rates.heave, "rate", "Force per heave of the body, Σ K_s."),
        Figure(
            "pitch_rate",
            "Pitch rate",
            rates.pitch,
            "torsional rate",
            "Moment per pitch of the body about the CG, Σ x_i K_s,ij x_j.",
        ),
    )
    if "roll" not in analysis.modes.names:
        return figures
    return (
        *figures,
        Figure(
            "roll_rate",
            "Roll rate",
            rates.roll,
            "torsional rate",
            "Moment per roll of the body on rigid tyres, Σ y_i K_s,ij y_j.",
        ),
        Figure(
            "warp_rate",
            "Warp rate",
            rates.warp,
            "rate",
            "Resistance to travels +, -, -, + that leave the body still, wᵀK_s w; low: wheels follow.",
        ),
    )


def _axle_rates(analysis: Analysis) -> tuple[Figure, ...]:
    rates = analysis.rates
    rows = (
        (
            "ride_frequency",
            rates.ride_frequency,
            "frequency",
            "Axle alone: ride rate with its static share of the sprung mass, √(2 k_ride / m_axle) / 2π.",
        ),
        (
            "wheel_rate",
            rates.wheel_rate,
            "rate",
            "Rate of one wheel, both wheels of the axle moving together and the other axle held.",
        ),
        (
            "ride_rate",
            rates.ride_rate,
            "rate",
            "Wheel rate with the tyre in series, k_w k_t / (k_w + k_t).",
        ),
    )
    return tuple(
        Figure(f"{axle}_{key}", f"{axle.capitalize()} {key.replace('_', ' ')}", values[end], kind, meaning)
        for key, values, kind, meaning in rows
        for end, axle in enumerate(("front", "rear"))
    )
