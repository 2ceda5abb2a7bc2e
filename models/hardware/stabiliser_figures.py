"""Figures of a stabiliser bar in steel."""

from __future__ import annotations

from models.figure import Figure
from models.hardware.stabiliser_beam import StabiliserBeam
from models.hardware.state import margin_figures

__all__ = ["stabiliser_figures"]


def stabiliser_figures(beam: StabiliserBeam, track: float, travel: float) -> tuple[Figure, ...]:
    """What a bar does at its axle.

    Args:
        beam: solved.
        track: of the wheels, m.
        travel: of each wheel, one up, the other down, at which stress and forces are shown, m.
    """
    at = f"at {1e3 * travel:.4g} mm of travel of each wheel, one up, the other down"
    stress = beam.stress.scaled(travel)
    worst = float(stress.place[stress.von_mises.argmax()])
    beams = "Beams in space along the centre line, on springs for bushes and links"
    return (
        Figure(
            "stabiliser_roll_rate",
            "Roll rate",
            beam.roll_rate(track),
            "torsional rate",
            f"Roll moment per angle between body and axle, k t²/2, k the wheel rate, t the track. {beams}.",
        ),
        Figure(
            "stabiliser_wheel_rate",
            "Wheel rate in roll",
            beam.wheel_rate,
            "rate",
            f"Force at each wheel per its travel, the other wheel moving as far the other way. {beams}.",
        ),
        Figure(
            "stabiliser_bar_rate",
            "Bar rate",
            beam.bar_rate,
            "torsional rate",
            "Torque per twist between the lever ends for this wheel rate: k/(2 r²), r the lever ratio.",
        ),
        Figure(
            "stabiliser_lever_ratio",
            "Lever ratio",
            beam.lever_ratio,
            "lever ratio",
            "Turn of the lever per wheel travel: link ratio / distance of the bar's end ahead of or "
            "behind the bushes.",
        ),
        Figure(
            "stabiliser_stress",
            "Greatest stress",
            float(stress.von_mises.max()),
            "stress",
            f"von Mises, √(σ² + 3 τ²), {at}; at {1e3 * worst:.0f} mm along the bar from its middle. "
            "Nominal: bends count as straight.",
            "lower",
        ),
        *margin_figures(
            float(stress.von_mises.max()),
            beam.bar.material.bending_limit,
            "Limit of the material in bending, against the von Mises stress.",
        ),
        Figure(
            "stabiliser_shear_stress",
            "Greatest torsional stress",
            float(stress.torsion.max()),
            "stress",
            f"τ = T d/(2 I_p), {at}.",
            "lower",
        ),
        Figure(
            "stabiliser_bending_stress",
            "Greatest bending stress",
            float(stress.bending.max()),
            "stress",
            f"σ = M d/(2 I) + |F|/A, {at}.",
            "lower",
        ),
        Figure(
            "stabiliser_link_force", "Link force", beam.link_force * travel, "force", f"Along a link, {at}."
        ),
        Figure(
            "stabiliser_bush_force", "Bush force", beam.bush_force * travel, "force", f"Across the bar, {at}."
        ),
        Figure(
            "stabiliser_give",
            "Give of bushes and links",
            beam.bush_share + beam.link_share,
            "share",
            "Their share of the energy, which is their share of the compliance 1/k.",
            "lower",
        ),
        Figure(
            "stabiliser_heave_rate",
            "Bush rate in heave",
            beam.heave_rate,
            "rate",
            "What bushes that do not slip add to each wheel rate in heave; the ride model leaves it out.",
            "lower",
        ),
        Figure(
            "stabiliser_mass",
            "Mass",
            beam.mass,
            "mass",
            "ρ A L along the centre line, without links and brackets.",
        ),
    )
