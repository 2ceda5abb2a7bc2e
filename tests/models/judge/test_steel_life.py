"""Lives of all parts in steel of a car: stress per force by hand, one history by hand, other sizes."""

from __future__ import annotations

from math import inf, isnan, pi

import numpy as np
import pytest

from models.fields import follow, replaced
from models.hardware import (
    BarSpring,
    BarWish,
    CoilSpring,
    GasStrut,
    Hardware,
    InterconnectionBar,
    LeverArm,
    Material,
    MultiLeafSpring,
    StabiliserBar,
    TorsionBar,
    TrimBar,
    bar_sizes,
    material_of,
    stabiliser_beam,
)
from models.hardware.cycles import Cycles
from models.hardware.sn_curve import SNCurve
from models.hardware.torsion_bar import bar_rate
from models.judge.road_loads import RoadLoads
from models.judge.steel_life import (
    FatiguePart,
    fatigue_parts,
    left_out,
    life_of_size,
    steel_life_figures,
    steel_lives,
)
from models.units import KINDS
from models.vehicle import Axle, Side, Spring, Stabiliser, TorsionCoupling, TrimSpring, Vehicle

PLAIN = SNCurve(amplitude=100e6, cycles=1e6, slope=5.0, below="same slope", mean_rule="none", scatter=0.2)
STEEL = Material(fatigue=PLAIN, shear_limit_preset=1000e6)
BAR = TorsionBar(material=STEEL, diameter=0.024)
CAR = Vehicle(
    front=Axle(spring=Spring(motion_ratio=0.8), stabiliser=Stabiliser(bar_rate=700.0, lever_ratio=3.5)),
    left=Side(
        coupling=TorsionCoupling(bar_rate=400.0), trim=TrimSpring(axle="rear", bar_rate=90.0, lever_ratio=2.5)
    ),
)
FITTED = Hardware(
    front_spring=BarSpring(bar=BAR, lever=LeverArm(length=0.36)),
    rear_spring=MultiLeafSpring(material=STEEL),
    interconnection=InterconnectionBar(bar=BAR),
    trim=TrimBar(bar=replaced(BAR, ("diameter",), 0.02)),
    front_stabiliser=StabiliserBar(material=STEEL),
)


def per_force(vehicle: Vehicle, hardware: Hardware) -> dict[str, float]:
    return {
        part.stressed.element: part.stressed.stress_per_force for part in fatigue_parts(vehicle, hardware)
    }


def history(element: str, force: float, mean: float) -> tuple[RoadLoads, ...]:
    """Two roads of 100 m, of half the distance each: on one ten cycles of that amplitude, on one nothing."""
    rough = Cycles(np.array([2 * force]), np.array([mean]), np.array([10.0]))
    still = Cycles(np.zeros(0), np.zeros(0), np.zeros(0))
    return tuple(
        RoadLoads(name, 0.5, 10.0, "", 100.0, ({element: cycles},))
        for name, cycles in (("rough", rough), ("still", still))
    )


def alone(hardware: Hardware, place: str, side: str = "left") -> FatiguePart:
    return next(part for part in fatigue_parts(CAR, hardware) if (part.place, part.side) == (place, side))


def test_stress_per_force_by_hand() -> None:
    found = per_force(CAR, FITTED)
    twisted = 16 / (pi * 0.024**3)  # 368.4 kPa per N·m
    assert twisted == pytest.approx(368.4e3, rel=1e-4)
    # 1 N at the spring is 0.8 N at the wheel, and 0.8 N · 0.36 m in the bar.
    assert found["front right spring"] == pytest.approx(0.288 * twisted)
    assert found["left interconnection bar"] == pytest.approx(twisted)
    assert found["right trim spring"] == pytest.approx(16 / (pi * 0.02**3))
    # 3 F L/(n b t²): 3 · 0.625/(5 · 0.06 · 0.007²)
    assert found["rear left spring"] == pytest.approx(127.55e3, rel=1e-4)
    beam = stabiliser_beam(StabiliserBar(material=STEEL))
    # A torque of 1 N·m is 3.5 N at each wheel.
    worst = float(beam.stress.von_mises.max())
    assert found["front stabiliser bar"] == pytest.approx(worst * 3.5 / beam.wheel_rate)


def test_a_coil_counts_with_the_factor_at_its_inside() -> None:
    coil = CoilSpring(material=STEEL, wire_diameter=0.013, mean_diameter=0.13)
    found = per_force(CAR, Hardware(rear_spring=coil))
    # C = 10: (4 C + 2)/(4 C - 3) = 42/37; 8 D/(π d³) = 150.68 kPa per N.
    assert found == {name: pytest.approx(42 / 37 * 150.68e3, rel=1e-4) for name in found}
    assert list(found) == ["rear left spring", "rear right spring"]


def test_parts_are_named_by_place_and_side() -> None:
    parts = fatigue_parts(CAR, FITTED)
    assert [(part.name, part.side) for part in parts] == [
        ("Front springs", "left"),
        ("Front springs", "right"),
        ("Rear springs", "left"),
        ("Rear springs", "right"),
        ("Interconnection bars", "left"),
        ("Interconnection bars", "right"),
        ("Trim bars", "left"),
        ("Trim bars", "right"),
        ("Front stabiliser bar", ""),
    ]
    assert parts[0].stressed.name == "Front springs, left"
    kinds = {part.place: part.stressed.stress for part in parts}
    assert [place for place, kind in kinds.items() if kind == "normal"] == ["rear_spring", "front_stabiliser"]
    assert all(follow(FITTED, part.line_path) is material_of(part.steel).fatigue for part in parts)


