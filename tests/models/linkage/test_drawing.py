"""Joints of chains in space, and joints moved by hand."""

from __future__ import annotations

import numpy as np
import pytest

from models.errors import InputError
from models.fields import follow, replaced
from models.linkage import (
    LINKAGES,
    Chain,
    DirectLever,
    Nearest,
    TrailingArmBellCrank,
    WishboneDropLink,
    drawn,
    joints,
    moved_point,
    nearest_point,
    points,
    travel_table,
)


@pytest.mark.parametrize("kind", LINKAGES)
def test_joints_keep_their_distances_and_the_wheel_goes_up(kind: type[Chain]) -> None:
    chain = kind()
    s = np.array([-0.12, -0.03, 0.0, 0.08])
    shown = drawn(chain, s)
    wheel = shown.bodies[0].inlet
    np.testing.assert_allclose(wheel[:, 2] - wheel[2, 2], s, rtol=0, atol=1e-15)
    for link, length in zip(shown.links, travel_table(chain).link_length, strict=True):
        np.testing.assert_allclose(np.linalg.norm(link.end - link.start, axis=1), length, rtol=1e-13)
    for body in shown.bodies:
        for joint in (body.inlet, body.outlet):
            from_axis = np.cross(joint - body.at, body.axis)
            assert np.ptp(np.linalg.norm(from_axis, axis=1)) < 1e-14
            assert np.ptp(joint @ body.axis) < 1e-14


def test_the_right_side_is_the_mirror_image() -> None:
    left, right = (drawn(TrailingArmBellCrank(), 0.05, side) for side in ("left", "right"))
    for ours, theirs in zip(left.bodies, right.bodies, strict=True):
        np.testing.assert_array_equal(ours.outlet * [1, -1, 1], theirs.outlet)
        np.testing.assert_array_equal(ours.axis * [1, -1, 1], theirs.axis)


def test_beyond_its_travel_a_chain_is_drawn_at_the_end_of_it() -> None:
    assert drawn(DirectLever(), 0.2).bodies[0].inlet[0, 2] == pytest.approx(0.12, abs=1e-15)


def test_points_are_named_and_moved() -> None:
    chain = WishboneDropLink()
    assert list(points(chain)) == ["arm > axis", "arm > wheel", "arm > link", "lever > axis", "lever > link"]
    moved = moved_point(chain, "lever > link", (0.02, -0.21, 0.12))
    assert points(moved)["lever > link"] == (0.02, -0.21, 0.12)
    moved = moved_point(chain, "lever > axis", (0.0, -0.43, 0.1))
    assert points(moved)["lever > axis"] == (0.0, -0.43, 0.1)
    assert moved.lever.axis.direction == pytest.approx(chain.lever.axis.direction)
    with pytest.raises(InputError, match="no point of this name"):
        moved_point(chain, "lever > end", (0.0, 0.0, 0.0))
    with pytest.raises(InputError, match="Outward: 9000 mm is outside the allowed range"):
        moved_point(chain, "lever > link", (0.0, 9.0, 0.0))


@pytest.mark.parametrize("kind", LINKAGES)
def test_every_joint_is_named_for_a_reader(kind: type[Chain]) -> None:
    found = joints(kind())
    assert len({joint.label for joint in found}) == len(found)
    assert [joint.name for joint in found] == list(points(kind()))
    for joint in found:
        assert follow(kind(), joint.path) is joint.part


def test_a_drag_stops_at_the_end_of_what_a_coordinate_may_be() -> None:
    nearest = nearest_point(DirectLever(), "axis", (0.0, -9.0, 0.0))
    assert "Outward: -9000 mm is outside the allowed range" in nearest.reason
    assert -5.0 <= nearest.chain.axis.y < -4.8


def test_a_point_dragged_too_far_stops_where_the_chain_would_lock() -> None:
    """Towards the bar the lever shortens until it locks within its travel; a hair further is refused."""
    chain = WishboneDropLink()
    target = (0.0, -0.42, 0.11)
    with pytest.raises(InputError):
        moved_point(chain, "lever > link", target)
    nearest = nearest_point(chain, "lever > link", target)
    assert any(word in nearest.reason for word in ("locks at", "toggle", "Lever ratio", "lies on its axis"))
    stopped = nearest.chain
    y = stopped.lever.link.y
    assert -0.42 < y < -0.2
    assert stopped.lever.link.z == pytest.approx(0.11, abs=1e-15)
    with pytest.raises(InputError, match=r"locks at|toggle|Lever ratio"):
        moved_point(stopped, "lever > link", (0.0, y - 0.22 / 2**6, 0.11))
    free = nearest_point(chain, "lever > link", (0.0, -0.25, 0.1))
    assert free == Nearest(moved_point(chain, "lever > link", (0.0, -0.25, 0.1)))
    with pytest.raises(InputError, match="no point of this name"):
        nearest_point(chain, "lever > end", target)


def test_another_number_is_an_ordinary_edit() -> None:
    chain = replaced(WishboneDropLink(), ("arm", "link", "y"), -0.25)
    assert travel_table(chain).at_trim[1] < travel_table(WishboneDropLink()).at_trim[1]
