"""Cars whose bars are turned by chains of rockers and links, from statics to the nonlinear run."""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np
import pytest

from models.analysis import analyse
from models.assembly import Mechanics, half_car, linearised, mechanics, quarter_car
from models.fields import replaced
from models.force_elements import force_elements
from models.frame import attachments
from models.hold_heave import with_heave_held
from models.levers import ChainLever, ChainTables, lever
from models.linkage import (
    Axis,
    BarLever,
    Chain,
    DirectLever,
    Point,
    RockerPushrod,
    TrailingArmBellCrank,
    WishboneDropLink,
    travel_table,
)
from models.ride.channels import channel_index
from models.ride.corner_forces import corner_forces
from models.ride.drive import nonlinear_drive
from models.ride.frame import frame_rows
from models.ride.levelling_car import height_per_wind_up, trim_bars
from models.ride.nonlinear import simulate
from models.ride.nonlinear_car import nonlinear_car
from models.roads import OneMinusCosine
from models.run import Run
from models.statics import statics
from models.vehicle import (
    Axle,
    Levelling,
    Load,
    LoadCase,
    Side,
    Spring,
    Stabiliser,
    TorsionCoupling,
    TrimSpring,
    Vehicle,
)
from models.wheel_forces import forces_at_wheels, interconnection_force

LOAD = LoadCase(name="boot", loads=(Load(mass=140.0, x=-3.1, y=0.2),))
CHAINED = Vehicle(
    front=Axle(spring=Spring(rate=9e3), stabiliser=Stabiliser(bar_rate=400.0)),
    rear=Axle(spring=Spring(rate=8e3)),
    left=Side(
        coupling=TorsionCoupling(
            bar_rate=1200.0, front_linkage=WishboneDropLink(), rear_linkage=TrailingArmBellCrank()
        ),
        trim=TrimSpring(bar_rate=300.0, linkage=RockerPushrod()),
    ),
    levelling=Levelling(speed=0.03),
)
ANGLES = {"front": radians(-25), "rear": radians(30), "trim": radians(-20)}
RATIOS = {"front": 2.6, "rear": 3.0, "trim": 2.4}


def direct(end: str) -> DirectLever:
    """A lever as a chain: its end at the wheel centre, 1/(β cos φ) from the bar, at the angle φ."""
    angle = ANGLES[end]
    length = 1 / (RATIOS[end] * cos(angle))
    return DirectLever(axis=Axis(y=-length * cos(angle), z=-length * sin(angle)), jounce=0.15, rebound=0.15)


def both_ways() -> tuple[Vehicle, Vehicle]:
    """The same car with levers by ratio and angle, and with the chains that they are."""
    given = TorsionCoupling(
        bar_rate=1200.0,
        front_lever_ratio=RATIOS["front"],
        front_lever_angle=ANGLES["front"],
        rear_lever_ratio=RATIOS["rear"],
        rear_lever_angle=ANGLES["rear"],
    )
    built = TorsionCoupling(bar_rate=1200.0, front_linkage=direct("front"), rear_linkage=direct("rear"))
    trims = (
        TrimSpring(bar_rate=300.0, lever_ratio=RATIOS["trim"], lever_angle=ANGLES["trim"]),
        TrimSpring(bar_rate=300.0, linkage=direct("trim")),
    )
    return (
        replaced(CHAINED, ("left",), Side(coupling=given, trim=trims[0])),
        replaced(CHAINED, ("left",), Side(coupling=built, trim=trims[1])),
    )


def test_a_car_on_chains_that_are_levers_stands_as_on_levers() -> None:
    """Statics of a load, wheel rates there with the force on the bends, and the levelling; 1e-9 relative."""
    levers, chains = (mechanics(car, LOAD) for car in both_ways())
    theirs, ours = statics(levers), statics(chains)
    assert theirs.stable
    assert ours.stable
    np.testing.assert_allclose(ours.q, theirs.q, rtol=1e-9, atol=1e-13)
    np.testing.assert_allclose(ours.force, theirs.force, rtol=1e-9, atol=1e-9)
    np.testing.assert_allclose(
        linearised(chains, ours.q).wheel_rates, linearised(levers, theirs.q).wheel_rates, rtol=1e-8, atol=1e-3
    )
    heights = [
        height_per_wind_up(car, trim_bars(vehicle, car))
        for vehicle, car in zip(both_ways(), (levers, chains), strict=True)
    ]
    assert heights[0] == pytest.approx(heights[1], rel=1e-6)


