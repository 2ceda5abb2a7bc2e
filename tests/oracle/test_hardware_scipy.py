"""Parts in steel against scipy: integrals, boundary-value problems, eigenvalues behind the closed forms."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp, solve_ivp
from scipy.optimize import brentq

from models.hardware import CoilSpring, MultiLeafSpring, ParabolicLeafSpring, TorsionBar
from models.hardware.coil import SEATS, buckling_deflection, coil_rate
from models.hardware.gas_spring import GasStrut, gas_pressure, gas_rate
from models.hardware.leaf import leaf_friction, leaf_mass, leaf_rate, leaf_stress
from models.hardware.torsion_bar import bar_energy, bar_mass, bar_rate, bar_stress, equivalent_length
from models.laws import Gas
from tests.manual import near


def diameter_at(bar: TorsionBar, x: float) -> float:
    """Diameter of a transition at a distance from the plain bar: a line, or a circle through both ends."""
    rise, length = (bar.head_diameter - bar.diameter) / 2, bar.transition_length
    if bar.transition == "taper":
        return bar.diameter + 2 * rise * x / length
    radius = brentq(lambda r: r - sqrt(max(r**2 - length**2, 0.0)) - rise, length, 1e4)
    return bar.diameter + 2 * (radius - sqrt(radius**2 - x**2))


@pytest.mark.parametrize("bore", [0.0, 0.012])
@pytest.mark.parametrize(("kind", "length"), [("taper", 0.03), ("fillet", 0.03), ("fillet", 0.006)])
def test_twist_energy_and_mass_of_a_bar_are_those_of_its_slices(
    kind: str, length: float, bore: float
) -> None:
    """Slice by slice with scipy's quad, whose own error is 1e-9; a steep fillet is less smooth: 1e-7."""
    bar = TorsionBar(transition=kind, transition_length=length, bore=bore)  # type: ignore[arg-type]
    torque, shear = 1500.0, bar.material.shear_modulus

    def over(value) -> float:  # type: ignore[no-untyped-def]
        ends = quad(lambda x: value(diameter_at(bar, x)), 0, length, epsabs=0, epsrel=1e-9)[0]
        return float(value(bar.diameter) * bar.body_length + 2 * ends)

    twist = over(lambda d: torque / (shear * pi / 32 * (d**4 - bore**4)))
    near("rate, N·m/rad", bar_rate(bar), torque / twist, relative=1e-7)
    # Energy of the stress field: ∫ τ²/(2G) dV over radius and length, τ = T r/J.
    energy = over(
        lambda d: quad(
            lambda r: (torque * r / (pi / 32 * (d**4 - bore**4))) ** 2 / (2 * shear) * 2 * pi * r,
            bore / 2,
            d / 2,
        )[0]
    )
    near("energy, J", bar_energy(bar, torque), energy, relative=1e-7)
    heads = 2 * bar.head_length * pi / 4 * (bar.head_diameter**2 - bore**2)
    volume = over(lambda d: pi / 4 * (d**2 - bore**2)) + heads
    near("mass, kg", bar_mass(bar), bar.material.density * volume, relative=1e-7)


def test_taper_has_its_closed_form() -> None:
    """l/3 (ρ + ρ² + ρ³), ρ = d/D, of plain bar for each cone; to the rounding of the sum."""
    bar = TorsionBar(transition="taper", transition_length=0.05)
    rho = bar.diameter / bar.head_diameter
    ends = 2 * 0.05 / 3 * (rho + rho**2 + rho**3)
    near("equivalent length, m", equivalent_length(bar), bar.body_length + ends, relative=1e-13)


def test_energy_of_a_bar_is_half_stress_times_strain_times_volume() -> None:
    """τ²/(4G) per volume of a solid bar without ends: textbook."""
    bar = TorsionBar(head_diameter=0.024, transition_length=0.0)
    tau = float(bar_stress(bar, 1000.0))
    volume = pi / 4 * bar.diameter**2 * bar.body_length
    expected = tau**2 / (4 * bar.material.shear_modulus) * volume
    near("energy, J", bar_energy(bar, 1000.0), expected, relative=1e-13)


@pytest.mark.parametrize("seats", [name for name in SEATS if name != "both ends fixed"])
def test_buckling_is_that_of_haringx_column(seats: str) -> None:
    """Where a column with the stiffnesses of the compressed coils loses its straight form.

    With its bending stiffness B, its shear stiffness S and the force P: P (1 + P/S) = B (π/(ν L))², each
    stiffness in proportion to the length left; B from the wire in bending (E I) and torsion (2 G I), S from
    the wire in bending alone (S. Timoshenko, Theory of Elastic Stability, from memory).  The load is found
    by scipy; the closed form solves the same to rounding.  Fixed seats hold this coil up at any load.
    """
    coil = CoilSpring(free_length=0.9, active_coils=9.0, seats=seats)  # type: ignore[arg-type]
    young, shear = coil.material.youngs_modulus, coil.material.shear_modulus
    inertia = pi / 64 * coil.wire_diameter**4
    radius, wire = coil.mean_diameter / 2, pi * coil.mean_diameter * coil.active_coils
    k = coil_rate(coil)

    def surplus(deflection: float) -> float:
        length = coil.free_length - deflection
        # A couple M about a diameter bends half of the wire and twists half: M/2 (1/EI + 1/2GI) · wire.
        bending = length / (wire / 2 * (1 / (young * inertia) + 1 / (2 * shear * inertia)))
        # A cross force Q: the wire bends by Q R sin in its plane, mean square one half: R² wire / (2 E I).
        stiff = length / (radius**2 * wire / (2 * young * inertia))
        force = k * deflection
        return force * (1 + force / stiff) - bending * (pi / (SEATS[seats] * length)) ** 2

    ways = np.linspace(1e-6, coil.free_length * 0.8, 400)
    first = next(place for place in range(399) if surplus(ways[place]) < 0 <= surplus(ways[place + 1]))
    found = brentq(surplus, ways[first], ways[first + 1], xtol=1e-14)
    near("deflection, m", buckling_deflection(coil), found, relative=1e-10)


