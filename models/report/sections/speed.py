"""Ride over speed."""

from __future__ import annotations

from collections.abc import Iterator

from models.charts.speed_sweep import sweep_chart
from models.judge.speed_sweep import speed_sweep
from models.report.bench import Bench
from models.report.document import Block, ChartFigure, Paragraph
from models.report.words import surface_words

__all__ = ["speed"]

_FIGURES = ("rms_weighted_seat_acceleration", "rms_pitch", "pitch_share", "road_holding")


def speed(bench: Bench) -> Iterator[Block]:
    """What the driver feels, pitch and road-holding against speed."""
    project = bench.project
    yield Paragraph(
        f"On {surface_words(project.run.surface)}, load case “{project.load.name}”. The wheelbase filters "
        "what reaches the body, so that one speed alone can mislead."
    )
    sweeps = [speed_sweep(car.analysis) for car in bench.cars]
    baseline = sweeps[1] if len(sweeps) > 1 else None
    for figure in bench.candidate.chosen(*_FIGURES):
        chart = sweep_chart(figure, sweeps[0], baseline, project.run.speed, bench.chart_names)
        yield ChartFigure(chart, f"{figure.label} over speed", small=True)
