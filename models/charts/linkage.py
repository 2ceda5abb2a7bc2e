"""Charts of a chain of rockers and links over the travel of its wheel."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite
from typing import NamedTuple

import numpy as np

from models.analysis import Analysis
from models.charts.chart import Array, Axis, Chart, Curve, Mark, Place, Role
from models.judge.linkage import FREE, BarLoad
from models.linkage import Chain, TravelTable, travel_table
from models.vehicle import AS_DESIGNED

__all__ = ["LINKAGE_CHARTS", "Linked", "Subject", "linkage_chart", "travel_marks"]

_TRAVEL = Axis("Wheel travel", "travel", sign="jounce +")
_FORCE_PER_TORQUE = Axis("Link force per torque", "force per torque", sign="compression +")
_FORCE = Axis("Link force", "force", sign="compression +")
#: Curves of one car: name, values and place, of which the line style follows.
_Lines = list[tuple[str, Array, Place]]
# A curve has every so many points of the table, both ends among them.
_EVERY = 2


@dataclass(frozen=True)
class Linked:
    """A chain and the bar that it turns; ``name`` is that of the variant."""

    name: str
    chain: Chain
    load: BarLoad = FREE

    @property
    def table(self) -> TravelTable:
        """The chain over its travel."""
        return travel_table(self.chain)


def travel_marks(analysis: Analysis, wheel: int, span: tuple[float, float]) -> tuple[Mark, ...]:
    """Stops that touch, and where the load case stands, within a span of wheel travel from design trim."""
    stand = analysis.stand
    bump = float(stand.jounce_left[wheel] + stand.travel[wheel])
    rebound = -float(stand.rebound_left[wheel] - stand.travel[wheel])
    found = [Mark(rebound, "rebound"), Mark(bump, "bump")]
    if analysis.load != AS_DESIGNED and stand.balanced:
        found.append(Mark(float(stand.travel[wheel]), analysis.load.name))
    return tuple(mark for mark in found if isfinite(mark.x) and span[0] <= mark.x <= span[1])


def linkage_chart(
    key: str, candidate: Linked, baseline: Linked | None = None, marks: tuple[Mark, ...] = ()
) -> Chart:
    """A chart of :data:`LINKAGE_CHARTS`.

    Args:
        key: of the chart.
        candidate, baseline: chains to draw; the baseline is left out where it is the same.
        marks: travels to mark.
    """
    subject = LINKAGE_CHARTS[key]
    shown: list[tuple[Linked, Role]] = [(candidate, "candidate")]
    if baseline is not None and (baseline.chain, baseline.load) != (candidate.chain, candidate.load):
        shown.insert(0, (baseline, "baseline"))
    curves = tuple(
        Curve(linked.name, label, linked.table.travel[::_EVERY], y[::_EVERY], role, place)
        for linked, role in shown
        for label, y, place in subject.lines(linked)
    )
    return Chart(f"linkage-{key}", subject.title, _TRAVEL, subject.axis(candidate), curves, marks)


def _angle(linked: Linked) -> _Lines:
    return [("", linked.table.angle, "body")]


def _ratio(linked: Linked) -> _Lines:
    return [("", linked.table.ratio, "body")]


def _slope(linked: Linked) -> _Lines:
    return [("", linked.table.slope, "body")]


def _wheel_rate(linked: Linked) -> _Lines:
    """With k g'² + T g'', and what of it comes of the torque and the curvature alone."""
    table, load = linked.table, linked.load
    curvature = load.over(table) * table.slope
    return [
        ("all", load.rate * np.square(table.ratio) + curvature, "front"),
        ("T·g″", curvature, "rear"),
    ]


def _link_force(linked: Linked) -> _Lines:
    table = linked.table
    torque = linked.load.over(table) if linked.load != FREE else np.ones_like(table.travel)
    return _in_order(table.links, table.link_force * torque)


def _link_force_axis(linked: Linked) -> Axis:
    return _FORCE_PER_TORQUE if linked.load == FREE else _FORCE


def _transmission(linked: Linked) -> _Lines:
    table = linked.table
    return _in_order(table.bodies[1:], np.arcsin(np.minimum(table.transmission[1:], 1.0)))


def _margin(linked: Linked) -> _Lines:
    return _in_order(linked.table.bodies, linked.table.margin)


def _in_order(names: tuple[str, ...], rows: Array) -> _Lines:
    """The last line, which is nearest to the bar, solid and those before it dashed."""
    last = len(names) - 1
    return [
        (name, row, "front" if number == last else "rear")
        for number, (name, row) in enumerate(zip(names, rows, strict=True))
    ]


def _always(axis: Axis) -> Callable[[Linked], Axis]:
    return lambda _linked: axis


class Subject(NamedTuple):
    """What a chart is about.

    Attributes:
        title: of the chart.
        meaning: words and formula.
        axis: of the values.
        lines: curves of one car; none where a lever without links has no such values.
    """

    title: str
    meaning: str
    axis: Callable[[Linked], Axis]
    lines: Callable[[Linked], _Lines]


#: By key.
LINKAGE_CHARTS: dict[str, Subject] = {
    "angle": Subject(
        "Bar angle",
        "Turn g of the bar end from design trim.",
        _always(Axis("Bar angle", "angle", sign="jounce +")),
        _angle,
    ),
    "ratio": Subject(
        "Motion ratio",
        "g' = dg/ds, turn of the bar end per wheel travel; by virtual work also the force at the wheel per "
        "torque of the bar.",
        _always(Axis("Motion ratio g′", "lever ratio")),
        _ratio,
    ),
    "slope": Subject(
        "Slope of the motion ratio",
        "g'' = dg'/ds; a torque T in the bar adds T g'' to the wheel rate.",
        _always(Axis("Slope g″", "lever ratio growth")),
        _slope,
    ),
    "rate": Subject(
        "Wheel rate of the bar",
        "k g'² + T g'', and dashed T g'' alone; T = T0 + k g with the torque T0 at design trim, while this "
        "wheel alone moves.",
        _always(Axis("Wheel rate", "rate")),
        _wheel_rate,
    ),
    "force": Subject(
        "Link force",
        "Compression positive, f = -T L / (d·r_α) by moments; T = T0 + k g while this wheel alone moves.  "
        "Without a bar per torque of 1 N·m.",
        _link_force_axis,
        _link_force,
    ),
    "transmission": Subject(
        "Transmission angle",
        "Between a link and the arm that it turns, asin |d·r_α| / (L r); 90 deg is best, 0 the toggle.",
        _always(Axis("Transmission angle", "angle")),
        _transmission,
    ),
    "margin": Subject(
        "Toggle margin",
        "1 - |C| / √(A² + B²) of each stage; 0 where it would lock.",
        _always(Axis("Toggle margin", "share")),
        _margin,
    ),
}