def test_a_run_on_chains_that_are_levers_is_that_on_levers() -> None:
    """All channels of a bump, to 1e-6 of the largest of each: tables of 1.2 mm against tables of 0.7 mm."""
    run = Run(event=OneMinusCosine(height=0.06, side="left"), duration=1.0, laws="nonlinear")
    results = []
    for vehicle in both_ways():
        car = mechanics(vehicle, LOAD)
        stand = statics(car)
        driven = nonlinear_drive(vehicle, car, stand, linearised(car, stand.q), run)
        results.append(driven.time.y)
    theirs, ours = results
    scale = np.abs(theirs).max(axis=1, keepdims=True)
    assert (np.abs(ours - theirs) <= 1e-6 * scale + 1e-9).all()


def test_wheel_forces_of_chains_that_are_levers() -> None:
    theirs, ours = (mechanics(car) for car in both_ways())
    x = np.linspace(-0.1, 0.1, 21)
    for side in ("left", "right"):
        np.testing.assert_allclose(
            interconnection_force(ours, side, x), interconnection_force(theirs, side, x), rtol=1e-9, atol=1e-7
        )


@pytest.mark.invariant
@pytest.mark.parametrize("smaller", ["full", "half", "quarter"])
def test_a_run_on_chains_is_at_rest_at_its_start_and_keeps_its_energy(smaller: str) -> None:
    car = mechanics(CHAINED, LOAD)
    stand = statics(car)
    full = linearised(car, stand.q)
    model = {"full": full, "half": half_car(full), "quarter": quarter_car(full, 2)}[smaller]
    made = nonlinear_car(car, stand, model)
    t = np.linspace(0.0, 1.0, 1001)
    bump = 0.07 * np.sin(np.pi * np.clip((t - 0.1) / 0.2, 0, 1)) ** 2
    road = np.tile(bump, (4, 1)) if smaller != "full" else np.array([bump, 0.3 * bump, 0.8 * bump, 0.0 * t])
    response = simulate(made.model, t, road, q0=made.start, substeps=2)
    assert np.abs(response.acceleration[0]).max() < 1e-8
    assert np.abs(response.coordinate[:4]).max() > 0.02
    # Runge-Kutta of 0.5 ms over hops of 10 Hz; dampers with a kink at rest.
    assert response.energy_residual < 1e-6


def test_the_linear_car_is_the_slope_of_the_nonlinear_one() -> None:
    """Small motions about the stand: bends of second order, of motions of 0.1 mm some 1e-4."""
    even = CHAINED
    for axle in ("front", "rear"):
        even = replaced(even, (axle, "damper", "rebound"), getattr(even, axle).damper.jounce)
    car = mechanics(even, LOAD)
    stand = statics(car)
    model = linearised(car, stand.q)
    made = nonlinear_car(car, stand, model)
    small = 1e-5 * np.linalg.solve(model.stiffness, model.stiffness @ np.ones(len(model.dof)))
    response = simulate(made.model, np.linspace(0.0, 1e-3, 3), np.zeros((4, 3)), q0=made.start + small)
    expected = -np.linalg.solve(model.mass, model.stiffness @ small)
    np.testing.assert_allclose(response.acceleration[0], expected, rtol=0, atol=1e-3 * np.abs(expected).max())


def test_force_on_the_bend_of_a_chain_is_a_wheel_rate() -> None:
    """k g'² + T g'' at design trim, of a rear wheel on its trim spring alone."""
    chain = RockerPushrod()
    side = Side(trim=TrimSpring(bar_rate=4000.0, linkage=chain))
    car = mechanics(Vehicle(rear=Axle(spring=Spring(rate=0.0)), left=side))
    torque = next(element.preload for element in car.elements if element.name == "left trim spring")
    _, ratio, slope = travel_table(chain).at_trim
    assert torque > 1000.0
    assert torque * slope > 0.05 * 4000.0 * ratio**2
    rate = linearised(car).wheel_rates[2, 2]
    assert rate == pytest.approx(4000.0 * ratio**2 + torque * slope, rel=1e-12)


def test_moved_bars_are_those_of_their_tables() -> None:
    """All chains of a car looked up together, against each by itself."""
    car = mechanics(CHAINED)
    x = np.array([0.03, -0.05, 0.11, -0.2])
    moved = car.moved(x)
    for row, element in enumerate(car.elements):
        deflection = float(car.incidence[row] @ x)
        for end in element.levers:
            turn = end.turn(x[end.wheel])
            deflection += float(turn.angle) - end.ratio * x[end.wheel]
            assert moved.incidence[row, end.wheel] == pytest.approx(float(turn.ratio), rel=1e-14)
            assert moved.bend[row, end.wheel] == pytest.approx(float(turn.slope), rel=1e-13, abs=1e-12)
        assert moved.deflection[row] == pytest.approx(deflection, abs=1e-15)
    assert any(element.levers for element in car.elements)


