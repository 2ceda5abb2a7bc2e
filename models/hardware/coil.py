"""Cylindrical helical compression spring of round wire.

Sources: rate, stress, natural frequency and buckling as in Shigley, Mechanical Engineering Design, ch. 10,
and EN 13906-1 (both from memory; the forms agree).  Curvature factors: Wahl (4C - 1)/(4C - 4) + 0.615/C,
Bergsträsser (4C + 2)/(4C - 3), with C = D/d.  Solid length: wire diameter · total coils for ground ends, and
one wire more for ends that are not ground.  Buckling: Haringx' column of a compressed spring, with the
length ratio of its seats.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, pi, sqrt
from typing import Annotated, Literal, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import model_validator

from models.fields import Label, Part, Quantity
from models.figure import Figure
from models.hardware.materials import CHROME_SILICON, Material
from models.hardware.setting import Setting, shear_limit
from models.hardware.size_rule import size_error
from models.hardware.state import LoadState, greatest, margin_figures, reverse_figures, state_figures

__all__ = [
    "SEATS",
    "CoilSpring",
    "buckling_deflection",
    "coil_figures",
    "coil_mass",
    "coil_rate",
    "coil_stress",
    "curvature_factor",
    "solid_length",
    "surge_frequency",
]

Array = NDArray[np.float64]

#: Effective length of the column per free length, by how the seats hold the ends (Shigley, table 10-2, from
#: memory).
SEATS: dict[str, float] = {
    "both ends fixed": 0.5,
    "one end fixed, one pivoted": 0.707,
    "both ends pivoted": 1.0,
    "one end free": 2.0,
}


class CoilSpring(Part):
    """Coil spring of a corner."""

    kind: Literal["coil"] = "coil"
    material: Annotated[Material, Label("Material", "Wire of the spring, with its limits.")] = CHROME_SILICON
    setting: Setting = "pre-set"
    wire_diameter: Annotated[
        float,
        Quantity(
            "dimension",
            "Wire diameter",
            "Diameter d of the wire.",
            low=0.0005,
            high=0.1,
            typical=(0.008, 0.02),
            prominent=True,
        ),
    ] = 0.013
    mean_diameter: Annotated[
        float,
        Quantity(
            "dimension",
            "Mean coil diameter",
            "Diameter D of the helix through the middle of the wire.",
            low=0.002,
            high=1.0,
            typical=(0.08, 0.2),
            prominent=True,
        ),
    ] = 0.13
    active_coils: Annotated[
        float,
        Quantity(
            "ratio",
            "Active coils",
            "Coils n that deflect.",
            low=0.5,
            high=200.0,
            typical=(3.0, 12.0),
            prominent=True,
        ),
    ] = 5.0
    end_coils: Annotated[
        float,
        Quantity(
            "ratio",
            "End coils",
            "Coils that lie on the seats and do not deflect, both ends together.",
            low=0.0,
            high=10.0,
            typical=(0.0, 2.0),
        ),
    ] = 1.5
    ends: Annotated[
        Literal["not ground", "ground"],
        Label("Ends", "Whether the ends are ground flat, which shortens the solid spring by one wire."),
    ] = "not ground"
    free_length: Annotated[
        float,
        Quantity(
            "dimension",
            "Free length",
            "Length of the unloaded spring.",
            low=0.002,
            high=5.0,
            typical=(0.2, 0.5),
        ),
    ] = 0.35
    seats: Annotated[
        Literal["both ends fixed", "one end fixed, one pivoted", "both ends pivoted", "one end free"],
        Label("Seats", "How the seats hold the ends; decides when the spring buckles."),
    ] = "both ends fixed"
    factor: Annotated[
        Literal["Bergsträsser", "Wahl"],
        Label("Curvature factor", "Which factor raises the stress at the inside of the coil."),
    ] = "Bergsträsser"

    @model_validator(mode="after")
    def _rules_between_fields(self) -> Self:
        if self.mean_diameter < 2 * self.wire_diameter:
            raise size_error(
                "Mean coil diameter",
                self.mean_diameter,
                f"at least two wire diameters, {2e3 * self.wire_diameter:.6g} mm",
            )
        if self.free_length <= solid_length(self):
            raise size_error(
                "Free length",
                self.free_length,
                f"more than the solid length of these coils, {1e3 * solid_length(self):.6g} mm",
            )
        return self


def coil_rate(coil: CoilSpring) -> float:
    """G d⁴ / (8 D³ n), N/m."""
    wire, mean = coil.wire_diameter, coil.mean_diameter
    return coil.material.shear_modulus * wire**4 / (8 * mean**3 * coil.active_coils)


def curvature_factor(index: float, factor: str) -> float:
    """Stress at the inside of the coil over that of a straight bar; ``index`` is C = D/d."""
    if factor == "Wahl":
        return (4 * index - 1) / (4 * index - 4) + 0.615 / index
    return (4 * index + 2) / (4 * index - 3)


def coil_stress(coil: CoilSpring, force: ArrayLike) -> Array:
    """Shear stress at the inside of the coil, Pa, with the sign and shape of the force, N."""
    wire, mean = coil.wire_diameter, coil.mean_diameter
    raised = curvature_factor(mean / wire, coil.factor) * 8 * mean / (pi * wire**3)
    return np.asarray(raised * np.asarray(force, dtype=np.float64))


def solid_length(coil: CoilSpring) -> float:
    """Length with all coils touching, m."""
    coils = coil.active_coils + coil.end_coils + (0.0 if coil.ends == "ground" else 1.0)
    return coil.wire_diameter * coils


def buckling_deflection(coil: CoilSpring) -> float:
    """Deflection at which the spring buckles, m; infinite where it never does."""
    young, shear = coil.material.youngs_modulus, coil.material.shear_modulus
    slenderness = SEATS[coil.seats] * coil.free_length / coil.mean_diameter
    root = 1 - 2 * pi**2 * (young - shear) / ((2 * shear + young) * slenderness**2)
    if root < 0:
        return inf
    return coil.free_length * young / (2 * (young - shear)) * (1 - sqrt(root))


def coil_mass(coil: CoilSpring) -> float:
    """Mass of the wire, kg; the pitch of the helix is neglected (below 1 % up to a pitch of 0.4 D)."""
    coils = coil.active_coils + coil.end_coils
    return coil.material.density * _section(coil) * pi * coil.mean_diameter * coils


def surge_frequency(coil: CoilSpring) -> float:
    """First natural frequency of the coils between two seats, ½ √(k / m of the active coils), Hz."""
    active = coil.material.density * _section(coil) * pi * coil.mean_diameter * coil.active_coils
    return sqrt(coil_rate(coil) / active) / 2


def coil_figures(coil: CoilSpring, states: Sequence[LoadState] = ()) -> tuple[Figure, ...]:
    """Figures of a coil spring that carries these forces."""
    rate, solid = coil_rate(coil), solid_length(coil)
    index, highest = coil.mean_diameter / coil.wire_diameter, greatest(states)
    at_solid = rate * (coil.free_length - solid)
    shortest, buckling = coil.free_length - highest / rate, buckling_deflection(coil)
    stress = f"K · 8 F D / (π d³), with the factor K of {coil.factor}"
    return (
        Figure("rate", "Spring rate", rate, "rate", "k = G d⁴ / (8 D³ n)."),
        Figure("index", "Spring index", index, "ratio", "C = D / d; 4 to 12 is usual, to be coiled well."),
        Figure(
            "curvature_factor",
            "Curvature factor",
            curvature_factor(index, coil.factor),
            "ratio",
            "K = (4C - 1)/(4C - 4) + 0.615/C of Wahl, or (4C + 2)/(4C - 3) of Bergsträsser.",
        ),
        Figure(
            "solid_length",
            "Solid length",
            solid,
            "dimension",
            "d · (active + end coils), and one wire more where the ends are not ground.",
        ),
        *state_figures(states, "Force", "force", "Force of the spring, from its free length on.", float),
        *state_figures(
            states, "Length", "dimension", "Free length - F / k.", lambda f: coil.free_length - f / rate
        ),
        *state_figures(
            states, "Shear stress", "stress", f"τ = {stress}.", lambda f: float(coil_stress(coil, f))
        ),
        Figure(
            "shear_stress_solid",
            "Shear stress, solid",
            float(coil_stress(coil, at_solid)),
            "stress",
            f"{stress}, at F = k · (free - solid length).",
        ),
        *margin_figures(
            float(coil_stress(coil, highest)),
            shear_limit(coil.material, coil.setting),
            f"Limit of the material for a spring that is {coil.setting}; of the stress with its "
            f"curvature factor.",
        ),
        *reverse_figures(states, coil.setting, lambda load: float(coil_stress(coil, load))),
        Figure(
            "travel_to_solid",
            "Travel to solid",
            shortest - solid,
            "travel",
            "Length at the greatest force of all states - solid length; below 0 the coils would touch.",
            "higher",
        ),
        Figure(
            "buckling_deflection",
            "Deflection to buckling",
            buckling,
            "travel",
            "L0 E / (2 (E - G)) (1 - √(1 - 2 π² (E - G) D² / ((2G + E) (ν L0)²))), ν by the seats; "
            "no number where it never buckles.",
        ),
        Figure(
            "buckling_use",
            "Use of that deflection",
            highest / rate / buckling,
            "share",
            "Greatest deflection of all states / deflection to buckling; below 100 % it stands straight.",
            "lower",
        ),
        Figure(
            "surge_frequency",
            "Surge frequency",
            surge_frequency(coil),
            "frequency",
            "½ √(k / m) with the mass m of the active coils, both ends held.",
        ),
        Figure(
            "energy", "Energy held", highest**2 / (2 * rate), "energy", "F² / (2 k) at the greatest force."
        ),
        Figure(
            "mass",
            "Mass",
            coil_mass(coil),
            "mass",
            "ρ · π d²/4 · π D · (active + end coils); pitch neglected.",
            "lower",
        ),
    )


def _section(coil: CoilSpring) -> float:
    return pi / 4 * coil.wire_diameter**2
