"""Life over a road mix: one road by hand, how roads add up, and how the work is stopped."""

from __future__ import annotations

from math import inf, pi

import numpy as np
import pytest
import rainflow

from models.analysis import analyse
from models.errors import InputError
from models.fields import replaced
from models.hardware.cycles import Cycles, count_cycles
from models.hardware.life_target import LifeTarget
from models.hardware.sn_curve import SNCurve
from models.hardware.stabiliser_bar import StabiliserBar
from models.hardware.stabiliser_beam import stabiliser_beam
from models.hardware.stabiliser_figures import stabiliser_figures
from models.judge.fatigue import Life, StressedPart, fatigue_figures, life
from models.judge.mix import share_run
from models.judge.road_loads import PASSES, RoadLoads, Stopped, loaded_elements, road_loads
from models.roads import HalfSine, RoadShare
from models.run import Run
from models.units import KINDS
from models.vehicle import AS_DESIGNED, Axle, GasSpring, Side, Stabiliser, TorsionCoupling, Vehicle

CAR = Vehicle(
    front=Axle(stabiliser=Stabiliser(bar_rate=700.0, lever_ratio=3.5)),
    left=Side(coupling=TorsionCoupling(bar_rate=400.0)),
)
BAR = "left interconnection bar"
PER_TORQUE = 16 / (pi * 0.02**3)
PIT = RoadShare(name="pit", share=1.0, speed=10.0, event=HalfSine(height=-0.05, length=0.8, side="left"))
ROUGH = RoadShare(name="rough", share=3.0 / 4, speed=20.0, roughness=512e-6)
PLAIN = SNCurve(
    amplitude=100e6, cycles=1e6, slope=5.0, below="same slope", mean_rule="none", scatter=0.2, survival=0.5
)


@pytest.fixture(scope="module")
def mix() -> tuple[RoadLoads, ...]:
    return driven(PIT, ROUGH)


def driven(*roads: RoadShare, car: Vehicle = CAR) -> tuple[RoadLoads, ...]:
    return road_loads(car, Run(), AS_DESIGNED, roads)


def bar(loads: tuple[RoadLoads, ...], line: SNCurve = PLAIN, scale: float = 1.0) -> Life:
    return life(loads, StressedPart("bar", BAR, scale * PER_TORQUE), line, LifeTarget(distance=1e8))


def test_one_event_by_hand() -> None:
    """The run of the mix, counted by the library from its greatest torque on, laid on the line by hand."""
    found = bar(driven(PIT))
    analysis = analyse(CAR, share_run(PIT, Run(), CAR.wheelbase), AS_DESIGNED)
    assert analysis.nonlinear is not None
    response = analysis.nonlinear.response
    names = [element.name for element in response.model.elements]
    torque = response.element_force[names.index(BAR)]
    start = int(np.abs(torque).argmax())
    around = np.concatenate([torque[start:], torque[: start + 1]])
    cycles = list(rainflow.extract_cycles(around.tolist()))
    by_hand = sum(count * (size / 2 * PER_TORQUE / 100e6) ** 5 / 1e6 for size, _, count, _, _ in cycles)
    distance = 10.0 * float(response.t[-1])
    assert found.damage == pytest.approx(by_hand / distance, rel=1e-9)
    assert found.most_range == pytest.approx(np.ptp(torque) * PER_TORQUE)
    assert found.peak == pytest.approx(np.abs(torque).max() * PER_TORQUE)
    assert found.median == pytest.approx(distance / by_hand)
    # 10^(-0.2 · 2.3263): 99 % of a log-normal life with a standard deviation of 0.2 in log10.
    assert found.distance == pytest.approx(0.34258 * found.median, rel=1e-4)
    assert found.spread == 0.0


def test_roads_add_up_by_distance(mix: tuple[RoadLoads, ...]) -> None:
    found = bar(mix)
    pit, rough = (bar(driven(road)) for road in (PIT, ROUGH))
    shares = np.array([1.0, 0.75]) / 1.75
    assert found.damage == pytest.approx(shares @ [pit.damage, rough.damage])
    assert found.shares == pytest.approx(shares * [pit.damage, rough.damage] / found.damage)
    assert found.shares.sum() == pytest.approx(1.0)
    assert [road.name for road in found.roads] == ["pit", "rough"]


def test_a_random_road_is_driven_in_passes_that_differ(mix: tuple[RoadLoads, ...]) -> None:
    rough = mix[1]
    assert (rough.event, len(rough.passes), mix[0].event) == ("", PASSES, "half-sine bump")
    assert rough.distance == pytest.approx(20.0 * 30.0)
    ranges = {float(one[BAR].range.max()) for one in rough.passes}
    assert len(ranges) == PASSES
    each = [bar((with_passes(rough, one),)).damage for one in rough.passes]
    alone = bar((with_passes(rough, *rough.passes),))
    assert alone.damage == pytest.approx(np.mean(each))
    assert alone.spread == pytest.approx(np.std(each, ddof=1) / np.sqrt(PASSES) / np.mean(each))


