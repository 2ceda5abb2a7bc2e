"""From sizes to the car: the rates and lever ratios that the steel gives, and where the car has others.

A :class:`Change` is an ordinary edit of the vehicle: path and value.  Nothing is changed but what the steel
decides: of a corner the spring, of a bar its rate and its levers, of the leveller what motor and gear decide.
Where a bar of the car has a linkage, that decides the turn of its end, and the lever of the steel does not.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import nan, tan
from typing import Literal, get_args

from models.fields import Path, follow, replaced
from models.hardware.coil import CoilSpring, coil_rate
from models.hardware.gas_spring import GasStrut
from models.hardware.hardware import BarSpring, Hardware, InterconnectionBar, SpringPart, TrimBar
from models.hardware.leaf import leaf_rate
from models.hardware.lever import LeverArm, lever_ratio
from models.hardware.motor import LevellerMotor, torque_per_current, winding_speed
from models.hardware.stabiliser_bar import StabiliserBar
from models.hardware.stabiliser_beam import stabiliser_beam
from models.hardware.torsion_bar import bar_rate
from models.vehicle import (
    CornerSpring,
    GasSpring,
    ProgressiveSpring,
    Spring,
    Stabiliser,
    TabulatedSpring,
    TorsionCoupling,
    Vehicle,
)

__all__ = ["PLACES", "Change", "Place", "apply", "apply_all", "changes", "mismatch"]

Place = Literal[
    "front_spring", "rear_spring", "interconnection", "trim", "front_stabiliser", "rear_stabiliser"
]

#: Places of the hardware whose parts decide something of the car.
PLACES: tuple[Place, ...] = get_args(Place)

_NO_LOADS: Mapping[str, float] = {}


@dataclass(frozen=True, slots=True)
class Change:
    """One value of the car that a part in steel decides.

    Attributes:
        place: of the hardware.
        label: what it is, in words.
        path: in the vehicle.
        value: what to put there.
        steel: the number it stands for, SI.
        car: the same number of the car as it is; NaN where the car has a part of another kind there.
        kind: key in :data:`models.units.KINDS`.
    """

    place: Place
    label: str
    path: Path
    value: object
    steel: float
    car: float
    kind: str

    @property
    def difference(self) -> float:
        """Of the steel from the car, as a share of the car's; NaN where they do not compare."""
        if self.steel == self.car:
            return 0.0
        return (self.steel - self.car) / abs(self.car) if self.car else nan


def changes(
    vehicle: Vehicle, hardware: Hardware, place: Place, loads: Mapping[str, float] = _NO_LOADS
) -> tuple[Change, ...]:
    """What the part at a place makes of the car; empty where none is described.

    Args:
        vehicle: the car as it is.
        hardware: its parts.
        place: one of :data:`PLACES`.
        loads: loads at design trim by place (:func:`models.part_loads.design_loads`): the force at the wheel
            of a corner bar whose lever is not level, N, adds F β tan φ to its rate; the torque on the trim
            bars, N·m of both together, slows the motor.  Without them both count as 0.
    """
    part = getattr(hardware, place)
    load = loads.get(place, 0.0)
    match part:
        case None:
            return ()
        case InterconnectionBar():
            return tuple(_interconnection(vehicle, part))
        case TrimBar():
            return tuple(_trim(vehicle, part, load))
        case StabiliserBar():
            return tuple(_stabiliser(vehicle, place, part))
        case _:
            return tuple(_corner(vehicle, place, part, load))


def apply(
    vehicle: Vehicle, hardware: Hardware, place: Place, loads: Mapping[str, float] = _NO_LOADS
) -> Vehicle:
    """Car with the values that the part at a place decides; arguments as of :func:`changes`.

    Raises:
        InputError: a value is outside what the car allows.
    """
    for change in changes(vehicle, hardware, place, loads):
        vehicle = replaced(vehicle, change.path, change.value)
    return vehicle


def apply_all(vehicle: Vehicle, hardware: Hardware, loads: Mapping[str, float] = _NO_LOADS) -> Vehicle:
    """Car with the values of all parts that are described."""
    for place in PLACES:
        vehicle = apply(vehicle, hardware, place, loads)
    return vehicle


def mismatch(
    vehicle: Vehicle, hardware: Hardware, tolerance: float = 0.01, loads: Mapping[str, float] = _NO_LOADS
) -> tuple[Change, ...]:
    """Values of the car that differ from the steel by more than a share, or that the car cannot compare."""
    every = (change for place in PLACES for change in changes(vehicle, hardware, place, loads))
    return tuple(change for change in every if not abs(change.difference) <= tolerance)


def _corner(vehicle: Vehicle, place: Place, part: SpringPart, load: float) -> Iterator[Change]:
    axle = "front" if place == "front_spring" else "rear"
    path: Path = (axle, "spring")
    car: CornerSpring = follow(vehicle, path)
    if isinstance(part, GasStrut):
        yield from _gas(place, path, car, part)
        return
    # A lever at the wheel: its rate is told there.
    ratio = 1.0 if isinstance(part, BarSpring) else car.motion_ratio
    rate = _spring_rate(part, load)
    label = f"{axle.capitalize()} spring rate"
    if not isinstance(car, Spring | ProgressiveSpring):
        # A measured curve or a gas gives way to what the steel is.
        made = Spring(rate=rate, motion_ratio=ratio)
        yield Change(place, label, path, made, rate, _present_rate(car), "rate")
        return
    yield Change(place, label, (*path, "rate"), rate, rate, car.rate, "rate")
    if ratio != car.motion_ratio:
        label = f"{axle.capitalize()} motion ratio"
        yield Change(place, label, (*path, "motion_ratio"), ratio, ratio, car.motion_ratio, "ratio")


