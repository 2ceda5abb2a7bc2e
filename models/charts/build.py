"""Which charts there are, and how each is built from results."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal
from weakref import WeakKeyDictionary

import numpy as np

from models.analysis import Analysis
from models.assembly import CORNERS
from models.charts.chart import Array, Axis, Chart, Curve, Mark, Role
from models.charts.contacts import contact_spans
from models.comfort.filters import weighted
from models.comfort.weighting import weighting
from models.ride.channels import CHANNELS, Channel, channel_index

__all__ = ["CHART_CHOICES", "ChartChoice", "build"]

Domain = Literal["time", "psd", "gain", "difference", "ratio"]

#: Weightings of ISO 2631-1 by the quantity shown behind them.
_WEIGHTED = {"weighted-seat-acceleration": "Wk"}

_UP, _NOSE, _JOUNCE = "up +", "nose down +", "jounce +"


@dataclass(frozen=True, slots=True)
class ChartChoice:
    """One chart on offer.

    Attributes:
        title: for the list of choices.
        label: name of the quantity.
        domain: event over time, spectrum on the random road, or gain from the travelling road; or of these
            the difference over time, or the ratio, of candidate and baseline.
        channels: keys of the channels shown.
        sign: what a positive value means, in words.
        whole: whether tyre forces are shown whole, with their static part.
        weighting: of ISO 2631-1 behind which the channels are shown; empty for none.
        of: key of the choice whose difference or ratio this is.
    """

    title: str
    label: str
    domain: Domain
    channels: tuple[str, ...]
    sign: str = ""
    whole: bool = False
    weighting: str = ""
    of: str = ""


def _corners(key: str) -> tuple[str, ...]:
    return tuple(f"{key}_{corner}" for corner in CORNERS)


def _choices() -> dict[str, ChartChoice]:
    over_time: dict[str, tuple[str, tuple[str, ...], str]] = {
        "pitch": ("Pitch angle", ("pitch",), _NOSE),
        "heave": ("Heave at CG", ("heave",), _UP),
        "seat-acceleration": ("Seat acceleration", ("seat_acceleration",), _UP),
        "weighted-seat-acceleration": ("Weighted seat acceleration (Wk)", ("seat_acceleration",), _UP),
        "heave-acceleration": ("Heave acceleration at CG", ("heave_acceleration",), _UP),
        "pitch-acceleration": ("Pitch acceleration", ("pitch_acceleration",), _NOSE),
        "roll": ("Roll angle", ("roll",), "left side up +"),
        "travel": ("Wheel travel", _corners("travel"), _JOUNCE),
        "tyre-force": ("Tyre force change", _corners("tyre_force"), "more load +"),
        "tyre-load": ("Tyre load", _corners("tyre_force"), "0 = off the road"),
        "twist": ("Interconnection twist", ("twist_left", "twist_right"), "front jounce +"),
        "road": ("Road height", _corners("road"), _UP),
        "roll-acceleration": ("Roll acceleration", ("roll_acceleration",), "left side up +"),
        "horizon": ("Horizon movement at the eye", ("horizon",), "road ahead rises +"),
        "frame-torsion": ("Frame torsion", ("frame_torsion",), "front left up +"),
        "frame-bending": ("Frame bending", ("frame_bending",), "sag +"),
        "frame-shear": ("Frame shear", ("frame_shear",), "front up +"),
    }
    spectra = (
        "pitch",
        "seat-acceleration",
        "weighted-seat-acceleration",
        "heave-acceleration",
        "pitch-acceleration",
        "horizon",
        "roll",
        "roll-acceleration",
        "travel",
        "tyre-force",
        "frame-torsion",
        "frame-bending",
    )
    gains = ("heave-acceleration", "pitch", "travel", "tyre-force")
    choices = {
        f"time-{key}": ChartChoice(
            f"{label} · time",
            label,
            "time",
            channels,
            sign,
            whole=key == "tyre-load",
            weighting=_WEIGHTED.get(key, ""),
        )
        for key, (label, channels, sign) in over_time.items()
    }
    for key in spectra:
        label, channels, _ = over_time[key]
        choices[f"psd-{key}"] = ChartChoice(
            f"{label} · PSD", f"{label} PSD", "psd", channels, weighting=_WEIGHTED.get(key, "")
        )
    for key in gains:
        label, channels, _ = over_time[key]
        choices[f"gain-{key}"] = ChartChoice(f"{label} · gain", f"{label} per road height", "gain", channels)
    compared = {key: choice for key, choice in choices.items() if key in _COMPARED}
    for domain in ("difference", "ratio"):
        for key, choice in compared.items():
            if (choice.domain == "time") == (domain == "difference"):
                choices[f"{domain}-{key}"] = _comparison(key, choice, domain)
    return choices


def _comparison(key: str, choice: ChartChoice, domain: Literal["difference", "ratio"]) -> ChartChoice:
    label = f"{choice.label}, {domain}"
    title = f"{choice.label} · {domain}"
    return ChartChoice(
        title, label, domain, choice.channels, choice.sign, choice.whole, choice.weighting, key
    )


#: Charts of which the difference or the ratio of two variants is on offer.
_COMPARED = (
    "time-pitch",
    "time-heave",
    "time-seat-acceleration",
    "time-heave-acceleration",
    "time-pitch-acceleration",
    "time-roll",
    "time-travel",
    "time-tyre-force",
    "psd-pitch",
    "psd-seat-acceleration",
    "psd-weighted-seat-acceleration",
    "psd-heave-acceleration",
    "psd-pitch-acceleration",
    "psd-travel",
    "psd-tyre-force",
    "gain-heave-acceleration",
    "gain-pitch",
    "gain-travel",
    "gain-tyre-force",
)

#: Results -> the curves that were drawn of them.
_KEPT: WeakKeyDictionary[Analysis, dict[tuple[object, ...], list[Curve]]] = WeakKeyDictionary()

#: Key of a chart -> what it shows, in the order of the list of choices.
CHART_CHOICES: dict[str, ChartChoice] = _choices()

_TIME, _FREQUENCY = Axis("Time", "time"), Axis("Frequency", "frequency", log=True)


def build(
    key: str,
    candidate: Analysis,
    baseline: Analysis | None = None,
    names: tuple[str, str] = ("Candidate", "Baseline"),
    others: tuple[tuple[str, Analysis], ...] = (),
) -> Chart:
    """Chart ``key`` of :data:`CHART_CHOICES`.

    Args:
        key: which chart.
        candidate, baseline: results to draw; None where there is but one car, which then differs from itself
            by nothing.
        names: of the candidate and the baseline variant.
        others: names and results of further variants behind them; not in a difference or ratio.
    """
    choice = CHART_CHOICES[key]
    over_time = choice.domain in ("time", "difference")
    if choice.of:
        curves = _compared(choice, candidate, candidate if baseline is None else baseline, names)
    else:
        curves = _overlaid(choice, candidate, baseline, names, others)
    return Chart(
        key=key,
        title=choice.title,
        x=_TIME if over_time else _FREQUENCY,
        y=_y_axis(choice),
        curves=tuple(curves),
        marks=() if over_time else _mode_marks(candidate),
        spans=contact_spans(candidate, baseline) if over_time else (),
    )


def _overlaid(
    choice: ChartChoice,
    candidate: Analysis,
    baseline: Analysis | None,
    names: tuple[str, str],
    others: tuple[tuple[str, Analysis], ...],
) -> list[Curve]:
    cars = [candidate, *([] if baseline is None else [baseline]), *(other for _, other in others)]
    one_side = all(_sides_equal(choice, car) for car in cars)
    curves: list[Curve] = []
    for shade, (name, other) in reversed(list(enumerate(others))):
        curves += _curves(choice, other, "other", name, one_side, shade)
    if baseline is not None:
        curves += _curves(choice, baseline, "baseline", names[1], one_side)
    return curves + _curves(choice, candidate, "candidate", names[0], one_side)


def _compared(
    choice: ChartChoice, candidate: Analysis, baseline: Analysis, names: tuple[str, str]
) -> list[Curve]:
    """Candidate less baseline over time, or over it in a spectrum or gain; NaN where the baseline is 0."""
    parts = CHART_CHOICES[choice.of]
    one_side = _sides_equal(parts, candidate) and _sides_equal(parts, baseline)
    sign = "−" if choice.domain == "difference" else "/"
    found = []
    for own, other in zip(
        _curves(parts, candidate, "candidate", f"{names[0]} {sign} {names[1]}", one_side),
        _curves(parts, baseline, "baseline", names[1], one_side),
        strict=True,
    ):
        reference = other.y if len(other.x) == len(own.x) else np.interp(own.x, other.x, other.y)
        if choice.domain == "difference":
            y = own.y - reference
        else:
            y = np.divide(own.y, reference, out=np.full_like(own.y, np.nan), where=reference > 0)
        found.append(replace(own, y=y))
    return found


def _y_axis(choice: ChartChoice) -> Axis:
    kind = CHANNELS[channel_index(choice.channels[0])].kind
    if choice.domain in ("time", "difference"):
        return Axis(choice.label, kind, sign=choice.sign)
    if choice.domain == "ratio":
        return Axis(choice.label, "ratio", sign="1 = as the baseline", log=True)
    if choice.domain == "psd":
        return Axis(choice.label, kind, form="psd", log=True)
    return Axis(choice.label, kind, form="gain", per="travel", log=True)


def _values(choice: ChartChoice, analysis: Analysis, rows: list[int]) -> tuple[Array, Array]:
    """x (N,) and y (len(rows), N) of channels, SI."""
    if choice.whole:
        first = channel_index(choice.channels[0])
        return analysis.time.t, analysis.tyre_load[[row - first for row in rows]]
    if choice.domain == "time":
        t, y = analysis.time.t, analysis.time.y[rows]
        return t, weighted(choice.weighting, y, float(t[1] - t[0])) if choice.weighting else y
    frequency = analysis.response.frequency
    if choice.domain == "psd":
        psd = analysis.ride.psd[rows]
        if choice.weighting:
            psd = psd * np.abs(weighting(choice.weighting, frequency)) ** 2
        return frequency, psd
    return frequency, np.abs(analysis.response.travelling[:, rows]).T


def _sides_equal(choice: ChartChoice, analysis: Analysis) -> bool:
    """Whether each left channel equals its right one, to rounding."""
    rows = [channel_index(key) for key in choice.channels]
    left = [row for row in rows if CHANNELS[row].side == "left"]
    right = [row for row in rows if CHANNELS[row].side == "right"]
    left_values, right_values = (_values(choice, analysis, side)[1] for side in (left, right))
    if not left:
        return False
    tolerance = 1e-9 * float(np.abs(left_values).max())
    return bool(np.abs(left_values - right_values).max() <= tolerance)


def _curves(
    choice: ChartChoice, analysis: Analysis, role: Role, variant: str, one_side: bool, shade: int = 0
) -> list[Curve]:
    """Curves of one car; while its results last they stay the same objects, so that a view can tell."""
    kept = _KEPT.setdefault(analysis, {})
    key = choice, role, variant, one_side, shade
    if key not in kept:
        kept[key] = _new_curves(choice, analysis, role, variant, one_side, shade)
    return kept[key]


def _new_curves(
    choice: ChartChoice, analysis: Analysis, role: Role, variant: str, one_side: bool, shade: int
) -> list[Curve]:
    rows = [
        row for row in map(channel_index, choice.channels) if not (one_side and CHANNELS[row].side == "right")
    ]
    x, y = _values(choice, analysis, rows)
    return [
        replace(_curve(CHANNELS[row], x, values, role, variant, one_side), shade=shade)
        for row, values in zip(rows, y, strict=True)
    ]


def _curve(channel: Channel, x: Array, y: Array, role: Role, variant: str, one_side: bool) -> Curve:
    side = "" if one_side else channel.side
    place = "" if channel.place == "body" else channel.place
    label = " ".join(part for part in (place, side) if part)
    return Curve(variant, label, x, y, role, channel.place, side)


def _mode_marks(analysis: Analysis) -> tuple[Mark, ...]:
    """Bounce and pitch of the candidate; the travelling road moves both sides alike."""
    modes = analysis.modes
    return tuple(
        Mark(float(frequency), name)
        for name, frequency in zip(modes.names, modes.frequency, strict=True)
        if name in ("bounce", "pitch") and frequency > 0
    )
