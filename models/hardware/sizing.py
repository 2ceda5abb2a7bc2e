"""From a wanted rate and an allowed stress to all standard sizes that fit, lightest first.

Rate and greatest load fix the deflection; what is free is the diameter (and bore, or coil diameter), and
with it the length (or the coils) that gives the rate.  A thicker bar is longer and heavier, and less
stressed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import degrees, floor, inf, isnan, nan
from typing import Generic, TypeVar

from models.fields import Part
from models.hardware.coil import (
    CoilSpring,
    buckling_deflection,
    coil_mass,
    coil_rate,
    coil_stress,
    solid_length,
)
from models.hardware.setting import shear_limit
from models.hardware.standard_sizes import HOLLOW_RATIOS, ROUND_BARS, WIRES
from models.hardware.torsion_bar import (
    TorsionBar,
    bar_length,
    bar_mass,
    bar_rate,
    bar_stress,
    equivalent_length,
)

__all__ = [
    "BarWish",
    "CoilWish",
    "Size",
    "Sizes",
    "bar_sizes",
    "coil_sizes",
    "drawn",
    "ranked",
    "too_much",
]

SizedPart = TypeVar("SizedPart", bound=Part)

# Coils: mean diameters are tried in these steps, m, and made with this index and at least so many active
# coils (EN 13906-1, from memory: index 4 to 20, two coils).
_MEAN_STEP, _INDEX, _FEWEST = 0.005, (4.0, 20.0), 2.0


@dataclass(frozen=True, slots=True)
class BarWish:
    """What a torsion bar has to do.

    Attributes:
        rate: N·m/rad.
        torque: the greatest, N·m.
        available_length: for the bar with its heads, m.
        angle_limit: greatest wind-up, rad.
        stress_limit: Pa; None takes the limit of the material.
    """

    rate: float
    torque: float
    available_length: float = inf
    angle_limit: float = inf
    stress_limit: float | None = None


@dataclass(frozen=True, slots=True)
class CoilWish:
    """What a coil spring has to do.

    Attributes:
        rate: N/m.
        design_force: force at design trim, N.
        greatest_force: N.
        installed_length: between the seats at design trim, m.
        outer_diameter: the largest that fits, m.
        inner_diameter: the least that goes over what stands inside, m.
        stress_limit: Pa; None takes the limit of the material.
    """

    rate: float
    design_force: float
    greatest_force: float
    installed_length: float
    outer_diameter: float
    inner_diameter: float = 0.0
    stress_limit: float | None = None


@dataclass(frozen=True, slots=True)
class Size(Generic[SizedPart]):
    """One size that fits.

    Attributes:
        part: the size, ready to be put into the hardware.
        rate: what it gives, N·m/rad or N/m; lengths and coils are rounded as they are drawn.
        stress: at the greatest load, Pa.
        mass: kg.
        length: overall length of a bar, free length of a coil, m.
        life: as the function passed in tells it; NaN without one.
    """

    part: SizedPart
    rate: float
    stress: float
    mass: float
    length: float
    life: float


@dataclass(frozen=True, slots=True)
class Sizes(Generic[SizedPart]):
    """All that fits, lightest first (of equal mass the longest life), and in words why nothing does."""

    found: tuple[Size[SizedPart], ...]
    reason: str = ""


def bar_sizes(
    like: TorsionBar,
    wish: BarWish,
    life: Callable[[TorsionBar], float] | None = None,
    diameters: Sequence[float] = ROUND_BARS,
    bores: Sequence[float] = HOLLOW_RATIOS,
) -> Sizes[TorsionBar]:
    """Standard torsion bars.

    Args:
        like: bar whose material, setting, teeth and shape of the ends the sizes take; ends grow with the
            diameter.
        wish: what is wanted.
        life: life of a bar, for the table.
        diameters: those tried, m.
        bores: bore per diameter of those tried.
    """
    limit = shear_limit(like.material, like.setting) if wish.stress_limit is None else wish.stress_limit
    angle = wish.torque / wish.rate
    if angle > wish.angle_limit:
        return Sizes(
            (),
            f"at this rate the greatest torque winds any bar by {degrees(angle):.3g} deg, more than the "
            f"{degrees(wish.angle_limit):.3g} deg allowed; a higher rate or a longer lever winds it less",
        )
    bars = [
        bar
        for bore in bores
        for diameter in diameters
        if (bar := _bar(like, wish.rate, diameter, bore)) and bar_length(bar) <= wish.available_length
    ]
    if not bars:
        return Sizes(
            (), f"no bar of this rate is shorter than the {1e3 * wish.available_length:.4g} mm available"
        )
    fit = [bar for bar in bars if float(bar_stress(bar, wish.torque)) <= limit]
    if not fit:
        least = min(float(bar_stress(bar, wish.torque)) for bar in bars)
        return Sizes((), f"{too_much(least, limit)}; a longer bar may be thicker")
    return Sizes(
        ranked(
            Size(
                bar,
                bar_rate(bar),
                float(bar_stress(bar, wish.torque)),
                bar_mass(bar),
                bar_length(bar),
                life(bar) if life else nan,
            )
            for bar in fit
        )
    )


def coil_sizes(
    like: CoilSpring,
    wish: CoilWish,
    life: Callable[[CoilSpring], float] | None = None,
    wires: Sequence[float] = WIRES,
) -> Sizes[CoilSpring]:
    """Standard wires in coils that fit; not solid and not buckled at the greatest force.

    Args:
        like: spring whose material, setting, ends, seats and factor the sizes take.
        wish: what is wanted.
        life: life of a spring, for the table.
        wires: wire diameters tried, m.
    """
    limit = shear_limit(like.material, like.setting) if wish.stress_limit is None else wish.stress_limit
    coils = list(_coils(like, wish, wires))
    if not coils:
        return Sizes((), "no wire gives this rate within the diameters and the length")
    upright = [coil for coil in coils if wish.greatest_force / coil_rate(coil) < buckling_deflection(coil)]
    if not upright:
        return Sizes(
            (), "every coil of this rate buckles before the greatest force; hold its ends or guide it"
        )
    fit = [coil for coil in upright if float(coil_stress(coil, wish.greatest_force)) <= limit]
    if not fit:
        least = min(float(coil_stress(coil, wish.greatest_force)) for coil in upright)
        return Sizes((), f"{too_much(least, limit)}; more length or a larger diameter allows thicker wire")
    return Sizes(
        ranked(
            Size(
                coil,
                coil_rate(coil),
                float(coil_stress(coil, wish.greatest_force)),
                coil_mass(coil),
                coil.free_length,
                life(coil) if life else nan,
            )
            for coil in fit
        )
    )


def too_much(least: float, limit: float) -> str:
    """Why nothing fits: the least stress found, and the limit, Pa."""
    return (
        f"the least stress of what fits is {least / 1e6:.4g} MPa, more than the {limit / 1e6:.4g} MPa allowed"
    )


def ranked(sizes: Iterable[Size[SizedPart]]) -> tuple[Size[SizedPart], ...]:
    """Lightest first, of equal mass the longest life."""
    return tuple(sorted(sizes, key=lambda size: (size.mass, 0.0 if isnan(size.life) else -size.life)))


def _bar(like: TorsionBar, rate: float, diameter: float, bore: float) -> TorsionBar | None:
    """Bar of that rate, its plain length in whole mm; None where its ends alone are softer."""
    scale = diameter / like.diameter
    head = max(drawn(like.head_diameter * scale), diameter)
    shape = {
        "diameter": diameter,
        "bore": drawn(bore * diameter),
        "head_diameter": head,
        # A fillet is at least as long as it rises.
        "transition_length": max(drawn(like.transition_length * scale), (head - diameter) / 2),
        "head_length": drawn(like.head_length * scale),
    }
    trial = like.model_copy(update={**shape, "body_length": 1.0})
    # The equivalent length that gives the rate, less what the transitions are worth.
    wanted = bar_rate(trial) * equivalent_length(trial) / rate
    body = drawn(wanted - (equivalent_length(trial) - 1.0), 0)
    if not 0.001 <= body <= 15.0:
        return None
    values = {name: getattr(like, name) for name in TorsionBar.model_fields}
    return TorsionBar.model_validate({**values, **shape, "body_length": body})


def _coils(like: CoilSpring, wish: CoilWish, wires: Sequence[float]) -> Iterator[CoilSpring]:
    """Coils of that rate between the diameters that do not touch at the greatest force."""
    values = {name: getattr(like, name) for name in CoilSpring.model_fields}
    free = drawn(wish.installed_length + wish.design_force / wish.rate, 0)
    shortest = free - wish.greatest_force / wish.rate
    for wire in wires:
        for step in range(1, floor((wish.outer_diameter - wire) / _MEAN_STEP + 1e-9) + 1):
            mean = drawn(step * _MEAN_STEP)
            active = round(like.material.shear_modulus * wire**4 / (8 * mean**3 * wish.rate), 2)
            inside = mean - wire >= wish.inner_diameter
            if not (inside and _INDEX[0] <= mean / wire <= _INDEX[1] and active >= _FEWEST):
                continue
            shape = {
                "wire_diameter": wire,
                "mean_diameter": mean,
                "active_coils": active,
                "free_length": free,
            }
            # Coils must keep a gap: 0.02 n (D + d) in all (EN 13906-1, static, from memory).
            gap = 0.02 * active * (mean + wire)
            if shortest >= solid_length(like.model_copy(update=shape)) + gap:
                yield CoilSpring.model_validate({**values, **shape})


def drawn(length: float, digits: int = 1) -> float:
    """Length rounded as it is drawn, to so many digits of a millimetre, m."""
    return round(1e3 * length, digits) * 1e-3
