"""Force laws: force and slope belong together, and each kind does what its formula says."""

from __future__ import annotations

import numpy as np
import pytest
import sympy
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import atm
from scipy.integrate import quad

from models.force_elements import damper_law, spring_law
from models.laws import Bilinear, Cubic, Digressive, Gas, Law, Linear, Progressive, Table
from models.vehicle import CornerDamper, CornerSpring, DamperPoint, Stop, TabulatedDamper
from tests.cars import real_dampers, real_springs, stops

BEND = 1e-7


def kinks(law: Law) -> list[float]:
    match law:
        case Table(x, _):
            return list(x)
        case Progressive(gap, _, _, sign):
            return [sign * gap]
        case Gas():
            return [law.end]
        case Digressive(_, _, knee, _):
            return [-knee, 0.0, knee]
        case Bilinear():
            return [0.0]
    return []


def slope_is_that_of_the_force(law: Law, x: float) -> None:
    """Central difference over a tenth of a micrometre, away from kinks.

    The third derivative makes less than 1e-8 of it, rounding of forces up to 1e6 N about 1e-3 N/m.
    """
    if min((abs(x - kink) for kink in kinks(law)), default=1.0) <= BEND:
        return
    difference = (law.force(x + BEND) - law.force(x - BEND)) / (2 * BEND)
    scale = abs(float(law.force(x))) + 1.0
    assert float(law.slope(x)) == pytest.approx(float(difference), rel=1e-6, abs=4e-16 * scale / BEND + 1e-6)


@given(spring=real_springs, static=st.floats(0.0, 8e3), x=st.floats(-0.3, 0.3))
def test_slope_of_springs(spring: CornerSpring, static: float, x: float) -> None:
    law = spring_law(spring, static)
    slope_is_that_of_the_force(law, x)
    assert float(law.force(0.0)) == pytest.approx(0.0, abs=1e-9)  # rounding of table forces


@given(damper=real_dampers, v=st.floats(-5.0, 5.0))
def test_dampers_take_energy_and_their_slope_is_that_of_the_force(damper: CornerDamper, v: float) -> None:
    law = damper_law(damper)
    slope_is_that_of_the_force(law, v)
    assert float(law.force(0.0)) == 0.0
    # The force between two points of a table is rounded as the greater of them is.
    rounding = 4 * np.finfo(float).eps * float(np.abs(law.force(np.array([-5.0, 5.0]))).max())
    assert float(law.force(v)) * np.sign(v) >= -rounding


@given(stop=stops, sign=st.sampled_from([1.0, -1.0]), x=st.floats(-0.3, 0.3))
def test_stops_push_only_past_their_gap(stop: Stop, sign: float, x: float) -> None:
    law = Progressive(stop.gap, stop.rate, stop.growth, sign)
    slope_is_that_of_the_force(law, x)
    past = sign * x - stop.gap
    expected = sign * (stop.rate * past + stop.growth * past**2) if past > 0 else 0.0
    assert float(law.force(x)) == pytest.approx(expected, rel=1e-12)


def test_slope_at_a_kink_is_the_mean_of_both_sides() -> None:
    """So that the linear car does not depend on which side rounding falls."""
    assert float(Progressive(0.0, 4e4, 1e6).slope(0.0)) == 2e4
    assert float(Bilinear(1000.0, 3000.0).slope(0.0)) == 2000.0
    assert float(Digressive(1000.0, 3000.0, 0.1, 0.5).slope(0.1)) == 750.0
    assert float(Table((-1.0, 0.0, 2.0), (-3.0, 0.0, 2.0)).slope(0.0)) == 2.0


def test_laws_take_arrays() -> None:
    x = np.linspace(-0.1, 0.1, 7)
    for law in (
        Linear(3.0),
        Cubic(1.0, 2.0),
        Progressive(0.02, 1.0, 2.0),
        Table((0.0, 1.0), (0.0, 1.0)),
        Gas(0.01, 0.002, 1.3, 3e3),
        Bilinear(1.0, 2.0),
        Digressive(1.0, 2.0, 0.05, 0.3),
    ):
        forces, slopes = law.force(x), law.slope(x)
        assert forces == pytest.approx([float(law.force(value)) for value in x], rel=1e-15)
        assert slopes == pytest.approx([float(law.slope(value)) for value in x], rel=1e-15)


def test_table_is_straight_between_and_beyond_its_points() -> None:
    table = Table.through_zero((-0.1, 0.1, 0.2), (-500.0, 1500.0, 3500.0))
    assert table.f == (-1000.0, 1000.0, 3000.0)
    for x, force in ((-0.3, -3000.0), (-0.1, -1000.0), (0.05, 500.0), (0.2, 3000.0), (0.4, 7000.0)):
        assert float(table.force(x)) == pytest.approx(force, rel=1e-12)
    assert [float(table.slope(x)) for x in (-0.2, 0.0, 0.15, 0.3)] == pytest.approx([1e4, 1e4, 2e4, 2e4])


