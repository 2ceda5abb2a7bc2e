"""Angles of links over travel: by hand, by scipy, and what a report tells of them."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from models.analysis import analyse
from models.hardware.hardware import Hardware
from models.hardware.stabiliser_bar import BendPoint, EndLink, StabiliserBar
from models.judge.envelope import link_angles
from models.judge.links import chain_links, end_links
from models.judge.packaging import packaging, packaging_figures
from models.linkage import Arm, Axis, BarLever, Point, TrailingArmBellCrank, WishboneDropLink
from models.run import Run
from models.vehicle import AS_DESIGNED, Axle, Packaging, Side, Stabiliser, TorsionCoupling, Vehicle

ENDS = (np.full(4, -0.08), np.full(4, 0.06))

# Wishbone and lever level, 0.22 m long, the upright link between them: a parallelogram.
PARALLELOGRAM = WishboneDropLink(
    arm=Arm(axis=Axis(y=-0.42, z=-0.1), wheel=Point(y=-0.06, z=-0.1), link=Point(y=-0.2, z=-0.1)),
    lever=BarLever(axis=Axis(y=-0.42, z=0.1), link=Point(y=-0.2, z=0.1)),
)


def test_link_of_a_parallelogram_leans_off_square_as_far_as_the_wishbone_turns() -> None:
    """The wheel joint, 0.36 m from the pivot and as low, rises by s: the wishbone turns by asin(s / 0.36)."""
    bar = Stabiliser(bar_rate=900.0, linkage=PARALLELOGRAM)
    found = chain_links(Vehicle(front=Axle(stabiliser=bar)), ENDS)
    assert [(link.name, link.place) for link in found] == [
        (f"Stabiliser bar, drop link at the {body}", corner)
        for corner in ("FL", "FR")
        for body in ("wishbone", "lever")
    ]
    for link in found:
        turn = np.arcsin(link.travel / 0.36)
        assert link.travel[[0, -1]] == pytest.approx([-0.08, 0.06])
        assert link.angle == pytest.approx(math.pi / 2 - abs(turn), abs=1e-12)
        assert math.isnan(link.lean)


def test_only_chains_of_bars_that_are_fitted_count() -> None:
    crank = TrailingArmBellCrank()
    coupling = TorsionCoupling(bar_rate=1000.0, rear_linkage=crank)
    joined = Vehicle(left=Side(coupling=coupling))
    assert {link.place for link in chain_links(joined, ENDS)} == {"RL", "RR"}
    assert len(chain_links(joined, ENDS)) == 8  # two links with two ends on each side
    idle = Vehicle(left=Side(coupling=TorsionCoupling(bar_rate=0.0, rear_linkage=crank)))
    assert chain_links(idle, ENDS) == ()


@pytest.mark.parametrize("far", [(0.02, 0.55, 0.25), (0.1, 0.6, -0.2)])
def test_end_link_agrees_with_a_lever_turned_until_the_link_fits(far: tuple[float, float, float]) -> None:
    """scipy turns the lever about the bushes until the link has its length again; 1e-9 is what it leaves."""
    points = (BendPoint(x=-0.2), BendPoint(x=-0.2, y=0.44), BendPoint(x=0.05, y=0.5, z=0.04))
    link = EndLink(x=far[0], y=far[1], z=far[2], ratio=0.8)
    (found,) = end_links(Hardware(rear_stabiliser=StabiliserBar(points=points, link=link)), ENDS)
    assert found.place == "rear"
    axis, end = np.array([-0.2, 0.0, 0.0]), np.array([0.05, 0.5, 0.04])
    length = np.linalg.norm(np.subtract(far, end))

    def turned(angle: float) -> np.ndarray:
        c, s = math.cos(angle), math.sin(angle)
        arm = end - axis
        return axis + np.array([c * arm[0] - s * arm[2], arm[1], s * arm[0] + c * arm[2]])

    for s, angle in zip(found.travel, found.angle, strict=True):
        joint = np.add(far, (0.0, 0.0, 0.8 * s))
        own = brentq(lambda a, joint=joint: np.linalg.norm(joint - turned(a)) - length, -0.6, 0.6, xtol=1e-13)
        place = turned(own)
        pivot = np.array([-0.2, place[1], 0.0])
        assert angle == pytest.approx(float(link_angles(pivot, place, joint)), abs=1e-9)
    assert found.lean == pytest.approx(math.acos(abs(far[2] - end[2]) / length))


def test_report_holds_links_against_the_least_angle() -> None:
    limit = math.radians(75.0)
    car = Vehicle(
        front=Axle(stabiliser=Stabiliser(bar_rate=900.0, linkage=PARALLELOGRAM)),
        packaging=Packaging(link_angle_limit=limit),
    )
    analysis = analyse(car, Run(duration=1.0), compiled=False)
    steel = Hardware(front_stabiliser=StabiliserBar())
    report = packaging(analysis, (AS_DESIGNED,), steel)
    rows = {row.figure.key: row for row in report.checks if row.figure.key.startswith("link_")}
    row = rows["link_angle_stabiliser_bar_drop_link_at_the_lever_FL"]
    furthest = max(abs(report.links[0].travel))
    assert row.figure.value == pytest.approx(math.pi / 2 - math.asin(furthest / 0.36))
    assert row.met is (row.figure.value >= limit)
    lean = rows["link_lean_stabiliser_bar_end_link_front"]
    assert (lean.place, lean.met) == ("front", None)
    least = min(one.margin for key, one in rows.items() if key.startswith("link_angle_"))
    assert {one.key: one.value for one in packaging_figures(report)}["link_angle_margin"] == least
    assert not any(
        row.figure.key.startswith("link_") for row in packaging(analysis, ()).checks if row.place == "front"
    )
