"""Where the suspension meets the frame, and what a section of the frame feels of it.

Free bodies.  All parts between the wheels of one end of the car and the frame have no mass; together they
are one free body.  Outside forces on it are those of the wheels, b_i F upward at the wheel places y_i, and
those of a bar that runs on to the other end of the car.  What is left over goes into the frame at that axle:
the force N = Σ b_i F and, about the centre line, the moment R = Σ b_i y_i F less what the bar takes along.
How the parts share N and R among seats, pivots and bushes loads the cross member and nothing further off:

Corner spring, damper, stop
    The arm has the wheel force f = r F at y_w, the spring force F at the seat y_s and its pivots.  The frame
    gets F at the seat, and from the pivots f - F and the moment that is missing to f y_w.  So the frame is
    twisted as by f at the wheel, wherever the spring stands.  On a solid axle without arms the spring
    force itself acts at the spring; the same sums say so.
Stabiliser bar
    The drop links pull +f and -f at the wheels; the bushes, a distance s apart, hold this couple f t with
    ± f t / s.  The bar is wound between left and right and carries nothing along the car.
Longitudinal bar with a lever at each end
    The front lever of the left side points outward: the wheel lifts it with f = β T, its pivot presses the
    frame up with f at the place of the pivot, and the moment T of f about the pivot leaves through the bar.
    The frame in front thus gets f y_w - T, that is f at the pivot where the lever itself is the arm
    (1/β long); other arms and links take a couple for the difference.  The bar brings T about +x to the
    rear (right side: -T).  There the lever of a levelling bar points inward, so that a wheel in
    jounce winds the bar against the front: frame f y_w + T.  With both levers outward the bar stiffens pitch.
    With the front levers inward every T changes its sign; a chain of rockers and links says itself which way
    jounce turns the bar.  The bar carries T past the section, and the frame
    has to take T back: joining the wheels loads both ends alike, which does not twist the car, but the frame
    twists against its own bars.
Fluid coupling
    A cylinder is a vertical force at its wheel; nothing but pressure runs along the car.
Trim spring
    Lever as above; the fixed end is taken to sit at the frame near the lever, ahead of the section for a
    front and behind it for a rear trim spring.  Pivot and fixed end together: f at y_w.
Diagonal coupling
    A bar on the centre line with a rocker at each end, which the wheels of the axle turn: the couple
    β T t of the wheels less T that leaves through the bar.

Inertia.  The body without loads is a uniform rod along x that has its mass, CG and pitch inertia (half length
√(3 J/m)), and roll inertia evenly along it; loads are points where they are.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from models.force_elements import ForceElement
from models.levers import ChainLever
from models.vehicle import LoadCase, Vehicle, moment_of_inertia

__all__ = ["LOADS", "Attachment", "FrameSection", "attachments", "carried_torque", "frame_section"]

Array = NDArray[np.float64]

#: Rows of a section: shear N, torsion N·m, bending N·m.
LOADS = ("shear", "torsion", "bending")


@dataclass(frozen=True, slots=True)
class Attachment:
    """A place where a part acts on the frame, per unit of the part's own force.

    Attributes:
        name: "seat", "arm pivots", "bush", "lever pivot", "cylinder", "rocker" or "floor".
        x, y: ahead of the CG of the body without loads and left of the centre line, m.
        force: upward force on the frame.
        couple: moment about the x axis beside that, left side up, m.
    """

    name: str
    x: float
    y: float
    force: float
    couple: float = 0.0


@dataclass(frozen=True, eq=False)
class FrameSection:
    """What loads a section of the frame; rows in the order of :data:`LOADS`.

    The loads are those of the part ahead of the section: pushed up against the rear, twisted with its left
    side up, sagging.

    Attributes:
        force: (3, elements) per element force.
        lift: (3, 4) per upward force at a wheel, of those ahead.
        inertia: (3, 3) per heave, roll and pitch acceleration of the body at the CG of the load case, which
            the suspension must bring up; its first column times g is the weight.
        place: where the section is, ahead of that CG, m.
        high: Σ m (z - z_CG) of the mass of body and load ahead, kg·m.
        known: the loads about which the model can say something; the rows of the others are zero.
    """

    force: Array
    lift: Array
    inertia: Array
    place: float
    high: float
    known: tuple[str, ...] = LOADS

    def with_levers_at(self, change: Array) -> FrameSection:
        """Section of a car whose incidence has changed by (elements, 4 or 5) as its levers turned."""
        return replace(self, force=self.force + self.lift @ change[:, :4].T)

    def only(self, *loads: str) -> FrameSection:
        """Section of a smaller model, which holds the body in the modes of the other loads."""
        kept = np.array([[load in loads] for load in LOADS])
        return replace(
            self,
            force=np.where(kept, self.force, 0.0),
            lift=np.where(kept, self.lift, 0.0),
            inertia=np.where(kept, self.inertia, 0.0),
            known=loads,
        )


def frame_section(
    vehicle: Vehicle, load: LoadCase, elements: tuple[ForceElement, ...], place: Array
) -> FrameSection:
    """Loads of the section that the vehicle names, about the centre line.

    Args:
        vehicle, load: the car.
        elements: its elements.
        place: (3,) CG with the load: x, y from the design CG, height above ground, m.
    """
    at = vehicle.body.cg_to_front_axle - vehicle.frame.section
    # The front axle counts as ahead even of a section right at it.
    ahead = min(at, vehicle.body.cg_to_front_axle)
    force = np.zeros((3, len(elements)))
    for column, element in enumerate(elements):
        for point in attachments(vehicle, element):
            if point.x >= ahead:
                force[0, column] += point.force
                force[1, column] += point.force * point.y + point.couple
                force[2, column] += point.force * (point.x - at)
    inertia, high = _inertia_ahead(vehicle, load, place, at)
    lift = _lift(vehicle, at, ahead)
    return FrameSection(force, lift, inertia, place=at - float(place[0]), high=high)


def _lift(vehicle: Vehicle, at: float, ahead: float) -> Array:
    """(3, 4) loads of the section at ``at`` per upward force at the wheels, as far as they are ahead."""
    a = vehicle.body.cg_to_front_axle
    x = np.array([a, a, a - vehicle.wheelbase, a - vehicle.wheelbase])
    y = np.repeat([vehicle.front.track / 2, vehicle.rear.track / 2], 2) * [1, -1, 1, -1]
    lift: Array = np.where(x >= ahead, [np.ones(4), y, x - at], 0.0)
    return lift


def attachments(vehicle: Vehicle, element: ForceElement) -> tuple[Attachment, ...]:
    """Where an element acts on the frame, by the free bodies above."""
    if element.name == "seat cushion":
        return (Attachment("floor", vehicle.seat.x, vehicle.seat.y, -1.0),)
    return tuple(_both_ends(vehicle, element))


def _both_ends(vehicle: Vehicle, element: ForceElement) -> Iterator[Attachment]:
    a, frame = vehicle.body.cg_to_front_axle, vehicle.frame
    carried = carried_torque(vehicle, element)
    for x, axle, pair, taken, seats, bushes in (
        (a, vehicle.front, slice(0, 2), carried, frame.front_spring_spacing, frame.front_stabiliser_spacing),
        (
            a - vehicle.wheelbase,
            vehicle.rear,
            slice(2, 4),
            -carried,
            frame.rear_spring_spacing,
            frame.rear_stabiliser_spacing,
        ),
    ):
        left, right = element.incidence[pair]
        if not (left or right):
            continue
        force = left + right
        moment = (left - right) * axle.track / 2 - taken
        side = 0.5 if abs(left) > abs(right) else -0.5
        match element.name.split():
            case [*_, "stabiliser", "bar"]:
                yield Attachment("bush", x, bushes / 2, moment / bushes)
                yield Attachment("bush", x, -bushes / 2, -moment / bushes)
            case [*_, "interconnection", "bar"] | [*_, "trim", "spring"]:
                y = side * frame.bar_spacing
                yield Attachment("lever pivot", x, y, force, moment - force * y)
            case [*_, "fluid", "interconnection"]:
                y = side * seats
                yield Attachment("cylinder", x, y, force, moment - force * y)
            case ["diagonal", "coupling"]:
                yield Attachment("rocker", x, 0.0, force, moment)
            case _:
                y = side * seats
                yield Attachment("seat", x, y, 1.0)
                yield Attachment("arm pivots", x, y, force - 1.0, moment - force * y)


def carried_torque(vehicle: Vehicle, element: ForceElement) -> float:
    """Torque about +x that the element carries from the front to the rear, per its force."""
    if element.name == "diagonal coupling":
        return 1.0
    if element.name.endswith("interconnection bar"):
        along = _wound_along(element)
        return along if element.name.startswith("left") else -along
    return 0.0


def _wound_along(element: ForceElement) -> float:
    """Part along +x of the turn that jounce of a left wheel in front gives its bar; 1 of an outward lever.

    A chain at the rear says it of a lever in front, for both wind the bar.
    """
    for lever in element.levers:
        if isinstance(lever, ChainLever):
            return lever.table.along if lever.wheel < 2 else -lever.sign * lever.table.along
    return 1.0


def _inertia_ahead(vehicle: Vehicle, load: LoadCase, place: Array, at: float) -> tuple[Array, float]:
    """(3, 3) inertia loads of the mass ahead of ``at`` per acceleration of the loaded CG, and its Σ m z."""
    body, a = vehicle.body, vehicle.body.cg_to_front_axle
    b = vehicle.wheelbase - a
    pitch = moment_of_inertia(body.pitch_inertia, body.mass, a, b)
    half = float(np.sqrt(3 * pitch / body.mass))
    share = np.clip((half - at) / (2 * half), 0.0, 1.0)
    start = half * (1 - 2 * share)
    points = [item for item in load.loads if item.x + a >= at]
    x = np.array([item.x + a for item in points])
    # Rod first, then the points: mass, its first and second moment along x, place across and height.
    mass = np.array([body.mass * share, *(item.mass for item in points)])
    first = np.array([mass[0] * (half + start) / 2, *(mass[1:] * x)])
    second = np.array([mass[0] * (half**2 + half * start + start**2) / 3, *(mass[1:] * x**2)])
    y = np.array([0.0, *(item.y for item in points)])
    z = np.array([body.cg_height, *(item.z for item in points)]) - place[2]
    roll = share * moment_of_inertia(body.roll_inertia, body.mass, a, b)

    along = first - place[0] * mass  # moments about the loaded CG
    arm = first - at * mass  # and about the section
    across = y - place[1]
    turned = second - place[0] * first - at * along
    inertia = np.array(
        [
            [mass.sum(), mass @ across, -along.sum()],
            [mass @ y, mass @ (y * across + z**2) + roll, -(y @ along)],
            [arm.sum(), across @ arm, -(turned + mass * z**2).sum()],
        ]
    )
    return inertia, float(mass @ z)
