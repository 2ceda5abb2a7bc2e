"""Springs and bars in steel against handbook examples."""

from __future__ import annotations

from math import cos, degrees, pi, radians, tan

from models.hardware import CoilSpring, LeverArm, Material, MultiLeafSpring, TorsionBar, lever_ratio
from models.hardware.clocking import smallest_step, vernier_step
from models.hardware.coil import (
    buckling_deflection,
    coil_rate,
    coil_stress,
    curvature_factor,
    solid_length,
    surge_frequency,
)
from models.hardware.leaf import leaf_rate, leaf_stress, nip, nip_bolt_force
from models.hardware.materials import MATERIALS
from models.hardware.standard_sizes import PREFERRED
from models.hardware.torsion_bar import bar_energy, bar_rate, bar_stress
from models.levers import turned
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER"]

CHAPTER = Chapter("springs", "Springs and bars in steel")

PSI, INCH, LBF = 6894.757293168361, 0.0254, 4.4482216152605
BHANDARI = "V. B. Bhandari, Design of Machine Elements, ch. 10, as run in the FOSSEE companion"
LAST_DIGIT = "half a unit of the last printed digit"
ROUNDING = "rounding: closed forms of the same numbers"


def coil(wire: float, mean: float, coils: float, shear: float, **other: object) -> CoilSpring:
    """Coil from mm and MPa."""
    return CoilSpring.model_validate(
        {
            "material": Material(shear_modulus=1e6 * shear),
            "wire_diameter": wire / 1e3,
            "mean_diameter": mean / 1e3,
            "active_coils": coils,
            "free_length": 3.0,
            **other,
        }
    )


@CHAPTER.check(
    "Coils of Bhandari", source=f"{BHANDARI}, examples 10.1 and 10.3", status="seen", reason=LAST_DIGIT
)
def bhandari_coils() -> Numbers:
    """10.1: 30 mm under 1250 N, C = 6, G 81 370 MPa; 545 MPa takes d = 6.625083 mm, by Wahl's factor.

    The rate of d 7, D 42 mm takes 7.911 coils (of which the example makes 8).
    10.3: D 150, d 21 mm, 75 N/mm takes n = 7.814775.
    """
    chosen = coil(6.625083, 6 * 6.625083, 8, 81370, factor="Wahl")
    yield beside("10.1: stress, MPa", float(coil_stress(chosen, 1250.0)) / 1e6, 0.5 * 1090, relative=2e-7)
    yield beside("10.1: coils", coil_rate(coil(7, 42, 1, 81370)) / (1250 / 0.030), 7.911, within=5e-4)
    yield beside("10.3: rate, N/mm", coil_rate(coil(21, 150, 7.814775, 81370)) / 1e3, 75.0, relative=1e-7)


@CHAPTER.check(
    "Coils of Barton and Fieldhouse",
    source="D. C. Barton and J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018, p. 213",
    status="seen",
    reason=LAST_DIGIT,
)
def barton_coils() -> Numbers:
    """Coils n = G d⁴/(8 k D³): d 12.7 mm, G 79.3 GPa; D 120 mm for 19.3 N/mm, D 100 mm for 42.3 N/mm."""
    yield beside("coils of the soft spring", coil_rate(coil(12.7, 120, 1, 79300)) / 19.3e3, 7.73, within=5e-3)
    yield beside("coils of the hard spring", coil_rate(coil(12.7, 100, 1, 79300)) / 42.3e3, 6.10, within=5e-3)


@CHAPTER.check(
    "Coil of Shigley",
    source="J. E. Shigley, Mechanical Engineering Design, example 10-1",
    status="from memory",
    reason="half a unit of the last printed digit; the stress, 2e-3, as the book's own force has one digit "
    "less of D in it",
)
def shigley_coil() -> Numbers:
    """Music wire d 0.037 in, D 0.400 in (as the book has it), 10.5 coils, G 11.85 Mpsi.

    F = 6.46 lbf at the torsional yield 0.45 · 324 kpsi.
    """
    spring = CoilSpring(
        material=Material(shear_modulus=11.85e6 * PSI),
        wire_diameter=0.037 * INCH,
        mean_diameter=0.400 * INCH,
        active_coils=10.5,
        free_length=0.2,
    )
    yield beside("Bergsträsser's factor", curvature_factor(0.400 / 0.037, "Bergsträsser"), 1.124, within=5e-4)
    yield beside("rate, lbf/in", coil_rate(spring) / (LBF / INCH), 4.13, within=5e-3)
    stress = float(coil_stress(spring, 6.46 * LBF)) / (1e3 * PSI)
    yield beside("stress, kpsi", stress, 0.45 * 324, relative=2e-3)


