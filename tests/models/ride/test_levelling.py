"""Levelling of a whole car: statics by hand, times, energy, refusals."""

from __future__ import annotations

from math import asin, radians, sqrt
from pathlib import Path

import numpy as np
import pytest
from pydantic import ValidationError
from scipy.constants import g
from scipy.optimize import brentq

from models.assembly import mechanics
from models.errors import InputError
from models.fields import replaced
from models.judge.levelling import levelling_figures, time_to_level
from models.project import Project, load
from models.ride.levelling import STEP, LevellingRun, level, motor_current
from models.ride.levelling_car import height_per_wind_up, trim_bars, why_not_fitted, wound
from models.ride.levelling_event import LevellingEvent
from models.statics import statics
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    Body,
    Levelling,
    Load,
    LoadCase,
    Occupant,
    Seat,
    Side,
    Spring,
    TorsionCoupling,
    TrimSpring,
    Vehicle,
)

#: Levers whose ratio is that of the weights, so that the joined bars carry all of the car: a car without
#: other nonlinear parts than its levers.
BAR, TRIM, BETA = 1200.0, 600.0, 2.8
CAR = Vehicle(
    wheelbase=3.0,
    body=Body(mass=1500.0, cg_to_front_axle=1.5),
    front=Axle(spring=Spring(rate=2e3)),
    rear=Axle(spring=Spring(rate=0.0)),
    left=Side(
        coupling=TorsionCoupling(bar_rate=BAR, front_lever_ratio=BETA, rear_lever_ratio=BETA),
        trim=TrimSpring(axle="rear", bar_rate=TRIM, lever_ratio=BETA),
    ),
    levelling=Levelling(
        speed=radians(2),
        limit=radians(45),
        filter_time=0.5,
        dead_band=0.015,
        delay=4.0,
        torque_per_current=80.0,
        idle_current=2.0,
        voltage=12.0,
    ),
)
BOOT = LoadCase(name="boot", loads=(Load(name="luggage", mass=60.0, x=-3.4, y=0.0, z=0.7),))
EVENT = LevellingEvent(drive_from=45.0, drive_to=50.0, unload_at=55.0, duration=100.0)


@pytest.fixture(scope="module")
def run() -> LevellingRun:
    return level(CAR, BOOT, EVENT)


@pytest.fixture(scope="module")
def saloon() -> Project:
    return load(Path(__file__).parents[3] / "sample_projects" / "large_saloon.corduroy")


def needed(vehicle: Vehicle, case: LoadCase, height: float = 0.0) -> float:
    """Wind-up for which the rear of the loaded car stands at a height, by its statics alone."""
    car = mechanics(vehicle, case)
    return float(brentq(lambda angle: -statics(wound(car, angle)).travel[2:].mean() - height, -1.5, 1.5))


def by_hand(mass: float, behind: float) -> float:
    """Wind-up that brings the rear back to design trim, by the balance of levers of one side.

    With the rear wheel at s_r = 0 the front wheel alone deflects the bars by g(s_f) = asin(β s_f), of which
    the spring and, on a lever that has turned, the bar carry the change of the load there.  At the rear that
    twist pushes with k_b β g, and the trim spring has to carry the rest: k_t β δ0.
    """
    front = -mass * g * behind / 3.0 / 2
    rear = mass * g * (1 + behind / 3.0) / 2
    static = next(e.preload for e in mechanics(CAR).elements if e.name == "left interconnection bar")

    def left_over(s: float) -> float:
        turned = (static + BAR * asin(BETA * s)) * BETA / sqrt(1 - (BETA * s) ** 2)
        return 2e3 * s + turned - static * BETA - front

    s_front = float(brentq(left_over, -0.2, 0.2, xtol=1e-15))
    return (rear - BAR * BETA * asin(BETA * s_front)) / (TRIM * BETA)


def test_wind_up_is_that_of_the_balance_of_levers() -> None:
    """The root finders stop at 1e-12 rad and 1e-15 m."""
    assert needed(CAR, BOOT) == pytest.approx(by_hand(60.0, 0.4), abs=1e-10)


def test_height_per_wind_up_is_that_of_two_equations_by_hand() -> None:
    """One side on its springs: [[k_s + k_b β², k_b β²], [k_b β², (k_b + k_t) β²]] s = -(0, k_t β δ0)."""
    joined, trim = BAR * BETA**2, TRIM * BETA**2
    travel = np.linalg.solve([[2e3 + joined, joined], [joined, joined + trim]], [0.0, -TRIM * BETA])
    car = mechanics(CAR)
    # The levers bend the curve: a difference over 2e-3 rad is off by 3e-7, a tenth by 3e-9.
    found = height_per_wind_up(car, trim_bars(CAR, car), 1e-4)
    assert found == pytest.approx(-travel[1], rel=1e-8)


