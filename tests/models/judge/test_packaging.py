"""Wheel travel between the stops, ground clearance at rest and in the run, angles to the road, levers."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from scipy.constants import g
from scipy.optimize import brentq

from models.analysis import Analysis, analyse
from models.assembly import mechanics
from models.charts.packaging import clearance_chart, envelope_chart
from models.hardware import Hardware, StabiliserBar
from models.judge.clearance import clearance_in_run, road_angles, tangent_angle
from models.judge.envelope import lever_angle, link_angles
from models.judge.packaging import RUN, Checked, PackagingReport, link_check, packaging, packaging_figures
from models.levers import ChainLever
from models.linkage import (
    Arm,
    Axis,
    BarLever,
    DirectLever,
    Point,
    TrailingArmBellCrank,
    WishboneDropLink,
    travel_table,
)
from models.ride.channels import channel_index
from models.roads import OneMinusCosine, RandomRoad, Step
from models.run import Run
from models.statics import statics
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    ClearancePoint,
    Load,
    LoadCase,
    Packaging,
    Side,
    Spring,
    Stabiliser,
    Stop,
    TorsionCoupling,
    TrimSpring,
    Vehicle,
)

AXLE = Axle(bump_stop=Stop(gap=0.06, rate=4e4), rebound_stop=Stop(gap=0.08, rate=4e4))
CAR = Vehicle(front=AXLE, rear=AXLE)
OVER_REAR = LoadCase(name="over the rear axle", loads=(Load(mass=100.0, x=-2.9, y=0.0, z=0.55),))
LEFT = LoadCase(name="left", loads=(Load(mass=40.0, x=-1.45, y=0.5, z=0.55),))
GONE = LoadCase(name="nothing left", loads=(Load(mass=-2000.0),))
CHAINED = Stabiliser(bar_rate=500.0, linkage=WishboneDropLink())
RUN_OVER = Run(event=OneMinusCosine(), duration=1.0)
# Of 50 g on a rear wheel: its spring and its tyre.
TRAVEL = 50 * g / 26e3
SINK = TRAVEL + 50 * g / 200e3


@cache
def analysed(car: Vehicle = CAR, run: Run = RUN_OVER) -> Analysis:
    return analyse(car, run, compiled=False)


def report(*cases: LoadCase) -> PackagingReport:
    return packaging(analysed(), (AS_DESIGNED, *cases))


def row(found: PackagingReport, key: str, case: str) -> Checked:
    (one,) = [one for one in found.checks if one.figure.key == key and one.case == case]
    return one


def test_a_load_over_the_rear_axle_by_hand() -> None:
    """The front axle stays and the rear one sinks, so that a point between sinks in proportion."""
    found = report(OVER_REAR)
    for point in CAR.packaging.points:
        one = row(found, f"clearance_{point.name.replace(' ', '_')}", OVER_REAR.name)
        height = point.height - SINK * -point.x / 2.9
        assert one.figure.value == pytest.approx(height, abs=1e-9)
        assert one.margin == pytest.approx(height - point.required, abs=1e-9)
        assert one.met == (one.margin >= 0)
    jounce, rebound = (row(found, f"travel_{way}_rear", OVER_REAR.name) for way in ("jounce", "rebound"))
    assert (jounce.figure.value, jounce.limit) == (pytest.approx(TRAVEL, rel=1e-9), 0.06)
    assert rebound.margin == pytest.approx(0.08 + TRAVEL, rel=1e-9)


def test_a_load_on_the_left_lowers_what_is_left() -> None:
    """40 kg half a metre left: heave by 40 g on four corners, roll by 20 g m on both axles."""
    point = ClearancePoint(name="left sill", x=-1.45, y=0.7, height=0.2, required=0.1)
    car = CAR.model_copy(update={"packaging": Packaging(points=(point,))})
    found = packaging(analysed(car), (LEFT,))
    corner = 1 / (1 / 26e3 + 1 / 200e3)
    sink = 40 * g / (4 * corner) + 0.7 * 20 * g / (4 * corner * 0.75**2)
    assert found.clearance == pytest.approx(np.array([[0.2 - sink]]), abs=1e-9)


def test_clearance_over_a_run_follows_corners_and_wheels() -> None:
    """From other channels: body height over a corner = wheel - travel; the front wheels meet the road of a
    point behind them earlier, by its distance over the speed."""
    run = Run(event=OneMinusCosine(side="left"), duration=1.0)
    analysis = analyse(CAR, run, LEFT, compiled=False)
    found = clearance_in_run(analysis)
    assert found is not None
    y, stand = analysis.time.y, analysis.stand
    first = {key: channel_index(f"{key}_FL") for key in ("wheel", "travel", "road")}
    body = y[first["wheel"] : first["wheel"] + 4] - y[first["travel"] : first["travel"] + 4]
    body += stand.trim[:, None]
    roads = y[first["road"] : first["road"] + 2]
    t = analysis.time.t
    for number, point in enumerate(CAR.packaging.points):
        front, rear = (
            (0.5 + point.y / 1.5) * body[left] + (0.5 - point.y / 1.5) * body[left + 1] for left in (0, 2)
        )
        rise = front + (rear - front) * -point.x / 2.9
        assert found.rise[number] == pytest.approx(rise, abs=1e-9)
        if point.x < 0:
            met = [np.interp(t + point.x / run.speed, t, road, left=0.0) for road in roads]
            road = (0.5 + point.y / 1.5) * met[0] + (0.5 - point.y / 1.5) * met[1]
            # Linear between samples of 0.5 ms on a bump of some 0.1 s.
            assert found.road[number] == pytest.approx(road, abs=1e-5)
        assert found.clearance[number] == pytest.approx(point.height + rise - found.road[number], abs=1e-9)
    assert found.least == pytest.approx(found.clearance.min(axis=1))
    assert found.clearance[0, np.searchsorted(t, found.when[0])] == found.least[0]


def test_a_kerb_reaches_the_lip_before_the_wheels() -> None:
    run = Run(event=Step(height=0.05, start=5.0), speed=10.0, duration=1.0)
    found = clearance_in_run(analysed(CAR, run))
    assert found is not None
    lip = found.road[0]
    # The lip is 0.78 m ahead of the axle: there after (5 - 0.78) / 10 s.
    assert found.t[np.argmax(lip > 0)] == pytest.approx(0.422, abs=6e-4)
    assert found.least[0] == pytest.approx(0.19 - 0.05, abs=1e-6)


def test_smaller_models_have_their_own_road_or_none() -> None:
    for model, has in (("half car", True), ("half car in roll", False), ("quarter car rear", False)):
        run = Run.model_validate({"event": RandomRoad(), "duration": 0.5, "model": model})
        found = clearance_in_run(analysed(CAR, run))
        assert (found is not None) == has
        if found is not None:
            sump = found.road[1]
            t = np.linspace(0.0, 0.5, len(sump))
            y = analysed(CAR, run).time.y
            mean = y[channel_index("road_FL")] / 2 + y[channel_index("road_FR")] / 2
            assert sump == pytest.approx(np.interp(t - 0.25 / run.speed, t, mean, left=0.0), abs=2e-4)


def test_a_plane_touches_tyre_and_point() -> None:
    """Against a search over all slopes; a tyre without size leaves the textbook's angles."""
    for d, h, r in ((0.8, 0.2, 0.31), (0.4, 0.3, 0.3), (1.45, 0.18, 0.35), (2.0, 0.9, 0.3)):

        def above(angle: float, d: float = d, h: float = h, r: float = r) -> float:
            """Distance of the point from the plane that touches the circle of the tyre from below."""
            return r - d * math.sin(angle) - (r - h) * math.cos(angle)

        assert tangent_angle(d, h, r) == pytest.approx(brentq(above, 1e-6, 1.5), abs=1e-9)
    assert tangent_angle(0.8, 0.2, 0.0) == pytest.approx(math.atan(0.2 / 0.8), rel=1e-12)
    assert tangent_angle(0.7, 0.0, 0.3) == pytest.approx(0.0, abs=1e-12)
    assert math.isnan(tangent_angle(0.1, 0.2, 0.3))


