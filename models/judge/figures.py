"""Key figures of one analysis: single numbers to put beside those of another variant."""

from __future__ import annotations

from math import inf

import numpy as np

from models.analysis import Analysis
from models.comfort.assessment import comfort
from models.judge.comfort import comfort_figures, shock_figures
from models.judge.figure import Figure
from models.judge.frame import frame_figures
from models.judge.handling import handling_figures
from models.judge.statics import statics_figures
from models.ride.channels import channel_index

__all__ = ["key_figures"]


def key_figures(analysis: Analysis) -> tuple[Figure, ...]:
    """Figures in the order in which a ride engineer reads them, the same for every vehicle.

    A half car has none of roll and warp, and a smaller model none of the modes that it leaves out.
    """
    modes = analysis.modes.names
    full, felt = "roll" in modes, comfort(analysis)
    figures = (
        *_body_on_random_road(analysis),
        *comfort_figures(felt),
        *_mode_figures(analysis, tuple(name for name in ("bounce", "pitch") if name in modes)),
        *_motion_centres(analysis),
        *_coupling(analysis),
        *_pitch_plane_rates(analysis),
        *_wheels_on_random_road(analysis),
        *_event_peaks(analysis),
        *shock_figures(felt.event),
    )
    roll = _roll_figures(analysis) if full else ()
    rest = statics_figures(analysis)
    return (*figures, *roll, *handling_figures(analysis), *frame_figures(analysis), *rest)


def _body_on_random_road(analysis: Analysis) -> tuple[Figure, ...]:
    heave, pitch = _rms(analysis, "heave_acceleration"), _rms(analysis, "pitch_acceleration")
    at_axle = pitch * analysis.model.wheelbase / 2
    return (
        Figure(
            "rms_pitch",
            "RMS pitch angle",
            _rms(analysis, "pitch"),
            "angle",
            "Random road: root mean square of the pitch angle θ.",
            "lower",
        ),
        Figure(
            "rms_pitch_acceleration",
            "RMS pitch acceleration",
            pitch,
            "angular acceleration",
            "Random road: root mean square of the pitch acceleration θ̈.",
            "lower",
        ),
        Figure(
            "pitch_share",
            "Pitch share",
            at_axle / heave if heave > 0 else 0.0,
            "ratio",
            "Random road: RMS pitch acceleration · half wheelbase / RMS heave acceleration at the CG.",
            "lower",
        ),
        Figure(
            "rms_heave_acceleration",
            "RMS heave acceleration",
            heave,
            "acceleration",
            "Random road: root mean square of the vertical acceleration of the CG.",
            "lower",
        ),
        Figure(
            "rms_seat_acceleration",
            "RMS seat acceleration",
            _rms(analysis, "seat_acceleration"),
            "acceleration",
            "Random road: root mean square of z̈ + y φ̈ - x θ̈ at the driver's seat, unweighted.",
            "lower",
        ),
    )


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
                f"Undamped natural frequency of the {name} mode of the whole car, tyres included.",
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


def _pitch_plane_rates(analysis: Analysis) -> tuple[Figure, ...]:
    rates = analysis.rates
    return (
        Figure("heave_rate", "Heave rate", rates.heave, "rate", "Force per heave of the body, Σ K_s."),
        Figure(
            "pitch_rate",
            "Pitch rate",
            rates.pitch,
            "torsional rate",
            "Moment per pitch of the body about the CG, Σ x_i K_s,ij x_j.",
        ),
        Figure(
            "dynamic_index",
            "Dynamic index",
            analysis.pitch_plane.dynamic_index,
            "ratio",
            "k²/(a b); at 1 front and rear move independently of each other.",
        ),
        *(
            Figure(
                f"{axle}_ride_frequency",
                f"{axle.capitalize()} ride frequency",
                rates.ride_frequency[end],
                "frequency",
                "Axle alone: ride rate with its static share of the sprung mass, √(2 k_ride / m_axle) / 2π.",
            )
            for end, axle in enumerate(("front", "rear"))
        ),
        *(
            Figure(
                f"{axle}_wheel_rate",
                f"{axle.capitalize()} wheel rate",
                rates.wheel_rate[end],
                "rate",
                "Rate of one wheel, both wheels of the axle moving together and the other axle held.",
            )
            for end, axle in enumerate(("front", "rear"))
        ),
        *(
            Figure(
                f"{axle}_ride_rate",
                f"{axle.capitalize()} ride rate",
                rates.ride_rate[end],
                "rate",
                "Wheel rate with the tyre in series, k_w k_t / (k_w + k_t).",
            )
            for end, axle in enumerate(("front", "rear"))
        ),
    )


def _wheels_on_random_road(analysis: Analysis) -> tuple[Figure, ...]:
    static = _static_tyre_force(analysis)
    found = []
    for axle, corners in _AXLE_CORNERS.items():
        found.append(
            Figure(
                f"rms_travel_{axle}",
                f"RMS travel {axle}",
                max(_rms(analysis, f"travel_{corner}") for corner in corners),
                "travel",
                "Random road: root mean square of the wheel travel, the larger of left and right.",
                "lower",
            )
        )
    for axle, corners in _AXLE_CORNERS.items():
        found.append(
            Figure(
                f"dynamic_tyre_load_{axle}",
                f"Dynamic tyre load {axle}",
                max(_rms(analysis, f"tyre_force_{corner}") for corner in corners) / static[axle]
                if static[axle] > 0
                else inf,
                "ratio",
                "Random road: RMS tyre force change / static tyre force, the larger of left and right.",
                "lower",
            )
        )
    return tuple(found)


def _event_peaks(analysis: Analysis) -> tuple[Figure, ...]:
    return (
        Figure(
            "peak_pitch",
            "Peak pitch angle",
            _peak(analysis, "pitch"),
            "angle",
            "Run: largest |θ| by road and manoeuvre.",
            "lower",
        ),
        Figure(
            "peak_heave_acceleration",
            "Peak heave acceleration",
            _peak(analysis, "heave_acceleration"),
            "acceleration",
            "Run: largest |z̈| at the CG.",
            "lower",
        ),
        *(
            Figure(
                f"peak_travel_{axle}",
                f"Peak travel {axle}",
                max(_peak(analysis, f"travel_{corner}") for corner in corners),
                "travel",
                "Run: largest wheel travel, jounce or rebound, left or right.",
                "lower",
            )
            for axle, corners in _AXLE_CORNERS.items()
        ),
    )


def _roll_figures(analysis: Analysis) -> tuple[Figure, ...]:
    rates = analysis.rates
    return (
        Figure(
            "rms_roll_acceleration",
            "RMS roll acceleration",
            _rms(analysis, "roll_acceleration"),
            "angular acceleration",
            "Random road: root mean square of the roll acceleration φ̈.",
            "lower",
        ),
        *_mode_figures(analysis, ("roll",)),
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


_AXLE_CORNERS = {"front": ("FL", "FR"), "rear": ("RL", "RR")}


def _rms(analysis: Analysis, key: str) -> float:
    return float(analysis.ride.rms[channel_index(key)])


def _peak(analysis: Analysis, key: str) -> float:
    return float(np.abs(analysis.time.y[channel_index(key)]).max())


def _static_tyre_force(analysis: Analysis) -> dict[str, float]:
    """Static force of one tyre of each axle in the load case, mean of left and right, N."""
    force = analysis.stand.tyre_force
    return {"front": float(force[:2].mean()), "rear": float(force[2:].mean())}
