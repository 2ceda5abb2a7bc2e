"""The body fits the car whatever its size."""

from __future__ import annotations

import math

from hypothesis import given, settings

from models.vehicle import Vehicle
from tests.cars import vehicles
from workbench.stage.silhouette import silhouette


@settings(max_examples=50, deadline=None)
@given(vehicles)
def test_outline_is_closed_and_spans_the_wheels(vehicle: Vehicle) -> None:
    body = silhouette(vehicle)
    assert len(body.outline) % 3 == 1
    assert body.outline[0] == body.outline[-1]
    assert all(math.isfinite(value) for point in body.outline for value in point)
    assert body.nose > 0.0 > -vehicle.wheelbase > body.tail
    assert max(point.z for point in body.outline) <= body.roof * (1 + 1e-12)


def test_driver_sits_under_the_roof() -> None:
    body = silhouette(Vehicle())
    assert body.hip.z == Vehicle().seat.height
    assert body.hip.z < body.head.z < body.roof - body.head_radius


def test_a_longer_wheelbase_makes_a_longer_body_of_the_same_height() -> None:
    short, long = silhouette(Vehicle(wheelbase=2.6)), silhouette(Vehicle(wheelbase=3.2))
    assert long.nose - long.tail > short.nose - short.tail
    assert long.roof == short.roof


def test_arches_leave_room_around_the_tyres() -> None:
    car = Vehicle()
    radius = car.front.tyre.radius
    for point in silhouette(car).outline[::3]:
        for axle in (0.0, -car.wheelbase):
            assert math.hypot(point.x - axle, point.z - radius) > 1.05 * radius