def test_body_stands_where_statics_say_before_the_motor_starts_and_after_it_stopped(
    run: LevellingRun,
) -> None:
    """1 mm while the slow pitch still creeps, some time constants after loading; then a tenth of that."""
    car = mechanics(CAR, BOOT)
    before = run.sample(run.starts[0])
    assert run.rear[before] == pytest.approx(-statics(car).travel[2:].mean(), abs=1e-3)
    at = run.sample(EVENT.drive_from)
    stand = statics(wound(car, float(run.wind_up[at])))
    assert run.rear[at] == pytest.approx(-stand.travel[2:].mean(), abs=1e-4)
    assert run.front[at] == pytest.approx(-stand.travel[:2].mean(), abs=1e-4)


def test_car_begins_and_ends_at_rest_at_design_trim(run: LevellingRun) -> None:
    start = run.sample(EVENT.load_at)
    assert np.abs(run.rear[: start + 1]).max() < 1e-9
    stand = statics(wound(mechanics(CAR), float(run.wind_up[-1])))
    assert run.rear[-1] == pytest.approx(-stand.travel[2:].mean(), abs=1e-4)
    assert abs(run.rear[-1]) < CAR.levelling.dead_band


def test_time_to_level_is_onset_delay_and_turning(run: LevellingRun) -> None:
    """The height leaves the dead band at some t0; then the delay, then the angle that was turned / speed.

    The motor stops when the filtered height is at half the band: the statics of the angle reached are ahead
    of that by the lags of body and filter, (lifting speed · lag).  A look is 0.05 s long, and there are three
    of them: onset, start and stop.
    """
    outside = run.t[np.argmax(run.seen < -CAR.levelling.dead_band)]
    at = run.sample(EVENT.drive_from)
    turning = float(run.wind_up[at]) / CAR.levelling.speed
    expected = outside + CAR.levelling.delay + turning - EVENT.load_at
    assert time_to_level(run, EVENT.load_at, EVENT.drive_from) == pytest.approx(expected, abs=3 * 0.05)
    assert run.starts[0] == pytest.approx(outside + CAR.levelling.delay, abs=2 * 0.05)


def test_angle_turned_is_the_needed_one_and_the_lag_of_body_and_filter(run: LevellingRun) -> None:
    """Steady winding: body behind by c/k of its pitch, filter by its time constant.

    c/k of the slow pitch, at which the joined bars rest (s_f = -s_r): rebound of one axle and jounce of the
    other over the trim and the front spring.  5 % of the lead: the bars are no rigid beam.
    """
    data = CAR.levelling
    soft = 2e3 + TRIM * BETA**2
    lag = (CAR.front.damper.jounce + CAR.rear.damper.rebound) / soft + data.filter_time
    car = mechanics(CAR)
    lift = height_per_wind_up(car, trim_bars(CAR, car)) * data.speed
    stop_at = needed(CAR, BOOT, -0.5 * data.dead_band)
    at = run.sample(EVENT.drive_from)
    lead = float(run.wind_up[at]) - stop_at
    assert lead == pytest.approx(lag * data.speed, rel=0.05, abs=0.05 * data.speed)
    assert lift > 0


def test_two_actuations_level_and_unlevel(run: LevellingRun) -> None:
    assert run.actuations == 2
    assert len(run.stops) == 2
    assert run.running_time == pytest.approx(float((run.stops - run.starts).sum()), abs=STEP)


def test_energy_has_a_closed_form() -> None:
    """Wheels that hardly move, wound from 0 to the limit L: E = V (I0 L + (T0 L + k L²) / k_T) / speed.

    T0 is the static torque of both bars and 2 k their rate.  The springs of 2000 N/mm give way by 0.2 mm, or
    5e-4 rad at the levers, beside the 0.1 rad of L; turning takes 3 s, whole looks.
    """
    data = replaced(CAR.levelling, ("dead_band",), 0.0)
    data = replaced(data, ("limit",), radians(6))
    stiff = replaced(replaced(CAR, ("rear", "spring", "rate"), 2e6), ("front", "spring", "rate"), 2e6)
    found = level(replaced(stiff, ("levelling",), data), BOOT, EVENT)
    at = found.sample(EVENT.drive_from)
    assert found.wind_up[at] == pytest.approx(data.limit, abs=1e-12)
    elements = mechanics(stiff, BOOT).elements
    static = sum(element.preload for element in elements if element.name.endswith("trim spring"))
    torque = static * data.limit + TRIM * data.limit**2
    expected = data.voltage * (data.idle_current * data.limit + torque / data.torque_per_current) / data.speed
    assert found.energy[at] == pytest.approx(expected, rel=5e-3)
    # Winding down the bars help: the motor draws its idle current and no more.
    down = found.motor == -1
    assert down.any()
    assert found.current[down].max() == data.idle_current


def test_torque_is_that_of_both_bars_with_their_static_share(run: LevellingRun) -> None:
    at = run.sample(EVENT.drive_from)
    car = mechanics(CAR, BOOT)
    preload = sum(element.preload for element in car.elements if element.name.endswith("trim spring"))
    expected = preload + 2 * TRIM * (asin(-BETA * run.rear[at]) + run.wind_up[at])
    assert run.torque[at] == pytest.approx(expected, rel=1e-9)


