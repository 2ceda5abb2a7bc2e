"""Which charts there are, and how each is built from results."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from models.analysis import Analysis
from models.assembly import CORNERS
from models.charts.chart import Array, Axis, Chart, Curve, Mark, Role
from models.charts.contacts import contact_spans
from models.comfort.filters import weighted
from models.comfort.weighting import weighting
from models.ride.channels import CHANNELS, Channel, channel_index

__all__ = ["CHART_CHOICES", "ChartChoice", "build"]

Domain = Literal["time", "psd", "gain"]

#: Weightings of ISO 2631-1 by the quantity shown behind them.
_WEIGHTED = {"weighted-seat-acceleration": "Wk"}

_UP, _NOSE, _JOUNCE = "up +", "nose down +", "jounce +"


@dataclass(frozen=True, slots=True)
class ChartChoice:
    """One chart on offer.

    Attributes:
        title: for the list of choices.
        label: name of the quantity.
        domain: event over time, spectrum on the random road, or gain from the travelling road.
        channels: keys of the channels shown.
        sign: what a positive value means, in words.
        whole: whether tyre forces are shown whole, with their static part.
        weighting: of ISO 2631-1 behind which the channels are shown; empty for none.
    """

    title: str
    label: str
    domain: Domain
    channels: tuple[str, ...]
    sign: str = ""
    whole: bool = False
    weighting: str = ""


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
    return choices


#: Key of a chart -> what it shows, in the order of the list of choices.
CHART_CHOICES: dict[str, ChartChoice] = _choices()

_X_AXES = {
    "time": Axis("Time", "time"),
    "psd": Axis("Frequency", "frequency", log=True),
    "gain": Axis("Frequency", "frequency", log=True),
}


def build(
    key: str,
    candidate: Analysis,
    baseline: Analysis | None = None,
    names: tuple[str, str] = ("Candidate", "Baseline"),
) -> Chart:
    """Chart ``key`` of :data:`CHART_CHOICES`.

    Args:
        key: which chart.
        candidate, baseline: results to draw.
        names: of the candidate and the baseline variant.
    """
    choice = CHART_CHOICES[key]
    one_side = _sides_equal(choice, candidate) and (baseline is None or _sides_equal(choice, baseline))
    curves: list[Curve] = []
    if baseline is not None:
        curves += _curves(choice, baseline, "baseline", names[1], one_side)
    curves += _curves(choice, candidate, "candidate", names[0], one_side)
    return Chart(
        key=key,
        title=choice.title,
        x=_X_AXES[choice.domain],
        y=_y_axis(choice),
        curves=tuple(curves),
        marks=() if choice.domain == "time" else _mode_marks(candidate),
        spans=contact_spans(candidate, baseline) if choice.domain == "time" else (),
    )


def _y_axis(choice: ChartChoice) -> Axis:
    kind = CHANNELS[channel_index(choice.channels[0])].kind
    if choice.domain == "time":
        return Axis(choice.label, kind, sign=choice.sign)
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


def _curves(choice: ChartChoice, analysis: Analysis, role: Role, variant: str, one_side: bool) -> list[Curve]:
    rows = [
        row for row in map(channel_index, choice.channels) if not (one_side and CHANNELS[row].side == "right")
    ]
    x, y = _values(choice, analysis, rows)
    return [
        _curve(CHANNELS[row], x, values, role, variant, one_side) for row, values in zip(rows, y, strict=True)
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