@CHAPTER.check(
    "Wahl's factor",
    source=f"{BHANDARI}, table of example 10.3",
    status="seen",
    reason="half a unit of the last printed digit; one of them is rounded up from 5",
)
def wahl() -> Numbers:
    """(4 C - 1)/(4 C - 4) + 0.615/C."""
    for index, factor in ((5, 1.311), (6, 1.253), (7, 1.213), (7.5, 1.197), (8, 1.184)):
        yield beside(f"index {index:g}", curvature_factor(index, "Wahl"), factor, within=5.1e-4)


@CHAPTER.check(
    "Bergsträsser's factor",
    source="EN 13906-1, (w + 0.5)/(w - 0.75), in an open implementation (helicoil.py)",
    status="seen",
    reason="half a unit of the last of the digits computed; the formula itself to rounding",
)
def bergstraesser() -> Numbers:
    """(4 C + 2)/(4 C - 3) is the same number."""
    for index, factor in ((5.0, 1.2941), (6.0, 1.2381), (7.0, 1.2), (8.0, 1.1724)):
        yield beside(f"index {index:g}", curvature_factor(index, "Bergsträsser"), factor, within=5e-5)
    for index in (5.0, 6.0, 7.0, 7.5, 8.0):
        found = curvature_factor(index, "Bergsträsser")
        yield beside(f"formula at {index:g}", found, (index + 0.5) / (index - 0.75), relative=1e-14)


@CHAPTER.check(
    "Solid length of four kinds of ends",
    source="J. E. Shigley, Mechanical Engineering Design, table 10-1",
    status="from memory",
    reason=ROUNDING,
)
def solid_lengths() -> Numbers:
    """Length d (N + 1) for plain and for squared ends, d N where they are ground; d 10 mm.

    Of N coils in all, which are the active ones, 10, and 0 (plain), 1 (plain and ground) or 2 (squared).
    """
    for end_coils, ends, wires in (
        (0, "not ground", 11),
        (1, "ground", 11),
        (2, "not ground", 13),
        (2, "ground", 12),
    ):
        spring = coil(10, 100, 10, 79300, end_coils=end_coils, ends=ends)
        name = f"{end_coils} end coils, {ends}: length, mm"
        yield beside(name, 1e3 * solid_length(spring), 10.0 * wires, relative=1e-14)


@CHAPTER.check(
    "Surge frequency of EN 13906-1",
    source="EN 13906-1, 9.12, in an open implementation",
    status="seen",
    reason="3560 is √(1e9/2)/(2π) = 3558.8 rounded, hence 4e-4",
)
def surge() -> Numbers:
    """First frequency f = 3560 d/(n D²) √(G/ρ) with mm, MPa and kg/dm³.

    Wire d 12, coil D 110 mm, 6 coils, G 78 500 MPa, 7.85 kg/dm³.
    """
    expected = 3560 * 12 / (6 * 110**2) * (78500 / 7.85) ** 0.5
    yield beside("frequency, Hz", surge_frequency(coil(12, 110, 6, 78500)), expected, relative=4e-4)


@CHAPTER.check(
    "Buckling of EN 13906-1",
    source="EN 13906-1, 9.14, in an open implementation",
    status="seen",
    reason=ROUNDING,
)
def buckling() -> Numbers:
    """At s_k = L0 0.5/(1 - G/E) (1 - √(1 - (1 - G/E)/(0.5 + G/E) (π D/(ν L0))²)).

    Wire d 12, coil D 110, free length L0 600 mm, ν 1 (both ends pivoted), G 78.5, E 206 GPa.
    """
    spring = coil(12, 110, 12, 78500, free_length=0.6, seats="both ends pivoted")
    ratio, slim = 78.5 / 206, pi * 110 / 600
    expected = 600 * 0.5 / (1 - ratio) * (1 - (1 - (1 - ratio) / (0.5 + ratio) * slim**2) ** 0.5)
    yield beside("deflection, mm", 1e3 * buckling_deflection(spring), expected, relative=1e-13)