def test_the_worst_point_limits_each_angle() -> None:
    """The breakover angle of a point half-way is 2 atan(2 h / L) on tyres without size (from memory)."""
    tyre = AXLE.tyre.model_copy(update={"radius": 0.05})
    axle = AXLE.model_copy(update={"tyre": tyre})
    points = (
        ClearancePoint(name="lip", x=0.8, height=0.2),
        ClearancePoint(name="tow eye", x=0.9, height=0.3),
        ClearancePoint(name="floor", x=-1.45, height=0.18),
        ClearancePoint(name="tail", x=-3.9, height=0.3),
        ClearancePoint(name="beside the tyre", x=0.02, height=0.03),
    )
    car = Vehicle(front=axle, rear=axle, packaging=Packaging(points=points))
    made = mechanics(car)
    found = road_angles(car, made, statics(made))
    assert found.points == ("lip", "tail", "floor")
    assert found.approach == pytest.approx(tangent_angle(0.8, 0.2, 0.05), rel=1e-9)
    assert found.departure == pytest.approx(tangent_angle(1.0, 0.3, 0.05), rel=1e-9)
    assert found.breakover == pytest.approx(2 * math.atan(2 * 0.18 / 2.9), rel=0.02)  # tyres of 50 mm
    bare = car.model_copy(update={"packaging": Packaging(points=())})
    assert math.isnan(road_angles(bare, made, statics(made)).approach)


