"""Ground clearance of points under the body, at rest and over a run, and the angles that they allow.

A point at x ahead of and y left of the CG of the load case rises by z + y φ - x θ from design trim (small
angles, as in the whole model); its clearance is its height there plus that, less the road under it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, hypot, isnan, nan

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.assembly import Mechanics
from models.ride.channels import channel_index
from models.roads.profile import road_heights
from models.statics import Statics
from models.vehicle import Vehicle

__all__ = [
    "ClearanceInRun",
    "RoadAngles",
    "clearance_at_rest",
    "clearance_in_run",
    "road_angles",
    "tangent_angle",
]

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class ClearanceInRun:
    """Points under the body over a run, from design trim, m.

    Attributes:
        t: (N,) s.
        rise: (points, N) of the body there.
        road: (points, N) height of the road under each point: at V t + x, between the left and the right
            track in proportion to y.
        clearance: (points, N) height at design trim + rise - road.
    """

    t: Array
    rise: Array
    road: Array
    clearance: Array

    @property
    def least(self) -> Array:
        """(points,) least clearance over the run, m."""
        return np.asarray(self.clearance.min(axis=1))

    @property
    def when(self) -> Array:
        """(points,) time of that, s."""
        return np.asarray(self.t[self.clearance.argmin(axis=1)])


@dataclass(frozen=True, slots=True)
class RoadAngles:
    """Angles of the car in a load case, rad; NaN without a point that limits them.

    Attributes:
        approach: of the steepest plane before the front tyres that no point meets.
        departure: the same behind the rear tyres.
        breakover: between planes at the front and the rear tyres over which no point between the axles meets
            the edge of a ramp.
        points: names of the points that limit them, in that order; empty for none.
    """

    approach: float
    departure: float
    breakover: float
    points: tuple[str, str, str]


def clearance_at_rest(vehicle: Vehicle, car: Mechanics, stand: Statics) -> Array:
    """(points,) clearance where the car stands, m; NaN where it does not."""
    points = vehicle.packaging.points
    if not stand.stable:
        return np.full(len(points), nan)
    heights = np.array([point.height for point in points])
    return np.asarray(heights + _rows(vehicle, car) @ stand.q[:3])


def clearance_in_run(analysis: Analysis) -> ClearanceInRun | None:
    """Clearance of all points over the run, from rest in the load case.

    The road has two tracks, those of the tyres (the mean track of the axles); under a point the road is
    between them in proportion to its place, and beyond them as in the nearer one.  The posts of a rig lift
    the tyres and no road between them.  None for a model that does not pitch (its body stands for one
    corner or one section), and for a car that does not stand.
    """
    vehicle, stand = analysis.vehicle, analysis.stand
    points = vehicle.packaging.points
    if "pitch" not in analysis.model.dof or not stand.stable or not points:
        return None
    body = [channel_index(key) for key in ("heave", "roll", "pitch")]
    rise = _rows(vehicle, analysis.car) @ (analysis.time.y[body] + stand.q[:3, None])
    road = _road_under(analysis)
    heights = np.array([point.height for point in points])
    return ClearanceInRun(analysis.time.t, rise, road, heights[:, None] + rise - road)


def road_angles(vehicle: Vehicle, car: Mechanics, stand: Statics) -> RoadAngles:
    """Approach, departure and breakover angle where the car stands (defined as in ISO 612).

    Planes touch the tyres, taken as circles of their loaded radius of the load case; points that lie inside
    that circle, beside a tyre, limit nothing.
    """
    radii = _loaded_radii(vehicle, stand)
    ahead, behind, between = [], [], []
    for point, height in zip(
        vehicle.packaging.points, clearance_at_rest(vehicle, car, stand).tolist(), strict=True
    ):
        from_rear = point.x + vehicle.wheelbase
        front = tangent_angle(abs(point.x), height, radii[0])
        rear = tangent_angle(abs(from_rear), height, radii[1])
        if point.x > 0:
            ahead.append((front, point.name))
        elif from_rear < 0:
            behind.append((rear, point.name))
        else:
            between.append((front + rear, point.name))
    (approach, first), (departure, second), (breakover, third) = map(_least, (ahead, behind, between))
    return RoadAngles(approach, departure, breakover, (first, second, third))


def tangent_angle(distance: float, height: float, radius: float) -> float:
    """Slope of the plane that touches a tyre from below and passes through a point, rad.

    The tyre is the circle of ``radius`` on the ground, the point lies ``distance`` from its axle and
    ``height`` above the ground: α = atan2(d, r - h) - acos(r / √(d² + (r - h)²)).  NaN inside the circle.
    """
    reach = hypot(distance, radius - height)
    if not reach >= radius:
        return nan
    return atan2(distance, radius - height) - float(np.arccos(radius / reach))


def _least(angles: list[tuple[float, str]]) -> tuple[float, str]:
    return min((angle for angle in angles if not isnan(angle[0])), default=(nan, ""))


def _loaded_radii(vehicle: Vehicle, stand: Statics) -> tuple[float, float]:
    """Height of the front and the rear wheel centres above the ground at rest, mean of left and right, m."""
    wheels = stand.q[3:7]
    return (
        vehicle.front.tyre.radius + float(wheels[:2].mean()),
        vehicle.rear.tyre.radius + float(wheels[2:].mean()),
    )


def _rows(vehicle: Vehicle, car: Mechanics) -> Array:
    """(points, 3) rise of each point per z, roll and pitch of the body at the CG of the load case."""
    points = vehicle.packaging.points
    front_axle, left = car.corners[0, 0], car.corners[0, 1] - vehicle.front.track / 2
    x = np.array([point.x for point in points]) + front_axle
    y = np.array([point.y for point in points]) + left
    return np.column_stack([np.ones_like(x), y, -x])


def _road_under(analysis: Analysis) -> Array:
    """(points, N) height of the road under each point, m."""
    run, t, points = analysis.run, analysis.time.t, analysis.vehicle.packaging.points
    track = sum(analysis.model.track) / 2
    distance = np.array([[point.x] for point in points]) + run.speed * t
    left, right = road_heights(run.event, run.surface, distance.ravel(), track).reshape(2, *distance.shape)
    # The half car drives on the mean of both tracks.
    in_roll = "roll" in analysis.model.dof
    places = np.array([[point.y if in_roll else 0.0] for point in points])
    share = np.clip(0.5 + places / track, 0.0, 1.0)
    return np.asarray(share * left + (1 - share) * right)
