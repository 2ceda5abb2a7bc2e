"""Force laws on a grid: values between, beyond and at the points, energy, and the stated error."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from models.errors import InputError
from models.ride.laws import LawTable, linear_law, resample, two_slope_law

forces = st.lists(st.floats(-1e5, 1e5), min_size=2, max_size=12).map(np.array)
# Nothing between zero and a nanometre: over a denormal length scipy's quadrature only warns of rounding.
ends = st.one_of(st.just(0.0), st.floats(1e-9, 3.0), st.floats(-3.0, -1e-9))


@given(forces=forces, x0=st.floats(-1, 1), dx=st.floats(1e-3, 1), x=st.floats(-20, 20))
def test_value_is_that_of_the_broken_line_with_its_ends_prolonged(
    forces: np.ndarray, x0: float, dx: float, x: float
) -> None:
    places = x0 + dx * np.arange(len(forces))
    if x < places[0]:
        expected = forces[0] + (forces[1] - forces[0]) / dx * (x - places[0])
    elif x > places[-1]:
        expected = forces[-1] + (forces[-1] - forces[-2]) / dx * (x - places[-1])
    else:
        expected = np.interp(x, places, forces)
    # rounding of a place of up to 20/1e-3 cells and forces of 1e5
    scale = np.abs(forces).max() * (1 + abs(x - x0) / dx)
    assert LawTable(x0, dx, forces).value(x) == pytest.approx(expected, abs=1e-12 * scale + 1e-12)


@given(forces=forces, x=ends)
def test_energy_is_the_integral_from_zero(forces: np.ndarray, x: float) -> None:
    law = LawTable(-0.7, 0.25, forces)
    knots = law.x0 + law.dx * np.arange(len(forces))
    inside = sorted({0.0, x, *(knot for knot in knots if min(0, x) < knot < max(0, x))})
    pieces = [quad(law.value, a, b)[0] for a, b in pairwise(inside)]
    # quad is exact on straight pieces; what is left is rounding
    expected = np.sign(x) * sum(pieces)
    assert law.energy(x) == pytest.approx(expected, abs=1e-10 * (1 + np.abs(forces).max()))


def test_slope_is_the_difference_of_values() -> None:
    law = LawTable(-1.0, 0.5, np.array([3.0, -1.0, 4.0, 4.5]))
    places = np.array([-5.0, -0.8, -0.3, 0.2, 9.0])
    np.testing.assert_allclose(law.slope(places), (law.value(places + 0.1) - law.value(places - 0.1)) / 0.2)


def test_linear_and_two_slope_laws_hold_everywhere() -> None:
    x = np.array([-7.0, -0.4, 0.0, 0.3, 12.0])
    np.testing.assert_allclose(linear_law(30.0, 4.0).value(x), 4.0 + 30.0 * x, rtol=1e-14)
    damper = two_slope_law(20.0, 5.0)
    np.testing.assert_allclose(damper.value(x), np.where(x < 0, 20.0 * x, 5.0 * x), rtol=1e-14)
    assert not damper.left_by(x)


def test_left_by_sees_both_ends() -> None:
    law = LawTable(-1.0, 0.5, np.zeros(5))
    assert not law.left_by(np.array([-1.0, 1.0]))
    assert law.left_by(np.array([-1.01]))
    assert law.left_by(np.array([1.01]))


def test_resampling_error_of_a_smooth_law_is_h_squared_over_eight() -> None:
    """A chord of length h leaves a curve by h²/8 times its second derivative, here 2 everywhere."""
    table, error = resample(lambda x: x**2, 0.0, 1.0, 11)
    assert error == pytest.approx(0.1**2 / 8 * 2, rel=1e-9)
    assert table.value(0.35) == pytest.approx((0.09 + 0.16) / 2)


def test_resampling_keeps_a_kink_on_a_point_and_states_the_error_of_another() -> None:
    x, force = np.array([-1.0, 0.25, 1.0]), np.array([0.0, 0.0, 3.0])
    assert resample((x, force), -1.0, 1.0, 9)[1] < 1e-15
    # Points at ±1/3 and ±1: at 0.25 the chord from 0 to 1/3 N is at 7/8 of its way, the law still at 0.
    table, error = resample((x, force), -1.0, 1.0, 4)
    assert table.value(0.25) == pytest.approx(7 / 8 / 3)
    assert error == pytest.approx(7 / 8 / 3 / 3)


def test_measured_points_go_on_with_their_end_slopes() -> None:
    table, error = resample((np.array([0.0, 1.0, 2.0]), np.array([0.0, 1.0, 3.0])), -1.0, 4.0, 6)
    np.testing.assert_allclose(table.values, [-1.0, 0.0, 1.0, 3.0, 5.0, 7.0])
    assert error < 1e-15


def test_constant_law_has_no_error() -> None:
    assert resample(lambda x: np.full_like(x, 5.0), -1.0, 1.0, 3)[1] == 0.0


@pytest.mark.parametrize(
    ("x0", "dx", "values"),
    [(0.0, 0.1, [1.0]), (0.0, 0.0, [1.0, 2.0]), (0.0, 0.1, [1.0, np.nan]), (np.inf, 0.1, [1.0, 2.0])],
)
def test_refuses_what_is_no_law(x0: float, dx: float, values: list[float]) -> None:
    with pytest.raises(InputError):
        LawTable(x0, dx, np.array(values))


def test_resampling_refuses_empty_ranges_unsorted_points_and_infinite_forces() -> None:
    with pytest.raises(InputError):
        resample(np.sin, 1.0, 1.0, 5)
    with pytest.raises(InputError):
        resample((np.array([0.0, 1.0, 0.5]), np.zeros(3)), 0.0, 1.0, 5)
    with pytest.raises(InputError), np.errstate(divide="ignore"):
        resample(lambda x: 1 / np.abs(x), -1.0, 1.0, 3)
