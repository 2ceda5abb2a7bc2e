"""What differs between two cars: found, worded, and taken over until nothing differs."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from models.errors import InputError
from models.fields import replaced
from models.judge.difference import differences, taken_over
from models.units import INCH_POUND, METRIC
from models.vehicle import (
    Side,
    SpringPoint,
    TabulatedSpring,
    TorsionCoupling,
    Vehicle,
)
from tests.cars import real_vehicles


def test_equal_cars_do_not_differ() -> None:
    assert differences(Vehicle(), Vehicle()) == ()


def test_a_number_is_found_with_its_words_units_and_change() -> None:
    car = replaced(replaced(Vehicle(), ("rear", "spring", "rate"), 30e3), ("wheelbase",), 3.0)
    wheelbase, rate = differences(car, Vehicle())
    assert wheelbase.path == ("wheelbase",)
    assert rate.words == "Rear axle › Springs › Spring rate"
    assert rate.meaning.startswith("Force per deflection")
    base = Vehicle().rear.spring.rate
    assert rate.texts(METRIC) == ("30 N/mm", f"{base / 1e3:.6g} N/mm")
    assert rate.change(METRIC) == f"{(30e3 - base) / 1e3:+.4g} N/mm ({(30e3 - base) / base:+.0%}".replace(
        "%", " %)"
    ).replace("-", "−")
    assert rate.texts(INCH_POUND)[0] == "171.304 lbf/in"


def test_a_change_from_nothing_has_no_percentage() -> None:
    one, other = (Side(coupling=TorsionCoupling(bar_rate=rate)) for rate in (500.0, 0.0))
    (rate,) = differences(Vehicle(left=one), Vehicle(left=other))
    assert rate.change(METRIC) == "+500 N·m/rad"
    assert rate.words.startswith("Front to rear, each side › Interconnection › ")


def test_other_kinds_parts_that_are_absent_and_curves_are_one_difference_each() -> None:
    points = tuple(SpringPoint(deflection=x, force=2e4 * x) for x in (-0.1, 0.0, 0.1))
    curve = TabulatedSpring(points=points)
    steeper = TabulatedSpring(points=(*points, SpringPoint(deflection=0.2, force=9e3)))
    car = replaced(replaced(Vehicle(), ("front", "spring"), curve), ("right",), Side())
    spring, right = differences(car, Vehicle())
    assert spring.texts(METRIC) == (curve.kind, "linear")
    assert spring.change(METRIC) == ""
    assert right.texts(METRIC) == ("given", "none")
    (curves,) = differences(car, replaced(car, ("front", "spring"), steeper))
    assert curves.texts(METRIC) == ("3 points", "4 points")


@given(candidate=real_vehicles, baseline=real_vehicles)
@settings(max_examples=40, deadline=None)
def test_taking_all_over_leaves_no_difference(candidate: Vehicle, baseline: Vehicle) -> None:
    found = differences(candidate, baseline)
    assert all("".join(one.texts(METRIC)) for one in found)
    assert taken_over(candidate, baseline, [one.path for one in found]) == baseline


def test_taking_one_over_leaves_the_rest() -> None:
    car = replaced(replaced(Vehicle(), ("rear", "spring", "rate"), 30e3), ("wheelbase",), 3.0)
    taken = taken_over(car, Vehicle(), [("wheelbase",)])
    assert [one.path for one in differences(taken, Vehicle())] == [("rear", "spring", "rate")]


def test_what_does_not_go_together_is_refused_with_the_reason() -> None:
    """The CG of the long car lies behind the rear axle of the short one."""
    long = replaced(replaced(Vehicle(), ("wheelbase",), 4.0), ("body", "cg_to_front_axle"), 2.5)
    short = replaced(replaced(Vehicle(), ("body", "cg_to_front_axle"), 1.0), ("wheelbase",), 2.0)
    with pytest.raises(InputError, match="less than the wheelbase"):
        taken_over(short, long, [("body", "cg_to_front_axle")])
