"""When wheels leave the road and suspensions touch their stops: spans at the foot of charts over time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.charts.chart import Role, Span

__all__ = ["MOST_ROWS", "contact_spans"]

#: Labels beside each other that stay readable.
MOST_ROWS = 4

# Shorter gaps are closed: a share of the run, below the width of a gap that one sees.
_GAP_SHARE = 0.004

# A stop that pushes less than this, N, is not touched: at rest on a stop without a gap rounding would decide.
_LEAST_FORCE = 1.0

_OFF, _BUMP, _REBOUND = "off the road", "bump stop", "rebound stop"
_ENDS = ("front", "rear")
_SIDES = ("left", "right")

Stretch = tuple[float, float]


class _Place(NamedTuple):
    """What is touched where; empty words stand for both."""

    what: str
    end: str
    side: str

    @property
    def label(self) -> str:
        where = " ".join(word for word in (self.end, self.side) if word)
        many = "" if self.side else "s"
        thing = f"wheel{many} {_OFF}" if self.what == _OFF else f"{self.what}{many}"
        return f"{where} {thing}".strip()

    @property
    def rank(self) -> tuple[int, str, str]:
        return (_OFF, _BUMP, _REBOUND).index(self.what), self.end, self.side

    def wider(self, side: bool, end: bool = False) -> _Place:
        """The place of both sides, or of both ends as well."""
        return _Place(self.what, "" if end else self.end, "" if side else self.side)


@dataclass(frozen=True, slots=True)
class _Contacts:
    """Stretches of one run, by place; gaps up to ``gap`` are closed, ``step`` is a sample."""

    stretches: dict[_Place, list[Stretch]]
    gap: float
    step: float

    def alike(self, what: str, end: str) -> bool:
        """Whether left and right touch together, but for a sample or two."""
        left, right = (self.stretches.get(_Place(what, end, side), []) for side in _SIDES)
        slack = 2.5 * self.step
        return len(left) == len(right) and all(
            abs(mine - other) <= slack
            for pair in zip(left, right, strict=True)
            for mine, other in zip(*pair, strict=True)
        )

    def joined(self, wider: Callable[[_Place], _Place]) -> _Contacts:
        """The same with places put together."""
        groups: dict[_Place, list[Stretch]] = {}
        for place, stretches in self.stretches.items():
            groups.setdefault(wider(place), []).extend(stretches)
        return replace(self, stretches={place: self._closed(group) for place, group in groups.items()})

    def _closed(self, stretches: list[Stretch]) -> list[Stretch]:
        closed: list[Stretch] = []
        for start, end in sorted(stretches):
            if closed and start - closed[-1][1] <= self.gap:
                closed[-1] = closed[-1][0], max(closed[-1][1], end)
            else:
                closed.append((start, end))
        return closed


@lru_cache(maxsize=2)  # all charts of one drawing ask for the same
def contact_spans(candidate: Analysis, baseline: Analysis | None) -> tuple[Span, ...]:
    """Spans of lift-off and stop contact in the nonlinear runs, as few labels as stay readable.

    Left and right have one label where they are alike; where labels are still too many, those of an axle and
    then those of the whole car are put together.  Linear runs have none.
    """
    cars: dict[Role, _Contacts] = {"candidate": _contacts(candidate)}
    if baseline is not None:
        cars["baseline"] = _contacts(baseline)
    chosen = _readable(cars)
    return tuple(
        Span(start, end, place.label, role)
        for place in sorted(_places(chosen), key=lambda place: place.rank)
        for role, contacts in chosen.items()
        for start, end in contacts.stretches.get(place, [])
    )


def _readable(cars: dict[Role, _Contacts]) -> dict[Role, _Contacts]:
    """The finest division of places that needs no more than the most rows, or the coarsest."""
    alike = {
        (place.what, place.end)
        for place in _places(cars)
        if all(contacts.alike(place.what, place.end) for contacts in cars.values())
    }
    divisions: tuple[Callable[[_Place], _Place], ...] = (
        lambda place: place.wider(side=(place.what, place.end) in alike),
        lambda place: place.wider(side=True),
        lambda place: place.wider(side=True, end=True),
    )
    joined = cars
    for division in divisions:
        joined = {role: contacts.joined(division) for role, contacts in cars.items()}
        if len(_places(joined)) <= MOST_ROWS:
            break
    return joined


def _places(cars: dict[Role, _Contacts]) -> set[_Place]:
    return {place for contacts in cars.values() for place in contacts.stretches}


@lru_cache(maxsize=4)  # the baseline stays through a drag of the candidate
def _contacts(analysis: Analysis) -> _Contacts:
    """What each corner touches when, and when its wheel is off the road."""
    t = analysis.time.t
    length, step = float(t[-1] - t[0]), float(t[1] - t[0])
    empty = _Contacts({}, gap=_GAP_SHARE * length, step=step)
    if analysis.nonlinear is None:
        return empty
    response = analysis.nonlinear.response
    lifted, touched = response.lift_off, response.stop_contact
    corners = [(end, side) for end in _ENDS for side in _SIDES]
    found = {_Place(_OFF, *corners[i]): lifted[i] for i in np.flatnonzero(lifted.any(axis=1))}
    for i in np.flatnonzero(touched.any(axis=1)):
        end, side, what = response.model.elements[i].name.split(" ", 2)
        if what in (_BUMP, _REBOUND):
            felt = np.abs(response.element_force[i]) > _LEAST_FORCE
            found[_Place(what, end, side)] = touched[i] & felt
    stretches = {place: _stretches(flags, t) for place, flags in found.items() if flags.any()}
    return replace(empty, stretches=stretches).joined(lambda place: place)


def _stretches(flags: NDArray[np.bool_], t: NDArray[np.float64]) -> list[Stretch]:
    """First and last time of each stretch of true."""
    change = np.flatnonzero(flags[1:] != flags[:-1])
    starts = t[change[~flags[change]] + 1].tolist()
    ends = t[change[flags[change]]].tolist()
    if flags[0]:
        starts.insert(0, float(t[0]))
    if flags[-1]:
        ends.append(float(t[-1]))
    return list(zip(starts, ends, strict=True))
