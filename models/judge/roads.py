"""Figures of a road."""

from __future__ import annotations

from models.judge.figure import Figure
from models.roads.report import RoadReport

__all__ = ["road_figures"]

_SIDES = ("left", "right")


def road_figures(report: RoadReport) -> tuple[Figure, ...]:
    """What a road is like in numbers; those that it has not are left out."""
    return (*_fit(report), *_index(report), *_heights(report))


def _fit(report: RoadReport) -> tuple[Figure, ...]:
    if report.fit is None:
        return ()
    return (
        Figure(
            "road_roughness",
            "Fitted roughness",
            report.fit.roughness,
            "road roughness",
            "Gd(n0) of the straight line through the spectrum in logarithms, mean of both tracks (ISO 8608).",
        ),
        Figure(
            "road_waviness",
            "Fitted waviness",
            report.fit.waviness,
            "ratio",
            "Slope of that line, w in Gd(n) = Gd(n0) (n/n0)^-w.",
        ),
    )


def _index(report: RoadReport) -> tuple[Figure, ...]:
    if report.iri is None:
        return ()
    return tuple(
        Figure(
            f"road_iri_{side}",
            f"IRI {side}",
            float(value),
            "roughness index",
            "International Roughness Index (ASTM E1926): suspension travel of the golden car per distance.",
        )
        for side, value in zip(_SIDES, report.iri, strict=True)
    )


def _heights(report: RoadReport) -> tuple[Figure, ...]:
    if report.over_time:
        return (
            Figure("road_peak", "Greatest rise", float(report.heights.max()), "travel", "Of any wheel."),
            Figure("road_time", "Sweep time", report.length, "time", "From start to end frequency."),
        )
    return (
        *(
            Figure(
                f"road_rms_{side}",
                f"RMS height {side}",
                float(value),
                "travel",
                "Root mean square of the height about its mean over the length shown.",
            )
            for side, value in zip(_SIDES, report.rms, strict=True)
        ),
        Figure("road_high", "Highest", float(report.heights.max()), "travel", "Of both tracks."),
        Figure("road_low", "Lowest", float(report.heights.min()), "travel", "Of both tracks."),
        Figure("road_length", "Length", report.length, "length", "Of the road that is shown and judged."),
    )
