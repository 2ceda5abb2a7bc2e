"""What stands where at one time: the geometry of the stage, without a screen.

The car drives to the right, so the near side is its right side.  x counts from the front axle forward,
because there both cars meet the road at the same place; z counts from the ground of the design trim.

Exaggeration multiplies every displacement (body, wheel, road) about its design height by one factor
and leaves sizes alone, so a tyre that touches the road still does in the drawing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.assembly import CORNERS
from models.ride.channels import channel_index
from models.roads import SineSweep
from models.vehicle import Axle, CornerSpring, IndependentWheels, Side, Spring, TorsionCoupling, Vehicle
from workbench.stage.silhouette import Point, silhouette

__all__ = ["Bar", "Flank", "Frame", "Lever", "Pose", "Wheel", "sides_differ", "stage_frame"]

_STANDARD_GRAVITY = 9.80665
#: A tyre is drawn no flatter than this share of its radius, however high the exaggeration.
_FLATTEST_TYRE = 0.2
#: Levers are drawn in their true length between these shares of the wheelbase.
_LEVER_SHARES = (0.09, 0.22)

_State = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Pose:
    """Small rigid motion of one flank of the body, exaggerated.

    Attributes:
        lift: rise at the front axle, m.
        slope: rise per metre forward; positive is nose up.
        axis: height about which the flank turns, m.
    """

    lift: float
    slope: float
    axis: float

    def place(self, x: float, z: float) -> Point:
        """Where a point of the body at design trim has gone."""
        return Point(x - self.slope * (z - self.axis), z + self.lift + self.slope * x)


@dataclass(frozen=True, slots=True)
class Wheel:
    """A wheel, its arm and its spring.

    Attributes:
        centre: wheel centre.
        radius: loaded radius of the tyre at design trim, m.
        road: drawn height of the road under the wheel, m.
        depth: drawn reach of the tyre below the wheel centre, m; ends on the road while it carries load.
        lifted: the load on the tyre is used up and it leaves the road.
        turn: angle rolled, rad.
        travel: wheel travel, m, true size, positive in jounce.
        pivot: end of the arm at the body.
        mount: upper end of the corner spring at the body; None without a spring.
        trim: whether the trim spring of the side holds this wheel.
    """

    centre: Point
    radius: float
    road: float
    depth: float
    lifted: bool
    turn: float
    travel: float
    pivot: Point
    mount: Point | None
    trim: bool


@dataclass(frozen=True, slots=True)
class Lever:
    """Lever at one end of the interconnection bar, turned into the plane of the drawing.

    Attributes:
        root: bar end, carried by the body.
        tip: at the wheel centre.
        angle: bar-end angle, rad, true size, positive in jounce.
    """

    root: Point
    tip: Point
    angle: float


@dataclass(frozen=True, slots=True)
class Bar:
    """Interconnection bar of the near side; twist in rad, true size."""

    front: Lever
    rear: Lever
    twist: float
    sense: Literal["levelling", "pitch stiffening"]


@dataclass(frozen=True, slots=True)
class Flank:
    """One side of the car: how the body stands over it, and its wheels."""

    pose: Pose
    front: Wheel
    rear: Wheel


@dataclass(frozen=True, slots=True)
class Frame:
    """The stage at one time.

    Attributes:
        time: s.
        distance: road distance of the front axle, m.
        exaggeration: factor on all displacements.
        near, far: right and left side.
        bar: interconnection of the near side, or None.
        cg, hip, head: marks on the body.
        heave: rise of the CG, m, true size.
        pitch: pitch angle, rad, true size, positive nose down (ISO 8855).
    """

    time: float
    distance: float
    exaggeration: float
    near: Flank
    far: Flank
    bar: Bar | None
    cg: Point
    hip: Point
    head: Point
    heave: float
    pitch: float


def stage_frame(analysis: Analysis, time: float, exaggeration: float = 1.0) -> Frame:
    """Geometry at ``time`` (s), linear between the samples of the time response."""
    vehicle, state = analysis.vehicle, _sample(analysis, time)
    # On the posts of a rig the car stands.
    distance = 0.0 if isinstance(analysis.run.event, SineSweep) else analysis.run.speed * time
    near = _flank(vehicle, state, "right", distance, exaggeration)
    far = _flank(vehicle, state, "left", distance, exaggeration)
    heave, roll, pitch = (float(state[channel_index(key)]) for key in ("heave", "roll", "pitch"))
    body = silhouette(vehicle)
    cg_x, cg_z = -vehicle.body.cg_to_front_axle, vehicle.body.cg_height
    # The driver sits off the middle, so roll lifts him too: z + y φ - x θ, x from the CG.
    seat_lift = heave + vehicle.seat.y * roll + pitch * cg_x
    seat = Pose(lift=exaggeration * seat_lift, slope=-exaggeration * pitch, axis=cg_z)
    return Frame(
        time=time,
        distance=distance,
        exaggeration=exaggeration,
        near=near,
        far=far,
        bar=_bar(vehicle, state, near, exaggeration),
        cg=Point(cg_x, cg_z + exaggeration * heave),
        hip=seat.place(*body.hip),
        head=seat.place(*body.head),
        heave=heave,
        pitch=pitch,
    )


def sides_differ(analysis: Analysis) -> bool:
    """Whether the wheels of the far side move otherwise than those of the near side."""
    first = channel_index("wheel_FL")
    wheels = analysis.time.y[first : first + 4]
    return not np.allclose(wheels[0::2], wheels[1::2], rtol=0.0, atol=1e-6)


def _sample(analysis: Analysis, time: float) -> _State:
    """(channels,) values at ``time``, held at both ends."""
    t, y = analysis.time.t, analysis.time.y
    if len(t) == 1 or time <= t[0]:
        return np.asarray(y[:, 0])
    after = min(int(np.searchsorted(t, time)), len(t) - 1)
    share = min(float((time - t[after - 1]) / (t[after] - t[after - 1])), 1.0)
    return np.asarray(y[:, after - 1] + share * (y[:, after] - y[:, after - 1]))


def _corner(state: _State, key: str, corner: str) -> float:
    return float(state[channel_index(f"{key}_{corner}")])


def _flank(
    vehicle: Vehicle, state: _State, side: Literal["left", "right"], distance: float, exaggeration: float
) -> Flank:
    front, rear = CORNERS[0::2] if side == "left" else CORNERS[1::2]
    # Body height over a wheel = wheel height - travel.
    lift, rear_lift = (
        exaggeration * (_corner(state, "wheel", corner) - _corner(state, "travel", corner))
        for corner in (front, rear)
    )
    pose = Pose(lift, (lift - rear_lift) / vehicle.wheelbase, vehicle.body.cg_height)
    half = vehicle.sides[0 if side == "left" else 1]
    return Flank(
        pose,
        _wheel(vehicle, half, "front", front, state, pose, distance, exaggeration),
        _wheel(vehicle, half, "rear", rear, state, pose, distance, exaggeration),
    )


def _wheel(
    vehicle: Vehicle,
    side: Side,
    place: Literal["front", "rear"],
    corner: str,
    state: _State,
    pose: Pose,
    distance: float,
    exaggeration: float,
) -> Wheel:
    axle = vehicle.front if place == "front" else vehicle.rear
    x = 0.0 if place == "front" else -vehicle.wheelbase
    inward = -1.0 if place == "front" else 1.0
    radius = axle.tyre.radius
    height, road = _corner(state, "wheel", corner), _corner(state, "road", corner)
    stretch, spare = height - road, static_tyre_deflection(vehicle, place)
    depth = radius + exaggeration * min(stretch, spare)
    return Wheel(
        centre=Point(x, radius + exaggeration * height),
        radius=radius,
        road=exaggeration * road,
        depth=max(depth, _FLATTEST_TYRE * radius),
        lifted=stretch > spare,
        turn=distance / radius,
        travel=_corner(state, "travel", corner),
        pivot=pose.place(x + inward * 0.12 * vehicle.wheelbase, 1.75 * radius),
        mount=pose.place(x, 2.75 * radius) if _is_fitted(axle.spring) else None,
        trim=side.trim.bar_rate > 0 and side.trim.axle == place,
    )


def _is_fitted(spring: CornerSpring) -> bool:
    return not isinstance(spring, Spring) or spring.rate > 0


def static_tyre_deflection(vehicle: Vehicle, place: Literal["front", "rear"]) -> float:
    """How far a tyre is pressed in at rest, m: the stretch at which it leaves the road."""
    axle = vehicle.front if place == "front" else vehicle.rear
    a = vehicle.body.cg_to_front_axle
    share = (vehicle.wheelbase - a if place == "front" else a) / vehicle.wheelbase
    load = _STANDARD_GRAVITY * (vehicle.body.mass * share / 2 + _unsprung_mass(axle))
    return load / axle.tyre.rate


def _unsprung_mass(axle: Axle) -> float:
    wheels = axle.wheels
    return wheels.unsprung_mass if isinstance(wheels, IndependentWheels) else wheels.mass / 2


def _bar(vehicle: Vehicle, state: _State, near: Flank, exaggeration: float) -> Bar | None:
    """The bar of the near side.

    Its levers really swing across the car; they are turned by 90 degrees into the drawing.  Levelling
    levers point away from each other, so that jounce at both ends winds the bar and pitch only turns it;
    pitch-stiffening levers point the same way.
    """
    coupling = vehicle.sides[1].coupling
    if not isinstance(coupling, TorsionCoupling) or coupling.bar_rate == 0:
        return None
    inward = 1.0 if coupling.sense == "levelling" else -1.0
    return Bar(
        front=_lever(vehicle, near.pose, near.front, coupling.front_lever_ratio, -1.0),
        rear=_lever(vehicle, near.pose, near.rear, coupling.rear_lever_ratio, inward),
        twist=float(state[channel_index("twist_right")]),
        sense=coupling.sense,
    )


def _lever(vehicle: Vehicle, pose: Pose, wheel: Wheel, ratio: float, direction: float) -> Lever:
    low, high = (share * vehicle.wheelbase for share in _LEVER_SHARES)
    length = min(max(1 / ratio, low), high)
    root = pose.place(wheel.centre.x + direction * length, wheel.radius)
    return Lever(root=root, tip=wheel.centre, angle=ratio * wheel.travel)
