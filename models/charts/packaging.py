"""Charts of the packaging: wheel travel between the stops, and clearance along the car."""

from __future__ import annotations

import numpy as np

from models.charts.bars import bars
from models.charts.chart import Array, Axis, Chart, Curve, Mark, Place, Role, Side
from models.judge.envelope import Envelope
from models.judge.packaging import RUN, PackagingReport

__all__ = ["clearance_chart", "envelope_chart"]

_TRAVEL = Axis("Wheel travel", "travel", sign="jounce +")
_ALONG = Axis("Place", "length", sign="ahead of the front axle +")
_CLEARANCE = Axis("Ground clearance", "travel")
# Name, left wheel, and where its bars stand beside the case.
_AXLES: tuple[tuple[Place, int, float], ...] = (("front", 0, -0.17), ("rear", 2, 0.17))
_SIDES: tuple[Side, Side] = ("left", "right")
#: Half of the width of a bar.
_HALF = 0.14
#: A left and a right wheel that differ by less, m, share a bar.
_ALIKE = 1e-6


def envelope_chart(found: Envelope, name: str, baseline: tuple[Envelope, str] | None = None) -> Chart:
    """Travel at rest of each load case, then the furthest jounce and rebound of the run.

    The bars of the front wheels are left of the place of a case,
    those of the rear ones right of it.  Where left and right differ, two narrower bars share the room.

    Args:
        found: the envelope.
        name: of the variant.
        baseline: envelope of another variant in the same load cases, and its name; both variants then have
            one bar for each axle, that of the wheel which travels further.
    """
    curves = _stops(found, len(found.cases) + 2)
    if baseline is None:
        curves += _travel_bars(found, name)
    else:
        curves += [*_further(*baseline, "baseline"), *_further(found, name, "candidate")]
    x = Axis("Load case", "ratio", names=(*found.cases, f"{RUN}, jounce", f"{RUN}, rebound"))
    return Chart("packaging-envelope", "Wheel travel between the stops", x, _TRAVEL, tuple(curves))


def clearance_chart(
    found: PackagingReport, name: str, baseline: tuple[PackagingReport, str] | None = None
) -> Chart:
    """Clearance along the car: a curve for each load case, the least of the run, and what is required.

    The points are marked with their names; straight lines only lead the eye from one to the next.

    Args:
        found: the report.
        name: of the variant, for the curve of the run.
        baseline: report of another variant, whose run alone is shown, and its name.
    """
    points, order = found.vehicle.packaging.points, _order(found)
    x = np.array([points[number].x for number in order])
    required = np.array([points[number].required for number in order])
    curves = [
        Curve("limit", "ground", x, np.zeros_like(x), role="limit"),
        Curve("limit", "required", x, required, role="limit", place="rear"),
    ]
    for shade, (case, heights) in enumerate(zip(found.envelope.cases, found.clearance, strict=True)):
        curves.append(Curve(case, "", x, heights[order], role="other", shade=shade))
    if baseline is not None:
        curves += _least(*baseline, "baseline")
    curves += _least(found, name, "candidate")
    marks = tuple(Mark(points[number].x, points[number].name) for number in order)
    title = "Ground clearance along the car"
    return Chart("packaging-clearance", title, _ALONG, _CLEARANCE, tuple(curves), marks)


def _order(found: PackagingReport) -> list[int]:
    """Points from the rear to the front."""
    points = found.vehicle.packaging.points
    return sorted(range(len(points)), key=lambda number: points[number].x)


def _least(found: PackagingReport, name: str, role: Role) -> list[Curve]:
    """Least clearance of the run, where there is one."""
    if found.in_run is None:
        return []
    order = _order(found)
    x = np.array([found.vehicle.packaging.points[number].x for number in order])
    return [Curve(f"{name}, run", "", x, found.in_run.least[order], role=role)]


def _further(found: Envelope, name: str, role: Role) -> list[Curve]:
    travel = np.vstack([found.travel, found.jounce, found.rebound])
    curves = []
    for place, left, aside in _AXLES:
        both = travel[:, left : left + 2]
        further = np.where(np.abs(both[:, 0]) > np.abs(both[:, 1]), both[:, 0], both[:, 1])
        x, y = bars(aside, _HALF, further)
        curves.append(Curve(name, place, x, y, role=role, place=place))
    return curves


def _travel_bars(found: Envelope, name: str) -> list[Curve]:
    travel = np.vstack([found.travel, found.jounce, found.rebound])
    curves = []
    for place, left, aside in _AXLES:
        sides = travel[:, left], travel[:, left + 1]
        if np.nan_to_num(np.abs(sides[0] - sides[1])).max() <= _ALIKE:
            curves.append(Curve(name, place, *bars(aside, _HALF, sides[0]), place=place))
            continue
        for side, own, shift in zip(_SIDES, sides, (-_HALF / 2, _HALF / 2), strict=True):
            x, y = bars(aside + shift, 0.42 * _HALF, own)
            curves.append(Curve(name, f"{place} {side}", x, y, place=place, side=side))
    return curves


def _stops(found: Envelope, cases: int) -> list[Curve]:
    curves: list[Curve] = []
    for stop, travel in (("bump stop", found.bump_stop), ("rebound stop", found.rebound_stop)):
        for place, wheel, _ in _AXLES:
            if np.isfinite(travel[wheel]):
                line = _line(float(travel[wheel]), cases)
                curves.append(Curve("stops", f"{place} {stop}", *line, role="limit", place=place))
    return curves


def _line(height: float, cases: int) -> tuple[Array, Array]:
    return np.array([0.5, cases + 0.5]), np.full(2, height)
