"""Charts of the bars that work in roll, in warp and at one wheel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from models.charts.chart import Array, Axis, Chart, Mark, Place
from models.charts.law_source import (
    NAMES,
    AxleName,
    LawSource,
    Names,
    SideName,
    curves_of,
    evenly,
    round_travel,
)
from models.vehicle import AS_DESIGNED, LoadCase
from models.wheel_forces import forces_at_wheels

__all__ = ["diagonal_chart", "stabiliser_chart", "trim_chart"]

_FORCE = Axis("Wheel force change", "force")
_LEFT_FORCE = Axis("Left wheel force change", "force")
_TRAVEL = Axis("Wheel travel", "travel", sign="jounce +")
_OPPOSED = Axis("Opposed travel", "travel", sign="left jounce +")
_WARP = Axis("Warp travel", "travel", sign="FL, RR jounce +")
_CORNER = {("front", "left"): 0, ("front", "right"): 1, ("rear", "left"): 2, ("rear", "right"): 3}


@dataclass(frozen=True)
class _Bar:
    """A bar to be drawn: its element, how its wheels move together, and the wheels whose force is shown."""

    key: str
    title: str
    element: str
    motion: tuple[float, float, float, float]
    wheels: tuple[int, ...]
    places: tuple[tuple[str, Place], ...] = (("", "body"),)


def stabiliser_chart(
    axle: AxleName,
    candidate: LawSource,
    baseline: LawSource | None = None,
    load: LoadCase = AS_DESIGNED,
    names: Names = NAMES,
) -> Chart:
    """Force of the bar at the left wheel while the wheels of the axle move opposed, each by x."""
    is_front = axle == "front"
    bar = _Bar(
        f"law-{axle}-stabiliser",
        f"{axle.capitalize()} stabiliser bar",
        f"{axle} stabiliser bar",
        (1.0, -1.0, 0.0, 0.0) if is_front else (0.0, 0.0, 1.0, -1.0),
        (0 if is_front else 2,),
    )
    return _bar_chart(bar, _OPPOSED, _LEFT_FORCE, (candidate, baseline), load, names)


def diagonal_chart(
    candidate: LawSource,
    baseline: LawSource | None = None,
    load: LoadCase = AS_DESIGNED,
    names: Names = NAMES,
) -> Chart:
    """Force of the diagonal coupling at FL and RR while these go up by x, and FR and RL down by it."""
    bar = _Bar(
        "law-diagonal",
        "Diagonal coupling",
        "diagonal coupling",
        (1.0, -1.0, -1.0, 1.0),
        (0, 3),
        (("FL", "front"), ("RR", "rear")),
    )
    return _bar_chart(bar, _WARP, _FORCE, (candidate, baseline), load, names)


def trim_chart(
    side: SideName,
    candidate: LawSource,
    baseline: LawSource | None = None,
    load: LoadCase = AS_DESIGNED,
    names: Names = NAMES,
) -> Chart:
    """Change of the force of the trim spring at the wheel it holds; a motor that winds it stands still."""
    left, right = candidate.vehicle.sides
    wheel = _CORNER[(left if side == "left" else right).trim.axle, side]
    fl, fr, rl, rr = (float(wheel == corner) for corner in range(4))
    name = f"{side} trim spring"
    bar = _Bar(f"law-{side}-trim", name.capitalize(), name, (fl, fr, rl, rr), (wheel,))
    return _bar_chart(bar, _TRAVEL, _FORCE, (candidate, baseline), load, names)


def _bar_chart(
    bar: _Bar,
    x_axis: Axis,
    y_axis: Axis,
    cars: tuple[LawSource, LawSource | None],
    load: LoadCase,
    names: Names,
) -> Chart:
    candidate, baseline = cars
    marks = _standing(candidate, np.array(bar.motion), load)
    end = round_travel(max((abs(mark.x) for mark in marks), default=0.0))
    x = evenly(-end, end)

    def force(source: LawSource) -> tuple[Array, ...]:
        elements = [element for element in source.car.elements if element.name == bar.element]
        forces = forces_at_wheels(elements, bar.motion, x)
        return tuple(forces[wheel] for wheel in bar.wheels)

    curves = curves_of(force, candidate, baseline, x, names, bar.places)
    return Chart(bar.key, bar.title, x_axis, y_axis, curves, marks)


def _standing(source: LawSource, motion: Array, load: LoadCase) -> tuple[Mark, ...]:
    """Where the car stands with a load, as a share of ``motion``; the car as designed has no mark."""
    stand = source.stand(load) if load != AS_DESIGNED else None
    if stand is None:
        return ()
    return (Mark(float(motion @ stand.travel / (motion @ motion)), load.name),)
