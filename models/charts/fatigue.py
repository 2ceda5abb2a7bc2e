"""Charts of the life of a part: exceedance of its stress, damage by road, its cycles beside the S–N line."""

from __future__ import annotations

from math import inf

import numpy as np

from models.charts.chart import Array, Axis, Chart, Curve, Mark, Role
from models.hardware.cycles import Cycles
from models.hardware.fatigue import life_factor, line_amplitude
from models.hardware.sn_curve import SNCurve
from models.judge.fatigue import Life

__all__ = ["damage_chart", "exceedance_chart", "sn_chart"]

# Levels of stress that a curve of exceedance is drawn at.
_LEVELS = 200
_WIDE, _NARROW = 0.36, 0.26  # half the width of a bar, in roads
_LIVES = (1e3, 1e10)


def exceedance_chart(
    candidate: Life, baseline: Life | None = None, names: tuple[str, str] = ("Candidate", "Baseline")
) -> Chart:
    """Range of stress over how many cycles per distance have it or more: the whole mix, and its roads faint.

    Args:
        candidate, baseline: lives to draw; the roads are those of the candidate.
        names: of both.
    """
    curves = [
        _exceedance(road.name, road.cycles, "other", shade) for shade, road in enumerate(candidate.roads)
    ]
    if baseline is not None:
        curves.append(_exceedance(names[1], baseline.cycles, "baseline"))
    curves.append(_exceedance(names[0], candidate.cycles, "candidate"))
    return Chart(
        "fatigue-exceedance",
        "Exceedance · stress range",
        Axis("Cycles with this range or more", "cycles per distance", log=True),
        Axis("Stress range", "stress"),
        tuple(curves),
    )


def damage_chart(found: Life) -> Chart:
    """Share of the damage by road, in the colours of the exceedance, and of the distance behind it."""
    bars = [
        _bar(road.name, number, share, "other", number - 1)
        for number, (road, share) in enumerate(zip(found.roads, found.shares.tolist(), strict=True), 1)
    ]
    return Chart(
        "fatigue-roads",
        "Damage · roads",
        Axis("Road", "ratio", sign="number in the mix"),
        Axis("Share of the damage", "share"),
        (_distances([road.share for road in found.roads]), *bars),
    )


def sn_chart(found: Life) -> Chart:
    """S–N line, the line of the reliability wanted, and what the target life brings in cycles.

    Amplitudes are those at the stress ratio of the line that do the same damage, stress factor included.  As
    each stands beside the cycles that reach it or more, the curve is no margin: damage is a sum along it.
    """
    line, target = found.line, found.target
    lives = np.geomspace(*_LIVES, 141)
    bears = _bears(line, lives)
    factor = life_factor(line, target.reliability)
    amplitude = line_amplitude(
        line,
        line.stress_factor * found.cycles.range / 2,
        line.stress_factor * found.cycles.mean,
    )
    history = Cycles(amplitude, np.zeros(len(amplitude)), target.distance * found.cycles.count)
    return Chart(
        "fatigue-sn",
        "S–N line · cycles of the target life",
        Axis("Cycles", "ratio", sign="with this amplitude or more", log=True),
        Axis("Stress amplitude", "stress", log=True),
        (
            Curve(f"S–N line, {100 * line.survival:.4g} % survive", "", lives, bears, "baseline"),
            Curve(f"{100 * target.reliability:.4g} % survive", "", factor * lives, bears, "other"),
            _exceedance("road mix", history, "candidate"),
        ),
        marks=(Mark(line.cycles, "knee"),),
    )


def _exceedance(name: str, cycles: Cycles, role: Role, shade: int = 0) -> Curve:
    """Level over the cycles that reach it, from the greatest down."""
    size = cycles.range[np.isfinite(cycles.range)]
    levels = np.linspace(size.max(initial=0.0), 0.0, _LEVELS, endpoint=False) if size.size else np.zeros(0)
    return Curve(name, "", cycles.above(levels), levels, role, shade=shade)


def _bar(name: str, place: int, height: float, role: Role, shade: int = 0) -> Curve:
    """Outline of one bar."""
    half = _WIDE if role == "baseline" else _NARROW
    x = place + np.array([-0.5, -half, -half, half, half, 0.5])
    return Curve(name, "", x, np.array([0.0, 0.0, height, height, 0.0, 0.0]), role, shade=shade)


def _distances(shares: list[float]) -> Curve:
    """Outline of all bars of the distance in one curve."""
    bars = [_bar("", place, share, "baseline") for place, share in enumerate(shares, 1)]
    x, y = np.concatenate([bar.x for bar in bars]), np.concatenate([bar.y for bar in bars])
    return Curve("share of the distance", "", x, y, "baseline")


def _bears(line: SNCurve, lives: Array) -> Array:
    """Amplitude that the line bears for lives in cycles."""
    slope = {"second slope": line.second_slope, "same slope": line.slope, "endurance limit": inf}[line.below]
    over = line.cycles / lives
    amplitude: Array = line.amplitude * np.where(over >= 1, over ** (1 / line.slope), over ** (1 / slope))
    return amplitude
