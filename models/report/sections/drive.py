"""The run of the project over time."""

from __future__ import annotations

from collections.abc import Iterator

from models.judge.run_quality import run_quality
from models.report.bench import Bench
from models.report.document import Block, Cautions, Note, Paragraph
from models.report.sections.rates import small_charts
from models.report.words import figure_rows, run_words, table

__all__ = ["drive"]

_FIGURES = (
    "peak_pitch",
    "peak_roll",
    "peak_heave_acceleration",
    "event_vibration_dose",
    "event_crest_factor",
    "event_transient_value",
    "peak_travel_front",
    "peak_travel_rear",
    "jounce_margin_front",
    "jounce_margin_rear",
    "rebound_margin_front",
    "rebound_margin_rear",
    "minimum_tyre_load",
)
_CHARTS = ("time-pitch", "time-heave-acceleration", "time-travel", "time-tyre-load")


def drive(bench: Bench) -> Iterator[Block]:
    """What is driven, the time histories, their peaks, and how far the run can be trusted."""
    project, units = bench.project, bench.units
    yield Paragraph(run_words(project.run, project.load.name, units))
    yield from small_charts(bench, *_CHARTS)
    columns = [car.chosen(*_FIGURES) for car in bench.cars]
    yield table("Peaks of the run", ("Figure", "Unit"), bench.heads, figure_rows(columns, units))
    quality = run_quality(bench.candidate.analysis)
    known = [check.meaning for check in quality.checks if check.value is not None]
    if known:
        yield Note("Audit of the candidate's run. " + " ".join(known))
    if quality.warnings:
        yield Cautions(quality.warnings)
