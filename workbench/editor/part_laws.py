"""Which laws a part of a vehicle has, what each depends on, and whether the part is fitted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from models.charts import Chart
from models.charts.bar_laws import diagonal_chart, stabiliser_chart, trim_chart
from models.charts.cushion_laws import cushion_damping_chart, cushion_force_chart
from models.charts.law_source import LawSource
from models.charts.laws import damping_chart, interconnection_chart, restriction_chart, wheel_force_chart
from models.charts.tyre_laws import tyre_damping_chart, tyre_force_chart
from models.fields import Part, Path
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    Damper,
    DiagonalCoupling,
    FluidCoupling,
    Friction,
    GasSpring,
    LoadCase,
    Occupant,
    Side,
    Spring,
    Stabiliser,
    Stop,
    TorsionCoupling,
    TrimSpring,
    Tyre,
    Vehicle,
)

__all__ = ["PartLaw", "part_laws"]

AxleName = Literal["front", "rear"]
SideName = Literal["left", "right"]
Depends = Callable[[Vehicle, LoadCase], tuple[object, ...]]


@dataclass(frozen=True)
class PartLaw:
    """A law that is drawn under the rows of a part.

    Attributes:
        draw: chart of the candidate, the baseline (None where it is the same) and the load case.
        depends: the parts of a vehicle on which the chart depends, also through its static loads.
        is_fitted: whether the part has an effect that this law shows.
    """

    draw: Callable[[LawSource, LawSource | None, LoadCase], Chart]
    depends: Depends
    is_fitted: Callable[[Any], bool] = lambda part: True


def part_laws(path: Path, part_types: tuple[type[Part], ...]) -> tuple[PartLaw, ...]:
    """Laws of the part at ``path`` of a vehicle, which is of one of some types; none if it has no law."""
    match path:
        case ("front" | "rear" as axle, *_, last):
            return _axle_laws(axle, str(last), part_types)
        case ("left" | "right" as side, _):
            return _side_laws(side, part_types)
        case _ if DiagonalCoupling in part_types:
            return (PartLaw(diagonal_chart, _with_load(lambda car: (car.diagonal,)), _has_bar),)
        case _ if Occupant in part_types:
            return _CUSHION
    return ()


def _axle_laws(axle: AxleName, name: str, part_types: tuple[type[Part], ...]) -> tuple[PartLaw, ...]:
    def owner(vehicle: Vehicle) -> Axle:
        return vehicle.front if axle == "front" else vehicle.rear

    if Spring in part_types:
        return (
            PartLaw(lambda new, old, load: wheel_force_chart(axle, new, old, load), _spring_depends(owner)),
        )
    if Stop in part_types:
        part: Literal["jounce", "rebound"] = "jounce" if name == "bump_stop" else "rebound"
        return (
            PartLaw(
                lambda new, old, load: wheel_force_chart(axle, new, old, load, part),
                _spring_depends(owner),
                lambda stop: stop.rate > 0 or stop.growth > 0,
            ),
        )
    if Damper in part_types:
        return (PartLaw(lambda new, old, _load: damping_chart(axle, new, old), _damper_depends(owner)),)
    if Friction in part_types:
        return (
            PartLaw(
                lambda new, old, _load: damping_chart(axle, new, old, True),
                _damper_depends(owner),
                lambda friction: friction.force > 0,
            ),
        )
    if Stabiliser in part_types:
        return (
            PartLaw(
                lambda new, old, load: stabiliser_chart(axle, new, old, load),
                _with_load(lambda car: (owner(car).stabiliser,)),
                _has_bar,
            ),
        )
    if Tyre in part_types:
        return (
            PartLaw(lambda new, old, load: tyre_force_chart(axle, new, old, load), _on_whole_car),
            PartLaw(
                lambda new, old, _load: tyre_damping_chart(axle, new, old),
                lambda car, load: (owner(car).tyre,),
                lambda tyre: tyre.damping > 0,
            ),
        )
    return ()


def _side_laws(side: SideName, part_types: tuple[type[Part], ...]) -> tuple[PartLaw, ...]:
    def owner(vehicle: Vehicle) -> Side:
        return vehicle.sides[0 if side == "left" else 1]

    if TorsionCoupling in part_types:
        return (
            PartLaw(
                lambda new, old, _load: interconnection_chart(side, new, old),
                _on_whole_car,
                lambda coupling: not isinstance(coupling, TorsionCoupling) or coupling.bar_rate > 0,
            ),
            PartLaw(
                lambda new, old, _load: restriction_chart(side, new, old),
                lambda car, load: (owner(car).coupling,),
                lambda coupling: isinstance(coupling, FluidCoupling) and coupling.resistance > 0,
            ),
        )
    if TrimSpring in part_types:
        return (
            PartLaw(
                lambda new, old, load: trim_chart(side, new, old, load),
                _on_whole_car,
                _has_bar,
            ),
        )
    return ()


_CUSHION = (
    PartLaw(
        lambda new, old, _load: cushion_force_chart(new, old),
        lambda car, load: (car.seat.occupant,),
        lambda occupant: occupant.mass > 0,
    ),
    PartLaw(
        lambda new, old, _load: cushion_damping_chart(new, old),
        lambda car, load: (car.seat.occupant,),
        lambda occupant: occupant.mass > 0 and occupant.cushion_damping > 0,
    ),
)


def _has_bar(part: Stabiliser | DiagonalCoupling | TrimSpring) -> bool:
    return part.bar_rate > 0


def _on_whole_car(vehicle: Vehicle, _load: LoadCase) -> tuple[object, ...]:
    """What a law depends on that shows a static load: through levers, gas or a mark."""
    return (vehicle,)


def _with_load(parts: Callable[[Vehicle], tuple[object, ...]]) -> Depends:
    """A law whose static load is marked: with a load case it depends on all of the car."""
    return lambda car, load: parts(car) if load is AS_DESIGNED else (car,)


def _spring_depends(owner: Callable[[Vehicle], Axle]) -> Depends:
    def parts(vehicle: Vehicle) -> tuple[object, ...]:
        axle = owner(vehicle)
        if isinstance(axle.spring, GasSpring):  # its law depends on what it carries
            return (vehicle,)
        return axle.spring, axle.bump_stop, axle.rebound_stop

    return _with_load(parts)


def _damper_depends(owner: Callable[[Vehicle], Axle]) -> Depends:
    return lambda car, load: (owner(car).damper, owner(car).friction)
