"""Rate of a U-shaped stabiliser bar by the formula of the handbooks."""

from __future__ import annotations

from math import hypot

import pytest

from models.hardware.materials import Material
from models.hardware.round_section import round_section
from models.hardware.stabiliser_bar import BarBush, BendPoint, EndLink, StabiliserBar
from models.hardware.stabiliser_beam import stabiliser_beam

# Lever along the bar, bend to bush, half distance of the bushes, lever across the bar, m.
A, B, C, L2 = 0.09, 0.12, 0.33, 0.24


def handbook_rate(youngs: float, bending: float, torsion_term: float) -> float:
    """Roll moment per angle of the line between the ends of the bar, N·m/rad.

    End deflection f = P/(3 E I) [l1³ - a³ + L/2 (a + b)² + 4 l2² (b + c)], rate P L²/(2 f): the handbooks of
    spring makers (SAE spring manual; from memory).  The 4 stands for 3 E I/(G J) = 3 (1 + ν).
    """
    l1, span = hypot(A, L2), 2 * (A + B + C)
    bracket = l1**3 - A**3 + span / 2 * (A + B) ** 2 + torsion_term * L2**2 * (B + C)
    return span**2 * 3 * youngs * bending / (2 * bracket)


@pytest.mark.parametrize(
    ("poisson", "torsion_term", "tolerance"),
    [
        # At this ratio the formula is exact; the beam's shear deflection, which it leaves out, is 0.11 %.
        (1 / 3, 4.0, 1.5e-3),
        # At that of steel its 4 should be 3.9: 2.5 % of the torsion term, which is three fifths of the whole.
        (0.3, 4.0, 0.018),
        (0.3, 3.9, 1.5e-3),
    ],
)
def test_angular_bar_on_rigid_bushes(poisson: float, torsion_term: float, tolerance: float) -> None:
    youngs, diameter = 206e9, 0.022
    corners = ((-L2, 0.0), (-L2, C + B), (0.0, C + B + A))
    bar = StabiliserBar(
        points=tuple(BendPoint(x=x, y=y, radius=0.0) for x, y in corners),
        diameter=diameter,
        material=Material(youngs_modulus=youngs, shear_modulus=youngs / (2 * (1 + poisson))),
        bush=BarBush(position=C, radial_rate=1e12, axial_rate=1e12),
        link=EndLink(x=0.0, y=C + B + A, z=0.25, rate=1e12),
    )
    found = stabiliser_beam(bar).roll_rate(2 * (A + B + C))
    expected = handbook_rate(youngs, round_section(diameter, 0.0, poisson).bending, torsion_term)
    assert found == pytest.approx(expected, rel=tolerance)