def test_levers_and_chains_in_one_car() -> None:
    """A bar with a lever by ratio in front and a chain at the rear: both as in cars of one kind."""
    mixed = replaced(CHAINED, ("left", "coupling", "front_linkage"), None)
    mixed = replaced(mixed, ("left", "coupling", "front_lever_angle"), 0.3)
    car = mechanics(mixed)
    row = next(n for n, e in enumerate(car.elements) if e.name == "left interconnection bar")
    turn = lever(0, 2.5, 0.3).turn(0.05)
    behind = travel_table(TrailingArmBellCrank()).turn(-0.04)
    moved = car.moved(np.array([0.05, 0.0, -0.04, 0.0]))
    assert moved.deflection[row] == pytest.approx(float(turn.angle + behind.angle), abs=1e-15)
    assert moved.incidence[row, :4] == pytest.approx([turn.ratio, 0.0, behind.ratio, 0.0])


def test_a_stabiliser_on_drop_links_twists_by_the_difference_of_its_ends() -> None:
    """g(s_l) - g(s_r): nothing in heave though it bends, and in roll the rate k g'² of each wheel."""
    lateral = BarLever(axis=Axis(x=-0.25, z=0.1, along=0.0, across=1.0), link=Point(y=-0.2, z=0.1))
    chain = WishboneDropLink(lever=lateral)
    car = replaced(Vehicle(), ("front", "stabiliser"), Stabiliser(bar_rate=900.0, linkage=chain))
    made = mechanics(car)
    row = next(n for n, e in enumerate(made.elements) if e.name == "front stabiliser bar")
    table = travel_table(chain)
    assert made.moved(np.array([0.08, 0.08, 0.0, 0.0])).deflection[row] == pytest.approx(0.0, abs=1e-15)
    twist = made.moved(np.array([0.08, -0.05, 0.0, 0.0])).deflection[row]
    assert twist == pytest.approx(float(table.turn(0.08).angle - table.turn(-0.05).angle), abs=1e-15)
    plain = replaced(car, ("front", "stabiliser"), Stabiliser(bar_rate=0.0))
    added = linearised(made).wheel_rates - linearised(mechanics(plain)).wheel_rates
    wanted = 900.0 * table.at_trim[1] ** 2 * np.array([[1.0, -1.0], [-1.0, 1.0]])
    np.testing.assert_allclose(added[:2, :2], wanted, rtol=1e-9)
    assert statics(made).stable


def test_left_and_right_share_their_tables() -> None:
    ends = [end for e in force_elements(CHAINED) for end in e.levers if isinstance(end, ChainLever)]
    assert len(ends) == 6
    assert len({id(end.table) for end in ends}) == 3
    assert ChainTables(ends).turn(np.full(6, 0.01)).angle == pytest.approx(
        [float(end.turn(0.01).angle) for end in ends]
    )


def test_frame_and_corners_feel_the_chains_as_they_stand() -> None:
    """The corner forces of a run are what the run says that the wheels feel."""
    run = Run(event=OneMinusCosine(height=0.08, side="left"), duration=1.0, laws="nonlinear")
    car = mechanics(CHAINED, LOAD)
    stand = statics(car)
    model = linearised(car, stand.q)
    driven = nonlinear_drive(CHAINED, car, stand, model, run)
    total = corner_forces(car, model, stand, driven.time, driven.response).force.sum(axis=0)
    np.testing.assert_allclose(total, driven.response.coordinate_force[:4], rtol=1e-6)
    section = car.section
    carried = total[:2].sum(axis=0) - section.inertia[0] @ (model.body @ driven.response.acceleration.T)
    shear = driven.time.y[channel_index("frame_shear")]
    np.testing.assert_allclose(carried - carried[0], shear, rtol=0, atol=1e-6 * np.abs(carried).max())


def test_frame_of_the_linear_car_is_the_slope_of_the_static_one() -> None:
    car = mechanics(CHAINED, LOAD)
    stand = statics(car)
    rows = frame_rows(linearised(car, stand.q))[0]
    for dof in range(7):
        step = 1e-6 * np.eye(7)[dof]
        low, high = (static_loads(car, q) for q in (stand.q - step, stand.q + step))
        np.testing.assert_allclose(rows[:, dof], (high - low) / 2e-6, rtol=1e-6, atol=1e-2)