def test_levers_over_the_travel_by_hand() -> None:
    """0.4 m long, 20 deg above the horizontal: its end goes down by the gap of 80 mm and up by 60 mm."""
    ratio, start = 1 / (0.4 * math.cos(math.radians(20))), math.radians(20)
    bar = TorsionCoupling(
        bar_rate=800.0, front_lever_ratio=ratio, front_lever_angle=start, rear_lever_ratio=2.5
    )
    trim = TrimSpring(bar_rate=200.0, lever_ratio=2.5)
    car = CAR.model_copy(update={"left": Side(coupling=bar, trim=trim)})
    found = packaging(analysed(car), (AS_DESIGNED,))
    assert len(found.levers) == 6
    lever = found.levers[0]
    assert (lever.element, lever.corner) == ("left interconnection bar", "FL")
    ends = tuple(math.asin(math.sin(start) + s / 0.4) for s in lever.travel)
    assert lever.angle == pytest.approx(ends, rel=1e-12)
    assert lever.travel[0] <= -0.08 < 0.06 <= lever.travel[1]
    assert lever.turn == pytest.approx(tuple(end - start for end in ends), rel=1e-12)
    one = row(found, "lever_angle_left_interconnection_bar_FL", "")
    assert one.margin == pytest.approx(math.radians(45) - max(ends), rel=1e-9)


def test_without_stops_the_ends_are_where_cases_and_run_go() -> None:
    car = Vehicle()
    analysis = analyse(car, RUN_OVER, compiled=False)
    found = packaging(analysis, (AS_DESIGNED, OVER_REAR)).envelope
    assert np.isinf(found.bump_stop).all()
    low, high = found.ends
    assert high[2] == pytest.approx(max(TRAVEL, found.jounce[2]))
    assert low[0] == pytest.approx(min(found.rebound[0], 0.0))
    assert all(math.isnan(one.margin) for one in packaging(analysis, ()).checks if "travel" in one.figure.key)


def test_links_against_their_levers() -> None:
    """A lever of 0.2 m that turns about y with a link that hangs straight down: square when level."""
    angle = np.radians([-50.0, 0.0, 30.0])
    joint = 0.2 * np.column_stack([np.cos(angle), 0 * angle, np.sin(angle)])
    down = joint - [0.0, 0.0, 0.3]
    assert np.degrees(link_angles(np.zeros(3), joint, down)) == pytest.approx([40.0, 90.0, 60.0])
    in_line = joint * 2.5
    assert link_angles(np.zeros(3), joint, in_line) == pytest.approx(0.0, abs=1e-12)
    one = link_check("Drop link", link_angles(np.zeros(3), joint, down), CAR, "FL", slice(1, 3))
    assert one.margin == pytest.approx(math.radians(60 - 40))


def test_cases_that_do_not_stand_have_reasons_instead_of_numbers() -> None:
    found = report(OVER_REAR, GONE)
    assert "more than 0 kg" in found.envelope.reasons[2]
    assert row(found, "clearance_floor", GONE.name).met is None
    assert math.isnan(found.angles[2].approach)
    assert packaging_figures(found) == packaging_figures(report(OVER_REAR))


def test_figures_are_the_worst_of_all_rows() -> None:
    found = report(OVER_REAR)
    figures = {figure.key: figure.value for figure in packaging_figures(found)}
    margins = [one.margin for one in found.checks if one.figure.key.startswith("clearance_")]
    assert figures["clearance_margin"] == min(margins)
    assert figures["departure_angle"] == found.angles[1].departure < found.angles[0].departure
    assert figures["jounce_room"] == row(found, "travel_jounce_rear", RUN).margin
    assert all(figure.meaning for figure in packaging_figures(found))


def test_charts_show_the_same_numbers() -> None:
    found = report(OVER_REAR)
    chart = envelope_chart(found.envelope, "car")
    assert chart.x.names == ("as designed", OVER_REAR.name, "run, jounce", "run, rebound")
    stops = {curve.label: curve.y[0] for curve in chart.curves if curve.role == "limit"}
    assert stops == pytest.approx(
        {
            f"{end} {stop}": gap
            for end in ("front", "rear")
            for stop, gap in (("bump stop", 0.06), ("rebound stop", -0.08))
        }
    )
    rear = next(curve for curve in chart.curves if curve.label == "rear")
    assert rear.y[4:8] == pytest.approx([0.0, TRAVEL, TRAVEL, 0.0])
    assert (np.diff(rear.x) >= 0).all()
    along = clearance_chart(found, "car")
    case = next(curve for curve in along.curves if curve.variant == OVER_REAR.name)
    assert case.y[::-1] == pytest.approx(found.clearance[1])
    uneven = envelope_chart(packaging(analysed(), (LEFT,)).envelope, "car")
    assert {curve.label for curve in uneven.curves if curve.role == "candidate"} == {
        "front left", "front right", "rear left", "rear right"
    }  # fmt: skip


