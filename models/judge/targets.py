"""A figure against its target."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, isinf, isnan, nan

from models.target import Target

__all__ = ["Verdict", "judged"]


@dataclass(frozen=True, slots=True)
class Verdict:
    """How a value meets a target.

    Attributes:
        passed: whether it is inside the limits, ends included.
        margin: distance to the nearest limit, SI; below 0 outside.
        share: margin over the size of that limit; NaN for a limit of 0.
    """

    passed: bool
    margin: float
    share: float


def judged(target: Target, value: float) -> Verdict | None:
    """Verdict on a value; None where there is no value (NaN)."""
    if isnan(value):
        return None
    margins = [
        (limit, sign * (limit - value))
        for limit, sign in ((target.high, 1.0), (target.low, -1.0))
        if limit is not None
    ]
    limit, margin = min(margins, key=lambda one: one[1])
    return Verdict(margin >= 0, margin, _share(margin, limit))


def _share(margin: float, limit: float) -> float:
    if isinf(margin):
        return inf if margin > 0 else -inf
    return margin / abs(limit) if limit else nan