def _spring_rate(part: SpringPart, load: float) -> float:
    """Rate of a metal spring at the spring, of a bar at the wheel, N/m."""
    match part:
        case CoilSpring():
            return coil_rate(part)
        case BarSpring():
            beta = lever_ratio(part.lever)
            # Torque T = F / β turns with the lever: T β² tan φ, as models.levers has it.
            return bar_rate(part.bar) * beta**2 + load * beta * tan(part.lever.angle)
        case GasStrut():
            return nan
        case _:
            return leaf_rate(part)


def _present_rate(car: CornerSpring) -> float:
    """Rate of a measured spring at design trim, as models.laws has it; NaN for gas."""
    if not isinstance(car, TabulatedSpring):
        return nan
    places = [point.deflection for point in car.points]
    slopes = [(b.force - a.force) / (b.deflection - a.deflection) for a, b in pairwise(car.points)]
    sides = (bisect_left(places, 0.0) - 1, bisect_right(places, 0.0) - 1)
    left, right = (min(max(side, 0), len(slopes) - 1) for side in sides)
    return (slopes[left] + slopes[right]) / 2


def _gas(place: Place, path: Path, car: CornerSpring, part: GasStrut) -> Iterator[Change]:
    name = "Front" if place == "front_spring" else "Rear"
    if not isinstance(car, GasSpring):
        made = GasSpring(
            area=part.area, volume=part.volume, exponent=part.exponent, motion_ratio=car.motion_ratio
        )
        yield Change(place, f"{name} gas spring", path, made, part.area, nan, "area")
        return
    for field, words, kind in (
        ("area", "effective area", "area"),
        ("volume", "gas volume", "volume"),
        ("exponent", "polytropic exponent", "ratio"),
    ):
        value = getattr(part, field)
        yield Change(place, f"{name} {words}", (*path, field), value, value, getattr(car, field), kind)


def _sides(vehicle: Vehicle) -> tuple[str, ...]:
    return ("left",) if vehicle.right is None else ("left", "right")


def _interconnection(vehicle: Vehicle, part: InterconnectionBar) -> Iterator[Change]:
    rate = bar_rate(part.bar)
    for side in _sides(vehicle):
        path: Path = (side, "coupling")
        car = follow(vehicle, path)
        where = "Interconnection" if vehicle.right is None else f"{side.capitalize()} interconnection"
        if not isinstance(car, TorsionCoupling):
            made = TorsionCoupling(
                bar_rate=rate,
                front_lever_ratio=lever_ratio(part.front_lever),
                front_lever_angle=part.front_lever.angle,
                rear_lever_ratio=lever_ratio(part.rear_lever),
                rear_lever_angle=part.rear_lever.angle,
            )
            yield Change("interconnection", f"{where} bar", path, made, rate, nan, "torsional rate")
            continue
        yield Change(
            "interconnection",
            f"{where} bar rate",
            (*path, "bar_rate"),
            rate,
            rate,
            car.bar_rate,
            "torsional rate",
        )
        for end, lever in (("front", part.front_lever), ("rear", part.rear_lever)):
            yield from _lever("interconnection", f"{where} {end}", path, f"{end}_", car, lever)


def _trim(vehicle: Vehicle, part: TrimBar, load: float) -> Iterator[Change]:
    rate = bar_rate(part.bar)
    for side in _sides(vehicle):
        path: Path = (side, "trim")
        car = follow(vehicle, path)
        where = "Trim" if vehicle.right is None else f"{side.capitalize()} trim"
        yield Change(
            "trim", f"{where} bar rate", (*path, "bar_rate"), rate, rate, car.bar_rate, "torsional rate"
        )
        yield from _lever("trim", where, path, "", car, part.lever)
    if part.motor is not None:
        yield from _motor(vehicle, part.motor, load)


def _stabiliser(vehicle: Vehicle, place: Place, part: StabiliserBar) -> Iterator[Change]:
    axle, beam = place.split("_")[0], stabiliser_beam(part)
    path: Path = (axle, "stabiliser")
    car: Stabiliser = follow(vehicle, path)
    where = f"{axle.capitalize()} stabiliser"
    rate = beam.bar_rate
    yield Change(place, f"{where} bar rate", (*path, "bar_rate"), rate, rate, car.bar_rate, "torsional rate")
    if car.linkage is None:
        ratio = beam.lever_ratio
        label = f"{where} lever ratio"
        yield Change(place, label, (*path, "lever_ratio"), ratio, ratio, car.lever_ratio, "lever ratio")


def _lever(
    place: Place, where: str, path: Path, prefix: str, car: object, lever: LeverArm
) -> Iterator[Change]:
    if getattr(car, f"{prefix}linkage") is not None:
        return
    ratio, angle = f"{prefix}lever_ratio", f"{prefix}lever_angle"
    steel = lever_ratio(lever)
    yield Change(
        place, f"{where} lever ratio", (*path, ratio), steel, steel, getattr(car, ratio), "lever ratio"
    )
    yield Change(
        place, f"{where} lever angle", (*path, angle), lever.angle, lever.angle, getattr(car, angle), "angle"
    )


def _motor(vehicle: Vehicle, motor: LevellerMotor, load: float) -> Iterator[Change]:
    car = vehicle.levelling
    for field, words, value, kind in (
        ("speed", "Winding speed", winding_speed(motor, load), "angular velocity"),
        ("torque_per_current", "Torque per current", torque_per_current(motor), "torque per current"),
        ("idle_current", "Idle current", motor.idle_current, "current"),
        ("voltage", "Supply voltage", motor.voltage, "voltage"),
    ):
        yield Change("trim", words, ("levelling", field), value, value, getattr(car, field), kind)
