"""Packaging: does everything stay where there is room for it, at rest and in the run?"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import isnan, nan
from typing import Literal

import numpy as np

from models.analysis import Analysis
from models.assembly import CORNERS, Mechanics, mechanics
from models.errors import InputError
from models.hardware.hardware import Hardware
from models.judge.clearance import (
    ClearanceInRun,
    RoadAngles,
    clearance_at_rest,
    clearance_in_run,
    road_angles,
)
from models.judge.envelope import Array, Envelope, LeverSwing, Zero, envelope, lever_swings
from models.judge.figure import Figure
from models.judge.links import LinkSwing, chain_links, end_links
from models.statics import Statics, statics
from models.vehicle import LoadCase, Vehicle

__all__ = ["RUN", "Checked", "PackagingReport", "link_check", "packaging", "packaging_figures"]

#: Name of the run among the load cases.
RUN = "run"

_AXLES = (("front", (0, 1)), ("rear", (2, 3)))
_STOPS = {"jounce": "bump stop", "rebound": "rebound stop"}


@dataclass(frozen=True, slots=True)
class Checked:
    """A number against its limit.

    Attributes:
        figure: value with unit and formula; its label does not tell the place.
        limit: SI; NaN where there is none.
        sense: whether the limit is the least or the most that is allowed.
        place: where on the car.
        case: load case, or :data:`RUN`; empty for all.
    """

    figure: Figure
    limit: float
    sense: Literal["at least", "at most"]
    place: str
    case: str = ""

    @property
    def margin(self) -> float:
        """Room left to the limit, SI; below 0 it is passed, NaN without one."""
        room = self.figure.value - self.limit
        return room if self.sense == "at least" else -room

    @property
    def met(self) -> bool | None:
        """Whether the limit is kept; None without a limit or a value."""
        return None if isnan(self.margin) else self.margin >= 0


@dataclass(frozen=True, eq=False)
class PackagingReport:
    """What was found of one car.

    Attributes:
        vehicle: the car.
        envelope: wheel travels.
        clearance: (cases, points) at rest, m; NaN where the car does not stand.
        in_run: clearance over the run; None where there is none.
        angles: approach, departure and breakover by load case.
        levers: of the bars.
        links: of their chains, and of stabiliser bars that are described in steel.
    """

    vehicle: Vehicle
    envelope: Envelope
    clearance: Array
    in_run: ClearanceInRun | None
    angles: tuple[RoadAngles, ...]
    levers: tuple[LeverSwing, ...]
    links: tuple[LinkSwing, ...]

    @property
    def checks(self) -> tuple[Checked, ...]:
        """All rows: travel, clearance, angles to the road, levers, links."""
        return (
            *_travel_checks(self.envelope),
            *_clearance_checks(self),
            *_angle_checks(self),
            *_lever_checks(self),
            *_link_checks(self),
        )


def packaging(
    analysis: Analysis, load_cases: Iterable[LoadCase], hardware: Hardware | None = None
) -> PackagingReport:
    """Travel, clearance and angles of a car in its load cases and in the run of an analysis.

    A load case that the car cannot have, or does not stand in, has NaN and a reason in the envelope.

    Args:
        analysis: of the run.
        load_cases: in which the car is looked at.
        hardware: parts in steel, whose links are looked at too.
    """
    vehicle = analysis.vehicle
    cars = {load.name: _standing(analysis, load) for load in load_cases}
    stands = {name: stand for name, (_, stand) in cars.items()}
    found = envelope(analysis, stands)
    clearance = [clearance_at_rest(vehicle, car, stand) for car, stand in cars.values()]
    return PackagingReport(
        vehicle=vehicle,
        envelope=found,
        clearance=np.array(clearance).reshape(len(cars), len(vehicle.packaging.points)),
        in_run=clearance_in_run(analysis),
        angles=tuple(road_angles(vehicle, car, stand) for car, stand in cars.values()),
        levers=lever_swings(analysis, found.ends),
        links=(*chain_links(vehicle, found.ends), *end_links(hardware or Hardware(), found.ends)),
    )


def packaging_figures(found: PackagingReport) -> tuple[Figure, ...]:
    """The worst of each kind, over all load cases and the run: few numbers to put beside another car's."""
    rows = found.checks
    return (
        _worst(
            rows,
            "clearance_",
            "clearance_margin",
            "Clearance margin",
            "travel",
            "Least clearance of any point over what it requires, in load cases and run.",
        ),
        _worst(
            rows,
            "travel_jounce_",
            "jounce_room",
            "Jounce room",
            "travel",
            "Least wheel travel left to a bump stop, in load cases and run; below 0 it is pressed.",
        ),
        _worst(
            rows,
            "travel_rebound_",
            "rebound_room",
            "Rebound room",
            "travel",
            "Least wheel travel left to a rebound stop, in load cases and run; below 0 it is pressed.",
        ),
        *(
            _least_value(rows, f"{name}_angle", f"{name.capitalize()} angle", meaning)
            for name, meaning in _ANGLES.items()
        ),
        _worst(
            rows,
            "lever_angle_",
            "lever_angle_margin",
            "Lever angle margin",
            "angle",
            "Lever angle limit less the greatest angle of a lever of a bar between the ends of travel.",
        ),
        _worst(
            rows,
            "link_angle_",
            "link_angle_margin",
            "Link angle margin",
            "angle",
            "Least angle between a link and its lever between the ends of travel, less the least allowed.",
        ),
    )


