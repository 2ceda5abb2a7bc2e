"""Chains of rockers and links against scipy, which is given distances between points and nothing else.

Every joint is free in space; the equations hold it at its distances from two points of its axis, from the
other joint of its body and from the other end of its link, and the wheel joint at its height.  A mark on each
body, off the plane of axis and first joint, tells the body from its mirror image.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import least_squares

from models.linkage.solve import Body, Stage, moved, solve
from tests.manual import near

Array = NDArray[np.float64]


def points_of(body: Body, bodies: tuple[Body, ...]) -> list[Array]:
    """Joint that turns it, mark, and joint that turns the next body; the last has the first joint only."""
    if body is bodies[-1]:
        return [body.inlet]
    arm = body.inlet - body.at
    return [body.inlet, body.at + np.cross(body.axis, arm, axis=0), body.outlet]


class Distances:
    """Equations of one chain: joints are rows of x; a pair (i, j, fixed) is a squared distance to be kept."""

    def __init__(self, bodies: tuple[Body, ...]) -> None:
        joints, fixed, pairs = [], [], []
        for body in bodies:
            first = len(joints)
            joints += [point[:, 0] for point in points_of(body, bodies)]
            for joint in range(first, len(joints)):
                pairs += [(joint, before) for before in range(first, joint)]
                for end in (0.0, 0.5):
                    fixed.append(body.at[:, 0] + end * body.axis[:, 0])
                    pairs.append((joint, -len(fixed)))
            if body is not bodies[-1]:
                pairs.append((first + 2, first + 3))
        self.start = np.array(joints)
        self._fixed = np.array(fixed)
        self._one = np.array([i for i, _ in pairs])
        self._other = np.array([j for _, j in pairs])
        way = self.ways(self.start)
        self._squares = (way**2).sum(axis=1)

    def ways(self, joints: Array) -> Array:
        """(pairs, 3) from the other to the one; fixed points count from behind."""
        ends = np.vstack([joints, self._fixed[::-1]])
        return ends[self._one] - ends[self._other]

    def residual(self, x: Array, s: float) -> Array:
        joints = x.reshape(-1, 3)
        kept = (self.ways(joints) ** 2).sum(axis=1) - self._squares
        return np.append(kept, joints[0, 2] - self.start[0, 2] - s)

    def jacobian(self, x: Array, _s: float = 0.0) -> Array:
        joints = x.reshape(-1, 3)
        way, rows = 2 * self.ways(joints), np.arange(len(self._one))
        result = np.zeros((len(rows) + 1, len(joints), 3))
        result[rows, self._one] += way
        moving = self._other >= 0
        result[rows[moving], self._other[moving]] -= way[moving]
        result[-1, 0, 2] = 1.0
        return result.reshape(len(rows) + 1, -1)

    def curvature(self, rate: Array) -> Array:
        """What the squares of the rates leave for the second derivatives."""
        padded = np.vstack([rate.reshape(-1, 3), np.zeros_like(self._fixed)])
        way = padded[self._one] - padded[self._other]
        return np.append(2 * (way**2).sum(axis=1), 0.0)


def random_chains(count: int, links: int, seed: int) -> list[tuple[tuple[Body, ...], float]]:
    """Chains with points anywhere in half a metre, and a travel at which each is clear of its toggles.

    Clear on the whole way there: 0.2 of the reach in hand, no body turned more than 35 deg; arms and links of
    50 mm at least.
    """
    rng = np.random.default_rng(seed)
    many = 6 * count  # a quarter of them are clear, at the worst

    def anywhere() -> Array:
        return rng.uniform(-0.5, 0.5, (3, 1, many))

    bodies = []
    for _ in range(links + 1):
        axis = rng.normal(size=(3, 1, many))
        bodies.append(Body(anywhere(), axis / np.sqrt((axis**2).sum(axis=0)), anywhere(), anywhere()))
    end = rng.uniform(-0.1, 0.1, many)
    stages = solve(bodies, np.linspace(0.0, 1.0, 12)[:, None] * end)
    lengths = [np.cross(body.axis, body.inlet - body.at, axis=0) for body in bodies]
    lengths += [body.inlet - before.outlet for before, body in pairwise(bodies)]
    clear = np.all([np.sqrt((way**2).sum(axis=0))[0] > 0.05 for way in lengths], axis=0)
    for stage in stages:
        clear &= (stage.reserve > 0.2).all(axis=0) & (np.abs(stage.angle) < 0.6).all(axis=0)
    chosen = np.flatnonzero(clear)[:count]
    assert len(chosen) == count
    return [
        (
            tuple(
                Body(body.at[:, 0, [k]], body.axis[:, 0, [k]], body.inlet[:, 0, [k]], body.outlet[:, 0, [k]])
                for body in bodies
            ),
            float(end[k]),
        )
        for k in chosen
    ]


def joints_of(bodies: tuple[Body, ...], stages: tuple[Stage, ...], which: int) -> Array:
    """(joints, 3) place, rate or bend of all joints as the solver has them."""
    rows = []
    for body, stage in zip(bodies, stages, strict=True):
        rows += [moved(body, stage, point)[which][:, 0] for point in points_of(body, bodies)]
    return np.array(rows)


@pytest.mark.parametrize(("links", "count"), [(0, 100), (1, 300), (2, 400), (3, 200)])
def test_a_thousand_random_chains(links: int, count: int) -> None:
    """Places, and what differentiating the same equations gives for rates and bends.

    1e-9 m is what least squares leaves of equations solved to rounding, at matrices of condition up to 1e4;
    rates and bends follow from these matrices, relative to the largest of the chain.
    """
    for bodies, s in random_chains(count, links, seed=7 + links):
        stages = solve(bodies, np.array([s]))
        system = Distances(bodies)
        x = system.start.ravel()
        for step in (s / 3, 2 * s / 3, s):  # led along, or it may find another way to assemble the chain
            x = least_squares(
                system.residual, x, system.jacobian, args=(step,), method="lm", xtol=1e-15, ftol=1e-15
            ).x
        assert np.abs(system.residual(x, s)).max() < 1e-12
        place = joints_of(bodies, stages, 0)
        near("places, m", place, x.reshape(-1, 3), within=1e-9)
        matrix = system.jacobian(x)
        lifted = np.append(np.zeros(len(matrix) - 1), 1.0)
        rate = np.linalg.lstsq(matrix, lifted, rcond=None)[0]
        bend = np.linalg.lstsq(matrix, -system.curvature(rate), rcond=None)[0]
        for which, theirs in ((1, rate), (2, bend)):
            ours = joints_of(bodies, stages, which)
            scale = np.abs(ours).max()
            name = ("places, m", "rates", "bends, 1/m")[which]
            near(name, ours, theirs.reshape(-1, 3), within=1e-7 * scale)


def test_random_chains_keep_their_distances() -> None:
    """The same chains at eleven travels each: all equations of scipy's, to rounding of half a metre."""
    for links in (1, 2, 3):
        for bodies, s in random_chains(200, links, seed=70 + links):
            system = Distances(bodies)
            for share in (0.1, 0.5, 0.9):
                stages = solve(bodies, np.array([share * s]))
                left = system.residual(joints_of(bodies, stages, 0).ravel(), share * s)
                near("equations left, m²", left, 0.0, within=1e-13)
