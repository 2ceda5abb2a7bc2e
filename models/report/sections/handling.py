"""Roll, dive and squat."""

from __future__ import annotations

from collections.abc import Iterator

from models.manoeuvre import Straight
from models.report.bench import Bench
from models.report.document import Block, Note
from models.report.sections.rates import small_charts
from models.report.words import figure_rows, table

__all__ = ["handling"]


def handling(bench: Bench) -> Iterator[Block]:
    """Gradients, support by the links, load transfer; with a manoeuvre in the run its attitude over time."""
    columns = [car.group("Handling", "Frame") for car in bench.cars]
    yield table("", ("Figure", "Unit"), bench.heads, figure_rows(columns, bench.units))
    yield Note(
        "Gradients hold for small steady accelerations about the trim of the load case, tyres in series; "
        "support is the share of the load change that the links take."
    )
    if not isinstance(bench.project.run.manoeuvre, Straight):
        yield from small_charts(bench, "time-pitch", "time-roll")