def test_a_car_without_springs_or_points_has_a_report() -> None:
    bare = Axle(spring=Spring(rate=0.0))
    car = Vehicle(front=bare, rear=bare, packaging=Packaging(points=()))
    found = packaging(analysed(car), (AS_DESIGNED,))
    assert found.in_run is None
    assert np.isnan(found.envelope.travel).all()
    assert all(math.isnan(figure.value) for figure in packaging_figures(found))
    # Nobody knows how far its wheels go: no link is said to have room.
    joined = car.model_copy(update={"rear": Axle(spring=bare.spring, stabiliser=CHAINED)})
    steel = Hardware(front_stabiliser=StabiliserBar())
    links = packaging(analysed(joined), (AS_DESIGNED,), steel).links
    assert len(links) == 5
    assert all(np.isnan(link.angle).all() for link in links)
    assert clearance_chart(found, "car").extent("x") == (0.0, 0.0)
    assert len(envelope_chart(found.envelope, "car").x.names) == 3


def test_baseline_stands_behind_the_candidate() -> None:
    found, other = report(OVER_REAR), packaging(analysed(Vehicle()), (AS_DESIGNED, OVER_REAR))
    bars = envelope_chart(found.envelope, "car", (other.envelope, "other"))
    assert [(curve.variant, curve.role) for curve in bars.curves if curve.role != "limit"] == [
        *[("other", "baseline")] * 2,
        *[("car", "candidate")] * 2,
    ]
    along = clearance_chart(found, "car", (other, "other"))
    assert other.in_run is not None
    behind = next(curve for curve in along.curves if curve.role == "baseline")
    assert behind.y[::-1] == pytest.approx(other.in_run.least)
    assert behind.variant == "other, run"


def test_a_wheel_arm_as_lever_has_the_angle_of_the_plain_lever_it_is() -> None:
    """0.4 m long and 20 deg above the horizontal, once by its ratio and angle and once by its points."""
    start = math.radians(20)
    out, up = 0.4 * math.cos(start), 0.4 * math.sin(start)
    plain = TorsionCoupling(bar_rate=800.0, front_lever_ratio=1 / out, front_lever_angle=start)
    chained = plain.model_copy(update={"front_linkage": DirectLever(axis=Axis(y=-out, z=-up))})
    swings = [
        packaging(analysed(CAR.model_copy(update={"left": Side(coupling=bar)})), (AS_DESIGNED,)).levers
        for bar in (plain, chained)
    ]
    for one, other in zip(*swings, strict=True):
        assert one.zero == other.zero == "horizontal"
        # The table of a chain holds turns to 1e-9 rad; see tests/models/linkage/test_travel.py.
        assert other.angle == pytest.approx(one.angle, abs=1e-8)
        assert other.turn == pytest.approx(one.turn, abs=1e-8)


def test_a_lever_behind_links_counts_from_design_trim() -> None:
    """A parallelogram turns its lever as the wishbone, 0.36 m from its pivot to the wheel: by asin(s / 0.36),
    both ways of a stabiliser alike; upright lever or not makes no difference."""
    chain = WishboneDropLink(
        arm=Arm(axis=Axis(y=-0.42, z=-0.1), wheel=Point(y=-0.06, z=-0.1), link=Point(y=-0.2, z=-0.1)),
        lever=BarLever(axis=Axis(y=-0.42, z=0.1), link=Point(y=-0.2, z=0.1)),
    )
    axle = AXLE.model_copy(update={"stabiliser": Stabiliser(bar_rate=500.0, linkage=chain)})
    found = packaging(analysed(CAR.model_copy(update={"rear": axle})), (AS_DESIGNED,))
    assert [(one.element, one.corner, one.zero) for one in found.levers] == [
        ("rear stabiliser bar", corner, "design trim") for corner in ("RL", "RR")
    ]
    for lever in found.levers:
        ends = [math.asin(s / 0.36) for s in lever.travel]
        assert lever.angle == pytest.approx(ends, abs=1e-8)
        one = row(found, f"lever_angle_rear_stabiliser_bar_{lever.corner}", "")
        assert one.figure.value == pytest.approx(max(map(abs, ends)), abs=1e-8)
        assert one.margin == pytest.approx(math.radians(45) - one.figure.value)
        assert "design trim" in one.figure.meaning


def test_an_upright_lever_behind_links_is_not_steep() -> None:
    """The lever of the bell crank's chain stands upright where the car does: that is square to its link."""
    lever = ChainLever(2, travel_table(TrailingArmBellCrank()), sign=-1.0)
    assert lever_angle(lever, 0.0) == pytest.approx(0.0, abs=1e-9)
    assert lever_angle(lever, 0.05) == pytest.approx(-float(lever.turn(0.05).angle))
