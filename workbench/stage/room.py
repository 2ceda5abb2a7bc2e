"""Room that the car has: travel of the near wheels to their stops, and ground clearance; without a screen."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from models.analysis import Analysis
from models.judge.clearance import ClearanceInRun
from workbench.stage.running_gear import Wheel
from workbench.stage.scene import Frame, sample_at
from workbench.stage.silhouette import Point

__all__ = ["ClearanceMark", "TravelEnd", "TravelGauge", "clearance_marks", "travel_gauges"]

#: The gauge stands this far beside the wheel centre, in radii: clear of the tyre and of its force.
_BESIDE = 1.34
#: Corners of the near side.
_NEAR = (1, 3)


@dataclass(frozen=True, slots=True)
class TravelEnd:
    """One end of the travel: where it is drawn, and wheel travel left to it, m; below 0 it is pressed."""

    place: Point
    left: float


@dataclass(frozen=True, slots=True)
class TravelGauge:
    """Travel of a wheel against the body, which carries the gauge.

    Attributes:
        wheel: height of the wheel centre at the gauge.
        jounce, rebound: ends; None without a stop.
        outward: 1 in front, -1 at the rear: away from the wheel.
    """

    wheel: Point
    jounce: TravelEnd | None
    rebound: TravelEnd | None
    outward: float


@dataclass(frozen=True, slots=True)
class ClearanceMark:
    """A point under the body.

    Attributes:
        name: of the point.
        point, ground: where it is drawn, and the road under it.
        clearance: true size, m.
        short: whether that is less than required.
    """

    name: str
    point: Point
    ground: Point
    clearance: float
    short: bool


def travel_gauges(analysis: Analysis, frame: Frame) -> tuple[TravelGauge, ...]:
    """Gauges of the near wheels at the time of a frame."""
    stand = analysis.stand
    return tuple(
        _gauge(
            wheel,
            frame,
            float(stand.jounce_left[corner] + stand.travel[corner]),
            float(stand.rebound_left[corner] - stand.travel[corner]),
        )
        for corner, wheel in zip(_NEAR, (frame.near.front, frame.near.rear), strict=True)
    )


def clearance_marks(
    analysis: Analysis, frame: Frame, found: ClearanceInRun | None
) -> tuple[ClearanceMark, ...]:
    """Points under the body at the time of a frame; none where the run has no clearance."""
    if found is None:
        return ()
    sample, pose = sample_at(analysis, frame.time), frame.near.pose
    marks = []
    for number, point in enumerate(analysis.vehicle.packaging.points):
        x = pose.place(point.x, point.height).x
        rise, road, clearance = (
            float(row[number, sample]) for row in (found.rise, found.road, found.clearance)
        )
        marks.append(
            ClearanceMark(
                name=point.name,
                point=Point(x, point.height + frame.exaggeration * rise),
                ground=Point(x, frame.exaggeration * road),
                clearance=clearance,
                short=clearance < point.required,
            )
        )
    return tuple(marks)


def _gauge(wheel: Wheel, frame: Frame, bump: float, rebound: float) -> TravelGauge:
    x = wheel.centre.x + _BESIDE * wheel.outward * wheel.radius
    centre = wheel.centre.z

    def end(gap: float, way: float) -> TravelEnd | None:
        left = gap - way * wheel.travel
        if not isfinite(gap):
            return None
        return TravelEnd(Point(x, centre + way * frame.exaggeration * left), left)

    return TravelGauge(Point(x, centre), end(bump, 1.0), end(rebound, -1.0), wheel.outward)
