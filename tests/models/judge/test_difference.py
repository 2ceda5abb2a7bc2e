"""What differs between two cars: found, worded, and taken over until nothing differs."""

from __future__ import annotations

from hypothesis import given, settings

from models.fields import follow, replaced
from models.judge.difference import differences
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
def test_taking_all_over_in_the_car_as_data_leaves_no_difference(
    candidate: Vehicle, baseline: Vehicle
) -> None:
    """Taken over at once: one by one a value may be refused for the sake of another."""
    found = differences(candidate, baseline)
    data = candidate.model_dump(mode="python")
    for one in found:
        above = data
        for step in one.path[:-1]:
            above = above[step]
        value = follow(baseline, one.path)
        above[one.path[-1]] = value.model_dump(mode="python") if hasattr(value, "model_dump") else value
        assert one.texts(METRIC)[0]
    assert Vehicle.model_validate(data) == baseline