@CHAPTER.check(
    "No buckling of a short coil",
    source="machinecalcs.com, spring buckling: no buckling below a slenderness of about 2.63",
    status="seen",
    reason="never is never",
)
def no_buckling() -> Numbers:
    """Wire d 1, coil D 10, L0 40 mm on fixed seats: slenderness 2.0, never buckles."""
    spring = coil(1, 10, 8, 79300, free_length=0.040)
    yield beside("deflection, m", buckling_deflection(spring), float("inf"))


@CHAPTER.check(
    "Leaf springs of Bhandari",
    source=f"{BHANDARI}, examples 10.24 and 10.25",
    status="seen",
    reason=LAST_DIGIT,
)
def bhandari_leaves() -> Numbers:
    """10.24: 3 full and 15 graduated leaves, L 500 mm, 37.5 kN per eye, E 207 GPa.

    450 MPa takes t = 11.556021 mm for b = 9 t; made of 108 x 12 mm.
    10.25: 2 full and 10 graduated leaves of 60 x 12 mm, L 600 mm, 15 kN per eye.
    """
    steel = Material(youngs_modulus=207e9)

    def leaves(span: float, thickness: float, width: float, full: int, graduated: int) -> MultiLeafSpring:
        return MultiLeafSpring(
            material=steel,
            span=span,
            clamped=0.0,
            thickness=thickness,
            width=width,
            full_leaves=full,
            graduated_leaves=graduated,
        )

    thin = leaves(1.0, 11.556021e-3, 9 * 11.556021e-3, 3, 15)
    yield beside("10.24: stress, MPa", float(leaf_stress(thin, 75e3)) / 1e6, 450.0, relative=2e-7)
    made = leaves(1.0, 0.012, 0.108, 3, 15)
    yield beside("10.24: nip, mm", 1e3 * nip(made, 75e3), 13.482205, within=5e-7)
    yield beside("10.24: preload of the bolt, N", nip_bolt_force(made, 75e3), 4807.692308, within=5e-7)
    spring = leaves(1.2, 0.012, 0.060, 2, 10)
    yield beside("10.25: deflection, mm", 1e3 * 30e3 / leaf_rate(spring), 69.676700, within=5e-7)


def plain_bar(diameter: float, length: float, shear: float, bore: float = 0.0) -> TorsionBar:
    """Bar without heads."""
    return TorsionBar(
        material=Material(shear_modulus=shear),
        diameter=diameter,
        head_diameter=diameter,
        bore=bore,
        body_length=length,
        transition_length=0.0,
    )


@CHAPTER.check(
    "Inch rule of the torsion bar",
    source="elcovaforums.com, post 153375: 1.12e6 d⁴/(L r²) lb/in, with G = 11.41e6 psi",
    status="seen",
    reason="half a unit of the three digits of the rule",
)
def inch_rule() -> Numbers:
    """Wheel rate of d 0.9, L 40, r 14 in."""
    bar = plain_bar(0.9 * INCH, 40 * INCH, 11.41e6 * PSI)
    rate = bar_rate(bar) * lever_ratio(LeverArm(length=14 * INCH)) ** 2
    yield beside("wheel rate, lbf/in", rate / (LBF / INCH), 1.12e6 * 0.9**4 / (40 * 14**2), relative=5e-4)


@CHAPTER.check(
    "Solid torsion bar in numbers",
    source="π d⁴ G/(32 L), 16 T/(π d³), k θ²/2 and k/r²: textbook, computed apart",
    status="computed apart",
    reason="half a unit of the last of the digits computed; the energy to rounding",
)
def solid_bar() -> Numbers:
    """Diameter d 24, L 1000 mm, G 79 GPa, twisted by 20°; on an arm of 350 mm."""
    bar = plain_bar(0.024, 1.0, 79e9)
    torque = bar_rate(bar) * radians(20)
    yield beside("rate, N·m/rad", bar_rate(bar), 2573.19, within=5e-3)
    yield beside("torque, N·m", torque, 898.213, within=5e-4)
    yield beside("stress, MPa", float(bar_stress(bar, torque)) / 1e6, 330.914, within=5e-4)
    yield beside("energy, J", bar_energy(bar, torque), bar_rate(bar) * radians(20) ** 2 / 2, relative=1e-14)
    rate = bar_rate(bar) * lever_ratio(LeverArm(length=0.35)) ** 2
    yield beside("wheel rate, N/mm", rate / 1e3, 21.0056, within=5e-5)


