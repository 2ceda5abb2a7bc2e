"""Charts of a road: profile over the distance, spectrum with the classes of ISO 8608 and the fit."""

from __future__ import annotations

import numpy as np

from models.charts.chart import Array, Axis, Chart, Curve, Mark, Place, Side
from models.roads.report import RoadReport
from models.roads.surface import REFERENCE_WAVENUMBER, ROAD_CLASSES

__all__ = ["profile_chart", "spectrum_chart"]

_HEIGHT = Axis("Height", "travel", sign="up +")
_WHEELS: tuple[tuple[Place, Side], ...] = (
    ("front", "left"),
    ("front", "right"),
    ("rear", "left"),
    ("rear", "right"),
)
_SIDES: tuple[Side, ...] = ("left", "right")
#: A class boundary is drawn where it comes this near to the spectrum, as a factor.
_NEAR = 8.0


def profile_chart(report: RoadReport) -> Chart:
    """Height of both tracks over the distance; of the four wheels over time for a sine sweep."""
    if report.over_time:
        return Chart("road-sweep", "Posts · road", Axis("Time", "time"), _HEIGHT, _wheel_curves(report))
    x = Axis("Distance", "length")
    return Chart(
        "road-profile", "Profile · road", x, _HEIGHT, _track_curves(report, report.place, report.heights)
    )


def spectrum_chart(report: RoadReport) -> Chart:
    """Spectrum of the height in third octaves, faint class boundaries, and the fitted line."""
    tracks = [(octaves.n, octaves.psd) for octaves in report.octaves]
    same = len(tracks) == 2 and np.array_equal(tracks[0][1], tracks[1][1])
    curves = [
        Curve(report.kind, "both tracks" if same else side, n, psd, side="" if same else side)
        for side, (n, psd) in zip(_SIDES, tracks[:1] if same else tracks, strict=False)
    ]
    boundaries = _boundaries(tracks[0][0], np.array([psd for _, psd in tracks])) if tracks else []
    fitted = []
    if report.fit is not None:
        n = np.array(report.fit.band)
        fitted = [Curve(report.kind, "fit", n, report.fit.psd(n), place="rear")]
    return Chart(
        "road-spectrum",
        "Spectrum · road",
        Axis("Wavenumber", "wavenumber", log=True),
        Axis("Height PSD", "road roughness", form="power", log=True),
        (*boundaries, *fitted, *curves),
        marks=(Mark(REFERENCE_WAVENUMBER, "n0"),),
    )


def _track_curves(report: RoadReport, x: Array, heights: Array) -> tuple[Curve, ...]:
    if np.array_equal(heights[0], heights[1]):
        return (Curve(report.kind, "", x, heights[0]),)
    return tuple(
        Curve(report.kind, side, x, row, side=side) for side, row in zip(_SIDES, heights, strict=True)
    )


def _wheel_curves(report: RoadReport) -> tuple[Curve, ...]:
    """Of wheels that move alike one stands for all."""
    curves: list[Curve] = []
    for (place, side), row in zip(_WHEELS, report.heights, strict=True):
        if not any(np.array_equal(row, curve.y) for curve in curves):
            curves.append(Curve(report.kind, f"{place} {side}", report.place, row, place=place, side=side))
    return tuple(curves)


def _boundaries(n: Array, psd: Array) -> list[Curve]:
    """Upper limits of the classes A to G over the waves shown, at waviness 2."""
    ends = np.array([n[0], n[-1]])
    level = psd * (n / REFERENCE_WAVENUMBER) ** 2
    low, high = float(level.min()) / _NEAR, float(level.max()) * _NEAR
    return [
        Curve(
            "class limits",
            letter,
            ends,
            limit * (ends / REFERENCE_WAVENUMBER) ** -2,
            "limit",
        )
        for letter, limit in ((letter, 2 * mean) for letter, mean in ROAD_CLASSES.items())
        if low < limit < high and letter != "H"
    ]
