"""Linkages on the stage against the joints of the model."""

from __future__ import annotations

import numpy as np
import pytest

from models.analysis import Analysis, analyse
from models.linkage import LINKAGES, Chain, TrailingArmBellCrank, WishboneDropLink, drawn
from models.roads import OneMinusCosine
from models.run import Run
from models.vehicle import Axle, Side, Stabiliser, TorsionCoupling, TrimSpring, Vehicle
from workbench.stage.chain import chain_lines
from workbench.stage.pose import Pose
from workbench.stage.running_gear import Bar
from workbench.stage.scene import stage_frame
from workbench.stage.silhouette import Point

LEVEL = Pose(0.0, 0.0, 0.5)
# Straight lines between 65 travels over a path of some 0.2 m radius: 3.75 mm²/(8 · 200 mm) is 9 µm; levers
# near their toggle bend more.
STRAIGHT = 1e-4


@pytest.mark.parametrize("kind", LINKAGES)
def test_joints_stand_where_the_chain_puts_them(kind: type[Chain]) -> None:
    chain, wheel = kind(), Point(-2.5, 0.3)
    for s in (-0.2, -0.083, 0.0, 0.0411, 0.12):
        lines, wanted = chain_lines(chain, s, wheel, LEVEL, 1.0), drawn(chain, s)
        for (pivot, inlet, outlet), body in zip(lines.bodies, wanted.bodies, strict=True):
            places = ((pivot, body.at), (inlet, body.inlet[0]), (outlet, body.outlet[0]))
            for place, point in places:
                assert place == pytest.approx((point[0] - 2.5, point[2] + 0.3), abs=STRAIGHT)


def test_at_design_trim_nothing_is_exaggerated() -> None:
    plain, large = (chain_lines(WishboneDropLink(), 0.0, Point(0, 0.3), LEVEL, factor) for factor in (1, 20))
    assert np.array(plain.bodies) == pytest.approx(np.array(large.bodies), abs=STRAIGHT * 20)


@pytest.fixture(scope="module")
def linked() -> Analysis:
    side = Side(
        coupling=TorsionCoupling(
            bar_rate=900.0, front_linkage=WishboneDropLink(), rear_linkage=TrailingArmBellCrank()
        ),
        trim=TrimSpring(bar_rate=100.0, linkage=TrailingArmBellCrank()),
    )
    front = Axle(stabiliser=Stabiliser(bar_rate=300.0, linkage=WishboneDropLink()))
    return analyse(Vehicle(front=front, left=side), Run(event=OneMinusCosine(), duration=0.6), compiled=False)


def test_the_stage_shows_every_linkage_that_turns_a_bar(linked: Analysis) -> None:
    frame = stage_frame(linked, 0.3, 5.0)
    bar = frame.link
    assert isinstance(bar, Bar)
    assert bar.front.chain is not None
    assert bar.rear.chain is not None
    assert bar.front.root == bar.front.chain.bar
    assert (len(frame.near.front.chains), len(frame.near.rear.chains)) == (1, 1)
    assert frame.near.front.stabiliser is None
    # The joint at the wheel of a trailing arm is the wheel centre, which the drawing has elsewhere.
    wheel, joint = frame.near.rear, bar.rear.chain.bodies[0][1]
    assert abs(wheel.travel) > 1e-4
    assert joint.z == pytest.approx(wheel.centre.z, abs=5.0 * STRAIGHT)
