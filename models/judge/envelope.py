"""What the wheels need of their travel: load cases and run between the stops, and the levers over it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.analysis import Analysis
from models.assembly import CORNERS
from models.levers import AnyLever, Lever, turned
from models.ride.channels import channel_index
from models.statics import Statics

__all__ = [
    "Envelope",
    "LeverSwing",
    "Zero",
    "envelope",
    "lever_angle",
    "lever_swings",
    "link_angles",
    "zero_of",
]

Array = NDArray[np.float64]

#: From where the angle of a lever counts.
Zero = Literal["horizontal", "design trim"]

#: Travels at which a chain is looked at: unlike a lever it may turn back before the end.
_SAMPLES = 65


@dataclass(frozen=True, eq=False)
class Envelope:
    """Wheel travels from design trim, jounce positive, m; wheels FL, FR, RL, RR.

    Attributes:
        bump_stop, rebound_stop: (4,) travel at which they touch, rebound below 0; infinite without a stop.
        cases: names of the load cases.
        travel: (cases, 4) at rest; NaN where the car does not stand.
        reasons: why it does not; empty where it does.
        jounce, rebound: (4,) furthest travels of the run, its start included; NaN where the car of the run
            does not stand.
    """

    bump_stop: Array
    rebound_stop: Array
    cases: tuple[str, ...]
    travel: Array
    reasons: tuple[str, ...]
    jounce: Array
    rebound: Array

    @property
    def jounce_left(self) -> Array:
        """(cases, 4) travel left to the bump stop at rest, m; below 0 it is pressed."""
        return np.asarray(self.bump_stop - self.travel)

    @property
    def rebound_left(self) -> Array:
        """(cases, 4) travel left to the rebound stop at rest, m; below 0 it is pressed."""
        return np.asarray(self.travel - self.rebound_stop)

    @property
    def ends(self) -> tuple[Array, Array]:
        """(4,) travels in rebound and jounce between which everything must have room, m.

        To the stops, and further where a load case or the run presses them; without a stop as far as load
        cases and run go, NaN where the car stands in none.
        """
        low, high = np.vstack([self.travel, self.rebound]), np.vstack([self.travel, self.jounce])
        ends = np.minimum(np.fmin.reduce(low), 0.0), np.maximum(np.fmax.reduce(high), 0.0)
        fitted = np.isfinite(self.rebound_stop), np.isfinite(self.bump_stop)
        return (
            np.where(fitted[0], np.fmin(ends[0], self.rebound_stop), ends[0]),
            np.where(fitted[1], np.fmax(ends[1], self.bump_stop), ends[1]),
        )


@dataclass(frozen=True, slots=True)
class LeverSwing:
    """A lever of a bar over the whole travel of its wheel.

    Attributes:
        element: name of the bar.
        corner: wheel that moves it.
        travel: wheel travels at the ends in rebound and jounce, m.
        angle: least and greatest of :func:`lever_angle` between them, rad.
        turn: least and greatest turn of the bar end from design trim, rad, jounce positive.
        zero: from where the angle counts.
    """

    element: str
    corner: str
    travel: tuple[float, float]
    angle: tuple[float, float]
    turn: tuple[float, float]
    zero: Zero = "horizontal"

    @property
    def steepest(self) -> float:
        """Greatest angle either way, rad."""
        return max(map(abs, self.angle))


def envelope(analysis: Analysis, stands: dict[str, Statics]) -> Envelope:
    """Travels of load cases (name: where the car stands in them) and of the run of an analysis."""
    own = analysis.stand
    first = channel_index(f"travel_{CORNERS[0]}")
    travel = own.travel[:, None] + analysis.time.y[first : first + 4]
    nowhere = np.full(4, np.nan)
    return Envelope(
        bump_stop=own.jounce_left + own.travel,
        rebound_stop=own.travel - own.rebound_left,
        cases=tuple(stands),
        travel=np.array([stand.travel if stand.stable else nowhere for stand in stands.values()]).reshape(
            -1, 4
        ),
        reasons=tuple(stand.reason for stand in stands.values()),
        jounce=travel.max(axis=1) if own.stable else nowhere,
        rebound=travel.min(axis=1) if own.stable else nowhere,
    )


def lever_swings(analysis: Analysis, ends: tuple[Array, Array]) -> tuple[LeverSwing, ...]:
    """Levers of all bars that are fitted, between travels in rebound and jounce (4,).

    The links of a chain have angles of their own; see :func:`link_angles`.
    """
    return tuple(
        _swing(element.name, lever, (float(ends[0][lever.wheel]), float(ends[1][lever.wheel])))
        for element in analysis.car.elements
        for lever in element.levers
    )


def zero_of(lever: AnyLever) -> Zero:
    """From where the angle of a lever counts.

    What the wheel itself lifts is pushed upright, so that level is square; a lever behind a link may stand
    anywhere.
    """
    return "horizontal" if isinstance(lever, Lever) or len(lever.table.bodies) == 1 else "design trim"


def lever_angle(lever: AnyLever, travel: ArrayLike) -> Array:
    """Angle of a lever over wheel travel, m, that its limit counts, rad, jounce positive; same shape.

    Above the horizontal it is φ0 + g; the wheel's own arm as a lever has tan φ0 = g''(0)/g'(0)² as any lever
    in a plane, in the plane in which it turns.  Behind a link it is the turn g from design trim.
    """
    turn = _jounce_turn(lever, travel)
    if isinstance(lever, Lever):
        return lever.angle + turn
    if zero_of(lever) == "design trim":
        return turn
    _, ratio, slope = lever.table.at_trim
    return np.asarray(np.arctan(slope / ratio**2) + turn)


def link_angles(pivot: ArrayLike, joint: ArrayLike, end: ArrayLike) -> Array:
    """(N,) angle between a link and its lever over travel, 0 in line to π/2 square, rad.

    Args:
        pivot: (N, 3) or (3,) points on the lever's axis: the nearest one to the joint, m.
        joint: (N, 3) where the link hangs on the lever, m.
        end: (N, 3) other end of the link, m.
    """
    lever, link = np.subtract(joint, pivot), np.subtract(end, joint)
    across = np.linalg.norm(np.cross(lever, link), axis=-1)
    return np.asarray(np.arctan2(across, np.abs((lever * link).sum(axis=-1))))


def _swing(element: str, lever: AnyLever, travel: tuple[float, float]) -> LeverSwing:
    angle = turn = (np.nan, np.nan)
    if np.isfinite(travel).all():
        way = np.linspace(*travel, _SAMPLES)
        angle, turn = _range(lever_angle(lever, way)), _range(_jounce_turn(lever, way))
    return LeverSwing(element, CORNERS[lever.wheel], travel, angle, turn, zero_of(lever))


def _jounce_turn(lever: AnyLever, travel: ArrayLike) -> Array:
    """Turn from design trim, rad, jounce positive whichever way that winds the bar."""
    if isinstance(lever, Lever):
        return np.asarray(np.sign(lever.ratio) * turned(lever.ratio, lever.angle, travel).angle)
    return np.asarray(lever.table.turn(travel).angle)


def _range(values: Array) -> tuple[float, float]:
    return float(values.min()), float(values.max())