@CHAPTER.check("Hollow torsion bar", source="e-uparts.com, 17-5 Torsion bar", status="seen", reason=ROUNDING)
def hollow_bar() -> Numbers:
    """Twist θ = 32 M L/(π (d2⁴ - d1⁴) G), τ = 16 d2 M/(π (d2⁴ - d1⁴)).

    Diameters 30 and 18 mm, length 800 mm, 78 GPa, 1500 N·m.
    """
    bar, torque = plain_bar(0.030, 0.8, 78e9, bore=0.018), 1500.0
    fourth = 0.030**4 - 0.018**4
    twist = 32 * torque * 0.8 / (pi * fourth * 78e9)
    yield beside("twist, rad", torque / bar_rate(bar), twist, relative=1e-14)
    stress = 16 * 0.030 * torque / (pi * fourth)
    yield beside("stress, Pa", float(bar_stress(bar, torque)), stress, relative=1e-14)


@CHAPTER.check(
    "Splines of 44 and 40 teeth",
    source="G. Lyle, Rear torsion bar measurement and adjustment (type2.com): 8.18 and 9.00 deg per tooth",
    status="seen",
    reason="half a unit of the last printed digit; the page rounds what both together give to 2/3 deg, it "
    "is the difference of the two",
)
def splines() -> Numbers:
    """Step of each end and of both, deg."""
    yield beside("step of 44 teeth, deg", degrees(2 * pi / 44), 8.18, within=5e-3)
    yield beside("step of both, deg", degrees(vernier_step(44, 40)), 9.00 - 8.18, within=5e-3)
    yield beside(
        "smallest step, deg", degrees(smallest_step(44, 40)), degrees(vernier_step(44, 40)), relative=1e-12
    )


@CHAPTER.check(
    "Wheel rate of an inclined lever",
    source="(k + T tan φ)/(r² cos² φ): textbook",
    status="closed form",
    reason=ROUNDING,
)
def inclined_lever() -> Numbers:
    """Lever r 350 mm at 20°, k 2500 N·m/rad, T 900 N·m: what models.levers makes of length and angle."""
    lever, k, torque = LeverArm(length=0.35, angle=radians(20)), 2500.0, 900.0
    turn = turned(lever_ratio(lever), lever.angle, 0.0)
    rate = k * float(turn.ratio) ** 2 + torque * float(turn.slope)
    expected = (k + torque * tan(lever.angle)) / (0.35 * cos(lever.angle)) ** 2
    yield beside("wheel rate, N/m", rate, expected, relative=1e-13)


@CHAPTER.check(
    "Data of two materials",
    source="EN 10270-1 wire and EN 10089 51CrV4; fatigue line through its points at 1e5 cycles",
    status="seen",
    reason="as printed; the fatigue amplitude, 5e-3, is read off a line",
)
def materials() -> Numbers:
    """E, G and density; amplitude of 51CrV4, shot peened, at 1e5 cycles."""
    by_name = {material.name: material for material in MATERIALS}
    wire, steel = by_name["EN 10270-1 DH, patented wire"], by_name["51CrV4, shot peened"]
    for name, found, modulus in (("EN 10270-1", wire, 81.5), ("51CrV4", steel, 78.5)):
        yield beside(f"{name}: E, GPa", found.youngs_modulus / 1e9, 206.0)
        yield beside(f"{name}: G, GPa", found.shear_modulus / 1e9, modulus)
        yield beside(f"{name}: density, kg/m³", found.density, 7850.0)
    line = steel.fatigue
    at_1e5 = line.amplitude * (line.cycles / 1e5) ** (1 / line.slope)
    yield beside("51CrV4: amplitude at 1e5 cycles, MPa", at_1e5 / 1e6, 364.0, relative=5e-3)


@CHAPTER.check(
    "Preferred numbers",
    source="ISO 3: R40 departs from 10^(n/40) by -1.01 to +1.26 %",
    status="from memory",
    reason="half of the printed range, to its last digit",
)
def preferred_numbers() -> Numbers:
    """Departure of each size; the expected number is the middle of the range."""
    departures = [100 * (size * 1000 / 10 ** (1 + place / 40) - 1) for place, size in enumerate(PREFERRED)]
    yield beside("departure, %", departures, (1.265 - 1.015) / 2, within=(1.265 + 1.015) / 2)
