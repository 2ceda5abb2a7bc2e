"""From steel to the car and back: applied sizes leave no mismatch."""

from __future__ import annotations

from math import isnan, radians

import pytest

from models.assembly import assemble
from models.fields import replaced
from models.force_elements import spring_law
from models.hardware import (
    PLACES,
    BarSpring,
    CoilSpring,
    GasStrut,
    Hardware,
    InterconnectionBar,
    LevellerMotor,
    LeverArm,
    ParabolicLeafSpring,
    StabiliserBar,
    TorsionBar,
    TrimBar,
    apply,
    apply_all,
    changes,
    lever_ratio,
    mismatch,
    stabiliser_beam,
)
from models.hardware.coil import coil_rate
from models.hardware.leaf import leaf_rate
from models.hardware.torsion_bar import bar_rate
from models.linkage import DirectLever, RockerPushrod, TrailingArmBellCrank
from models.part_loads import design_loads
from models.vehicle import (
    FluidCoupling,
    GasSpring,
    ProgressiveSpring,
    Spring,
    SpringPoint,
    TabulatedSpring,
    Vehicle,
)

FULL = Hardware(
    front_spring=CoilSpring(),
    rear_spring=ParabolicLeafSpring(),
    interconnection=InterconnectionBar(rear_lever=LeverArm(length=0.4, angle=radians(10))),
    trim=TrimBar(motor=LevellerMotor()),
    front_stabiliser=StabiliserBar(),
    rear_stabiliser=StabiliserBar(diameter=0.016),
)


def test_nothing_described_changes_nothing() -> None:
    car = Vehicle()
    assert all(changes(car, Hardware(), place) == () for place in PLACES)
    assert apply_all(car, Hardware()) == car
    assert mismatch(car, Hardware()) == ()


def test_applied_sizes_give_the_rates_of_the_steel() -> None:
    car = apply_all(Vehicle(), FULL)
    assert isinstance(car.front.spring, Spring)
    assert car.front.spring.rate == coil_rate(CoilSpring())
    assert car.rear.spring.rate == leaf_rate(ParabolicLeafSpring())
    coupling = car.left.coupling
    assert coupling.bar_rate == bar_rate(FULL.interconnection.bar)
    assert coupling.rear_lever_ratio == lever_ratio(FULL.interconnection.rear_lever)
    assert coupling.rear_lever_angle == radians(10)
    assert car.left.trim.bar_rate == bar_rate(FULL.trim.bar)
    assert car.levelling.torque_per_current == pytest.approx(80.0)
    for axle, bar in ((car.front, FULL.front_stabiliser), (car.rear, FULL.rear_stabiliser)):
        beam, fitted = stabiliser_beam(bar), axle.stabiliser
        assert 2 * fitted.bar_rate * fitted.lever_ratio**2 == pytest.approx(beam.wheel_rate, rel=1e-14)
    assert mismatch(car, FULL, tolerance=0.0) == ()
    assert apply_all(car, FULL) == car


def test_mismatch_names_what_differs() -> None:
    rows = mismatch(Vehicle(), FULL, tolerance=0.001)
    found = {row.label: row for row in rows}
    row = found["Front spring rate"]
    assert (row.car, row.steel) == (26e3, coil_rate(CoilSpring()))
    assert row.difference == pytest.approx(row.steel / row.car - 1)
    # A bar where the car has none cannot be told as a share.
    assert isnan(found["Interconnection bar rate"].difference)
    assert "Interconnection front lever angle" not in found


def test_both_sides_follow_where_they_differ() -> None:
    car = replaced(Vehicle(), ("right",), Vehicle().left)
    done = apply(car, FULL, "interconnection")
    assert done.right is not None
    assert done.right.coupling.bar_rate == done.left.coupling.bar_rate == bar_rate(FULL.interconnection.bar)
    assert {c.label.split()[0] for c in changes(car, FULL, "trim") if "trim" in c.label} == {"Left", "Right"}


