"""Travel tables of the ready-made chains: work, closed forms, limits, and what is refused."""

from __future__ import annotations

from math import atan2, cos, hypot, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from models.errors import InputError
from models.fields import replaced
from models.levers import turned
from models.linkage import (
    LINKAGES,
    Arm,
    Axis,
    BarLever,
    Chain,
    DirectLever,
    Point,
    TrailingArmBellCrank,
    WishboneDropLink,
    travel_table,
)
from models.linkage.solve import moved, solve


@pytest.mark.parametrize("kind", LINKAGES)
def test_the_usual_chain_of_each_kind_is_that_of_the_large_saloon(kind: type[Chain]) -> None:
    """About 2.78 rad/m, and far from its toggles over all of its travel."""
    table = travel_table(kind())
    assert table.at_trim[0] == pytest.approx(0.0, abs=1e-15)
    assert table.at_trim[1] == pytest.approx(2.78, abs=0.01)
    assert table.transmission.min() > sin(radians(60))
    assert table.margin.min() > 0.15
    assert len(table.bodies) == len(table.links) + 1 == len(table.body_angle)


@pytest.mark.parametrize("kind", LINKAGES)
def test_no_work_is_lost(kind: type[Chain]) -> None:
    """∫ F ds = T Δg at a constant torque: the force at the wheel by moments against the turn by positions.

    Gauss-Legendre of 60 points is exact to rounding for curves as smooth as these; 1e-9 is what is asked.
    """
    chain = kind()
    nodes, weights = np.polynomial.legendre.leggauss(60)
    s = 0.1 * nodes
    work = 0.1 * weights @ wheel_force(chain, s)
    low, high = (solve(chain.bodies(), np.array([end]))[-1].angle[0] for end in (-0.1, 0.1))
    assert work == pytest.approx(high - low, rel=1e-9)
    table = travel_table(chain).turn(s)
    np.testing.assert_allclose(np.abs(wheel_force(chain, s)), table.ratio, rtol=1e-9)


def wheel_force(chain: Chain, s: np.ndarray) -> np.ndarray:
    """Upward force at the wheel joint that holds a torque of 1 on the bar, by moments about each axis."""
    bodies = chain.bodies()
    stages = solve(bodies, s)
    torque = np.ones_like(s)
    for number in range(len(bodies) - 1, 0, -1):
        body, before = bodies[number], bodies[number - 1]
        end = moved(body, stages[number], body.inlet).place
        start = moved(before, stages[number - 1], before.outlet).place
        way = (end - start) / np.sqrt(((end - start) ** 2).sum(axis=0))
        force = torque / (np.cross(end - body.at, way, axis=0) * body.axis).sum(axis=0)
        torque = force * (np.cross(start - before.at, way, axis=0) * before.axis).sum(axis=0)
    wheel = moved(bodies[0], stages[0], bodies[0].inlet).place
    up = np.array([[0.0], [0.0], [1.0]])
    return torque / (np.cross(wheel - bodies[0].at, up, axis=0) * bodies[0].axis).sum(axis=0)


@pytest.mark.parametrize("kind", LINKAGES)
def test_ratio_and_slope_are_derivatives(kind: type[Chain]) -> None:
    """Central differences of 20 µm: their own error is h² g''''/24 and rounding 1e-16/h per derivative."""
    chain = replaced(kind(), ("jounce",), 0.1)  # design trim is no point of its table
    table = travel_table(chain)
    s, h = np.linspace(-0.1, 0.08, 37), 2e-5
    below, here, above = (table.turn(s + step) for step in (-h, 0.0, h))
    np.testing.assert_allclose((above.angle - below.angle) / (2 * h), here.ratio, rtol=0, atol=2e-8)
    np.testing.assert_allclose((above.ratio - below.ratio) / (2 * h), here.slope, rtol=0, atol=1e-6)
    exact = solve(chain.bodies(), s)[-1]
    np.testing.assert_allclose(here.angle, np.abs(exact.angle) * np.sign(s), rtol=0, atol=1e-13)
    np.testing.assert_allclose(here.ratio, np.abs(exact.rate), rtol=1e-10)
    np.testing.assert_allclose(np.abs(here.slope), np.abs(exact.bend), rtol=0, atol=1e-7)


def direct(length: float, angle: float, **fields: float) -> DirectLever:
    """A lever whose end is at the wheel centre."""
    return DirectLever(axis=Axis(y=-length * cos(angle), z=-length * sin(angle)), **fields)


@given(angle=st.floats(-0.9, 0.9), length=st.floats(0.25, 1.0), share=st.floats(-1.0, 1.0))
def test_a_direct_lever_is_the_lever_of_its_length_and_angle(
    angle: float, length: float, share: float
) -> None:
    """g = asin(sin φ0 + s/r) - φ0; the quintics of 1.2 mm leave less than 1e-12 away from the vertical."""
    reach = min(0.12, 0.9 * length * (1 - abs(sin(angle))))
    table = travel_table(direct(length, angle, jounce=reach, rebound=reach))
    s = share * reach
    ours, wanted = table.turn(s), turned(1 / (length * cos(angle)), angle, s)
    assert ours.angle == pytest.approx(wanted.angle, abs=1e-12)
    assert ours.ratio == pytest.approx(wanted.ratio, rel=1e-9)
    assert ours.slope == pytest.approx(wanted.slope, rel=1e-6, abs=1e-6)


def test_an_axis_along_the_car_or_across_it_serves_alike() -> None:
    """A trailing arm of the same length stands as the lateral one does."""
    lateral = travel_table(DirectLever(axis=Axis(y=-0.4, z=-0.1)))
    trailing = travel_table(DirectLever(axis=Axis(x=0.4, z=-0.1, along=0.0, across=-0.3)))
    np.testing.assert_allclose(lateral.angle, trailing.angle, rtol=0, atol=1e-14)
    assert (lateral.along, trailing.along) == (1.0, 0.0)


