"""Another kind of spring or damper says as much of the same law as it can."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.constants import atm

from models.element_kinds import converted_damper, converted_spring, point_after
from models.errors import InputError
from models.fields import replaced
from models.force_elements import damper_law, spring_law
from models.vehicle import (
    CornerSpring,
    Damper,
    DamperPoint,
    DigressiveDamper,
    GasSpring,
    ProgressiveSpring,
    Spring,
    SpringPoint,
    TabulatedDamper,
    TabulatedSpring,
)

STATIC = 4200.0
SPRINGS = [
    Spring(rate=31e3, motion_ratio=0.8),
    ProgressiveSpring(rate=19e3, growth=2.1e6, motion_ratio=0.8),
    TabulatedSpring(
        points=tuple(
            SpringPoint(deflection=x, force=f) for x, f in ((-0.1, 0.0), (-0.02, 1700.0), (0.03, 3000.0))
        ),
        motion_ratio=0.8,
    ),
    GasSpring(area=0.006, volume=0.0014, motion_ratio=0.8),
]
KINDS = [Spring, ProgressiveSpring, TabulatedSpring, GasSpring]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("spring", SPRINGS, ids=lambda spring: spring.kind)
def test_a_spring_of_another_kind_keeps_its_rate_at_trim_and_motion_ratio(
    spring: CornerSpring, kind: type[CornerSpring]
) -> None:
    other = converted_spring(spring, kind, STATIC)
    assert type(other) is kind
    assert other.motion_ratio == spring.motion_ratio
    before = float(spring_law(spring, STATIC).slope(0.0))
    if kind is TabulatedSpring and not isinstance(spring, TabulatedSpring):
        # A chord of 25 mm beside the tangent: cubic and gas bend by less than 8 % over that way.
        assert spring_law(other, STATIC).slope(0.0) == pytest.approx(before, rel=0.08)
    else:
        # Values are rounded to ten digits.
        assert spring_law(other, STATIC).slope(0.0) == pytest.approx(before, rel=1e-9)


@pytest.mark.parametrize("spring", SPRINGS, ids=lambda spring: spring.kind)
def test_a_table_lies_on_the_law_it_was_made_from(spring: CornerSpring) -> None:
    table = converted_spring(spring, TabulatedSpring, STATIC)
    assert isinstance(table, TabulatedSpring)
    x = np.array([point.deflection for point in table.points])
    assert isinstance(spring, TabulatedSpring) or (len(x) in (5, 9) and x[0] == -0.1 and x[-1] == 0.1)
    # Forces are rounded to ten digits of at most 1e5 N.
    assert spring_law(table).force(x) == pytest.approx(spring_law(spring, STATIC).force(x), abs=1e-5)


def test_the_cubic_of_a_progressive_spring_is_found_again_from_its_table() -> None:
    spring = ProgressiveSpring(rate=19e3, growth=2.1e6)
    table = converted_spring(spring, TabulatedSpring)
    again = converted_spring(table, ProgressiveSpring)
    assert isinstance(again, ProgressiveSpring)
    # The table has straight lines between points 25 mm apart, so that its rate at trim is the chord k + c δ².
    assert again.rate == pytest.approx(19e3 + 2.1e6 * 0.025**2, rel=1e-9)
    assert again.growth == pytest.approx(2.1e6, rel=0.15)


def test_a_spring_that_softens_has_no_growth() -> None:
    points = tuple(SpringPoint(deflection=x, force=f) for x, f in ((-0.1, -800.0), (0.0, 0.0), (0.1, 800.0)))
    soft_ends = TabulatedSpring(
        points=(SpringPoint(deflection=-0.2, force=-810.0), *points, SpringPoint(deflection=0.2, force=810.0))
    )
    progressive = converted_spring(soft_ends, ProgressiveSpring)
    assert isinstance(progressive, ProgressiveSpring)
    assert progressive.growth == 0.0


def test_the_gas_volume_follows_from_rate_and_static_force() -> None:
    gas = converted_spring(Spring(rate=20e3), GasSpring, STATIC)
    assert isinstance(gas, GasSpring)
    # k = n A (P + A p_atm) / V
    expected = gas.exponent * gas.area * (STATIC + gas.area * atm) / 20e3
    assert gas.volume == pytest.approx(expected, rel=1e-9)


def test_a_spring_without_rate_becomes_any_kind() -> None:
    for kind in KINDS:
        assert type(converted_spring(Spring(rate=0.0), kind, STATIC)) is kind


def test_a_table_that_force_cannot_hold_is_refused() -> None:
    with pytest.raises(InputError, match=r"Force: .* outside the allowed range"):
        converted_spring(ProgressiveSpring(rate=2e6, growth=1e9), TabulatedSpring)


# --- dampers ---------------------------------------------------------------------------------------

DIGRESSIVE = DigressiveDamper(jounce=2100.0, rebound=3900.0, knee=0.12, slope_share=0.25, motion_ratio=0.7)


@pytest.mark.parametrize("damper", [Damper(jounce=900.0, rebound=2000.0), DIGRESSIVE])
def test_a_damper_table_has_the_law_it_was_made_from(damper: Damper | DigressiveDamper) -> None:
    table = converted_damper(damper, TabulatedDamper)
    v = np.linspace(-2.0, 2.0, 81)
    # Both are straight between the same knees; forces are rounded to ten digits.
    assert damper_law(table).force(v) == pytest.approx(damper_law(damper).force(v), abs=1e-5)
    assert table.motion_ratio == damper.motion_ratio


def test_knee_and_slope_are_found_again_from_a_table() -> None:
    again = converted_damper(converted_damper(DIGRESSIVE, TabulatedDamper), DigressiveDamper)
    assert isinstance(again, DigressiveDamper)
    values = (again.jounce, again.rebound, again.knee, again.slope_share)
    assert values == pytest.approx((2100.0, 3900.0, 0.12, 0.25), rel=1e-8)


def test_a_digressive_damper_begins_with_the_law_of_the_bilinear_one() -> None:
    bilinear = Damper(jounce=900.0, rebound=2000.0)
    digressive = converted_damper(bilinear, DigressiveDamper)
    v = np.linspace(-2.0, 2.0, 41)
    assert damper_law(digressive).force(v) == pytest.approx(damper_law(bilinear).force(v), rel=1e-12)


def test_a_bilinear_damper_takes_the_slopes_at_rest() -> None:
    assert converted_damper(DIGRESSIVE, Damper) == Damper(jounce=2100.0, rebound=3900.0, motion_ratio=0.7)
    table = TabulatedDamper(
        points=tuple(DamperPoint(speed=v, force=f) for v, f in ((-0.5, -900.0), (-0.1, -300.0), (0.2, 180.0)))
    )
    assert converted_damper(table, Damper) == Damper(jounce=900.0, rebound=3000.0)


def test_the_same_kind_is_left_as_it_is() -> None:
    assert converted_damper(DIGRESSIVE, DigressiveDamper) is DIGRESSIVE
    assert converted_spring(SPRINGS[2], TabulatedSpring) is SPRINGS[2]


# --- points ----------------------------------------------------------------------------------------


def test_a_new_point_lies_halfway_on_the_curve() -> None:
    points = TabulatedSpring().points
    assert point_after(points, 1) == SpringPoint(deflection=0.06, force=1650.0)


def test_a_new_point_of_a_damper_between_rebound_and_jounce_lies_at_rest_or_on_the_law() -> None:
    points = tuple(DamperPoint(speed=v, force=f) for v, f in ((-0.1, -400.0), (0.3, 600.0)))
    new = point_after(points, 0)
    assert new == DamperPoint(speed=0.1, force=200.0)
    TabulatedDamper(points=(points[0], new, points[1]))


def test_a_point_behind_the_last_goes_straight_on() -> None:
    assert point_after(TabulatedSpring().points, 2) == SpringPoint(deflection=0.12, force=3600.0)
    assert point_after((SpringPoint(deflection=0.2, force=50.0),), 0) == SpringPoint(
        deflection=0.21, force=50.0
    )


def test_there_is_no_point_behind_the_end_of_the_range() -> None:
    points = (SpringPoint(deflection=0.5, force=0.0), SpringPoint(deflection=1.0, force=10.0))
    with pytest.raises(InputError, match="more than 1000 mm"):
        replaced(TabulatedSpring(), ("points",), (*points, point_after(points, 1)))