def link_check(name: str, angle: Array, vehicle: Vehicle, place: str, kept: slice = slice(None)) -> Checked:
    """Row of a drop link: its least angle to the lever over travel, of :func:`link_angles`.

    Args:
        name: of the link.
        angle: (N,) rad.
        vehicle: whose limit counts.
        place: where on the car.
        kept: samples of travel that count, such as those between the stops.
    """
    least = float(np.min(angle[kept]))
    meaning = "Least angle between link and lever over the travel, acos |l·a| / (|l| |a|); 0 is the toggle."
    figure = Figure(f"link_angle_{_slug(name)}", name, least, "angle", meaning, "higher")
    return Checked(figure, vehicle.packaging.link_angle_limit, "at least", place)


_ANGLES = {
    "approach": "Least slope of a plane that touches the front tyres and a point ahead of them: "
    "atan2(d, r - h) - acos(r / √(d² + (r - h)²)), r loaded radius, h clearance, d distance from the axle.",
    "departure": "Least slope of a plane that touches the rear tyres and a point behind them: "
    "atan2(d, r - h) - acos(r / √(d² + (r - h)²)), r loaded radius, h clearance, d distance from the axle.",
    "breakover": "Least sum of the slopes of planes that touch the front and the rear tyres and a point "
    "between them, each atan2(d, r - h) - acos(r / √(d² + (r - h)²)).",
}

_LEVERS: dict[Zero, str] = {
    "horizontal": "Greatest angle from the horizontal over the wheel travel s, |asin(sin φ0 + s β cos φ0)|.",
    "design trim": "Greatest turn |g(s)| of the lever behind its links from design trim over the wheel "
    "travel s.",
}


def _standing(analysis: Analysis, load: LoadCase) -> tuple[Mechanics, Statics]:
    if load == analysis.load:
        return analysis.car, analysis.stand
    try:
        car = mechanics(analysis.vehicle, load)
    except InputError as error:
        return analysis.car, replace(analysis.stand, stable=False, reason=error.problems[0].reason)
    return car, statics(car)


def _travel_checks(found: Envelope) -> Iterator[Checked]:
    rows = [*zip(found.cases, found.travel, found.travel, strict=True), (RUN, found.jounce, found.rebound)]
    for case, jounce, rebound in rows:
        for axle, wheels in _AXLES:
            for way, travel, stop in (
                ("jounce", jounce, found.bump_stop),
                ("rebound", -rebound, -found.rebound_stop),
            ):
                yield _travel_check(case, axle, wheels, way, travel, stop)


