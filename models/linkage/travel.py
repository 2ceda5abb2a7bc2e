"""The bar over wheel travel: what a chain does between full rebound and full jounce."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple, Protocol

import numpy as np
from numpy.typing import ArrayLike

from models.errors import InputError
from models.linkage.solve import Body, link_forces, solve
from models.linkage.vectors import Array, dot

__all__ = ["LEAST_RESERVE", "TravelTable", "Turn", "fits", "travel_table", "turn_from"]

#: |D|/ρ below which a stage counts as locked: within some 1.1 deg of its toggle.
LEAST_RESERVE = 0.02
#: Bar angle per wheel travel at design trim, rad/m, as of levers given by their ratio.
_LEAST_RATIO, _MOST_RATIO = 0.05, 50.0
_CELLS = 256
_SHORTEST = 1e-4  # of links and levers, m


class Described(Protocol):
    """A chain as it is described, compared and hashed by value."""

    @property
    def jounce(self) -> float: ...

    @property
    def rebound(self) -> float: ...

    def bodies(self) -> tuple[Body, ...]:
        """From the wheel's arm to the bar."""
        ...

    def names(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Names of the bodies and of the links."""
        ...

    def __hash__(self) -> int: ...


class Turn(NamedTuple):
    """Turn g of an element (rad), its ratio g' (rad/m) and the slope g'' of that (rad/m²)."""

    angle: Array
    ratio: Array
    slope: Array


@dataclass(frozen=True, eq=False)
class TravelTable:
    """A chain over its travel, at n evenly spaced wheel travels.

    The turn of the bar counts positive in jounce at design trim.

    Attributes:
        travel: (n,) wheel travels from full rebound to full jounce, m.
        angle, ratio, slope: (n,) turn g of the bar, rad, its motion ratio g', rad/m, and g'', rad/m².
        body_angle: (bodies, n) of each body from design trim about its own axis, rad; the first is the arm.
        reserve, margin, transmission: (bodies, n) distance from the toggle of each stage; see
            :class:`models.linkage.solve.Stage`.
        link_force: (links, n) compression per torque of the bar, 1/m.
        link_length: (links,) m.
        along: part of the bar's direction, seen so that jounce turns it with a right-hand screw, that goes
            forward, -1 to 1; of the left side.
        bodies, links: their names.
    """

    travel: Array
    angle: Array
    ratio: Array
    slope: Array
    body_angle: Array
    reserve: Array
    margin: Array
    transmission: Array
    link_force: Array
    link_length: Array
    along: float
    bodies: tuple[str, ...]
    links: tuple[str, ...]

    @property
    def step(self) -> float:
        """Distance of two travels, m."""
        return float(self.travel[-1] - self.travel[0]) / (len(self.travel) - 1)

    @property
    def wheel_force(self) -> Array:
        """(n,) force at the wheel per torque of the bar, 1/m: by virtual work the motion ratio."""
        return self.ratio

    @cached_property
    def quintics(self) -> Array:
        """(6, n-1) coefficients of g over the place in a cell, 0 to 1; g, g' and g'' are met at its ends."""
        h = self.step
        g, d, b = self.angle, self.ratio * h, self.slope * h**2
        rise, d0, d1, b0, b1 = g[1:] - g[:-1], d[:-1], d[1:], b[:-1], b[1:]
        return np.stack(
            [
                g[:-1],
                d0,
                b0 / 2,
                10 * rise - 6 * d0 - 4 * d1 - 1.5 * b0 + 0.5 * b1,
                -15 * rise + 8 * d0 + 7 * d1 + 1.5 * b0 - b1,
                6 * rise - 3 * (d0 + d1) - 0.5 * (b0 - b1),
            ]
        )

    @cached_property
    def at_trim(self) -> tuple[float, float, float]:
        """g (0 to rounding), g' and g'' at design trim as :meth:`turn` gives them."""
        angle, ratio, slope = self.turn(0.0)
        return float(angle), float(ratio), float(slope)

    def turn(self, travel: ArrayLike) -> Turn:
        """The bar at wheel travels, m; same shape.  Beyond the table it goes on straight."""
        u = (np.asarray(travel, dtype=np.float64) - self.travel[0]) / self.step
        cells = len(self.travel) - 1
        on_grid = np.clip(u, 0.0, cells)
        cell = np.minimum(on_grid.astype(np.intp), cells - 1)
        return turn_from(self.quintics[:, cell], on_grid - cell, u - on_grid, self.step)


def turn_from(c: Array, inside: Array, beyond: Array, step: ArrayLike) -> Turn:
    """Value of quintics.

    Args:
        c: (6, ...) coefficients.
        inside: place in the cell, 0 to 1.
        beyond: what lies outside the table, in cells.
        step: length of a cell, m.
    """
    slope = c[1] + inside * (2 * c[2] + inside * (3 * c[3] + inside * (4 * c[4] + inside * 5 * c[5])))
    bend = 2 * c[2] + inside * (6 * c[3] + inside * (12 * c[4] + inside * 20 * c[5]))
    angle = c[0] + inside * (c[1] + inside * (c[2] + inside * (c[3] + inside * (c[4] + inside * c[5]))))
    ratio = slope / step
    return Turn(angle + beyond * slope, ratio, np.where(beyond == 0.0, bend / np.square(step), 0.0))


@lru_cache(maxsize=512)
def travel_table(chain: Described) -> TravelTable:
    """A chain over its travel; remembered, so that equal chains share one.

    Raises:
        InputError: the chain cannot be assembled over its travel, or hardly turns the bar at design trim;
            says which part of it, and at which travel it locks.
    """
    bodies = chain.bodies()
    names, links = chain.names()
    _check_design(bodies, names, links)
    travel = _travels(chain)
    stages = solve(bodies, travel)
    reserve = _rows([stage.reserve for stage in stages], travel)
    if reserve.min() < LEAST_RESERVE:
        raise _locked(chain, bodies, travel)
    body_angle = np.unwrap(_rows([stage.angle for stage in stages], travel), axis=1)
    # Unwrapping starts in rebound; at design trim no body has turned.
    trim = int(np.argmin(np.abs(travel)))
    body_angle -= 2 * np.pi * np.round(body_angle[:, trim, None] / (2 * np.pi))
    sense = float(np.sign(stages[-1].rate[trim]))
    return TravelTable(
        travel=travel,
        angle=sense * body_angle[-1],
        ratio=sense * stages[-1].rate,
        slope=sense * stages[-1].bend,
        body_angle=body_angle,
        reserve=reserve,
        margin=_rows([stage.margin for stage in stages], travel),
        transmission=_rows([stage.transmission for stage in stages], travel),
        link_force=sense * _rows(list(link_forces(stages)), travel),
        link_length=np.array([float(np.ravel(stage.length)[0]) for stage in stages[1:]]),
        along=sense * float(bodies[-1].axis[0, 0]),
        bodies=names,
        links=links,
    )


def fits(chain: Described) -> bool:
    """Whether a chain can be assembled over its travel; :func:`travel_table` says why where it cannot."""
    bodies = chain.bodies()
    try:
        _check_design(bodies, *chain.names())
    except InputError:
        return False
    stages = solve(bodies, _travels(chain))
    return all(float(stage.reserve.min()) >= LEAST_RESERVE for stage in stages)


def _travels(chain: Described) -> Array:
    return np.linspace(-chain.rebound, chain.jounce, _CELLS + 1)


def _rows(values: list[Array], travel: Array) -> Array:
    """(rows, n) even where a value is the same over all travel."""
    return np.array([np.broadcast_to(value, travel.shape) for value in values]).reshape(-1, len(travel))


def _check_design(bodies: tuple[Body, ...], names: tuple[str, ...], links: tuple[str, ...]) -> None:
    for name, body in zip(names, bodies, strict=True):
        arm = body.inlet - body.at
        radial = arm - body.axis * dot(arm, body.axis)
        if float(np.sqrt(dot(radial, radial))[0]) < _SHORTEST:
            raise _refused(f"{_first(name)}: the joint that turns it lies on its axis; it needs a lever arm")
    for link, before, body in zip(links, bodies[:-1], bodies[1:], strict=True):
        way = body.inlet - before.outlet
        if float(np.sqrt(dot(way, way))[0]) < _SHORTEST:
            raise _refused(f"{_first(link)}: its two ends are at the same place; it needs a length")
    stages = solve(bodies, np.zeros(1))
    for number, stage in enumerate(stages):
        if float(stage.reserve[0]) < LEAST_RESERVE:
            raise _refused(_toggle_at_design(number, names, links))
    ratio = abs(float(stages[-1].rate[0]))
    if not _LEAST_RATIO <= ratio <= _MOST_RATIO:
        raise _refused(
            f"Lever ratio: {ratio:.4g} rad/m at design trim is outside the allowed range "
            f"({_LEAST_RATIO:g} to {_MOST_RATIO:g} rad/m)"
        )


def _toggle_at_design(number: int, names: tuple[str, ...], links: tuple[str, ...]) -> str:
    if number == 0:
        return f"{_first(names[0])}: at design trim it stands upright over its pivot; no lift turns it"
    return (
        f"{_first(links[number - 1])}: at design trim it points at the pivot of the {names[number]} (toggle) "
        "and cannot turn it"
    )


def _locked(chain: Described, bodies: tuple[Body, ...], travel: Array) -> InputError:
    """The refusal of a chain that locks, with the least travel at which it does."""
    names, links = chain.names()
    found = []
    for way, ahead in (("jounce", travel[travel > 0]), ("rebound", travel[travel < 0][::-1])):
        lock = _lock(bodies, np.concatenate([[0.0], ahead]))
        if lock is not None:
            at, stage = abs(lock[0]), lock[1]
            reason = (
                f"{_first(way)} travel: the linkage locks at {at * 1e3:.1f} mm of {way}, within its travel "
                f"of {abs(ahead[-1]) * 1e3:.4g} mm: there {_stuck(stage, names, links)}"
            )
            found.append((at, reason))
    return _refused(min(found)[1])


def _lock(bodies: tuple[Body, ...], travel: Array) -> tuple[float, int] | None:
    """First travel at which a stage locks, to some 1e-8 m, and the stage; ``travel`` leads to it."""
    for _ in range(3):
        locks = _rows([stage.reserve for stage in solve(bodies, travel)], travel) < LEAST_RESERVE
        if not locks.any():
            return None
        first = int(np.argmax(locks.any(axis=0)))
        lock = float(travel[first]), int(np.argmax(locks[:, first]))
        travel = np.linspace(travel[max(first - 1, 0)], travel[first], _CELLS + 1)
    return lock


def _stuck(number: int, names: tuple[str, ...], links: tuple[str, ...]) -> str:
    if number == 0:
        return f"the {names[0]} stands upright over its pivot"
    return f"the {links[number - 1]} cannot turn the {names[number]} any further"


def _first(name: str) -> str:
    return name[:1].upper() + name[1:]


def _refused(reason: str) -> InputError:
    return InputError.of("linkage", "", reason)