def static_loads(car: Mechanics, q: np.ndarray) -> np.ndarray:
    moved = car.moved(car.deflections @ q)
    force = np.array([e.force(x) for e, x in zip(car.elements, moved.deflection, strict=True)])
    return car.section.with_levers_at(moved.incidence - car.incidence).force @ force


@pytest.mark.parametrize(
    ("front", "rear", "carried"),
    [
        (None, None, 1.0),
        (WishboneDropLink(), TrailingArmBellCrank(), 1.0),
        (None, TrailingArmBellCrank(), 1.0),
        (TrailingArmBellCrank(), WishboneDropLink(), -1.0),
        (None, WishboneDropLink(), -1.0),
    ],
)
def test_the_bar_carries_its_torque_the_way_the_chain_turns_it(
    front: Chain | None, rear: Chain | None, carried: float
) -> None:
    """The frame in front gets f y_w less the torque about +x that the bar takes along; right mirrored."""
    bar = TorsionCoupling(bar_rate=1000.0, front_linkage=front, rear_linkage=rear)
    car = replaced(CHAINED, ("left", "coupling"), bar)
    for element in force_elements(car):
        if element.name.endswith("interconnection bar"):
            side = 1.0 if element.name.startswith("left") else -1.0
            pivot = attachments(car, element)[0]
            force = sum(element.incidence[:2])
            moment = force * side * car.front.track / 2 - side * carried
            assert pivot.force * pivot.y + pivot.couple == pytest.approx(moment, rel=1e-12)


def test_chains_that_turn_a_bar_in_another_sense_than_said_are_named() -> None:
    stand = statics(mechanics(CHAINED))
    assert stand.warnings == ()
    both = replaced(CHAINED, ("left", "coupling", "rear_linkage"), WishboneDropLink())
    words = statics(mechanics(both)).warnings
    assert words[0].startswith(
        "left interconnection bar: as its linkages turn its ends it is pitch stiffening"
    )
    stiff = replaced(both, ("left", "coupling", "sense"), "pitch stiffening")
    assert not any("linkages" in warning for warning in statics(mechanics(stiff)).warnings)


def test_a_load_beyond_the_travel_of_a_chain_is_said() -> None:
    short = RockerPushrod(jounce=0.02, rebound=0.02)
    car = replaced(CHAINED, ("left", "trim", "linkage"), short)
    stand = statics(mechanics(car, LoadCase(loads=(Load(mass=300.0, x=-2.9, y=0.0),))))
    assert stand.stable
    past = (stand.travel[2] - 0.02) * 1e3
    assert f"its linkage at RL would be {past:.1f} mm beyond its travel in jounce" in " ".join(stand.warnings)


def test_bars_without_a_rate_need_no_chain() -> None:
    car = replaced(
        replaced(CHAINED, ("left", "coupling", "bar_rate"), 0.0), ("left", "trim", "bar_rate"), 0.0
    )
    assert not mechanics(car).has_levers


def test_heave_is_held_over_chains() -> None:
    """Softer bars, and springs that take up what these held in heave through the ratios of the chains."""
    softer = replaced(CHAINED, ("left", "coupling", "bar_rate"), 1100.0)
    held = with_heave_held(CHAINED, softer)
    front, rear = (travel_table(kind()).at_trim[1] for kind in (WishboneDropLink, TrailingArmBellCrank))
    assert held.front.spring.rate == pytest.approx(9e3 + 100.0 * front * (front + rear), rel=1e-12)


def test_an_analysis_of_a_car_on_chains() -> None:
    """It stands level without load."""
    analysis = analyse(CHAINED, Run())
    assert analysis.stand.stable
    np.testing.assert_allclose(analysis.stand.travel, 0.0, atol=1e-9)


def test_forces_of_a_trim_spring_follow_its_chain() -> None:
    """T g' over travel, with the torque T0 + k g."""
    car = mechanics(CHAINED)
    element = next(e for e in car.elements if e.name == "left trim spring")
    x = np.linspace(-0.1, 0.1, 9)
    turn = travel_table(RockerPushrod()).turn(x)
    wanted = (element.preload + 300.0 * turn.angle) * turn.ratio - element.preload * element.incidence[2]
    found = forces_at_wheels([element], (0.0, 0.0, 1.0, 0.0), x)[2]
    np.testing.assert_allclose(found, wanted, rtol=1e-12, atol=1e-9)
