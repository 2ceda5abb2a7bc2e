"""Stiffness in the four modes of the suspension, and the natural modes of the car."""

from __future__ import annotations

from collections.abc import Iterator

from models.charts import build
from models.report.bench import Bench, Car
from models.report.document import Block, ChartFigure, Note, Row
from models.report.words import figure_rows, number, row, table, title_row

__all__ = ["rates", "small_charts"]


def rates(bench: Bench) -> Iterator[Block]:
    """Mode rates, coupling, frequencies and damping of both cars, and how the body answers the road."""
    units = bench.units
    for title, group in (("Mode rates and axle rates", "Rates"), ("Body modes", "Modes")):
        columns = [car.group(group) for car in bench.cars]
        yield table(title, ("Figure", "Unit"), bench.heads, figure_rows(columns, units))
    heads = ("Natural frequency, Hz", "Damping ratio", "Damped frequency, Hz")
    rows = [line for car in bench.cars for line in _modes(bench, car)]
    yield table("All modes", ("Mode",), heads, rows)
    yield from small_charts(bench, "gain-heave-acceleration", "gain-pitch")
    yield Note(
        "Response to a sine road that both tracks share and the rear wheels meet later, at the speed of the "
        "run; the dips are those of the wheelbase. Dashed marks: natural modes of the candidate."
    )


def small_charts(bench: Bench, *keys: str) -> Iterator[Block]:
    """Charts of candidate and baseline that share the width in pairs."""
    baseline = None if bench.baseline is None else bench.baseline.analysis
    for key in keys:
        chart = build(key, bench.candidate.analysis, baseline, bench.chart_names)
        yield ChartFigure(chart, chart.title.replace(" · ", ", "), small=True)


def _modes(bench: Bench, car: Car) -> Iterator[Row]:
    yield title_row(car.variant.name)
    modes = car.analysis.modes
    for name, natural, ratio, damped in zip(
        modes.names, modes.frequency, modes.damping_ratio, modes.damped_frequency, strict=True
    ):
        yield row(
            name,
            number(natural, "frequency", bench.units),
            number(ratio, "ratio", bench.units),
            number(damped, "frequency", bench.units),
        )
