"""What a check is: numbers of the program beside what they should be, with source and allowance."""

from __future__ import annotations

import importlib.util
import inspect
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

__all__ = ["Chapter", "Check", "Group", "Number", "Numbers", "Outcome", "Status", "Verdict", "beside", "run"]

Group = Literal["published", "engine", "invariant"]
Verdict = Literal["held", "failed", "not run"]

#: How well the expected number is known: read in the source; remembered from it; computed apart from this
#: program, with no printed answer; by hand or closed form; what practice takes for granted.
Status = Literal["seen", "from memory", "computed apart", "closed form", "common practice"]


@dataclass(frozen=True, slots=True)
class Number:
    """One number beside what it should be.

    Attributes:
        what: name, with its unit.
        expected, computed: both in that unit.
        allowed: greatest difference that holds.
        count: of how many numbers this is the one nearest to its limit, or furthest beyond.
    """

    what: str
    expected: float
    computed: float
    allowed: float
    count: int = 1

    @property
    def difference(self) -> float:
        """Computed less expected; 0 where both are the same infinity."""
        return 0.0 if self.computed == self.expected else self.computed - self.expected

    @property
    def used(self) -> float:
        """Part of the allowance that the difference takes; above 1, or NaN, does not hold."""
        size = abs(self.difference)
        if self.allowed > 0 or np.isnan(size):
            return size / self.allowed if self.allowed else size
        return 0.0 if size == 0 else np.inf

    @property
    def held(self) -> bool:
        """Whether the difference is within what is allowed; a NaN is not."""
        return abs(self.difference) <= self.allowed


Numbers = Iterator[Number]


def beside(
    what: str, computed: ArrayLike, expected: ArrayLike, *, relative: float = 0.0, within: ArrayLike = 0.0
) -> Number:
    """Numbers beside what they should be; of several the one that takes most of what is allowed.

    Args:
        what: name, with the unit of both.
        computed, expected: numbers, real or complex; one may be a single number beside many.
        relative: allowed difference relative to the expected number.
        within: allowed difference itself, one or as many; the wider of both holds.

    Raises:
        ValueError: the shapes do not fit, or there is nothing to compare.
    """
    found, wanted = np.broadcast_arrays(np.asarray(computed), np.asarray(expected))
    if found.size == 0:
        raise ValueError(f"{what}: nothing to compare")
    size = np.where(np.isfinite(wanted), np.abs(wanted), 0.0)  # nothing is allowed of an infinity
    allowed = np.broadcast_to(np.maximum(np.asarray(within), relative * size), found.shape)
    if np.iscomplexobj(found) or np.iscomplexobj(wanted):
        # A complex number differs by the length of the difference, told beside the length of the expected.
        found, wanted = size + np.abs(found - wanted), size
    with np.errstate(divide="ignore", invalid="ignore"):  # infinities beside each other, and nothing allowed
        difference = np.abs(np.where(found == wanted, 0.0, found - wanted))
        used = np.where(difference == 0.0, 0.0, difference / allowed)
    # Of equal ones, such as all of no difference, the greatest: it tells more than one that is 0.
    size = np.where(np.isfinite(wanted), np.abs(wanted), np.inf)
    used = np.where(np.isnan(used), np.inf, used).ravel()
    worst = np.flatnonzero(used == used.max())
    place = np.unravel_index(worst[size.ravel()[worst].argmax()], found.shape)
    return Number(what, float(wanted[place]), float(found[place]), float(allowed[place]), found.size)


@dataclass(frozen=True, slots=True)
class Check:
    """Numbers that are to be met, and where they are from.

    Attributes:
        id: stable name: chapter and name.
        chapter: what it is about.
        group: a published number, another engine, or what holds whatever the numbers are.
        title: one line.
        text: what is computed, from which inputs.
        source: author and work, library, or law.
        status: how well the expected numbers are known.
        reason: of what is allowed.
        numbers: computes them.
        needs: modules that have to be there beside those of the program.
    """

    id: str
    chapter: str
    group: Group
    title: str
    text: str
    source: str
    status: Status
    reason: str
    numbers: Callable[[], Iterable[Number]]
    needs: tuple[str, ...] = ()

    @property
    def missing(self) -> tuple[str, ...]:
        """Modules that are needed and not installed."""
        return tuple(name for name in self.needs if importlib.util.find_spec(name) is None)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a check has come to.

    Attributes:
        check: the check.
        numbers: what it compared.
        problem: why it was not run or broke off, or empty.
        verdict: held, failed or not run.
        seconds: how long it took.
    """

    check: Check
    numbers: tuple[Number, ...]
    problem: str
    verdict: Verdict
    seconds: float = 0.0

    @property
    def worst(self) -> Number | None:
        """The number that takes most of what is allowed."""
        if not self.numbers:
            return None
        return max(self.numbers, key=lambda one: np.inf if np.isnan(one.used) else one.used)


def run(check: Check) -> Outcome:
    """Compute the numbers of a check and judge them; whatever it raises makes it fail and is told."""
    if check.missing:
        return Outcome(check, (), f"{' and '.join(check.missing)} is not installed", "not run")
    start = time.perf_counter()
    numbers: list[Number] = []
    problem = ""
    try:
        # One by one, so that what came before an exception is told too.
        numbers.extend(check.numbers())
    except Exception as error:  # whatever is wrong with an installation is to be told, not to stop the others
        problem = f"{type(error).__name__}: {error}"
    if not numbers and not problem:
        problem = "it compared nothing"
    held = not problem and all(number.held for number in numbers)
    return Outcome(check, tuple(numbers), problem, "held" if held else "failed", time.perf_counter() - start)


@dataclass(frozen=True, slots=True)
class Chapter:
    """Checks of one subject, in the order in which they are written.

    Attributes:
        name: stable, part of the names of its checks.
        title: for a reader.
        group: group of all its checks.
        needs: modules that all of them need.
        checks: the checks.
    """

    name: str
    title: str
    group: Group = "published"
    needs: tuple[str, ...] = ()
    checks: list[Check] = field(default_factory=list)

    def check(
        self, title: str, *, source: str, status: Status, reason: str, cases: Sequence[object] = ()
    ) -> Callable[[Callable[..., Numbers]], Callable[..., Numbers]]:
        """Decorator: makes a check of a generator of numbers; its docstring says what is computed.

        Args:
            title: one line.
            source: author and work, library, or law.
            status: how well the expected numbers are known.
            reason: of what is allowed.
            cases: arguments for each of which the numbers are computed; none for a generator without one.
        """

        def kept(function: Callable[..., Numbers]) -> Callable[..., Numbers]:
            def numbers() -> Iterator[Number]:
                if not cases:
                    yield from function()
                for case in cases:
                    yield from function(case)

            self.checks.append(
                Check(
                    id=f"{self.name}/{function.__name__.strip('_').replace('_', '-')}",
                    chapter=self.title,
                    group=self.group,
                    title=title,
                    text=inspect.getdoc(function) or "",
                    source=source,
                    status=status,
                    reason=reason,
                    numbers=numbers,
                    needs=self.needs,
                )
            )
            return function

        return kept