def test_a_slanted_axis_by_hand() -> None:
    """About an axis at 30 deg in plan, through a point 0.4 m inward, the wheel is 0.4 cos 30 from it."""
    axis = Axis(y=-0.4, along=cos(pi / 6) / 2, across=sin(pi / 6) / 2)
    assert travel_table(DirectLever(axis=axis)).at_trim[1] == pytest.approx(
        1 / (0.4 * cos(pi / 6)), rel=1e-12
    )


@pytest.mark.parametrize("height", [0.05, 0.25])
def test_a_parallelogram_turns_the_lever_as_the_arm(height: float) -> None:
    """Equal and parallel arms, and a link as long as the pivots are apart."""
    arm = Arm(axis=Axis(y=-0.5, z=-0.1), wheel=Point(), link=Point(y=-0.2, z=-0.06))
    lever = BarLever(axis=Axis(x=0.1, y=-0.5, z=-0.1 + height), link=Point(x=0.1, y=-0.2, z=-0.06 + height))
    table = travel_table(WishboneDropLink(arm=arm, lever=lever))
    angle = atan2(0.1, 0.5)
    wanted = turned(1 / 0.5, angle, table.travel)
    np.testing.assert_allclose(table.body_angle[1], table.body_angle[0], rtol=0, atol=1e-13)
    np.testing.assert_allclose(table.angle, wanted.angle, rtol=0, atol=1e-13)
    np.testing.assert_allclose(table.slope, wanted.slope, rtol=1e-10)
    # The link of length √(h² + 0.1²) acts at the lever arm that the other way round does the work.
    level = table.link_force[0] * 0.3 * height / hypot(height, 0.1)
    assert level[128] == pytest.approx(1.0, rel=1e-12)


@pytest.mark.parametrize("kind", LINKAGES)
def test_in_the_limit_of_long_arms_the_bar_turns_in_proportion(kind: type[Chain]) -> None:
    """All lengths n times longer: n g(s) -> g'(0) s, with a rest that falls as 1/n."""
    chain = kind()
    bodies = chain.bodies()
    ratio = travel_table(chain).at_trim[1]
    s = np.array([-0.1, 0.1])
    rests = []
    for longer in (10.0, 100.0):
        stretched = [
            type(body)(longer * body.at, body.axis, longer * body.inlet, longer * body.outlet)
            for body in bodies
        ]
        angle = np.abs(solve(stretched, s)[-1].angle)
        rests.append(np.abs(longer * angle - ratio * np.abs(s)).max())
    assert rests[0] < 0.02 * ratio * 0.1
    assert rests[1] < 0.11 * rests[0]


def test_beyond_its_travel_the_bar_turns_on_straight() -> None:
    table = travel_table(WishboneDropLink())
    end, beyond = table.turn(0.12), table.turn(0.15)
    assert beyond.angle - end.angle == pytest.approx(0.03 * end.ratio, rel=1e-12)
    assert beyond.ratio == end.ratio
    assert beyond.slope == 0.0


def test_equal_chains_share_a_table_and_a_mirrored_axis_changes_nothing() -> None:
    assert travel_table(WishboneDropLink()) is travel_table(WishboneDropLink(jounce=0.12))
    turned_round = replaced(WishboneDropLink(), ("lever", "axis", "along"), -1.0)
    ours, theirs = travel_table(WishboneDropLink()), travel_table(turned_round)
    np.testing.assert_allclose(ours.angle, theirs.angle, rtol=0, atol=1e-15)
    np.testing.assert_allclose(ours.link_force, theirs.link_force, rtol=1e-13)
    assert ours.along == theirs.along == 1.0


def test_front_lever_and_bell_crank_turn_the_bar_against_each_other() -> None:
    """As a levelling bar needs it."""
    assert travel_table(WishboneDropLink()).along == 1.0
    assert travel_table(TrailingArmBellCrank()).along == -1.0


def test_the_travel_at_which_an_arm_stands_upright() -> None:
    """By hand: 0.36 m of lever reach 360 mm up and down; within 1.1 deg of that it counts as locked."""
    with pytest.raises(ValidationError, match=r"locks at 359.9 mm of jounce, within its travel of 400 mm"):
        DirectLever(jounce=0.4)
    with pytest.raises(ValidationError, match=r"Rebound travel: the linkage locks at 359.9 mm of rebound"):
        DirectLever(rebound=0.4)
    with pytest.raises(ValidationError, match="the lever stands upright over its pivot"):
        DirectLever(jounce=0.5, rebound=0.5)
    assert DirectLever(jounce=0.359).jounce == 0.359


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (("lever", "link"), Point(x=0.3, y=-0.42, z=0.11), "joint that turns it lies on its axis"),
        (("lever", "link"), Point(y=-0.2, z=-0.09), "Drop link: its two ends are at the same place"),
        (("lever", "link"), Point(y=-0.42, z=0.3), "Jounce travel|Rebound travel|Drop link: at design trim"),
        (("arm", "wheel"), Point(y=-0.42, z=0.3), "Wishbone: at design trim it stands upright"),
        (("arm", "link"), Point(y=-0.42, z=-0.08), "Drop link: at design trim|Lever ratio: 0"),
        (("jounce",), 0.5, "Jounce travel: the linkage locks at 380.5 mm of jounce"),
        (("lever", "axis", "along"), 0.0, "an axis needs a direction"),
    ],
)
def test_what_cannot_be_built_is_refused_and_named(path: tuple[str, ...], value: object, words: str) -> None:
    with pytest.raises((InputError, ValidationError), match=words):
        replaced(WishboneDropLink(), path, value)
