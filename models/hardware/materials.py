"""Materials of springs and bars, with limits that the user may edit.

Each part of the car carries its own material, so that a limit is changed where it counts and an undo finds
it. :data:`MATERIALS` is the table to pick from; the source of its numbers stands in each material.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import StringConstraints

from models.fields import Label, Part, Quantity
from models.hardware.sn_curve import SNCurve

__all__ = ["CHROME_SILICON", "CHROME_VANADIUM", "MATERIALS", "PATENTED_WIRE", "Material"]

_Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=80)]
_Text = Annotated[str, StringConstraints(strip_whitespace=True, max_length=400)]


def _limit(label: str, meaning: str) -> Quantity:
    return Quantity("stress", label, meaning, low=1e6, high=5e9, typical=(300e6, 1300e6))


class Material(Part):
    """Steel (or another metal) of a spring or bar, as heat-treated and finished for it."""

    name: Annotated[_Name, Label("Material", "What it is called.")] = "51CrV4, shot peened"
    shear_modulus: Annotated[
        float,
        Quantity(
            "elastic modulus",
            "Shear modulus",
            "G: shear stress per shear strain.",
            low=1e9,
            high=500e9,
            typical=(70e9, 85e9),
        ),
    ] = 78.5e9
    youngs_modulus: Annotated[
        float,
        Quantity(
            "elastic modulus",
            "Young's modulus",
            "E: tensile stress per strain.",
            low=1e9,
            high=1000e9,
            typical=(180e9, 215e9),
        ),
    ] = 206e9
    density: Annotated[
        float,
        Quantity("density", "Density", "Mass per volume.", low=100.0, high=25e3, typical=(7600.0, 8000.0)),
    ] = 7850.0
    shear_limit_preset: Annotated[
        float,
        _limit("Allowed shear stress, pre-set", "Largest shear stress of a part that has been pre-set."),
    ] = 1020e6
    shear_limit: Annotated[
        float,
        _limit(
            "Allowed shear stress, not pre-set", "Largest shear stress of a part that has not been pre-set."
        ),
    ] = 700e6
    bending_limit: Annotated[
        float,
        _limit(
            "Allowed bending stress",
            "Largest bending stress of a leaf, and von Mises stress of a stabiliser bar.",
        ),
    ] = 1100e6
    fatigue: Annotated[SNCurve, Label("Fatigue", "S–N line of the material as finished.")] = SNCurve()
    source: Annotated[_Text, Label("Source", "Where these numbers come from.")] = (
        "E, G and density: EN 10089 steel in an open implementation of EN 13906-1 (helicoil.py). "
        "Shear limits: DIN 2091, from memory. Bending limit: common practice. "
        "Fatigue: from the Goodman lines of a peened 25 mm bar in the same implementation, "
        "without mean stress: 280 MPa at 2e6 and 364 MPa at 1e5 cycles."
    )


#: Bars and leaves, quenched and tempered.
CHROME_VANADIUM = Material()

#: Cold-coiled suspension springs.
CHROME_SILICON = Material(
    name="54SiCr6, oil tempered, shot peened",
    shear_modulus=79.5e9,
    shear_limit_preset=1000e6,
    shear_limit=850e6,
    bending_limit=1200e6,
    fatigue=SNCurve(amplitude=300e6, slope=12.0, second_slope=23.0, ultimate=1130e6),
    source=(
        "E, G and density: EN 13906-1 for EN 10270-2 wire, from memory. Shear limits: 0.5 and, pre-set, "
        "0.6 of a "
        "tensile strength of 1700 MPa, common practice. Fatigue: common practice, no source; confirm it."
    ),
)

#: Cold-coiled springs of moderate stress.
PATENTED_WIRE = Material(
    name="EN 10270-1 DH, patented wire",
    shear_modulus=81.5e9,
    shear_limit_preset=760e6,
    shear_limit=680e6,
    bending_limit=940e6,
    fatigue=SNCurve(amplitude=220e6, slope=12.0, second_slope=23.0, ultimate=905e6),
    source=(
        "E, G and density: EN 10270-1 as printed by a maker of springs (mollificiomodenese.it). Shear "
        "limits: 0.5 "
        "and, pre-set, 0.56 of a tensile strength of 1360 MPa, common practice. Fatigue: common "
        "practice, no source; "
        "confirm it."
    ),
)

#: Table to pick from; a picked material may be edited.
MATERIALS: tuple[Material, ...] = (
    CHROME_VANADIUM,
    Material(
        name="51CrV4, hot coiled, 15 mm bar",
        shear_limit_preset=870e6,
        shear_limit=740e6,
        source=(
            "E, G, density and the stress at solid length (pre-set), 874 MPa for a 15 mm bar: EN "
            "13906-1 for hot-coiled "
            "springs in an open implementation (helicoil.py). Not pre-set: 0.85 of that, common "
            "practice. Fatigue: as "
            "for 51CrV4."
        ),
    ),
    CHROME_SILICON,
    PATENTED_WIRE,
    Material(
        name="SAE 5160H, hot rolled",
        shear_modulus=72.4e9,
        youngs_modulus=200e9,
        shear_limit_preset=780e6,
        shear_limit=650e6,
        bending_limit=1000e6,
        source=(
            "E 29e6 psi, G 10.5e6 psi (of hot-wound coils), 45 % of a tensile strength of 211 ksi not "
            "pre-set: a maker "
            "of springs (suhm.net). Pre-set: 54 %, common practice. Density and fatigue: as for 51CrV4."
        ),
    ),
)
