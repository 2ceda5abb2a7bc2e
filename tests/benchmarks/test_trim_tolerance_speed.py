"""Time of a tolerance stack of 1,000 draws, each car solved in full; run with --benchmark-only."""

from __future__ import annotations

from typing import Any

from models.hardware.trim_tolerances import TrimTolerances
from models.judge.trim_tolerance import trim_stack
from tests.benchmarks.limits import on_time
from tests.cars import EVERYTHING


def test_a_thousand_cars_settle_within_a_second(benchmark: Any) -> None:
    stack = benchmark.pedantic(lambda: trim_stack(EVERYTHING, TrimTolerances()), rounds=5, warmup_rounds=1)
    assert len(stack.standing) == 1000
    on_time("1,000 draws", benchmark.stats.stats.median, 1.0)