def test_life_of_one_history_by_hand() -> None:
    """Bar of 24 mm: 500 N·m are 184.21 MPa, 1e6 · (100/184.21)⁵ = 47 150 cycles, ten of them in 200 m."""
    loads = history("left interconnection bar", 500.0, 1000.0)
    hardware = Hardware(interconnection=FITTED.interconnection)
    car = replaced(CAR, ("right",), Side())
    (found,) = steel_lives(loads, car, hardware)
    assert found.median == pytest.approx(943.0e3, rel=1e-3)
    assert found.distance == pytest.approx(0.34258 * found.median, rel=1e-4)  # 10^(-0.2 · 2.3263)
    assert found.shares.tolist() == [1.0, 0.0]
    figures = {one.key: one for one in steel_life_figures(alone(hardware, "interconnection"), found)}
    assert figures["steel_peak"].value == pytest.approx(1500 * 16 / (pi * 0.024**3))
    assert figures["steel_use"].value == pytest.approx(0.55262, rel=1e-4)  # of 1000 MPa
    assert all(one.kind in KINDS and one.meaning.endswith(".") for one in figures.values())


def test_greatest_stress_is_the_parts_own_whatever_the_line_is_for() -> None:
    loads = history("front stabiliser bar", 100.0, 0.0)
    hardware = Hardware(front_stabiliser=FITTED.front_stabiliser)
    (found,) = steel_lives(loads, CAR, hardware)
    part = alone(hardware, "front_stabiliser", "")
    figures = {one.key: one.value for one in steel_life_figures(part, found)}
    assert figures["steel_peak"] == pytest.approx(100 * part.stressed.stress_per_force)
    assert figures["fatigue_peak"] == pytest.approx(figures["steel_peak"] / np.sqrt(3))  # line of shear
    assert figures["steel_use"] == pytest.approx(figures["steel_peak"] / STEEL.bending_limit)


def test_other_sizes_on_one_slope() -> None:
    """Stress goes with 1/d³ and life with stress to the power of -5: 28 mm instead of 24, 10.1 times."""
    loads = history("left interconnection bar", 500.0, 1000.0)
    car, hardware = replaced(CAR, ("right",), Side()), Hardware(interconnection=FITTED.interconnection)
    life = life_of_size(loads, car, hardware, "interconnection")
    (found,) = steel_lives(loads, car, hardware)
    assert life(BAR) == pytest.approx(found.distance)
    thicker = TorsionBar(material=STEEL, diameter=0.028, head_diameter=0.04)
    assert life(thicker) == pytest.approx((28 / 24) ** 15 * found.distance)
    whole = replaced(hardware, ("interconnection", "bar"), thicker)
    assert life(thicker) == pytest.approx(steel_lives(loads, car, whole)[0].distance)


def test_the_worse_side_counts() -> None:
    both = {"left trim spring": 40.0, "right trim spring": 60.0}
    cycles = {name: Cycles(np.array([2 * t]), np.zeros(1), np.ones(1)) for name, t in both.items()}
    loads = (RoadLoads("road", 1.0, 10.0, "", 100.0, (cycles,)),)
    hardware = Hardware(trim=FITTED.trim)
    lives = [one.distance for one in steel_lives(loads, CAR, hardware)]
    assert lives[0] == pytest.approx(1.5**5 * lives[1])
    assert FITTED.trim is not None
    assert life_of_size(loads, CAR, hardware, "trim")(FITTED.trim.bar) == pytest.approx(lives[1])


def test_life_of_standard_sizes_grows_with_the_diameter() -> None:
    loads = history("left interconnection bar", 500.0, 1000.0)
    car, hardware = replaced(CAR, ("right",), Side()), Hardware(interconnection=FITTED.interconnection)
    life = life_of_size(loads, car, hardware, "interconnection")
    sizes = bar_sizes(BAR, BarWish(rate=bar_rate(BAR), torque=1500.0), life, bores=(0.0,)).found
    assert len(sizes) > 3
    for size in sizes:
        assert size.life == pytest.approx((size.part.diameter / 0.024) ** 15 * life(BAR))


def test_a_part_that_the_car_has_not_is_left_out_with_a_reason() -> None:
    plain = Vehicle()
    hardware = replaced(FITTED, ("rear_spring",), GasStrut())
    assert {part.place for part in fatigue_parts(plain, hardware)} == {"front_spring"}
    told = left_out(plain, hardware)
    assert [words.split(":")[0] for words in told] == [
        "Rear springs",
        "Interconnection bars",
        "Trim bars",
        "Front stabiliser bar",
    ]
    assert told[0] == "Rear springs: gas has no stress in metal."
    assert "apply" in told[1]
    assert isnan(life_of_size((), plain, hardware, "trim")(BAR))
    assert left_out(CAR, FITTED) == ()


def test_a_part_without_cycles_lives_for_ever() -> None:
    loads = history("left interconnection bar", 0.0, 10.0)
    still = tuple(RoadLoads(r.name, r.share, r.speed, "", 100.0, loads[1].passes) for r in loads)
    car, hardware = replaced(CAR, ("right",), Side()), Hardware(interconnection=FITTED.interconnection)
    assert life_of_size(still, car, hardware, "interconnection")(BAR) == inf
