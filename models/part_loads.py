"""What each part in steel carries: at design trim, in each load case, at the stops, and wound by the motor.

Loads are those of the elements of the ride model, static share included, from the unloaded part on:

- design: the car as described, at design trim.
- case 1, 2, ...: standing in a load case (:mod:`models.statics`).
- jounce, rebound: all wheels at the travel at which their bump (rebound) stop touches; the gap that is given
  counts also where no stop is fitted.
- roll: left wheels at their bump stop, right ones at their rebound stop; for stabiliser bars.
- wound, unwound: the car as described, standing with the trim bars wound to the motor's limit either way.
- wound jounce, unwound rebound: at the stops with the bars wound as far; for trim bars, the most they can
see.

A state in which the car does not stand is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import nan

import numpy as np
from numpy.typing import NDArray

from models.assembly import Mechanics, mechanics
from models.figure import Figure
from models.hardware import (
    PLACES,
    BarSpring,
    CoilSpring,
    GasStrut,
    Hardware,
    InterconnectionBar,
    LevellerMotor,
    LoadState,
    Place,
    SpringPart,
    StabiliserBar,
    TrimBar,
    bar_figures,
    clocking_figures,
    coil_figures,
    gas_figures,
    leaf_figures,
    lever_ratio,
    motor_figures,
    stabiliser_beam,
    stabiliser_figures,
)
from models.hardware.torsion_bar import bar_rate
from models.ride.levelling_car import why_not_fitted, wound
from models.statics import statics
from models.vehicle import LoadCase, Vehicle

__all__ = [
    "PartLoads",
    "design_loads",
    "loads_of",
    "part_figures",
    "part_loads",
    "place_of",
    "rise_per_wind_up",
    "roll_travel",
    "worst",
]

Array = NDArray[np.float64]

# Ending of an element's name -> place of its part.
_PLACES = {
    "left spring": "spring",
    "right spring": "spring",
    "stabiliser bar": "stabiliser",
    "interconnection bar": "interconnection",
    "trim spring": "trim",
}


@dataclass(frozen=True, slots=True)
class PartLoads:
    """Loads of one part.

    Attributes:
        element: name of the element in the ride model ("front left spring").
        place: of the hardware: "front_spring", "rear_spring", "interconnection", "trim", "front_stabiliser",
            "rear_stabiliser".
        kind: "force", N at the spring, or "torque", N·m in the bar.
        states: see the head of this module.
    """

    element: str
    place: str
    kind: str
    states: tuple[LoadState, ...]


def part_loads(vehicle: Vehicle, cases: Sequence[LoadCase] = ()) -> tuple[PartLoads, ...]:
    """Loads of all springs and bars that have a rate, left and right.

    Args:
        vehicle: the car.
        cases: load cases beside the car as described.
    """
    car = mechanics(vehicle)
    common = [("design", "design trim", _at(car, np.zeros(4)))]
    common += _cases(vehicle, cases)
    bump, rebound = _gaps(vehicle, "bump_stop"), -_gaps(vehicle, "rebound_stop")
    roll = np.where([True, False, True, False], bump, rebound)
    ends = [("jounce", "jounce (bump stops touch)", _at(car, bump))]
    ends += [("rebound", "rebound (rebound stops touch)", _at(car, rebound))]
    by_place = {
        "stabiliser": [("roll", "roll (bump stop left, rebound stop right)", _at(car, roll))],
        "trim": _wound_at_stops(vehicle, car, bump, rebound),
    }
    everywhere = common + ends + _wound(vehicle, car)
    found = []
    for row, element in enumerate(car.elements):
        place = place_of(element.name)
        if not place or element.stiffness(0.0) == 0:
            continue
        states = everywhere + by_place.get(place.split("_")[-1], [])
        found.append(
            PartLoads(
                element=element.name,
                place=place,
                kind="force" if place.endswith("spring") else "torque",
                states=tuple(LoadState(key, name, _load(force[row])) for key, name, force in states),
            )
        )
    return tuple(found)


def worst(loads: Iterable[PartLoads], place: str) -> tuple[LoadState, ...]:
    """States of a place, each with the load of the side that carries more; empty where nothing is fitted."""
    sides = [part.states for part in loads if part.place == place]
    return tuple(max(both, key=lambda state: abs(state.load)) for both in zip(*sides, strict=True))


def design_loads(vehicle: Vehicle, parts: Iterable[PartLoads] | None = None) -> dict[str, float]:
    """Loads at design trim by place, as :func:`models.hardware.changes` takes them.

    The mean of both sides, of springs as force at the wheel, N; of trim bars the torque of both together,
    N·m.

    Args:
        vehicle: the car.
        parts: its :func:`part_loads` where they are known.
    """
    loads: dict[str, list[float]] = {}
    for part in part_loads(vehicle) if parts is None else parts:
        loads.setdefault(part.place, []).append(part.states[0].load)
    result = {place: sum(both) / len(both) for place, both in loads.items()}
    for place, axle in (("front_spring", vehicle.front), ("rear_spring", vehicle.rear)):
        if place in result:
            result[place] *= axle.spring.motion_ratio
    if "trim" in result:
        result["trim"] = sum(loads["trim"])
    return result


def part_figures(
    vehicle: Vehicle,
    hardware: Hardware,
    cases: Sequence[LoadCase] = (),
    parts: Sequence[PartLoads] | None = None,
) -> dict[str, tuple[Figure, ...]]:
    """Figures of each part that is described, by place; "clocking ..." and "motor" follow their bars.

    A part that the car does not have carries nothing that is known: what asks for its load is NaN, and it has
    no clocking.

    Args:
        vehicle: the car.
        hardware: its parts.
        cases: load cases beside the car as described.
        parts: the :func:`part_loads` of car and cases where they are known.
    """
    loads = part_loads(vehicle, cases) if parts is None else parts
    figures: dict[str, tuple[Figure, ...]] = {}
    for place in PLACES:
        part = getattr(hardware, place)
        states = loads_of(vehicle, part, place, loads)
        if isinstance(part, StabiliserBar):
            figures[place] = _stabiliser(vehicle, place, part)
        elif part is not None:
            figures[place] = _figures(part, states)
        if states and isinstance(part, BarSpring | InterconnectionBar | TrimBar):
            figures[f"clocking {place}"] = _clocking(vehicle, place, part, states)
    if hardware.trim is not None and hardware.trim.motor is not None:
        figures["motor"] = _motor(vehicle, hardware.trim, hardware.trim.motor, loads)
    return figures


def loads_of(
    vehicle: Vehicle, part: object, place: Place, loads: Iterable[PartLoads]
) -> tuple[LoadState, ...]:
    """Loads of the worse side as a part itself sees them: of a corner bar the torque, N·m.

    Args:
        vehicle: the car.
        part: what is, or would be, at the place.
        place: where it is.
        loads: those of the car.
    """
    states = worst(loads, place)
    if not isinstance(part, BarSpring):
        return states
    # The element's force at the spring is told at the wheel, and from there in the bar.
    motion = (vehicle.front if place == "front_spring" else vehicle.rear).spring.motion_ratio
    ratio = lever_ratio(part.lever) / motion
    return tuple(LoadState(state.key, state.name, state.load / ratio) for state in states)


def place_of(element: str) -> str:
    """Place of the part behind an element of the ride model; empty for one that is no spring or bar."""
    for ending, place in _PLACES.items():
        if element.endswith(ending):
            return f"{element.split()[0]}_{place}" if place in ("spring", "stabiliser") else place
    return ""


def rise_per_wind_up(vehicle: Vehicle, place: Place, per_angle: float) -> tuple[float, float]:
    """How far the body rises over the front and the rear axle as the bars of a place are wound, m/rad.

    Both sides alike, the car standing under its weight on all its springs; NaN where it does not stand.

    Args:
        vehicle: the car.
        place: of the bars.
        per_angle: load of their element per wind-up, N·m/rad, or N/rad of a corner spring.
    """
    car = mechanics(vehicle)
    step = 1e-3

    def stand(angle: float) -> Array:
        elements = tuple(
            replace(e, preload=e.preload + per_angle * angle) if place_of(e.name) == place else e
            for e in car.elements
        )
        found = statics(replace(car, elements=elements))
        return found.trim if found.stable else np.full(4, np.nan)

    rise = (stand(step) - stand(-step)) / (2 * step)
    return float(rise[:2].mean()), float(rise[2:].mean())


def roll_travel(vehicle: Vehicle, place: Place) -> float:
    """Travel of each wheel, one up, the other down, between bump and rebound stop, m.

    Args:
        vehicle: the car.
        place: "front_stabiliser" or "rear_stabiliser".
    """
    axle = vehicle.front if place == "front_stabiliser" else vehicle.rear
    return (axle.bump_stop.gap + axle.rebound_stop.gap) / 2


State = tuple[str, str, Array]


def _load(force: float) -> float:
    """The force without what rounding leaves of none (found: up to 1e-13 N)."""
    return 0.0 if abs(force) < 1e-9 else float(force)


def _at(car: Mechanics, travel: Array) -> Array:
    """(elements,) forces with the wheels at these travels, the cushion as at design trim."""
    x = np.zeros(car.deflections.shape[0])
    x[:4] = travel
    deflection = car.moved(x).deflection.tolist()
    return np.array([element.force(d) for element, d in zip(car.elements, deflection, strict=True)])


def _gaps(vehicle: Vehicle, stop: str) -> Array:
    """(4,) travels at which the stops touch, m."""
    front, rear = getattr(vehicle.front, stop).gap, getattr(vehicle.rear, stop).gap
    return np.array([front, front, rear, rear])


def _cases(vehicle: Vehicle, cases: Sequence[LoadCase]) -> list[State]:
    stands = [(number, case, statics(mechanics(vehicle, case))) for number, case in enumerate(cases, 1)]
    return [(f"case {number}", case.name, stand.force) for number, case, stand in stands if stand.stable]


def _wound(vehicle: Vehicle, car: Mechanics) -> list[State]:
    if why_not_fitted(vehicle):
        return []
    limit = vehicle.levelling.limit
    found = [
        ("wound", "wound to the limit", statics(wound(car, limit))),
        ("unwound", "unwound to the limit", statics(wound(car, -limit))),
    ]
    return [(key, name, stand.force) for key, name, stand in found if stand.stable]


def _wound_at_stops(vehicle: Vehicle, car: Mechanics, bump: Array, rebound: Array) -> list[State]:
    if why_not_fitted(vehicle):
        return []
    limit = vehicle.levelling.limit
    return [
        ("wound jounce", "jounce, wound to the limit", _at(wound(car, limit), bump)),
        ("unwound rebound", "rebound, unwound to the limit", _at(wound(car, -limit), rebound)),
    ]


def _figures(
    part: SpringPart | InterconnectionBar | TrimBar, states: Sequence[LoadState]
) -> tuple[Figure, ...]:
    match part:
        case CoilSpring():
            return coil_figures(part, states)
        case GasStrut():
            return gas_figures(part, states)
        case BarSpring() | InterconnectionBar() | TrimBar():
            return bar_figures(part.bar, states)
        case _:
            return leaf_figures(part, states)


def _stabiliser(vehicle: Vehicle, place: Place, part: StabiliserBar) -> tuple[Figure, ...]:
    axle = vehicle.front if place == "front_stabiliser" else vehicle.rear
    return stabiliser_figures(stabiliser_beam(part), axle.track, roll_travel(vehicle, place))


def _clocking(
    vehicle: Vehicle,
    place: Place,
    part: BarSpring | InterconnectionBar | TrimBar,
    states: Sequence[LoadState],
) -> tuple[Figure, ...]:
    design = next((state.load for state in states if state.key == "design"), 0.0)
    rate, bar = bar_rate(part.bar), part.bar
    per_angle = rate
    if isinstance(part, BarSpring):
        axle = vehicle.front if place == "front_spring" else vehicle.rear
        per_angle = rate * lever_ratio(part.lever) / axle.spring.motion_ratio
    rise = rise_per_wind_up(vehicle, place, per_angle)
    return clocking_figures(bar.front_teeth, bar.rear_teeth, design / rate, rise)


def _motor(
    vehicle: Vehicle, part: TrimBar, motor: LevellerMotor, loads: Sequence[PartLoads]
) -> tuple[Figure, ...]:
    """Figures of the motor: winding against both bars while the wheels stay where they are."""
    bars = [loaded.states[0].load for loaded in loads if loaded.place == "trim"]
    limit = vehicle.levelling.limit
    if not bars:
        return motor_figures(motor, nan, nan)
    return motor_figures(motor, sum(bars), sum(bars) + len(bars) * bar_rate(part.bar) * limit, limit)
