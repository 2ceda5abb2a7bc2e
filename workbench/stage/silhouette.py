"""A plain saloon drawn from the dimensions of the car: few lines, no make."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from models.vehicle import Vehicle

__all__ = ["Curve", "Point", "Silhouette", "seated", "silhouette"]


class Point(NamedTuple):
    """A place in the drawing: metres ahead of the front axle and above the ground."""

    x: float
    z: float


#: Chain of cubic Bézier pieces: a first point, then two handles and an end for each piece.
Curve = tuple[Point, ...]

# Handle length that makes a cubic piece a quarter circle, as a share of the radius (4/3 (√2 - 1)).
_QUARTER = 0.5523
# Size of the seated driver: hip to head and hip to roof, m, for a car long enough to sit in.
_HIP_TO_HEAD, _HIP_TO_ROOF, _SITTING_WHEELBASE = 0.66, 0.86, 2.2


@dataclass(frozen=True, slots=True)
class Silhouette:
    """Lines of the body at design trim.

    Attributes:
        outline: closed outline with both wheel arches.
        lines: window opening and waist line.
        roof: height of the roof, m.
        nose, tail: ends of the car ahead of the front axle, m.
        hip, head: driver's hip point and centre of the head.
        head_radius: m.
    """

    outline: Curve
    lines: tuple[Curve, ...]
    roof: float
    nose: float
    tail: float
    hip: Point
    head: Point
    head_radius: float


def silhouette(vehicle: Vehicle) -> Silhouette:
    """Body lines from wheelbase, tyre radii and seat; overhangs are shares of the wheelbase."""
    length = vehicle.wheelbase
    person = _person(vehicle)
    hip, head = seated(vehicle)
    radii = vehicle.front.tyre.radius, vehicle.rear.tyre.radius
    roof = max(hip.z + _HIP_TO_ROOF * person, 3.6 * max(radii))
    nose, tail = 0.29 * length, -1.37 * length
    return Silhouette(
        outline=_outline(length, roof, nose, tail, radii),
        lines=_inner_lines(length, roof),
        roof=roof,
        nose=nose,
        tail=tail,
        hip=hip,
        head=head,
        head_radius=0.11 * person,
    )


def seated(vehicle: Vehicle) -> tuple[Point, Point]:
    """The driver's hip point and the centre of his head, at design trim."""
    person = _person(vehicle)
    hip = Point(vehicle.seat.x - vehicle.body.cg_to_front_axle, vehicle.seat.height)
    return hip, Point(hip.x - 0.10 * person, hip.z + _HIP_TO_HEAD * person)


def _person(vehicle: Vehicle) -> float:
    """Size of the driver, smaller in a car too short to sit in."""
    return min(1.0, vehicle.wheelbase / _SITTING_WHEELBASE)


def _outline(length: float, roof: float, nose: float, tail: float, radii: tuple[float, float]) -> Curve:
    front, rear = radii
    sill = 0.5 * min(radii)

    def at(x: float, z: float) -> Point:
        return Point(x * length, z * roof)

    curve = [Point(nose, 0.43 * roof)]
    curve += at(0.285, 0.545), at(0.10, 0.615), at(-0.21, 0.665)  # bonnet
    curve += at(-0.33, 0.87), at(-0.39, 1.0), at(-0.56, 1.0)  # windscreen
    curve += at(-0.79, 1.0), at(-0.92, 0.85), at(-1.10, 0.735)  # back of the roof
    curve += at(-1.17, 0.69), at(-1.335, 0.73), at(-1.355, 0.66)  # boot
    curve += Point(tail, 0.56 * roof), Point(tail, 0.42 * roof), at(-1.352, 0.30)  # tail
    curve += at(-1.337, 0.22), Point(tail + 0.045 * length, sill), Point(tail + 0.10 * length, sill)
    curve += _arch(curve[-1], -length, rear, sill)
    curve += _arch(curve[-1], 0.0, front, sill)
    curve += _line(curve[-1], Point(nose - 0.035 * length, sill))
    curve += Point(nose, sill), Point(nose + 0.006 * length, 0.30 * roof), curve[0]  # front
    return tuple(curve)


def _inner_lines(length: float, roof: float) -> tuple[Curve, ...]:
    def at(x: float, z: float) -> Point:
        return Point(x * length, z * roof)

    front = at(-0.275, 0.70)
    window = [front, at(-0.36, 0.88), at(-0.42, 0.945), at(-0.56, 0.945)]
    window += at(-0.76, 0.945), at(-0.86, 0.86), at(-0.985, 0.755)
    window += _line(window[-1], front)
    pillar = [at(-0.625, 0.944)]
    pillar += _line(pillar[0], at(-0.64, 0.728))
    return tuple(window), tuple(pillar)


def _line(start: Point, end: Point) -> tuple[Point, Point, Point]:
    third = (end.x - start.x) / 3, (end.z - start.z) / 3
    return Point(start.x + third[0], start.z + third[1]), Point(end.x - third[0], end.z - third[1]), end


def _arch(start: Point, axle: float, radius: float, sill: float) -> list[Point]:
    """Along the sill to a wheel arch, and over it from rear to front."""
    wide, handle = 1.22 * radius, 1.22 * radius * _QUARTER
    top = radius + wide
    rise = top - sill
    back, front, crest = Point(axle - wide, sill), Point(axle + wide, sill), Point(axle, top)
    return [
        *_line(start, back),
        *(Point(back.x, sill + rise * _QUARTER), Point(axle - handle, top), crest),
        *(Point(axle + handle, top), Point(front.x, sill + rise * _QUARTER), front),
    ]