def _travel_check(
    case: str, axle: str, wheels: tuple[int, int], way: str, travel: Array, stop: Array
) -> Checked:
    """The wheel of an axle with the least travel left one way."""
    left = [float(stop[wheel] - travel[wheel]) for wheel in wheels]
    wheel = wheels[int(left[1] < left[0])]
    what = "furthest wheel travel of the run" if case == RUN else "wheel travel at rest"
    figure = Figure(
        f"travel_{way}_{axle}",
        way.capitalize(),
        float(travel[wheel]) + 0.0,
        "travel",
        f"{what.capitalize()} from design trim, {way} positive; the limit is the gap of the {_STOPS[way]}.",
        "lower",
    )
    limit = float(stop[wheel])
    return Checked(figure, limit if np.isfinite(limit) else nan, "at most", CORNERS[wheel], case)


def _clearance_checks(found: PackagingReport) -> Iterator[Checked]:
    cases = [*zip(found.envelope.cases, found.clearance, strict=True)]
    if found.in_run is not None:
        cases.append((RUN, found.in_run.least))
    for case, heights in cases:
        for point, height in zip(found.vehicle.packaging.points, heights, strict=True):
            figure = Figure(
                f"clearance_{_slug(point.name)}",
                "Clearance",
                float(height),
                "travel",
                "Height at design trim + z + y φ - x θ of the body there"
                + (" less the road under it, least of the run." if case == RUN else "."),
                "higher",
            )
            yield Checked(figure, point.required, "at least", point.name, case)


def _angle_checks(found: PackagingReport) -> Iterator[Checked]:
    for case, angles in zip(found.envelope.cases, found.angles, strict=True):
        values = (angles.approach, angles.departure, angles.breakover)
        for (name, meaning), value, point in zip(_ANGLES.items(), values, angles.points, strict=True):
            figure = Figure(f"{name}_angle", f"{name.capitalize()} angle", value, "angle", meaning, "higher")
            yield Checked(figure, nan, "at least", point, case)


def _lever_checks(found: PackagingReport) -> Iterator[Checked]:
    limit = found.vehicle.packaging.lever_angle_limit
    for lever in found.levers:
        figure = Figure(
            f"lever_angle_{_slug(lever.element)}_{lever.corner}",
            f"{_without_side(lever.element)}, lever",
            lever.steepest,
            "angle",
            _LEVERS[lever.zero],
            "lower",
        )
        yield Checked(figure, limit, "at most", lever.corner)


def _link_checks(found: PackagingReport) -> Iterator[Checked]:
    for link in found.links:
        checked = link_check(link.name, link.angle, found.vehicle, link.place)
        yield replace(checked, figure=replace(checked.figure, key=f"{checked.figure.key}_{link.place}"))
        if not isnan(link.lean):
            figure = Figure(
                f"link_lean_{_slug(link.name)}_{link.place}",
                f"{link.name}, lean",
                link.lean,
                "angle",
                "Angle of the link from the vertical at design trim, acos |l_z| / |l|.",
                "lower",
            )
            yield Checked(figure, nan, "at most", link.place)


def _worst(rows: Iterable[Checked], prefix: str, key: str, label: str, kind: str, meaning: str) -> Figure:
    margins = [row.margin for row in rows if row.figure.key.startswith(prefix) and not isnan(row.margin)]
    return Figure(key, label, min(margins, default=nan), kind, meaning, "higher")


def _least_value(rows: Iterable[Checked], key: str, label: str, meaning: str) -> Figure:
    values = [row.figure.value for row in rows if row.figure.key == key and not isnan(row.figure.value)]
    return Figure(
        key, label, min(values, default=nan), "angle", f"{meaning} Least of the load cases.", "higher"
    )


def _without_side(element: str) -> str:
    """Name of a bar, whose place tells the side."""
    return element.removeprefix("left ").removeprefix("right ").capitalize()


def _slug(name: str) -> str:
    return re.sub(r"\W+", "_", name.lower()).strip("_")