def test_table_is_what_numpy_interpolates() -> None:
    x, f = (-0.2, -0.03, 0.01, 0.3), (-900.0, -100.0, 50.0, 4000.0)
    places = np.linspace(-0.2, 0.3, 101)
    assert Table(x, f).force(places) == pytest.approx(np.interp(places, x, f), rel=1e-12, abs=1e-9)


def test_a_damper_curve_without_the_point_of_rest_has_no_force_at_rest() -> None:
    """The straight line between its two points would push a standing car with 250 N."""
    points = (DamperPoint(speed=-1.0, force=-1000.0), DamperPoint(speed=1.0, force=500.0))
    law = damper_law(TabulatedDamper(points=points))
    assert [float(law.force(v)) for v in (-1.0, -0.5, 0.0, 0.5, 2.0)] == [-1000.0, -500.0, 0.0, 250.0, 1000.0]


@given(
    area=st.floats(1e-3, 0.02),
    volume=st.floats(5e-4, 0.01),
    exponent=st.floats(1.0, 1.7),
    static=st.floats(0.0, 2e4),
    share=st.floats(-2.0, 0.89),
)
def test_gas_spring_is_the_closed_polytropic_form(
    area: float, volume: float, exponent: float, static: float, share: float
) -> None:
    """F = A (p0 (V0 / (V0 - A x))^n - p_atm), with the rate at rest k = n p0 A² / V0 of absolute p0.

    Textbook thermodynamics; in this form in J. Reimpell, H. Stoll, J. Betzler, The Automotive Chassis, on
    hydropneumatic and air springs (from memory).  The tolerance is rounding of the power.
    """
    gas = Gas(area, volume, exponent, static)
    x = share * volume / area
    p0 = static / area + atm
    expected = area * (p0 * (volume / (volume - area * x)) ** exponent - atm) - static
    assert float(gas.force(x)) == pytest.approx(expected, rel=1e-9, abs=1e-9 * area * p0)
    assert float(gas.slope(0.0)) == pytest.approx(exponent * p0 * area**2 / volume, rel=1e-12)


def test_isothermal_gas_keeps_pressure_times_volume() -> None:
    """Boyle: half the volume, twice the absolute pressure."""
    gas = Gas(0.01, 0.002, 1.0, 3000.0)
    half = 0.5 * gas.volume / gas.area
    force = 3000.0 + float(gas.force(half))
    assert force / gas.area + atm == pytest.approx(2 * (3000.0 / gas.area + atm), rel=1e-12)


def test_work_of_the_gas_is_that_of_the_textbook() -> None:
    """Polytropic work, integrated by sympy from p V^n, less that of the air outside."""
    area, volume, exponent, static, x = 0.008, 0.0018, sympy.Rational(13, 10), 4000.0, 0.12
    v, p0 = sympy.symbols("v p0", positive=True)
    work = sympy.integrate(p0 * (volume / v) ** exponent, (v, volume - area * x, volume))
    expected = float(work.subs(p0, static / area + atm)) - atm * area * x
    gas = Gas(area, volume, float(exponent), static)
    found, _ = quad(lambda at: static + float(gas.force(at)), 0.0, x, epsabs=1e-9)
    assert found == pytest.approx(expected, rel=1e-9)


def test_gas_goes_on_straight_past_nine_tenths_of_its_volume() -> None:
    gas = Gas(0.008, 0.0018, 1.3, 4000.0)
    slope = float(gas.slope(gas.end))
    assert gas.end == pytest.approx(0.9 * 0.0018 / 0.008)
    for more in (0.01, 0.1, 10.0):
        assert float(gas.slope(gas.end + more)) == slope
        assert float(gas.force(gas.end + more) - gas.force(gas.end)) == pytest.approx(slope * more, rel=1e-9)


def test_digressive_damper_bends_at_its_knee() -> None:
    law = Digressive(jounce=2000.0, rebound=3500.0, knee=0.1, share=0.3)
    assert float(law.force(0.05)) == pytest.approx(100.0)
    assert float(law.force(0.3)) == pytest.approx(200.0 + 0.3 * 2000.0 * 0.2)
    assert float(law.force(-0.3)) == pytest.approx(-350.0 - 0.3 * 3500.0 * 0.2)


def test_bilinear_damper_has_two_coefficients() -> None:
    law = Bilinear(jounce=1200.0, rebound=2200.0)
    assert [float(law.force(v)) for v in (-0.5, 0.0, 0.5)] == [-1100.0, 0.0, 600.0]
