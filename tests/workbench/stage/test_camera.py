"""The camera shows the cars whole."""

from __future__ import annotations

import pytest

from models.vehicle import Body, Tyre, Vehicle
from workbench.stage.camera import FOOT, distance_behind, fitted
from workbench.stage.silhouette import Point, Silhouette, silhouette

SMALL = silhouette(Vehicle(wheelbase=1.9, body=Body(cg_to_front_axle=0.9)))
LARGE = silhouette(Vehicle(wheelbase=3.6))


@pytest.mark.parametrize("size", [(640.0, 170.0), (1000.0, 240.0), (1600.0, 300.0), (2400.0, 700.0)])
@pytest.mark.parametrize("bodies", [(SMALL,), (LARGE,), (SMALL, LARGE)])
def test_cars_lie_inside_the_picture(size: tuple[float, float], bodies: tuple[Silhouette, ...]) -> None:
    camera = fitted(*size, bodies)
    for body in bodies:
        tail, nose = camera.point(Point(body.tail, body.roof)), camera.point(Point(body.nose, 0.0))
        assert 0.0 < tail.x() < nose.x() < size[0]
        assert 0.0 < tail.y() < nose.y() < size[1] - FOOT


def test_transform_and_point_agree_and_the_camera_rises() -> None:
    camera = fitted(1000.0, 240.0, (SMALL,))
    place = Point(-1.3, 0.4)
    lifted = camera.transform(0.25).map(*place)
    still = camera.point(place)
    assert lifted[0] == pytest.approx(still.x())
    assert lifted[1] == pytest.approx(still.y() + 0.25 * camera.scale)


def test_circles_stay_circles() -> None:
    transform = fitted(1000.0, 240.0, (SMALL,)).transform(0.0)
    radius = Tyre().radius
    centre = transform.map(0.0, radius)
    assert transform.map(radius, radius)[0] - centre[0] == pytest.approx(
        centre[1] - transform.map(0.0, 2 * radius)[1]
    )


@pytest.mark.parametrize("size", [(1000.0, 240.0), (1600.0, 300.0), (2400.0, 700.0)])
@pytest.mark.parametrize("bodies", [(SMALL, LARGE), (LARGE, SMALL)])
def test_cars_behind_each_other_stand_clear_inside_the_picture(
    size: tuple[float, float], bodies: tuple[Silhouette, Silhouette]
) -> None:
    leader, follower = bodies
    distance, strip = distance_behind(leader, follower), 280.0
    camera = fitted(*size, bodies, distance, strip)
    behind = camera.behind(distance)
    tail, nose = behind.point(Point(follower.tail, 0.0)).x(), behind.point(Point(follower.nose, 0.0)).x()
    next_tail, end = camera.point(Point(leader.tail, 0.0)).x(), camera.point(Point(leader.nose, 0.0)).x()
    assert 0.0 < tail < nose < next_tail < end < size[0] - strip
    assert next_tail - nose >= 0.9 * camera.scale
    assert camera.point(Point(0.0, max(body.roof for body in bodies))).y() > 0.0


def test_the_distance_behind_is_round() -> None:
    distance = distance_behind(SMALL, LARGE)
    assert distance % 0.5 == 0.0
    assert 0.9 <= distance + SMALL.tail - LARGE.nose < 1.4