def test_a_linkage_of_the_car_decides_how_its_bar_turns() -> None:
    """The rates are applied, the levers of the ends with a linkage are not."""
    car = replaced(Vehicle(), ("left", "coupling", "rear_linkage"), TrailingArmBellCrank())
    car = replaced(car, ("left", "trim", "linkage"), RockerPushrod())
    car = replaced(car, ("front", "stabiliser", "linkage"), DirectLever())
    found = {c.label for place in PLACES for c in changes(car, FULL, place)}
    assert {"Interconnection bar rate", "Interconnection front lever ratio"} <= found
    assert {"Trim bar rate", "Front stabiliser bar rate", "Rear stabiliser lever ratio"} <= found
    held = {"Interconnection rear lever ratio", "Interconnection rear lever angle", "Trim lever ratio"}
    assert not (held | {"Trim lever angle", "Front stabiliser lever ratio"}) & found
    done = apply_all(car, FULL)
    assert done.left.coupling.rear_linkage == TrailingArmBellCrank()
    assert done.left.trim.lever_ratio == car.left.trim.lever_ratio
    assert mismatch(done, FULL, tolerance=0.0) == ()


def test_another_kind_of_spring_gives_way() -> None:
    gas = Hardware(front_spring=GasStrut(area=0.003), rear_spring=GasStrut())
    car = replaced(Vehicle(), ("rear", "spring"), GasSpring(area=0.001))
    done = apply_all(car, gas)
    assert isinstance(done.front.spring, GasSpring)
    assert done.front.spring.area == 0.003
    assert mismatch(done, gas) == ()
    assert mismatch(car, gas)[1].label == "Rear effective area"
    back = apply(done, FULL, "front_spring")
    assert back.front.spring == Spring(rate=coil_rate(CoilSpring()))
    table = replaced(Vehicle(), ("front", "spring"), TabulatedSpring())
    (change,) = changes(table, FULL, "front_spring")
    assert change.car == pytest.approx(float(spring_law(TabulatedSpring()).slope(0.0)))
    ends = (SpringPoint(deflection=-0.09), SpringPoint(deflection=-0.01, force=400.0))
    one_sided = TabulatedSpring(points=ends)
    (change,) = changes(replaced(table, ("front", "spring"), one_sided), FULL, "front_spring")
    assert change.car == pytest.approx(float(spring_law(one_sided).slope(0.0)))
    curve = replaced(Vehicle(), ("front", "spring"), ProgressiveSpring())
    kept = apply(curve, FULL, "front_spring").front.spring
    assert isinstance(kept, ProgressiveSpring)
    assert (kept.rate, kept.growth) == (coil_rate(CoilSpring()), ProgressiveSpring().growth)
    fluid = replaced(Vehicle(), ("left", "coupling"), FluidCoupling())
    assert apply(fluid, FULL, "interconnection").left.coupling == apply_all(Vehicle(), FULL).left.coupling


def test_bar_of_a_corner_with_an_inclined_lever_has_the_rate_of_the_ride_model() -> None:
    """The same bar as the trim spring of a car, which turns with its lever: the same wheel rate."""
    part = BarSpring(bar=TorsionBar(), lever=LeverArm(length=0.35, angle=radians(15)))
    bare = replaced(replaced(Vehicle(), ("front", "spring", "rate"), 0.0), ("left", "trim", "axle"), "front")
    trimmed = replaced(bare, ("left", "trim", "bar_rate"), bar_rate(part.bar))
    trimmed = replaced(trimmed, ("left", "trim", "lever_ratio"), lever_ratio(part.lever))
    trimmed = replaced(trimmed, ("left", "trim", "lever_angle"), part.lever.angle)
    torque = design_loads(trimmed)["trim"] / 2
    force = torque * lever_ratio(part.lever)
    (rate,) = (
        c.steel
        for c in changes(bare, Hardware(front_spring=part), "front_spring", {"front_spring": force})
        if c.kind == "rate"
    )
    model = assemble(trimmed)
    assert rate == pytest.approx(model.wheel_rates[0, 0], rel=1e-12)
