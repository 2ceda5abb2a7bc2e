"""Semi-elliptic leaf springs: leaves of one thickness in graduated lengths, or parabolic leaves of full
length.

Each half is a cantilever of length L (half the span less half of what the U-bolts clamp) under half the
force.

Multi-leaf (n_f full-length and n_g graduated leaves, n in all; Bhandari, Design of Machine Elements, ch. 10):
k = E b t³ (3 n_f + 2 n_g) / (6 L³).  With a nip that equalises the stress σ = 3 F L / (n b t²); without, the
full-length leaves have 9 F L / (b t² (3 n_f + 2 n_g)) and the graduated ones two thirds of it.

Parabolic: thickness t0 at the clamp, t0 √(x/L) towards the eye down to the end thickness r t0.  Bending of
such beams gives k = n E b t0³ / (2 L³ (2 - r³)) and σ = 3 F L / (n b t0²) all along the parabola.

Friction between the leaves, by virtual work (derived here, no source; an upper estimate): at each of the n -
1 contacts of a half the leaves slide by ∫ thickness · curvature dx up to there, under the force that the
contact passes on.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import Field

from models.fields import Label, Part, Quantity
from models.figure import Figure
from models.hardware.materials import CHROME_VANADIUM, Material
from models.hardware.state import LoadState, greatest, margin_figures, state_figures

__all__ = [
    "LeafSpring",
    "MultiLeafSpring",
    "ParabolicLeafSpring",
    "leaf_figures",
    "leaf_friction",
    "leaf_mass",
    "leaf_rate",
    "leaf_stress",
    "nip",
    "nip_bolt_force",
]

Array = NDArray[np.float64]

_Span = Annotated[
    float,
    Quantity(
        "dimension",
        "Span",
        "Distance between the two eyes, the spring straight.",
        low=0.05,
        high=5.0,
        typical=(0.9, 1.7),
        prominent=True,
    ),
]
_Clamped = Annotated[
    float,
    Quantity(
        "dimension",
        "Clamped length",
        "Length between the U-bolts that does not bend; common practice: half of their distance.",
        low=0.0,
        high=1.0,
        typical=(0.0, 0.12),
    ),
]
_Width = Annotated[
    float,
    Quantity("dimension", "Leaf width", "Width b of the leaves.", low=0.005, high=0.5, typical=(0.04, 0.1)),
]
_FrictionCoefficient = Annotated[
    float,
    Quantity(
        "ratio",
        "Friction between leaves",
        "Coefficient of friction between the leaves: about 0.1 greased, 0.2 to 0.4 dry (common practice).",
        low=0.0,
        high=1.5,
        typical=(0.0, 0.4),
    ),
]
_MaterialOfLeaf = Annotated[Material, Label("Material", "Steel of the leaves, with its limits.")]


def _thickness(label: str, meaning: str) -> Quantity:
    return Quantity("dimension", label, meaning, low=0.0005, high=0.1, typical=(0.005, 0.025), prominent=True)


class MultiLeafSpring(Part):
    """Leaves of one thickness, some of full length, the others in graduated lengths."""

    kind: Literal["multi-leaf"] = "multi-leaf"
    material: _MaterialOfLeaf = CHROME_VANADIUM
    span: _Span = 1.3
    clamped: _Clamped = 0.05
    width: _Width = 0.06
    thickness: Annotated[float, _thickness("Leaf thickness", "Thickness t of each leaf.")] = 0.007
    full_leaves: Annotated[
        int,
        Field(ge=1, le=20),
        Label("Full-length leaves", "Leaves that reach the eyes, the main leaf among them."),
    ] = 1
    graduated_leaves: Annotated[
        int, Field(ge=0, le=40), Label("Graduated leaves", "Leaves that are shorter, in equal steps.")
    ] = 4
    nipped: Annotated[
        Literal["equalised", "none"],
        Label("Nip", "Equalised: the leaves are curved so that all have the same stress under load."),
    ] = "equalised"
    friction: _FrictionCoefficient = 0.2


class ParabolicLeafSpring(Part):
    """Full-length leaves that touch at their ends and at the clamp only."""

    kind: Literal["parabolic leaf"] = "parabolic leaf"
    material: _MaterialOfLeaf = CHROME_VANADIUM
    span: _Span = 1.3
    clamped: _Clamped = 0.05
    width: _Width = 0.06
    thickness: Annotated[float, _thickness("Thickness at the clamp", "Thickness t0 at the middle.")] = 0.014
    end_share: Annotated[
        float,
        Quantity(
            "share",
            "End thickness",
            "Thickness at the eyes as a share r of that at the clamp.",
            low=0.05,
            high=1.0,
            typical=(0.4, 0.7),
        ),
    ] = 0.5
    leaves: Annotated[int, Field(ge=1, le=12), Label("Leaves", "Number of leaves, all of full length.")] = 2
    friction: _FrictionCoefficient = 0.2


LeafSpring = MultiLeafSpring | ParabolicLeafSpring


def leaf_rate(leaf: LeafSpring) -> float:
    """Force at the clamp per its deflection, N/m."""
    stiff = leaf.material.youngs_modulus * leaf.width * leaf.thickness**3 / _half(leaf) ** 3
    if isinstance(leaf, MultiLeafSpring):
        return stiff * _weighted(leaf) / 6
    return leaf.leaves * stiff / (2 * (2 - leaf.end_share**3))


def leaf_stress(leaf: LeafSpring, force: ArrayLike) -> Array:
    """Greatest bending stress of the leaves, Pa, with the sign and shape of the force at the clamp, N."""
    moment = np.asarray(force, dtype=np.float64) * _half(leaf)
    section = leaf.width * leaf.thickness**2
    if isinstance(leaf, MultiLeafSpring) and leaf.nipped == "none":
        return np.asarray(9 * moment / (section * _weighted(leaf)))
    return np.asarray(3 * moment / (section * _leaves(leaf)))


def leaf_friction(leaf: LeafSpring, force: float) -> float:
    """Force at the clamp that friction between the leaves adds on the way up and takes on the way down, N.

    Half of the height of the hysteresis loop at a force.
    """
    half, load = _half(leaf), abs(force) / 2
    if isinstance(leaf, MultiLeafSpring):
        # A spring of graduated leaves bends to an arc: slope 2 δ x / L² at x from the clamp; each contact
        # passes on the whole load of the eye, at the tips of the graduated leaves and of the full ones.
        tips = sum(number / (leaf.graduated_leaves + 1) for number in range(1, leaf.graduated_leaves + 1))
        sliding = leaf.thickness * 2 / half * (tips + leaf.full_leaves - 1)
        return 2 * leaf.friction * load * sliding
    # Leaves side by side slide at their ends by ∫ thickness · curvature dx; of n equal leaves the contacts
    # pass on (n-1)/n ... 1/n of the load, (n-1)/2 in all.
    r = leaf.end_share
    sliding = leaf.thickness * 3 * (1 - r**2 / 2) / ((2 - r**3) * half)
    return 2 * leaf.friction * load * (leaf.leaves - 1) / 2 * sliding


def leaf_mass(leaf: LeafSpring) -> float:
    """Mass of the leaves without eyes, clips and bolts, kg; graduated lengths in equal steps."""
    plate = leaf.material.density * leaf.width * leaf.thickness
    if isinstance(leaf, MultiLeafSpring):
        return plate * leaf.span * (leaf.full_leaves + leaf.graduated_leaves / 2)
    # Mean thickness over a half: r on the share r² at the end, then the parabola.
    r = leaf.end_share
    mean = r**3 + 2 / 3 * (1 - r**3)
    return leaf.leaves * plate * (2 * _half(leaf) * mean + leaf.clamped)


def nip(leaf: MultiLeafSpring, force: float) -> float:
    """Gap of full-length and graduated leaves before the bolt closes it, for equal stress at a force, m."""
    stiff = leaf.material.youngs_modulus * _leaves(leaf) * leaf.width * leaf.thickness**3
    return force * _half(leaf) ** 3 / stiff


def nip_bolt_force(leaf: MultiLeafSpring, force: float) -> float:
    """Force of the bolt that closes that nip, N."""
    return leaf.graduated_leaves * leaf.full_leaves * force / (_leaves(leaf) * _weighted(leaf))


def leaf_figures(leaf: LeafSpring, states: Sequence[LoadState] = ()) -> tuple[Figure, ...]:
    """Figures of a leaf spring that carries these forces."""
    rate, highest = leaf_rate(leaf), greatest(states)
    rate_formula, stress_formula = _formulas(leaf)
    return (
        Figure("rate", "Spring rate", rate, "rate", rate_formula),
        Figure(
            "half_length",
            "Length that bends, each half",
            _half(leaf),
            "dimension",
            "L = (span - clamped length) / 2.",
        ),
        *state_figures(states, "Force", "force", "Force at the clamp, from the unloaded spring on.", float),
        *state_figures(states, "Deflection", "travel", "F / k.", lambda f: f / rate),
        *state_figures(
            states, "Bending stress", "stress", stress_formula, lambda f: float(leaf_stress(leaf, f))
        ),
        *margin_figures(
            float(leaf_stress(leaf, highest)),
            leaf.material.bending_limit,
            "Limit of the material in bending.",
        ),
        *state_figures(
            states,
            "Leaf friction",
            "force",
            "± force at the clamp: half of the hysteresis loop. μ · contact force · sliding per "
            "deflection, summed "
            "over the contacts, sliding = ∫ thickness · curvature dx (virtual work, upper estimate).",
            lambda f: leaf_friction(leaf, f),
        ),
        *(_nip_figures(leaf, highest) if isinstance(leaf, MultiLeafSpring) else ()),
        Figure(
            "energy", "Energy held", highest**2 / (2 * rate), "energy", "F² / (2 k) at the greatest force."
        ),
        Figure(
            "mass",
            "Mass",
            leaf_mass(leaf),
            "mass",
            "ρ · volume of the leaves; no eyes, clips, bolts.",
            "lower",
        ),
    )


def _nip_figures(leaf: MultiLeafSpring, force: float) -> tuple[Figure, ...]:
    if leaf.nipped == "none":
        return ()
    return (
        Figure(
            "nip",
            "Nip",
            nip(leaf, force),
            "dimension",
            "F L³ / (E n b t³), for equal stress at the greatest force.",
        ),
        Figure(
            "nip_bolt_force",
            "Bolt force of the nip",
            nip_bolt_force(leaf, force),
            "force",
            "n_g n_f F / (n (3 n_f + 2 n_g)), at the greatest force.",
        ),
    )


def _formulas(leaf: LeafSpring) -> tuple[str, str]:
    """Rate and stress in words."""
    if isinstance(leaf, ParabolicLeafSpring):
        return "k = n E b t0³ / (2 L³ (2 - r³)).", "σ = 3 F L / (n b t0²), the same all along the parabola."
    rate = "k = E b t³ (3 n_f + 2 n_g) / (6 L³)."
    if leaf.nipped == "none":
        return rate, "σ = 9 F L / (b t² (3 n_f + 2 n_g)) in the full-length leaves; two thirds in the others."
    return rate, "σ = 3 F L / (n b t²), in all leaves alike."


def _half(leaf: LeafSpring) -> float:
    return (leaf.span - leaf.clamped) / 2


def _leaves(leaf: LeafSpring) -> int:
    return leaf.leaves if isinstance(leaf, ParabolicLeafSpring) else leaf.full_leaves + leaf.graduated_leaves


def _weighted(leaf: MultiLeafSpring) -> int:
    return 3 * leaf.full_leaves + 2 * leaf.graduated_leaves