def test_current_by_hand() -> None:
    data = CAR.levelling
    found = motor_current(data, np.array([1, -1, 0, 1]), np.array([160.0, 160.0, 160.0, -80.0]))
    assert found.tolist() == [4.0, 2.0, 0.0, 2.0]


def test_motor_stops_at_its_limit() -> None:
    short = replaced(CAR, ("levelling", "limit"), radians(5))
    found = level(short, BOOT, EVENT)
    assert found.wind_up.max() == pytest.approx(radians(5), abs=1e-12)
    at = found.sample(EVENT.drive_from)
    assert found.motor[at] == 0
    assert found.rear[at] < -short.levelling.dead_band
    figures = {figure.key: figure.value for figure in levelling_figures(found)}
    assert np.isnan(figures["level_time_loaded"])
    assert figures["level_limit_left"] == pytest.approx(0.0, abs=1e-12)


def test_winding_too_fast_for_the_lag_hunts() -> None:
    fast = replaced(CAR, ("levelling", "speed"), radians(8))
    slow = replaced(replaced(fast, ("levelling", "filter_time"), 2.0), ("levelling", "delay"), 0.5)
    assert level(slow, BOOT, EVENT).actuations > 4


def test_front_trim_and_an_occupant_are_levelled_too() -> None:
    side = Side(coupling=CAR.left.coupling, trim=TrimSpring(axle="front", bar_rate=TRIM, lever_ratio=BETA))
    car = replaced(CAR, ("left",), side)
    car = replaced(replaced(car, ("front", "spring", "rate"), 0.0), ("rear", "spring", "rate"), 2e3)
    car = replaced(car, ("seat",), Seat(occupant=Occupant(mass=75.0)))
    nose = LoadCase(name="nose", loads=(Load(name="winch", mass=60.0, x=0.4, y=0.0, z=0.7),))
    found = level(car, nose, EVENT)
    at = found.sample(EVENT.drive_from)
    assert found.axle == "front"
    assert found.wind_up[at] > 0
    assert abs(found.front[at]) < car.levelling.dead_band


def test_history_does_not_depend_on_how_far_ahead_is_run(
    run: LevellingRun, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("models.ride.levelling._AHEAD", 7)
    again = level(CAR, BOOT, EVENT)
    assert again.rear == pytest.approx(run.rear, abs=1e-9)
    assert again.starts.tolist() == run.starts.tolist()


@pytest.mark.parametrize(("name", "longest"), [("four up", 16.0), ("towing", 20.0), ("full boot", 26.0)])
def test_sample_levels_its_loads_and_stays_level(saloon: Project, name: str, longest: float) -> None:
    """What the note of the sample promises, some 10 to 20 s for the usual loads."""
    vehicle = saloon.variant("joined torsion bars").vehicle
    case = next(case for case in saloon.load_cases if case.name == name)
    found = level(vehicle, case, LevellingEvent())
    figures = {figure.key: figure.value for figure in levelling_figures(found)}
    assert 10.0 < figures["level_time_loaded"] < longest
    assert abs(figures["level_error_loaded"]) < vehicle.levelling.dead_band
    assert abs(figures["level_error_unloaded"]) < vehicle.levelling.dead_band
    assert figures["level_actuations"] == 2
    assert figures["level_actuations_driving"] == 0
    assert figures["level_limit_left"] > radians(2)


def test_progress_is_told() -> None:
    told: list[float] = []
    level(CAR, AS_DESIGNED, LevellingEvent(), told.append)
    assert told[0] == 0.0
    assert told == sorted(told)
    assert told[-1] < 1.0


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        (("levelling", "speed"), 0.0, "winding speed is 0"),
        (("left", "trim", "bar_rate"), 0.0, "trim spring rate"),
        (("right",), Side(trim=TrimSpring(axle="front", bar_rate=500.0)), "same axle"),
    ],
)
def test_car_without_levelling_is_refused_with_the_field(
    path: tuple[str, ...], value: object, says: str
) -> None:
    car = replaced(CAR, path, value)
    assert says in why_not_fitted(car)
    with pytest.raises(InputError, match=says):
        level(car, BOOT, EVENT)


def test_load_that_lifts_a_wheel_is_refused_with_its_name() -> None:
    heavy = LoadCase(name="far behind", loads=(Load(mass=2500.0, x=-8.0),))
    with pytest.raises(InputError, match=r"far behind.*does not stand"):
        level(CAR, heavy, EVENT)


def test_event_out_of_order_is_refused_with_range_and_unit() -> None:
    with pytest.raises(ValidationError, match=r"Drive from: 3 s .*\(the end of loading, 5 s, or later\)"):
        LevellingEvent(drive_from=3.0)
    with pytest.raises(InputError, match="Duration"):
        replaced(EVENT, ("duration",), 20.0)