def with_passes(road: RoadLoads, *passes: object) -> RoadLoads:
    return RoadLoads(road.name, 1.0, road.speed, road.event, road.distance, passes)  # type: ignore[arg-type]


def test_laws_of_scale(mix: tuple[RoadLoads, ...]) -> None:
    """On one slope: twice the stress, 2^k the damage and half the margin."""
    found, doubled = bar(mix), bar(mix, scale=2.0)
    assert doubled.damage == pytest.approx(2**5 * found.damage)
    assert doubled.margin == pytest.approx(found.margin / 2)
    assert found.margin == pytest.approx((found.distance / 1e8) ** (1 / 5))


def test_the_margin_brings_the_life_to_the_target(mix: tuple[RoadLoads, ...]) -> None:
    line = SNCurve()
    found = bar(mix, line)
    again = bar(mix, line, scale=found.margin)
    assert again.distance == pytest.approx(1e8, rel=1e-6)
    assert again.margin == pytest.approx(1.0)


def test_stress_of_another_type_counts_by_von_mises(mix: tuple[RoadLoads, ...]) -> None:
    normal = life(mix, StressedPart("bar", BAR, PER_TORQUE, "normal"), PLAIN)
    assert normal.peak == pytest.approx(bar(mix).peak / np.sqrt(3))


def test_a_part_that_is_not_loaded_lives_for_ever() -> None:
    still = RoadLoads("still", 1.0, 10.0, "", 100.0, ({BAR: count_cycles(np.ones(9))},))
    found = bar((still,))
    assert (found.damage, found.distance, found.margin, found.most_range) == (0.0, inf, inf, 0.0)
    assert found.shares.tolist() == [0.0]
    assert fatigue_figures(found)[0].value == inf


def test_an_element_that_the_car_has_not_is_named(mix: tuple[RoadLoads, ...]) -> None:
    with pytest.raises(InputError, match="left trim spring"):
        life(mix, StressedPart("trim", "left trim spring", 1.0), PLAIN)


def test_elements_with_a_spring_are_counted() -> None:
    assert loaded_elements(CAR) == (
        "front left spring",
        "front right spring",
        "front stabiliser bar",
        "rear left spring",
        "rear right spring",
        BAR,
        "right interconnection bar",
    )
    gas = replaced(CAR, ("rear", "spring"), GasSpring())
    assert "rear left spring" in loaded_elements(gas)


def test_a_corner_spring_carries_its_static_share(mix: tuple[RoadLoads, ...]) -> None:
    """Mean of the cycles on the smooth event: the force at trim, within what the pit leaves of it."""
    cycles: Cycles = mix[0].passes[0]["rear right spring"]
    car = analyse(CAR, Run(duration=0.2), AS_DESIGNED).car
    preload = next(one.preload for one in car.elements if one.name == "rear right spring")
    assert cycles.mean[cycles.range.argmax()] == pytest.approx(preload, abs=cycles.range.max())
    assert preload > 1000.0


def test_progress_and_stopping() -> None:
    told: list[float] = []
    road_loads(CAR, Run(), AS_DESIGNED, (PIT, ROUGH), told.append)
    assert told == pytest.approx(np.arange(1, PASSES + 2) / (PASSES + 1))
    with pytest.raises(Stopped):
        road_loads(CAR, Run(), AS_DESIGNED, (PIT, ROUGH), None, lambda: True)

    def cancelled(_: float) -> None:
        raise KeyError

    with pytest.raises(KeyError):
        road_loads(CAR, Run(), AS_DESIGNED, (PIT,), cancelled)


def test_shares_speeds_and_names_of_the_run_do_not_matter(mix: tuple[RoadLoads, ...]) -> None:
    """Linear, in a half car, at another speed: the loads stay those of the nonlinear full car."""
    other = Run(speed=33.0, laws="linear", model="half car", duration=1.0)
    again = road_loads(CAR, other, AS_DESIGNED, (PIT, replaced(ROUGH, ("name",), "again")))
    assert bar(again).damage == bar(mix).damage


def test_figures_have_kinds_and_formulas(mix: tuple[RoadLoads, ...]) -> None:
    beam = stabiliser_beam(StabiliserBar())
    figures = [*fatigue_figures(bar(mix)), *stabiliser_figures(beam, 1.5, 0.05)]
    assert all(figure.kind in KINDS and figure.meaning.endswith(".") for figure in figures)
    assert len({figure.key for figure in figures}) == len(figures)
    value = {figure.key: figure.value for figure in figures}
    assert value["stabiliser_roll_rate"] == pytest.approx(beam.wheel_rate * 1.5**2 / 2)
    assert value["stabiliser_stress"] == pytest.approx(0.05 * beam.stress.von_mises.max())
    assert value["stabiliser_link_force"] == pytest.approx(0.05 * beam.link_force)
    assert value["fatigue_worst_share"] == bar(mix).shares.max()
