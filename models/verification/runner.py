"""All checks, one after the other."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from models.verification.check import Check, Outcome, run

__all__ = ["Tell", "run_all"]

#: Called before each check with how many are done, of how many, and the check.
Tell = Callable[[int, int, Check], None]


def run_all(checks: Sequence[Check] | None = None, tell: Tell | None = None) -> tuple[Outcome, ...]:
    """Run checks; about 10 s for all, and 15 s more where the loops have to be compiled first.

    Args:
        checks: by default all of :mod:`models.verification.catalogue`.
        tell: hears of each check before it is run.
    """
    if checks is None:
        from models.verification.catalogue import CHECKS  # loads all that the checks are about

        checks = CHECKS
    outcomes = []
    for done, check in enumerate(checks):
        if tell is not None:
            tell(done, len(checks), check)
        outcomes.append(run(check))
    return tuple(outcomes)
