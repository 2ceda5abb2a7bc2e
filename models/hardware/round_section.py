"""Section of a round bar or tube."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

__all__ = ["BeamSection", "round_section"]


@dataclass(frozen=True, slots=True)
class BeamSection:
    """What a beam knows of its section, alike in all directions.

    Attributes:
        area: m².
        shear_area: that part of it which shear sees as evenly loaded, m²; infinite without shear deflection.
        bending: second moment of area, m⁴.
        torsion: torsion constant, m⁴.
        radius: of the outermost fibre, m.
    """

    area: float
    shear_area: float
    bending: float
    torsion: float
    radius: float


def round_section(diameter: float, bore: float, poisson: float) -> BeamSection:
    """Section of a round bar, or of a tube.

    Shear coefficient: G. R. Cowper, The shear coefficient in Timoshenko's beam theory, J. Appl. Mech. 33
    (1966), p. 335 (from memory; for a full circle 6 (1 + ν)/(7 + 6 ν)).

    Args:
        diameter: outside, m.
        bore: inside, m; 0 for a full bar.
        poisson: Poisson's ratio ν.
    """
    area = pi / 4 * (diameter**2 - bore**2)
    bending = pi / 64 * (diameter**4 - bore**4)
    square = (bore / diameter) ** 2
    full = 6 * (1 + poisson) * (1 + square) ** 2
    share = full / ((7 + 6 * poisson) * (1 + square) ** 2 + (20 + 12 * poisson) * square)
    return BeamSection(area, share * area, bending, 2 * bending, diameter / 2)
