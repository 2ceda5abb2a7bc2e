"""What is wanted of a size: the forms of the page, how they start, and the search; knows no screen."""

from __future__ import annotations

from collections.abc import Callable
from math import isfinite
from typing import Annotated, Any

from models.fields import Part, Quantity
from models.hardware import (
    BarSpring,
    BarWish,
    CoilSpring,
    CoilWish,
    InterconnectionBar,
    Size,
    Sizes,
    StabiliserBar,
    TorsionBar,
    TrimBar,
    allowed_stress,
    bar_sizes,
    coil_sizes,
    lever_ratio,
)
from models.hardware.coil import coil_rate
from models.hardware.stabiliser_sizing import StabiliserWish, stabiliser_sizes
from models.hardware.torsion_bar import bar_length, bar_rate
from models.judge.part_report import PartReport
from models.part_loads import roll_travel
from models.vehicle import Vehicle

__all__ = [
    "AskBar",
    "AskCoil",
    "AskStabiliser",
    "Life",
    "Wish",
    "first_wish",
    "search",
    "sized_part",
    "with_size",
]

#: Life of a size: a torsion bar, or the whole part.
Life = Callable[[Any], float]

_Stress = Annotated[
    float,
    Quantity(
        "stress",
        "Allowed stress",
        "Greatest stress at the greatest load; at first that of the material.",
        low=1e6,
        high=5e9,
        typical=(300e6, 1300e6),
    ),
]


class AskBar(Part):
    """What a torsion bar has to do."""

    rate: Annotated[
        float,
        Quantity(
            "torsional rate",
            "Wanted rate",
            "Torque per twist of the bar; at first what the car has.",
            low=0.1,
            high=1e6,
            typical=(100.0, 3000.0),
        ),
    ] = 1000.0
    torque: Annotated[
        float,
        Quantity(
            "torque",
            "Greatest torque",
            "In the bar; at first the greatest of all states of the car.",
            low=0.0,
            high=1e6,
            typical=(100.0, 4000.0),
        ),
    ] = 1000.0
    stress: _Stress = 1000e6
    length: Annotated[
        float,
        Quantity(
            "dimension",
            "Available length",
            "For the bar with its heads; at first that of the present bar.",
            low=0.01,
            high=20.0,
            typical=(0.4, 3.0),
        ),
    ] = 2.0


class AskCoil(Part):
    """What a coil spring has to do."""

    rate: Annotated[
        float,
        Quantity(
            "rate",
            "Wanted rate",
            "Of the spring itself; at first what the car has.",
            low=10.0,
            high=1e8,
            typical=(5e3, 80e3),
        ),
    ] = 25e3
    design_force: Annotated[
        float,
        Quantity(
            "force",
            "Force at design trim",
            "At first that of the car.",
            low=0.0,
            high=1e7,
            typical=(500.0, 8e3),
        ),
    ] = 4e3
    greatest_force: Annotated[
        float,
        Quantity(
            "force",
            "Greatest force",
            "At first the greatest of all states of the car.",
            low=0.0,
            high=1e7,
            typical=(1e3, 15e3),
        ),
    ] = 6e3
    stress: _Stress = 1000e6
    length: Annotated[
        float,
        Quantity(
            "dimension",
            "Length at design trim",
            "Between the seats; at first that of the present spring.",
            low=0.01,
            high=5.0,
            typical=(0.1, 0.5),
        ),
    ] = 0.25
    outer_diameter: Annotated[
        float,
        Quantity(
            "dimension",
            "Available diameter",
            "Outside diameter of the coil; at first that of the present spring.",
            low=0.01,
            high=1.0,
            typical=(0.08, 0.2),
        ),
    ] = 0.15
    inner_diameter: Annotated[
        float,
        Quantity(
            "dimension",
            "Least inner diameter",
            "For what stands inside the coil; 0 = nothing.",
            low=0.0,
            high=0.9,
            typical=(0.0, 0.12),
        ),
    ] = 0.0