def beam(leaf: ParabolicLeafSpring, tip: float, points: int = 400):  # type: ignore[no-untyped-def]
    """Slope and deflection of a half as a boundary-value problem, from the eye (x = 0) to the clamp."""
    half = (leaf.span - leaf.clamped) / 2
    young, width = leaf.material.youngs_modulus, leaf.leaves * leaf.width

    def thickness(x):  # type: ignore[no-untyped-def]
        return np.maximum(leaf.thickness * np.sqrt(x / half), leaf.end_share * leaf.thickness)

    def bend(x, y):  # type: ignore[no-untyped-def]
        return np.vstack([y[1], tip * x / (young * width * thickness(x) ** 3 / 12)])

    corner = half * leaf.end_share**2
    mesh = np.unique(np.concatenate([np.linspace(0, corner, points), np.linspace(corner, half, points)]))
    found = solve_bvp(
        bend, lambda a, b: np.array([b[0], b[1]]), mesh, np.zeros((2, mesh.size)), tol=1e-9, max_nodes=20000
    )
    assert found.success
    return found, thickness


@pytest.mark.parametrize("share", [0.3, 0.5, 0.8])
def test_parabolic_leaf_is_a_beam(share: float) -> None:
    """Deflection, stress and sliding of leaves against the beam equation, solved to 1e-9 by solve_bvp."""
    leaf = ParabolicLeafSpring(end_share=share, leaves=3)
    load = 2000.0
    found, thickness = beam(leaf, load)
    deflection = abs(float(found.sol(0.0)[0]))
    near("rate, N/m", leaf_rate(leaf), 2 * load / deflection, relative=1e-7)
    half = (leaf.span - leaf.clamped) / 2
    x = np.linspace(1e-9, half, 2001)
    bent = 6 * load * x / (leaf.leaves * leaf.width * thickness(x) ** 2)
    near("stress, Pa", float(leaf_stress(leaf, 2 * load)), bent.max(), relative=1e-12)
    # All along the parabola the stress is the same.
    assert np.ptp(bent[x > half * share**2 * 1.001]) < 1e-6 * bent.max()
    # Sliding at the ends while the spring gives: ∫ thickness · curvature dx, twice (both halves).
    curvature = load * x / (leaf.material.youngs_modulus * leaf.leaves * leaf.width * thickness(x) ** 3 / 12)
    sliding = np.trapezoid(thickness(x) * curvature, x) / deflection
    contacts = load * sum(number / leaf.leaves for number in range(1, leaf.leaves))
    work = 2 * leaf.friction * contacts * sliding
    # The trapezoid on 2000 steps.
    near("friction, N", leaf_friction(leaf, 2 * load), work, relative=1e-5)
    volume = leaf.leaves * leaf.width * (2 * np.trapezoid(thickness(x), x) + leaf.clamped * leaf.thickness)
    near("mass, kg", leaf_mass(leaf), leaf.material.density * volume, relative=1e-5)


def test_multi_leaf_friction_is_the_work_of_its_sliding_tips() -> None:
    """Leaves of a plate triangle bend to an arc, computed here from its curvature by scipy's solve_ivp."""
    leaf = MultiLeafSpring(full_leaves=1, graduated_leaves=5)
    half, load = (leaf.span - leaf.clamped) / 2, 1500.0
    # A triangle of plates has the width of all leaves at the clamp and none at the tip: constant curvature.
    plates = 6 * leaf.width
    curvature = load * half / (leaf.material.youngs_modulus * plates * leaf.thickness**3 / 12)
    run = solve_ivp(
        lambda x, y: [y[1], curvature], (0, half), [0.0, 0.0], dense_output=True, rtol=1e-10, atol=1e-14
    )
    deflection = float(run.y[0, -1])
    tips = half * np.arange(1, 6) / 6
    work = 2 * leaf.friction * load * leaf.thickness * run.sol(tips)[1].sum() / deflection
    near("friction, N", leaf_friction(leaf, 2 * load), work, relative=1e-8)


def test_gas_spring_has_the_law_of_the_ride_model() -> None:
    """Same pressures as models.laws.Gas, and the work of the gas by scipy's quad."""
    gas, load = GasStrut(), 4000.0
    law = Gas(gas.area, gas.volume, gas.exponent, load)
    for x in (-0.05, 0.0, 0.04, 0.07):
        force = gas.area * (gas_pressure(gas, load, x) - 101325.0) - load
        near("force, N", force, float(law.force(x)), relative=1e-12, within=1e-9)
        near("rate, N/m", gas_rate(gas, load, x), float(law.slope(x)), relative=1e-12)
    p0, volume = gas_pressure(gas, load, 0.0), gas.volume - gas.area * 0.06
    work = quad(lambda x: gas.area * gas_pressure(gas, load, x), 0, 0.06)[0]
    closed = p0 * gas.volume / (gas.exponent - 1) * ((gas.volume / volume) ** (gas.exponent - 1) - 1)
    near("work of the gas, J", closed, work, relative=1e-9)
