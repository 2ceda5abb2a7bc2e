"""How long the comfort figures take: they are computed at each edit, beside the plot of a frame."""

from __future__ import annotations

from typing import Any

from models.analysis import analyse
from models.comfort.assessment import comfort
from models.run import Run
from tests.benchmarks.limits import on_time
from tests.cars import EVERYTHING


def test_comfort_of_one_variant(benchmark: Any) -> None:
    """Thirteen weighted axes on the random road and 4 s of event: 0.5 ms."""
    analysis = analyse(EVERYTHING, Run(laws="linear"))
    benchmark(lambda: comfort(analysis))
    on_time("comfort figures", benchmark.stats.stats.min, 0.5e-3)