class AskStabiliser(Part):
    """What a stabiliser bar has to do on its centre line."""

    rate: Annotated[
        float,
        Quantity(
            "torsional rate",
            "Wanted rate",
            "Torque per twist between the lever ends; at first what the car has.",
            low=0.1,
            high=1e6,
            typical=(100.0, 3000.0),
        ),
    ] = 700.0
    tolerance: Annotated[
        float,
        Quantity(
            "share",
            "Rate within",
            "How far a standard section may be off the wanted rate.",
            low=0.001,
            high=1.0,
            typical=(0.02, 0.2),
        ),
    ] = 0.1
    travel: Annotated[
        float,
        Quantity(
            "travel",
            "Roll travel",
            "Of each wheel, one up, the other down, at which stress is looked at; at first that between the "
            "stops.",
            low=1e-4,
            high=1.0,
            typical=(0.03, 0.1),
        ),
    ] = 0.07
    stress: _Stress = 1000e6


Wish = AskBar | AskCoil | AskStabiliser


def sized_part(part: object) -> CoilSpring | TorsionBar | StabiliserBar | None:
    """What of a part comes in standard sizes; None where there are none."""
    match part:
        case BarSpring() | InterconnectionBar() | TrimBar():
            return part.bar
        case CoilSpring() | StabiliserBar():
            return part
    return None


def with_size(part: Part, size: Part) -> Part:
    """The part made in a size that was found."""
    return part.model_copy(update={"bar": size}) if isinstance(size, TorsionBar) else size


def first_wish(report: PartReport, vehicle: Vehicle) -> Wish | None:
    """What the car asks of its part; None where there are no sizes to be sought."""
    part = report.part
    greatest = max((abs(state.load) for state in report.loads), default=0.0)
    match part:
        case CoilSpring():
            design = next((state.load for state in report.loads if state.key == "design"), 0.0)
            return AskCoil(
                rate=_within(AskCoil, "rate", _car_rate(report, coil_rate(part))),
                design_force=max(design, 0.0),
                greatest_force=greatest,
                stress=allowed_stress(part),
                length=_within(AskCoil, "length", part.free_length - design / coil_rate(part)),
                outer_diameter=part.mean_diameter + part.wire_diameter,
            )
        case BarSpring() | InterconnectionBar() | TrimBar():
            return AskBar(
                rate=_within(AskBar, "rate", _rate_of_bar(report, part)),
                torque=greatest,
                stress=allowed_stress(part),
                length=bar_length(part.bar),
            )
        case StabiliserBar():
            return AskStabiliser(
                rate=_within(AskStabiliser, "rate", _car_rate(report, report.changes[0].steel)),
                travel=_within(AskStabiliser, "travel", roll_travel(vehicle, report.place)),
                stress=allowed_stress(part),
            )
    return None


def search(part: object, wish: Wish, life: Life | None = None) -> Sizes[Any]:
    """Standard sizes of a part that do what is wanted.

    Args:
        part: what is described at present.
        wish: as of :func:`first_wish` for this part.
        life: life of a size, m, where loads are known.
    """
    like = sized_part(part)
    match like, wish:
        case TorsionBar(), AskBar():
            return bar_sizes(
                like, BarWish(wish.rate, wish.torque, wish.length, stress_limit=wish.stress), life
            )
        case CoilSpring(), AskCoil():
            return coil_sizes(
                like,
                CoilWish(
                    wish.rate,
                    wish.design_force,
                    wish.greatest_force,
                    wish.length,
                    wish.outer_diameter,
                    wish.inner_diameter,
                    wish.stress,
                ),
                life,
            )
        case StabiliserBar(), AskStabiliser():
            return stabiliser_sizes(
                like, StabiliserWish(wish.rate, wish.tolerance, wish.travel, wish.stress), life
            )
    found: tuple[Size[Any], ...] = ()
    return Sizes(found, "no sizes are kept for such a part")


def _car_rate(report: PartReport, otherwise: float) -> float:
    """Rate of the car; that of the steel where the car has none or one of another kind."""
    car = report.changes[0].car
    return car if isfinite(car) and car > 0 else otherwise


def _rate_of_bar(report: PartReport, part: BarSpring | InterconnectionBar | TrimBar) -> float:
    own = bar_rate(part.bar)
    if not isinstance(part, BarSpring):
        return _car_rate(report, own)
    # At the wheel the rate grows by β² of the bar's; what the lever's lean adds stays.
    change = report.changes[0]
    wanted = own + (change.car - change.steel) / lever_ratio(part.lever) ** 2
    return wanted if isfinite(wanted) and wanted > 0 else own


def _within(part_type: type[Part], field: str, value: float) -> float:
    """The value, or the end of its allowed range that it is beyond."""
    quantity = next(note for note in part_type.model_fields[field].metadata if isinstance(note, Quantity))
    return min(max(value, quantity.low), quantity.high)
