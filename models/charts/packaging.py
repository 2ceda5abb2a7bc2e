"""Charts of the packaging: wheel travel between the stops, and clearance along the car."""

from __future__ import annotations

import numpy as np

from models.charts.bars import bars
from models.charts.chart import Array, Axis, Chart, Curve, Mark, Place, Side
from models.judge.envelope import Envelope
from models.judge.packaging import RUN, PackagingReport

__all__ = ["clearance_chart", "envelope_chart"]

_CASES = Axis("Load case", "ratio", sign="number")
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


def envelope_chart(found: Envelope, name: str) -> Chart:
    """Travel at rest of each load case, then the furthest jounce and rebound of the run.

    They stand at 1, 2, ... with their names as marks; the bars of the front wheels are left of that, those of
    the rear ones right of it.  Where left and right differ, two narrower bars share the room.

    Args:
        found: the envelope.
        name: of the variant.
    """
    travel = np.vstack([found.travel, found.jounce, found.rebound])
    curves = _stops(found, len(travel))
    for place, left, aside in _AXLES:
        sides = travel[:, left], travel[:, left + 1]
        if np.nan_to_num(np.abs(sides[0] - sides[1])).max() <= _ALIKE:
            curves.append(Curve(name, place, *bars(aside, _HALF, sides[0]), place=place))
            continue
        for side, own, shift in zip(_SIDES, sides, (-_HALF / 2, _HALF / 2), strict=True):
            x, y = bars(aside + shift, 0.42 * _HALF, own)
            curves.append(Curve(name, f"{place} {side}", x, y, place=place, side=side))
    marks = _marks((*found.cases, f"{RUN}, jounce", f"{RUN}, rebound"))
    title = "Wheel travel between the stops"
    return Chart("packaging-envelope", title, _CASES, _TRAVEL, tuple(curves), marks)


def clearance_chart(found: PackagingReport, name: str) -> Chart:
    """Clearance along the car: a curve for each load case, the least of the run, and what is required.

    The points are marked with their names; straight lines only lead the eye from one to the next.

    Args:
        found: the report.
        name: of the variant, for the curve of the run.
    """
    points = found.vehicle.packaging.points
    order = sorted(range(len(points)), key=lambda number: points[number].x)
    x = np.array([points[number].x for number in order])
    required = np.array([points[number].required for number in order])
    curves = [
        Curve("limit", "ground", x, np.zeros_like(x), role="limit"),
        Curve("limit", "required", x, required, role="limit", place="rear"),
    ]
    for shade, (case, heights) in enumerate(zip(found.envelope.cases, found.clearance, strict=True)):
        curves.append(Curve(case, "", x, heights[order], role="other", shade=shade))
    if found.in_run is not None:
        curves.append(Curve(f"{name}, least of the run", "", x, found.in_run.least[order]))
    marks = tuple(Mark(points[number].x, points[number].name) for number in order)
    title = "Ground clearance along the car"
    return Chart("packaging-clearance", title, _ALONG, _CLEARANCE, tuple(curves), marks)


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


def _marks(names: tuple[str, ...]) -> tuple[Mark, ...]:
    return tuple(Mark(float(number), name) for number, name in enumerate(names, 1))
