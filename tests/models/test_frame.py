"""Forces of the parts on the frame, and the loads of its section, by hand and by Newton and Euler."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.constants import g

from models.analysis import analyse
from models.assembly import assemble, half_car, half_car_in_roll, mechanics, quarter_car
from models.fields import replaced
from models.frame import LOADS, attachments
from models.manoeuvre import Accelerate, Brake, BrakeInTurn, Corner
from models.ride.channels import channel_index
from models.ride.frame import frame_rows, static_frame_loads
from models.roads import HalfSine, OneMinusCosine
from models.run import Run
from models.statics import statics
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    Body,
    DiagonalCoupling,
    FluidCoupling,
    Frame,
    Friction,
    Load,
    LoadCase,
    MeasuredInertia,
    Occupant,
    Side,
    Spring,
    Stop,
    TorsionCoupling,
    Vehicle,
)
from tests.cars import EVERYTHING, long_levers, vehicles

SHEAR, TORSION, BENDING = range(3)
BEYOND = 15.0  # behind every car: the part ahead of the section is all of it

loads = st.builds(
    LoadCase,
    loads=st.lists(
        st.builds(
            Load,
            mass=st.floats(0.0, 200.0),
            x=st.floats(-4.0, 1.0),
            y=st.floats(-0.8, 0.8),
            z=st.floats(0.2, 1.5),
        ),
        max_size=3,
    ).map(tuple),
)


def everything_else() -> Vehicle:
    """The parts that the car with every part leaves out."""
    vehicle = replaced(EVERYTHING, ("left", "coupling"), FluidCoupling(front_area=0.0021, resistance=1e9))
    vehicle = replaced(vehicle, ("diagonal",), DiagonalCoupling(bar_rate=300.0, rear_lever_ratio=2.2))
    vehicle = replaced(vehicle, ("seat", "occupant"), Occupant(mass=60.0))
    for axle in ("front", "rear"):
        vehicle = replaced(vehicle, (axle, "bump_stop"), Stop(gap=0.02, rate=80e3))
        vehicle = replaced(vehicle, (axle, "rebound_stop"), Stop(gap=0.02, rate=60e3))
        vehicle = replaced(vehicle, (axle, "friction"), Friction(force=60.0))
    return vehicle


def even_car(
    spring: float = 0.0, side: Side | None = None, diagonal: DiagonalCoupling | None = None
) -> Vehicle:
    """CG and section midway, tracks of 1.5 m, nothing but the named parts."""
    axle = Axle(track=1.5, spring=Spring(rate=spring))
    return Vehicle(
        wheelbase=2.8,
        body=Body(mass=1500.0, cg_to_front_axle=1.4, pitch_inertia=MeasuredInertia(value=2500.0)),
        front=axle,
        rear=axle,
        left=side or Side(),
        diagonal=diagonal or DiagonalCoupling(),
        frame=Frame(section=1.4),
    )


@given(vehicles)
def test_a_part_puts_into_the_frame_what_the_wheels_put_into_it(vehicle: Vehicle) -> None:
    """Force, roll moment and pitch moment over all its places; what a bar carries along cancels."""
    _check_resultants(vehicle)


def test_the_other_parts_too() -> None:
    _check_resultants(everything_else())


def _check_resultants(vehicle: Vehicle) -> None:
    car = mechanics(vehicle)
    for element, row in zip(car.elements, car.incidence, strict=True):
        points = attachments(vehicle, element)
        found = [
            sum(point.force for point in points),
            sum(point.force * point.y + point.couple for point in points),
            sum(-point.force * point.x for point in points),
        ]
        # On the body a wheel acts by -∂s/∂q; rounding of arms of metres and ratios up to 24 per metre.
        assert found == pytest.approx(-car.deflections[:, :3].T @ row, abs=1e-12), element.name


def test_places_and_forces_by_hand() -> None:
    """Spring of ratio 0.8, seat 0.5 m out: the pivots pull back 0.2, and the moment is that of the wheel."""
    vehicle = replaced(even_car(20e3), ("front", "spring", "motion_ratio"), 0.8)
    vehicle = replaced(vehicle, ("front", "stabiliser", "bar_rate"), 500.0)
    vehicle = replaced(vehicle, ("frame", "front_spring_spacing"), 1.0)
    by_name = {element.name: attachments(vehicle, element) for element in mechanics(vehicle).elements}
    seat, pivots = by_name["front right spring"]
    assert (seat.name, seat.x, seat.y, seat.force, seat.couple) == ("seat", 1.4, -0.5, 1.0, 0.0)
    assert (pivots.x, pivots.force) == (1.4, pytest.approx(-0.2))
    assert seat.force * seat.y + pivots.force * pivots.y + pivots.couple == pytest.approx(-0.8 * 0.75)
    left, right = by_name["front stabiliser bar"]
    assert (left.y, right.y) == (0.45, -0.45)  # bushes 0.9 m apart hold 3.5/m on a track of 1.5 m
    assert left.force == -right.force == pytest.approx(3.5 * 1.5 / 0.9)
    assert left.couple == right.couple == 0.0


def test_a_lever_that_is_the_arm_needs_no_other_arm() -> None:
    """Pivot 0.5 m out, wheel 0.75 m, hence a lever of 0.25 m, a ratio of 4: the pivot takes all in front.

    At the rear, where the lever of a levelling bar points inward, the linkage that turns it round has a
    couple: the arm on the wheel and the lever both press the same way, 2 T.
    """
    bar = TorsionCoupling(bar_rate=1e3, front_lever_ratio=4.0, rear_lever_ratio=4.0)
    vehicle = even_car(side=Side(coupling=bar))
    (bar_element,) = (e for e in mechanics(vehicle).elements if e.name == "left interconnection bar")
    front, rear = attachments(vehicle, bar_element)
    assert (front.x, front.y, front.force, front.couple) == (1.4, 0.5, 4.0, pytest.approx(0.0, abs=1e-15))
    assert (rear.x, rear.y, rear.force, rear.couple) == (-1.4, 0.5, 4.0, pytest.approx(2.0))


@pytest.mark.parametrize(
    ("vehicle", "name", "torsion"),
    [
        # f at one corner of a free even body: half of f y is left for the rear.
        (even_car(1.0), "front left spring", 0.75 / 2),
        (even_car(1.0), "rear left spring", -0.75 / 2),
        # Levelling: both ends lifted alike, the bar alone twists the frame back, by 1 per torque.
        (even_car(side=Side(coupling=TorsionCoupling(bar_rate=1.0))), "left interconnection bar", -1.0),
        (even_car(side=Side(coupling=TorsionCoupling(bar_rate=1.0))), "right interconnection bar", 1.0),
        # Pitch stiffening: up in front and down behind with 2.5 at 0.75 m, less the bar's own torque.
        (
            even_car(side=Side(coupling=TorsionCoupling(bar_rate=1.0, sense="pitch stiffening"))),
            "left interconnection bar",
            2.5 * 0.75 - 1.0,
        ),
        # Fluid: both ends lifted alike and nothing that carries a torque.
        (even_car(side=Side(coupling=FluidCoupling())), "left fluid interconnection", 0.0),
        # Diagonal: couples of 2.5 on the track of 1.5 m against each other, less the bar's torque.
        (even_car(diagonal=DiagonalCoupling(bar_rate=1.0)), "diagonal coupling", 2.5 * 1.5 - 1.0),
        (even_car(1.0), "rear stabiliser bar", -3.5 * 1.5 / 2),
        (even_car(1.0), "rear right trim spring", 2.5 * 0.75 / 2),
    ],
)
def test_torsion_of_a_free_even_body_per_element_force(vehicle: Vehicle, name: str, torsion: float) -> None:
    """The body yields with its inertia, half of it on each side of the section."""
    name = name.replace("rear right trim", "right trim")
    car = mechanics(vehicle)
    number = [element.name for element in car.elements].index(name)
    push = -car.deflections[:, :3].T @ car.incidence[number]
    acceleration = np.linalg.solve(car.body_mass, push)
    found = car.section.force[:, number] - car.section.inertia @ acceleration
    assert found[TORSION] == pytest.approx(torsion, abs=1e-14)


def test_one_wheel_raised_slowly_on_separate_springs_and_on_joined_ones() -> None:
    """Even car, one wheel raised by h: every tyre force changes by ± f, f t twists the whole frame.

    Only springs that warp count: f = h/4 of wheel rate and tyre rate in series.  Bars that join the
    wheels of a side let the wheel up for nothing.
    """
    raised = np.array([0.02, 0.0, 0.0, 0.0])
    joined = Side(coupling=TorsionCoupling(bar_rate=2e3))
    for vehicle, spring in ((even_car(20e3), 20e3), (even_car(5e3, joined), 5e3)):
        model = assemble(vehicle)
        q = np.linalg.solve(model.stiffness, model.road_stiffness @ raised)
        tyre = vehicle.front.tyre.rate
        f = 0.02 / 4 * spring * tyre / (spring + tyre)
        shear, torsion, bending = frame_rows(model)[0] @ q
        # Rounding: forces of hundreds of newtons cancel.
        assert torsion == pytest.approx(f * 1.5, rel=1e-10)
        assert (shear, bending) == pytest.approx((0.0, 0.0), abs=1e-9)


def test_bending_and_shear_of_a_beam_at_rest() -> None:
    """Beam of length 2h on two supports: mid moment W/2 (L/2 - h/2), shear jumps by the axle load."""
    vehicle = even_car(20e3)
    weight, half = 1500.0 * g, sqrt(3 * 2500.0 / 1500.0)

    def at(section: float, load: LoadCase = AS_DESIGNED) -> np.ndarray:
        car = mechanics(replaced(vehicle, ("frame", "section"), section), load)
        return static_frame_loads(car, statics(car))

    # Newton's method of the statics ends at 1e-11 of the weight.
    assert at(1.4) == pytest.approx([0.0, 0.0, weight / 2 * (1.4 - half / 2)], abs=1e-6)
    overhang = (half - 1.4) / (2 * half) * weight
    assert at(0.0) == pytest.approx([weight / 2 - overhang, 0.0, -overhang * (half - 1.4) / 2], abs=1e-6)
    assert at(BEYOND) == pytest.approx([0.0, 0.0, 0.0], abs=1e-6)
    # 100 kg in the middle of the car bend it by P L/4 more.
    middle = LoadCase(loads=(Load(mass=100.0, x=-1.4, y=0.0, z=0.5),))
    assert at(1.4, middle)[BENDING] - at(1.4)[BENDING] == pytest.approx(100 * g * 2.8 / 4, abs=1e-6)
    # 100 kg at the front left corner and its opposite: each stands over its wheel, yet the springs share.
    corners = LoadCase(
        loads=(Load(mass=100.0, x=0.0, y=0.75, z=0.5), Load(mass=100.0, x=-2.8, y=-0.75, z=0.5))
    )
    assert at(1.4, corners)[TORSION] == pytest.approx(-100 * g * 0.75, abs=1e-6)


@given(vehicles, loads)
def test_inertia_of_the_whole_car_is_that_of_the_body(vehicle: Vehicle, load: LoadCase) -> None:
    """Mass, CG, both inertias and their product, about the centre line and about the section."""
    car = mechanics(replaced(vehicle, ("frame", "section"), BEYOND), load)
    mass = car.body_mass
    # The centre line and the section as seen from the CG with the load.
    centre, at = float(car.corners[:2, 1].mean()), float(car.corners[0, 0]) - BEYOND
    expected = np.array([mass[0], mass[1] - centre * mass[0], -mass[2] - at * mass[0]])
    # Rounding of products of masses in tonnes and arms of up to 15 m.
    np.testing.assert_allclose(car.section.inertia, expected, rtol=1e-10, atol=1e-7)


@given(vehicles, loads, st.integers(0, 2**32 - 1))
def test_no_load_is_left_behind_the_car(vehicle: Vehicle, load: LoadCase, seed: int) -> None:
    """Newton and Euler for the linear car in any state: forces on the frame less inertia are nothing in sum.

    So what the part ahead of any section leaves over is what the part behind it needs.
    """
    model = assemble(replaced(vehicle, ("frame", "section"), BEYOND), load)
    rng = np.random.default_rng(seed)
    q, rate, road, road_rate = (rng.normal(0, 0.01, size) for size in (7, 7, 4, 4))
    force = model.road_stiffness @ road + model.road_damping @ road_rate
    acceleration = np.linalg.solve(model.mass, force - model.damping @ rate - model.stiffness @ q)
    parts = [rows @ state for rows, state in zip(frame_rows(model), (q, rate, acceleration), strict=True)]
    np.testing.assert_allclose(sum(parts), 0.0, atol=1e-10 * np.abs(parts).max())


@pytest.mark.parametrize("vehicle", [EVERYTHING, everything_else()], ids=["every part", "the other parts"])
def test_no_load_is_left_behind_the_car_in_a_nonlinear_run(vehicle: Vehicle) -> None:
    """The same with stops, friction, gas and two-slope dampers, wheels in the air, and a load on one side."""
    run = Run(event=HalfSine(height=0.09, length=1.2, start=1.0, side="left"), duration=1.5)
    load = LoadCase(loads=(Load(mass=90.0, x=-2.6, y=0.4, z=0.7),))
    here = analyse(vehicle, run, load)
    beyond = analyse(replaced(vehicle, ("frame", "section"), BEYOND), run, load)
    assert beyond.nonlinear is not None
    assert beyond.nonlinear.response.lift_off.any()
    for load_name in LOADS:
        there = beyond.time.channel(f"frame_{load_name}")
        peak = np.abs(here.time.channel(f"frame_{load_name}")).max()
        assert peak > 50.0
        # Rounding, with forces of 1e4 N at arms of 15 m.
        assert np.abs(there).max() < 1e-6, load_name


@settings(max_examples=10)
@given(vehicles)
def test_small_motion_is_the_same_by_the_nonlinear_forces(vehicle: Vehicle) -> None:
    """Both ways to the moments, over a road so low that all laws but the two-slope dampers are straight."""
    vehicle = long_levers(vehicle)  # those that turn bend the forces by 1e-3 of them even here
    for axle in ("front", "rear"):
        vehicle = replaced(vehicle, (axle, "damper", "rebound"), getattr(vehicle, axle).damper.jounce)
    event = OneMinusCosine(height=1e-3, length=4.0, start=1.0, side="left")
    straight = [
        analyse(vehicle, Run(event=event, duration=1.0, laws=laws)) for laws in ("linear", "nonlinear")
    ]
    if straight[1].nonlinear is None:  # the car does not stand
        return
    for load_name in LOADS:
        linear, nonlinear = (analysis.time.channel(f"frame_{load_name}") for analysis in straight)
        # The step of the nonlinear run is 1/20 of the fastest period, of fourth order.
        assert np.abs(linear - nonlinear).max() <= 2e-3 * np.abs(linear).max()


@pytest.mark.parametrize("laws", ["linear", "nonlinear"])
@pytest.mark.parametrize("manoeuvre", [BrakeInTurn(), Accelerate()], ids=["brake in turn", "accelerate"])
def test_no_load_is_left_behind_the_car_in_a_manoeuvre(
    manoeuvre: BrakeInTurn | Accelerate, laws: str
) -> None:
    """Links, tyres and the inertia along and across are in the balance too."""
    run = Run(manoeuvre=manoeuvre, laws=laws, duration=1.5)
    load = LoadCase(loads=(Load(mass=90.0, x=-2.6, y=0.4, z=0.7),))
    here = analyse(everything_else(), run, load).time
    beyond = analyse(replaced(everything_else(), ("frame", "section"), BEYOND), run, load).time
    for load_name in LOADS:
        peak = np.abs(here.channel(f"frame_{load_name}")).max()
        assert peak > 50.0
        assert np.abs(beyond.channel(f"frame_{load_name}")).max() < 1e-6, load_name  # rounding, as above


def test_torsion_in_a_steady_turn_by_hand() -> None:
    """Even car, equal springs, unlike roll centres: stabiliser in front only.

    Ahead of the middle: the springs of one axle, all of the stabiliser, and half of m (a_y + g φ) at the arm
    of the front roll centre; the inertia is at the height of the CG.  Springs and bar together hold
    m (a_y + g φ) at its arm over the mean roll centre.
    """
    vehicle = replaced(even_car(20e3), ("front", "stabiliser", "bar_rate"), 500.0)
    for axle, height in (("front", 0.02), ("rear", 0.12)):
        vehicle = replaced(vehicle, (axle, "geometry", "roll_centre_height"), height)
    turn = Corner(lateral=3.0, start=0.1, onset=0.5, hold=30.0)
    time = analyse(vehicle, Run(manoeuvre=turn, laws="linear", duration=12.0)).time
    roll = float(time.channel("roll")[-1])
    travel = [float(time.channel(f"travel_{corner}")[-1]) for corner in ("FL", "FR", "RL", "RR")]
    # Left is the inside: it goes into rebound, and the springs there let go of the body.
    springs = 20e3 * (travel[0] - travel[1]) * 0.75
    stabiliser = 500.0 * 3.5**2 * (travel[0] - travel[1]) * 1.5
    links = 1500.0 / 2 * (3.0 + g * roll) * (vehicle.body.cg_height - 0.02)
    assert roll > 0.01
    # What has not died out of the roll after 11 s: e^-20.
    assert time.channel("frame_torsion")[-1] == pytest.approx(springs + stabiliser + links, rel=1e-6)
    whole = springs + stabiliser + 20e3 * (travel[2] - travel[3]) * 0.75
    assert whole == pytest.approx(-1500.0 * (3.0 + g * roll) * (vehicle.body.cg_height - 0.07), rel=1e-6)


def test_bending_in_steady_braking_by_hand() -> None:
    """Even car whose links take no share: on its front half act the springs, the brakes and the wheels.

    The springs hold Σ m h a/L at half the wheelbase; the front share of the brake force acts at the road,
    and the inertia of the front wheels pulls forward below the CG.
    """
    vehicle = even_car(20e3)
    for axle in ("front", "rear"):
        vehicle = replaced(vehicle, (axle, "geometry", "brake_support"), 0.0)
    brake = Brake(longitudinal=4.0, start=0.1, onset=0.5, hold=30.0)
    time = analyse(vehicle, Run(manoeuvre=brake, laws="linear", duration=12.0)).time
    h, radius, hubs = vehicle.body.cg_height, vehicle.front.tyre.radius, 2 * 45.0
    mass = 1500.0 + 2 * hubs
    springs = 4.0 * (1500.0 * h + 2 * hubs * radius) / 2.8
    share = vehicle.forces.front_brake_share
    expected = springs * 1.4 - share * mass * 4.0 * h + hubs * 4.0 * (h - radius)
    assert time.channel("frame_bending")[-1] == pytest.approx(expected, rel=1e-6)
    assert time.channel("frame_shear")[-1] == pytest.approx(springs, rel=1e-6)


def test_a_road_alike_in_both_tracks_does_not_twist_an_even_car() -> None:
    vehicle = replaced(EVERYTHING, ("right",), None)
    time = analyse(vehicle, Run()).time
    bending = np.abs(time.channel("frame_bending")).max()
    assert bending > 100.0
    assert np.abs(time.channel("frame_torsion")).max() < 1e-9 * bending


def test_smaller_models_tell_what_they_know() -> None:
    full = assemble(EVERYTHING)
    told = {
        "half": (half_car(full), [SHEAR, BENDING]),
        "roll": (half_car_in_roll(full), [SHEAR, TORSION]),
        "quarter": (quarter_car(full, 0), []),
    }
    for model, known in told.values():
        rows = np.hstack(frame_rows(model))
        assert [row for row in range(3) if rows[row].any()] == known


def test_half_car_bends_as_the_full_car() -> None:
    full, half = analyse(Vehicle(), Run()), analyse(Vehicle(), Run(model="half car"))
    row = channel_index("frame_bending")
    assert half.ride.rms[row] == pytest.approx(full.ride.rms[row], rel=1e-6)  # both roads are heave and pitch
    assert np.abs(half.time.y[row] - full.time.y[row]).max() < 1e-6 * np.abs(full.time.y[row]).max()
