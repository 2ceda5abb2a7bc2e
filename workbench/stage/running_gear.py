"""Wheels and what holds them, as lines between places: the geometry, without a screen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from models.levers import AnyLever, lever
from models.linkage import Chain
from models.vehicle import (
    Axle,
    CornerDamper,
    CornerSpring,
    Damper,
    DigressiveDamper,
    FluidCoupling,
    Side,
    SolidAxle,
    Spring,
    TorsionCoupling,
    Vehicle,
)
from workbench.stage.chain import ChainLines, chain_lines
from workbench.stage.contact import Contact
from workbench.stage.pose import Pose
from workbench.stage.silhouette import Point

__all__ = [
    "Bar",
    "CornerState",
    "Fluid",
    "Lever",
    "Link",
    "Place",
    "Strut",
    "Wheel",
    "bar_of",
    "fluid_of",
    "wheel_of",
]

Place = Literal["front", "rear"]

#: A tyre is drawn no flatter than this share of its radius, however high the exaggeration.
_FLATTEST_TYRE = 0.2
#: Levers are drawn in their true length between these shares of the wheelbase.
_LEVER_SHARES = (0.09, 0.22)
#: Arms reach inward by this share of the wheelbase; heights of their pivots and of the upper mounts in radii.
_ARM_SHARE, _PIVOT_HEIGHT, _MOUNT_HEIGHT = 0.12, 1.75, 2.75
#: Distance between spring, damper and cylinder of a wheel, in radii.
_SLOT = 0.46
#: Place of the stabiliser beside the wheel, in radii outward and up.
_STABILISER = (0.78, 1.72)
#: Accumulator between the axles, as a share of the wheelbase from the front axle.
_ACCUMULATOR_SHARE = 0.76


@dataclass(frozen=True, slots=True)
class CornerState:
    """One corner at one time, true size, m from design trim.

    Attributes:
        wheel, road: height of the wheel and of the road under it.
        travel: wheel travel, positive in jounce.
        spare: how far the tyre is pressed in at design trim: the stretch at which it leaves the road.
        contact: what is touched, or not.
    """

    wheel: float
    road: float
    travel: float
    spare: float
    contact: Contact


@dataclass(frozen=True, slots=True)
class Strut:
    """A part between arm and body: ``foot`` below, ``mount`` above."""

    foot: Point
    mount: Point


@dataclass(frozen=True, slots=True)
class Wheel:
    """A wheel, its arm, and what springs and damps it.

    Attributes:
        centre: wheel centre.
        radius: loaded radius of the tyre at design trim, m.
        road: drawn height of the road under the wheel, m.
        depth: drawn reach of the tyre below the wheel centre, m; ends on the road while it carries load.
        turn: angle rolled, rad.
        travel: wheel travel from design trim, m, true size, positive in jounce.
        outward: 1 at the front, -1 at the rear: towards the near end of the car.
        contact: stop touched, or wheel off the road.
        pivot: end of the arm at the body.
        spring, damper, cylinder: corner spring, damper and cylinder of the fluid; None where not fitted.
        stabiliser: bar end at the body, and its link's end at the wheel; None without a stabiliser.
        solid: whether a beam joins the wheel with the one on the other side.
        trim: whether the trim spring of the side holds this wheel.
        chains: linkages that turn the stabiliser (in place of ``stabiliser``) and the trim spring.
    """

    centre: Point
    radius: float
    road: float
    depth: float
    turn: float
    travel: float
    outward: float
    contact: Contact
    pivot: Point
    spring: Strut | None
    damper: Strut | None
    cylinder: Strut | None
    stabiliser: Strut | None
    solid: bool
    trim: bool
    chains: tuple[ChainLines, ...]


@dataclass(frozen=True, slots=True)
class Lever:
    """Lever at one end of the interconnection bar, turned into the plane of the drawing.

    Attributes:
        root: bar end, carried by the body.
        tip: at the wheel centre; of a linkage its last joint.
        angle: bar-end angle, rad, true size, positive in jounce.
        chain: linkage that turns the bar, seen from the side.
    """

    root: Point
    tip: Point
    angle: float
    chain: ChainLines | None = None


@dataclass(frozen=True, slots=True)
class Bar:
    """Interconnection bar of the near side; twist in rad, true size, from design trim."""

    front: Lever
    rear: Lever
    twist: float
    sense: Literal["levelling", "pitch stiffening"]


@dataclass(frozen=True, slots=True)
class Fluid:
    """Fluid interconnection of the near side.

    Attributes:
        accumulator: centre of the accumulator, carried by the body.
        gas: gas volume as a share of that at design trim.
        displaced: volume that both wheels have pressed into the accumulator since design trim, m³.
        front, rear: upper ends of the cylinders, where the line begins.
    """

    accumulator: Point
    gas: float
    displaced: float
    front: Point
    rear: Point


Link = Bar | Fluid


def wheel_of(
    vehicle: Vehicle,
    side: Side,
    place: Place,
    state: CornerState,
    pose: Pose,
    distance: float,
    exaggeration: float,
) -> Wheel:
    """A wheel with its parts; ``distance`` is what it has rolled, m."""
    axle = vehicle.front if place == "front" else vehicle.rear
    x, outward = (0.0, 1.0) if place == "front" else (-vehicle.wheelbase, -1.0)
    radius = axle.tyre.radius
    centre = Point(x, radius + exaggeration * state.wheel)
    depth = radius + exaggeration * min(state.wheel - state.road, state.spare)
    arm = _ARM_SHARE * vehicle.wheelbase
    pivot = pose.place(x - outward * arm, _PIVOT_HEIGHT * radius)
    struts = _struts(axle, side, pose, centre, pivot, radius, outward)
    trim = side.trim.bar_rate > 0 and side.trim.axle == place
    fitted = (
        axle.stabiliser.linkage if axle.stabiliser.bar_rate > 0 else None,
        side.trim.linkage if trim else None,
    )
    rest = Point(x, radius)
    chains = tuple(
        chain_lines(chain, state.travel, rest, pose, exaggeration) for chain in fitted if chain is not None
    )
    stabiliser = None
    if axle.stabiliser.bar_rate > 0 and axle.stabiliser.linkage is None:
        aside, height = _STABILISER
        stabiliser = Strut(centre, pose.place(x + outward * aside * radius, height * radius))
    return Wheel(
        centre=centre,
        radius=radius,
        road=exaggeration * state.road,
        depth=max(depth, _FLATTEST_TYRE * radius),
        turn=distance / radius,
        travel=state.travel,
        outward=outward,
        contact=state.contact,
        pivot=pivot,
        spring=struts[0],
        damper=struts[1],
        cylinder=struts[2],
        stabiliser=stabiliser,
        solid=isinstance(axle.wheels, SolidAxle),
        trim=trim,
        chains=chains,
    )


def bar_of(vehicle: Vehicle, pose: Pose, front: Wheel, rear: Wheel, exaggeration: float = 1.0) -> Bar | None:
    """The bar of the near side, with the linkages at its ends where there are some.

    Plain levers really swing across the car; they are turned by 90 degrees into the drawing.  Levelling
    levers point away from each other, so that jounce at both ends winds the bar and pitch only turns it;
    pitch-stiffening levers point the same way.
    """
    coupling = vehicle.sides[1].coupling
    if not isinstance(coupling, TorsionCoupling) or coupling.bar_rate == 0:
        return None
    sign = 1.0 if coupling.sense == "levelling" else -1.0
    ahead = lever(0, coupling.front_lever_ratio, coupling.front_lever_angle, coupling.front_linkage)
    behind = lever(2, coupling.rear_lever_ratio, coupling.rear_lever_angle, coupling.rear_linkage)
    first = _chained(coupling.front_linkage, front, ahead, pose, exaggeration) or _lever(
        vehicle, pose, front, ahead, -1.0
    )
    last = _chained(coupling.rear_linkage, rear, behind, pose, exaggeration) or _lever(
        vehicle, pose, rear, behind, sign
    )
    return Bar(first, last, twist=first.angle + sign * last.angle, sense=coupling.sense)


def fluid_of(vehicle: Vehicle, pose: Pose, front: Wheel, rear: Wheel) -> Fluid | None:
    """The fluid interconnection of the near side."""
    coupling = vehicle.sides[1].coupling
    if not isinstance(coupling, FluidCoupling) or front.cylinder is None or rear.cylinder is None:
        return None
    displaced = coupling.front_area * front.travel + coupling.rear_area * rear.travel
    height = _MOUNT_HEIGHT * (front.radius + rear.radius) / 2
    return Fluid(
        accumulator=pose.place(-_ACCUMULATOR_SHARE * vehicle.wheelbase, height),
        gas=max(1.0 - displaced / coupling.volume, 0.0),
        displaced=displaced,
        front=front.cylinder.mount,
        rear=rear.cylinder.mount,
    )


def _struts(
    axle: Axle, side: Side, pose: Pose, centre: Point, pivot: Point, radius: float, outward: float
) -> tuple[Strut | None, Strut | None, Strut | None]:
    """Spring, damper and cylinder side by side: the first over the wheel, the next further inward."""
    fitted = (
        _has_spring(axle.spring),
        _has_damper(axle.damper),
        isinstance(side.coupling, FluidCoupling),
    )
    slots = {1: (0.0,), 2: (0.0, 1.0), 3: (-0.5, 1.2, 0.35)}.get(sum(fitted), ())
    free = iter(slots)
    struts = tuple(
        _strut(pose, centre, pivot, radius, outward, next(free) * _SLOT) if part else None for part in fitted
    )
    return struts[0], struts[1], struts[2]


def _strut(pose: Pose, centre: Point, pivot: Point, radius: float, outward: float, inward: float) -> Strut:
    """From the arm, or from the wheel carrier where the place is outside of it, up to the body."""
    reach = max(inward, 0.0) * radius / abs(pivot.x - centre.x)
    foot = Point(centre.x + reach * (pivot.x - centre.x), centre.z + reach * (pivot.z - centre.z))
    return Strut(foot, pose.place(centre.x - outward * inward * radius, _MOUNT_HEIGHT * radius))


def _has_spring(spring: CornerSpring) -> bool:
    return not isinstance(spring, Spring) or spring.rate > 0


def _has_damper(damper: CornerDamper) -> bool:
    if isinstance(damper, Damper | DigressiveDamper):
        return damper.jounce > 0 or damper.rebound > 0
    return True


def _chained(
    chain: Chain | None, wheel: Wheel, turning: AnyLever, pose: Pose, exaggeration: float
) -> Lever | None:
    """The lever of a linkage, where it is."""
    if chain is None:
        return None
    lines = chain_lines(chain, wheel.travel, Point(wheel.centre.x, wheel.radius), pose, exaggeration)
    return Lever(lines.bar, lines.lever, float(turning.turn(wheel.travel).angle), lines)


def _lever(vehicle: Vehicle, pose: Pose, wheel: Wheel, turning: AnyLever, direction: float) -> Lever:
    low, high = (share * vehicle.wheelbase for share in _LEVER_SHARES)
    length = min(max(1 / turning.ratio, low), high)
    root = pose.place(wheel.centre.x + direction * length, wheel.radius)
    return Lever(root=root, tip=wheel.centre, angle=float(turning.turn(wheel.travel).angle))
