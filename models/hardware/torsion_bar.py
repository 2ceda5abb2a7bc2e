"""Round torsion bar, solid or hollow, between two splined heads.

Length that counts: each slice of the bar twists as a round bar of its own diameter (elementary torsion), so
that a transition of length l from the bar's diameter to the head's is worth ∫ J_bar / J(x) dx of plain bar.
For a solid taper that is l/3 (ρ + ρ² + ρ³) with ρ = d / D; for a fillet the integral is taken numerically.
The heads count as rigid from the transition on.  DIN 2091 (from memory) does the same by a chart; that the
splined part of the head yields a little is common practice to neglect, no source.

Textbook (Shigley, Mechanical Engineering Design, from memory): k = π (d⁴ - d_i⁴) G / (32 L),
τ = 16 T d / (π (d⁴ - d_i⁴)), U = T² / (2 k).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import pi
from typing import Annotated, Literal, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import Field, model_validator

from models.fields import Label, Part, Quantity
from models.figure import Figure
from models.hardware.materials import CHROME_VANADIUM, Material
from models.hardware.setting import Setting, shear_limit
from models.hardware.size_rule import size_error
from models.hardware.state import LoadState, greatest, margin_figures, reverse_figures, state_figures

__all__ = [
    "TorsionBar",
    "bar_energy",
    "bar_figures",
    "bar_length",
    "bar_mass",
    "bar_rate",
    "bar_stress",
    "equivalent_length",
]

Array = NDArray[np.float64]

# Points of the integrals over a transition: smooth, so that some ten would do.
_POINTS, _WEIGHTS = np.polynomial.legendre.leggauss(32)

_Teeth = Annotated[int, Field(ge=2, le=400)]


class TorsionBar(Part):
    """Round bar that is twisted between two splined heads."""

    material: Annotated[Material, Label("Material", "Steel of the bar, with its limits.")] = CHROME_VANADIUM
    setting: Setting = "pre-set"
    diameter: Annotated[
        float,
        Quantity(
            "dimension",
            "Bar diameter",
            "Outer diameter d of the plain bar.",
            low=0.001,
            high=0.3,
            typical=(0.014, 0.05),
            prominent=True,
        ),
    ] = 0.024
    bore: Annotated[
        float,
        Quantity(
            "dimension",
            "Bore",
            "Inner diameter d_i, along the whole bar; 0 = solid.",
            low=0.0,
            high=0.299,
            typical=(0.0, 0.035),
        ),
    ] = 0.0
    body_length: Annotated[
        float,
        Quantity(
            "dimension",
            "Plain length",
            "Length of the plain bar between the transitions to the heads.",
            low=0.001,
            high=15.0,
            typical=(0.4, 2.5),
            prominent=True,
        ),
    ] = 1.2
    transition: Annotated[
        Literal["fillet", "taper"],
        Label("Transition", "How the bar grows to its heads: by an arc tangent to the bar, or by a cone."),
    ] = "fillet"
    transition_length: Annotated[
        float,
        Quantity(
            "dimension",
            "Transition length",
            "Length over which the bar grows to the diameter of the head, at each end.",
            low=0.0,
            high=1.0,
            typical=(0.005, 0.06),
        ),
    ] = 0.02
    head_diameter: Annotated[
        float,
        Quantity(
            "dimension",
            "Head diameter",
            "Diameter of the heads at the root of their splines.",
            low=0.001,
            high=0.6,
            typical=(0.018, 0.07),
        ),
    ] = 0.031
    head_length: Annotated[
        float,
        Quantity(
            "dimension",
            "Head length",
            "Length of each splined head.",
            low=0.0,
            high=1.0,
            typical=(0.01, 0.06),
        ),
    ] = 0.03
    front_teeth: Annotated[_Teeth, Label("Teeth, front", "Spline teeth of the front (or inner) head.")] = 40
    rear_teeth: Annotated[_Teeth, Label("Teeth, rear", "Spline teeth of the rear (or outer) head.")] = 41

    @model_validator(mode="after")
    def _rules_between_fields(self) -> Self:
        if self.bore >= self.diameter:
            raise size_error("Bore", self.bore, f"less than the bar diameter, {1e3 * self.diameter:.6g} mm")
        if self.head_diameter < self.diameter:
            raise size_error(
                "Head diameter",
                self.head_diameter,
                f"at least the bar diameter, {1e3 * self.diameter:.6g} mm",
            )
        rise = (self.head_diameter - self.diameter) / 2
        if self.transition == "fillet" and self.transition_length < rise:
            # An arc that leaves the bar along its surface needs at least its rise in length.
            raise size_error(
                "Transition length", self.transition_length, f"at least {1e3 * rise:.6g} mm for a fillet"
            )
        return self


def equivalent_length(bar: TorsionBar) -> float:
    """Length of plain bar that twists as much as the whole, m."""
    return bar.body_length + 2 * _over_transition(bar, lambda d: _fourth(bar, bar.diameter) / _fourth(bar, d))


def bar_rate(bar: TorsionBar) -> float:
    """Torque per twist, N·m/rad."""
    return pi * bar.material.shear_modulus * float(_fourth(bar, bar.diameter)) / (32 * equivalent_length(bar))


def bar_stress(bar: TorsionBar, torque: ArrayLike) -> Array:
    """Shear stress at the surface of the plain bar, Pa, with the sign and shape of the torque, N·m."""
    full = 16 * bar.diameter / (pi * float(_fourth(bar, bar.diameter)))
    return np.asarray(full * np.asarray(torque, dtype=np.float64))


def bar_energy(bar: TorsionBar, torque: float) -> float:
    """Energy held at a torque, J."""
    return torque**2 / (2 * bar_rate(bar))


def bar_length(bar: TorsionBar) -> float:
    """Overall length, m."""
    return bar.body_length + 2 * (bar.transition_length + bar.head_length)


def bar_mass(bar: TorsionBar) -> float:
    """Mass with heads, kg; the head is taken as round up to the root of its splines."""

    def area(diameter: Array) -> Array:
        return np.asarray(pi / 4 * (diameter**2 - bar.bore**2))

    ends = np.array([bar.diameter, bar.head_diameter])
    body, head = area(ends) * [bar.body_length, bar.head_length]
    return bar.material.density * float(body + 2 * (head + _over_transition(bar, area)))


def bar_figures(bar: TorsionBar, states: Sequence[LoadState] = ()) -> tuple[Figure, ...]:
    """Figures of a bar that carries these torques."""
    rate, highest = bar_rate(bar), greatest(states)
    limit = shear_limit(bar.material, bar.setting)
    torque = "Torque in the bar, from the unwound bar on."
    stress = "τ = 16 T d / (π (d⁴ - d_i⁴)) at the surface of the plain bar."
    return (
        Figure(
            "rate",
            "Bar rate",
            rate,
            "torsional rate",
            "k = π (d⁴ - d_i⁴) G / (32 L), with the equivalent length L.",
        ),
        Figure(
            "equivalent_length",
            "Equivalent length",
            equivalent_length(bar),
            "dimension",
            "L = plain length + ∫ J_bar / J(x) dx over both transitions; heads count as rigid.",
        ),
        Figure(
            "overall_length",
            "Overall length",
            bar_length(bar),
            "dimension",
            "Plain length + both transitions + both heads.",
        ),
        *state_figures(states, "Torque", "torque", torque, float),
        *state_figures(states, "Wind-up", "angle", "T / k, from the unwound bar on.", lambda t: t / rate),
        *state_figures(states, "Shear stress", "stress", stress, lambda t: float(bar_stress(bar, t))),
        *margin_figures(
            float(bar_stress(bar, highest)), limit, f"Limit of the material for a bar that is {bar.setting}."
        ),
        *reverse_figures(states, bar.setting, lambda load: float(bar_stress(bar, load))),
        Figure(
            "energy",
            "Energy held",
            bar_energy(bar, highest),
            "energy",
            "U = T² / (2 k) at the greatest torque of all states.",
        ),
        Figure(
            "mass",
            "Mass",
            bar_mass(bar),
            "mass",
            "ρ · volume of bar, transitions and heads; splines as round to their root.",
            "lower",
        ),
    )


def _fourth(bar: TorsionBar, diameter: ArrayLike) -> Array:
    """d⁴ - d_i⁴."""
    return np.asarray(np.asarray(diameter, dtype=np.float64) ** 4 - bar.bore**4)


def _over_transition(bar: TorsionBar, value: Callable[[Array], Array]) -> float:
    """Integral of a function of the diameter over one transition, from its value per metre."""
    length = bar.transition_length
    places = length * (1 + _POINTS) / 2
    return float(length / 2 * (_WEIGHTS @ value(_diameter(bar, places))))


def _diameter(bar: TorsionBar, x: Array) -> Array:
    """Diameter at places of a transition, from the bar's end on."""
    rise, length = (bar.head_diameter - bar.diameter) / 2, bar.transition_length
    if rise == 0 or length == 0:
        return np.full_like(x, bar.diameter)
    if bar.transition == "taper":
        return np.asarray(bar.diameter + 2 * rise * x / length)
    radius = (length**2 + rise**2) / (2 * rise)
    return np.asarray(bar.diameter + 2 * (radius - np.sqrt(radius**2 - x**2)))
