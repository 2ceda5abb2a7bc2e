"""A road in words."""

from __future__ import annotations

from models.roads import Event, MeasuredRoad, SineSweep
from models.roads.report import RoadReport
from models.roads.samples import heights_of
from models.run import Run
from models.units import KINDS, UnitChoice, format_value

__all__ = ["class_text", "reach_text", "source_text"]


def class_text(report: RoadReport, units: UnitChoice) -> str:
    """Fitted class with its band and intervals, or why there is none."""
    fit = report.fit
    if fit is None:
        return f"No class: {report.no_fit}." if report.no_fit else ""
    low, high = fit.roughness_interval
    less, more = fit.waviness_interval
    band = " to ".join(_number(n, "wavenumber", units) for n in fit.band)
    text = (
        f"Class {fit.letter}: Gd(n0) {_number(fit.roughness, 'road roughness', units)} "
        f"{units['road roughness']} ({_number(low, 'road roughness', units)} to "
        f"{_number(high, 'road roughness', units)}), waviness {fit.waviness:.2f} ({less:.2f} to {more:.2f}), "
        f"95 % each, fitted from {band} {units['wavenumber']}."
    )
    return f"{text} n0 lies outside that band." if fit.extrapolated else text


def source_text(event: Event) -> str:
    """What a measured road is made of; empty for others."""
    if not isinstance(event, MeasuredRoad):
        return ""
    points = len(heights_of(event.left))
    return f"{event.name}: {points} points a track. {_sentence(event.note)}".strip()


def reach_text(run: Run, units: UnitChoice) -> str:
    """How far the run gets, where it ends before the road does; empty otherwise."""
    if isinstance(run.event, SineSweep) and run.duration < run.event.duration:
        return _short(run.duration, run.event.duration, "time", units)
    if isinstance(run.event, MeasuredRoad):
        return _short(run.speed * run.duration, run.event.start + run.event.length, "length", units)
    return ""


def _short(reached: float, end: float, kind: str, units: UnitChoice) -> str:
    if reached >= end:
        return ""
    last = f"{_number(reached, kind, units)} of {_number(end, kind, units)} {units[kind]}"
    return f"The run ends at {last}; a longer duration drives the rest."


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def _number(value: float, kind: str, units: UnitChoice) -> str:
    return format_value(value, units[kind], KINDS[kind].si)
