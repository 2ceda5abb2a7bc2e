"""Charts of chains: what they draw against the statics of the car and against plain levers."""

from __future__ import annotations

import numpy as np
import pytest

from models.analysis import Analysis, analyse
from models.assembly import mechanics
from models.charts.linkage import LINKAGE_CHARTS, Linked, linkage_chart, travel_marks
from models.fields import replaced
from models.judge.linkage import FREE, BarLoad, ChainPlace, bar_load, chain_figures, chain_places
from models.linkage import LINKAGES, Chain, DirectLever, TrailingArmBellCrank, WishboneDropLink, travel_table
from models.run import Run
from models.vehicle import Axle, Load, LoadCase, Side, Spring, Stop, TorsionCoupling, TrimSpring, Vehicle
from models.wheel_forces import interconnection_force

SIDE = Side(
    coupling=TorsionCoupling(
        bar_rate=1100.0, front_linkage=WishboneDropLink(), rear_linkage=TrailingArmBellCrank()
    ),
    trim=TrimSpring(bar_rate=250.0),
)
CAR = Vehicle(front=Axle(spring=Spring(rate=0.0)), rear=Axle(spring=Spring(rate=0.0)), left=SIDE)


def place(car: Vehicle, bar: str) -> ChainPlace:
    return next(one for one in chain_places(car) if one.bar == bar)


@pytest.mark.parametrize("kind", LINKAGES)
@pytest.mark.parametrize("key", LINKAGE_CHARTS)
def test_every_chart_of_every_kind(kind: type[Chain], key: str) -> None:
    chain = kind()
    chart = linkage_chart(key, Linked("A", chain, BarLoad(300.0, 900.0)))
    table = travel_table(chain)
    for curve in chart.curves:
        assert np.isfinite(curve.y).all()
        assert (curve.x[0], curve.x[-1]) == (table.travel[0], table.travel[-1])
    assert len(chart.curves) == {
        "rate": 2,
        "force": len(table.links),
        "transmission": len(table.links),
        "margin": len(table.bodies),
    }.get(key, 1)


def test_the_bar_carries_the_car_through_the_chains() -> None:
    """The rate of the bar at the front wheel is the slope of the force that the wheel feels."""
    car = mechanics(CAR)
    at = place(CAR, "Interconnection, front end")
    load = bar_load(car, at)
    assert load.rate == 1100.0
    assert load.torque > 100.0
    chart = linkage_chart("rate", Linked("A", WishboneDropLink(), load))
    whole, curvature = (curve.y for curve in chart.curves)
    table = travel_table(WishboneDropLink())
    force = load.over(table) * table.ratio
    # Central differences over 0.94 mm: their error is h²/6 of the third derivative, some 1e-5 of the rate.
    slope = (force[2:] - force[:-2]) / (2 * table.step)
    np.testing.assert_allclose(whole[1:-1], slope[1::2], rtol=1e-4)
    assert np.abs(curvature).max() > 0.0
    figures = {figure.key: figure.value for figure in chain_figures(WishboneDropLink(), load)}
    assert figures["rate_of_bar"] + figures["rate_of_curvature"] == pytest.approx(
        np.interp(0.0, table.travel[::2], whole), rel=1e-4
    )
    # Against the mechanics of the car: the change of force at both wheels in heave of 20 mm.
    s = np.array([0.0, 0.02])
    both = interconnection_force(car, "left", s)
    rear = travel_table(TrailingArmBellCrank()).turn(s)
    front = table.turn(s)
    torque = load.torque + 1100.0 * (front.angle + rear.angle)
    wanted = torque * front.ratio - torque[0] * front.ratio[0]
    np.testing.assert_allclose(both[0], wanted, rtol=1e-9, atol=1e-9)  # of forces of some kN


def test_a_pitch_stiffening_bar_pulls_at_the_rear() -> None:
    side = replaced(SIDE, ("coupling", "sense"), "pitch stiffening")
    car = mechanics(replaced(CAR, ("left",), side))
    front = bar_load(car, place(CAR, "Interconnection, front end"))
    rear = bar_load(car, place(CAR, "Interconnection, rear end"))
    assert rear.torque == pytest.approx(-front.torque)


def test_without_a_bar_links_have_forces_per_torque() -> None:
    bare = mechanics(Vehicle(left=Side(coupling=TorsionCoupling(front_linkage=WishboneDropLink()))))
    load = bar_load(bare, place(Vehicle(), "Interconnection, front end"))
    assert load == FREE
    chart = linkage_chart("force", Linked("A", WishboneDropLink(), load))
    assert chart.y.kind == "force per torque"
    np.testing.assert_array_equal(chart.curves[0].y, travel_table(WishboneDropLink()).link_force[0, ::2])


def test_the_baseline_stands_behind_where_it_differs() -> None:
    mine, other = Linked("B", DirectLever()), Linked("A", WishboneDropLink())
    assert [curve.role for curve in linkage_chart("angle", mine, other).curves] == ["baseline", "candidate"]
    assert len(linkage_chart("angle", mine, Linked("A", DirectLever())).curves) == 1


@pytest.fixture(scope="module")
def loaded() -> Analysis:
    case = LoadCase(name="Four up", loads=(Load(mass=300.0),))
    car = replaced(Vehicle(), ("front", "bump_stop"), Stop(gap=0.07, rate=50e3))
    car = replaced(car, ("front", "rebound_stop"), Stop(gap=0.09, rate=50e3))
    return analyse(car, Run(duration=0.2), case, compiled=False)


def test_stops_and_load_case_are_marked(loaded: Analysis) -> None:
    marks = {mark.label: mark.x for mark in travel_marks(loaded, 0, (-0.2, 0.2))}
    assert marks["bump"] == pytest.approx(0.07)
    assert marks["rebound"] == pytest.approx(-0.09)
    assert marks["Four up"] == pytest.approx(loaded.stand.travel[0])
    assert {mark.label for mark in travel_marks(loaded, 0, (-0.001, 0.001))} <= {"Four up"}
    assert {mark.label for mark in travel_marks(loaded, 2, (-0.2, 0.2))} == {"Four up"}
