"""Stress of any part from its load: what histories of loads are turned into stress histories with."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.hardware.coil import CoilSpring, coil_stress
from models.hardware.hardware import BarSpring, InterconnectionBar, TrimBar
from models.hardware.leaf import MultiLeafSpring, ParabolicLeafSpring, leaf_stress
from models.hardware.lever import lever_ratio
from models.hardware.materials import Material
from models.hardware.setting import shear_limit
from models.hardware.stabiliser_bar import StabiliserBar
from models.hardware.stabiliser_beam import stabiliser_beam
from models.hardware.torsion_bar import bar_stress

__all__ = ["SteelPart", "allowed_stress", "material_of", "stress"]

Array = NDArray[np.float64]

#: Parts whose load makes a stress in metal.
SteelPart = (
    CoilSpring
    | BarSpring
    | MultiLeafSpring
    | ParabolicLeafSpring
    | InterconnectionBar
    | TrimBar
    | StabiliserBar
)


def stress(part: SteelPart, load: ArrayLike) -> Array:
    """Stress from the load of the part's element in the ride model, with its sign and shape, Pa.

    Args:
        part: shear stress of coils and bars, bending stress of leaves, von Mises stress of stabiliser bars.
        load: N of a corner spring at the spring (of a bar spring: at the wheel), N·m of the other bars; of a
            stabiliser bar at the lever ratio of the steel.
    """
    match part:
        case CoilSpring():
            return coil_stress(part, load)
        case MultiLeafSpring() | ParabolicLeafSpring():
            return leaf_stress(part, load)
        case BarSpring():
            # Wheel force = torque · lever ratio, at design trim.
            return bar_stress(part.bar, np.asarray(load, dtype=np.float64) / lever_ratio(part.lever))
        case StabiliserBar():
            beam = stabiliser_beam(part)
            return np.asarray(load, dtype=np.float64) * beam.stress_per_torque(beam.lever_ratio)
        case InterconnectionBar() | TrimBar():
            return bar_stress(part.bar, load)


def material_of(part: SteelPart) -> Material:
    """What the part is made of."""
    return part.bar.material if isinstance(part, BarSpring | InterconnectionBar | TrimBar) else part.material


def allowed_stress(part: SteelPart) -> float:
    """Limit of the material for the kind of stress of the part, Pa."""
    match part:
        case MultiLeafSpring() | ParabolicLeafSpring() | StabiliserBar():
            return part.material.bending_limit
        case CoilSpring():
            return shear_limit(part.material, part.setting)
        case _:
            return shear_limit(part.bar.material, part.bar.setting)
