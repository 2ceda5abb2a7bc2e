"""Which data of an analysis can be exported, and its columns."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from models.analysis import Analysis
from models.assembly import CORNERS
from models.charts.chart import Axis
from models.exports.inputs import digest
from models.exports.recording import About, Column, Recording
from models.judge.figures import key_figures
from models.judge.speed_sweep import speed_sweep
from models.manoeuvre import Straight
from models.ride.channels import CHANNELS

__all__ = ["DATA", "DataChoice", "about_of", "columns_of", "recording"]

_Columns = Iterator[Column]


@dataclass(frozen=True, slots=True)
class DataChoice:
    """One kind of data on offer.

    Attributes:
        title: what it is.
        meaning: in one line.
        columns: of an analysis, that which the others are over first.
    """

    title: str
    meaning: str
    columns: Callable[[Analysis], _Columns]


def columns_of(what: str, analysis: Analysis) -> dict[str, Column]:
    """Columns of :data:`DATA` by their keys; the first is what the others are over."""
    return {column.key: column for column in DATA[what].columns(analysis)}


def recording(what: str, analysis: Analysis, about: About) -> Recording:
    """Data of :data:`DATA` of an analysis."""
    choice = DATA[what]
    return Recording(choice.title, about, tuple(choice.columns(analysis)))


def about_of(project: str, variant: str, analysis: Analysis) -> About:
    """Where the data of an analysis comes from; names of its project and variant."""
    return About(
        project=project,
        variant=variant,
        load_case=analysis.load.name,
        driven=_driven(analysis),
        inputs=digest(analysis.vehicle, analysis.run, analysis.load),
    )


def _driven(analysis: Analysis) -> str:
    run = analysis.run
    manoeuvre = "" if isinstance(run.manoeuvre, Straight) else f", {run.manoeuvre.kind}"
    # What was computed, which may be less than what was asked for.
    laws = "linear" if analysis.nonlinear is None else "nonlinear"
    return f"{run.model}, {run.speed:.9g} m/s, {run.event.kind}{manoeuvre}, {laws} time response"


def _time(analysis: Analysis) -> _Columns:
    yield Column("time", Axis("Time", "time"), analysis.time.t)
    for channel, values in zip(CHANNELS, analysis.time.y, strict=True):
        yield Column(channel.key, Axis(channel.label, channel.kind), values)
    for corner, values in zip(CORNERS, analysis.tyre_load, strict=True):
        yield Column(f"tyre_load_{corner}", Axis(f"Tyre load {corner}", "force"), values)


def _spectrum(analysis: Analysis) -> _Columns:
    yield Column("frequency", Axis("Frequency", "frequency"), analysis.ride.frequency)
    for channel, values in zip(CHANNELS, analysis.ride.psd, strict=True):
        yield Column(channel.key, Axis(f"{channel.label} PSD", channel.kind, "psd"), values)


def _response(analysis: Analysis) -> _Columns:
    yield Column("frequency", Axis("Frequency", "frequency"), analysis.response.frequency)
    for channel, gain in zip(CHANNELS, analysis.response.travelling.T, strict=True):
        label = f"{channel.label} per road height"
        amplitude = Axis(f"{label}, amplitude", channel.kind, "gain", per="travel")
        yield Column(f"{channel.key}_amplitude", amplitude, np.abs(gain))
        yield Column(f"{channel.key}_phase", Axis(f"{label}, phase", "angle"), np.angle(gain))


def _sweep(analysis: Analysis) -> _Columns:
    found = speed_sweep(analysis)
    yield Column("speed", Axis("Speed", "speed"), found.speeds)
    for figure in key_figures(analysis):
        if figure.key in found.values:
            yield Column(figure.key, Axis(figure.label, figure.kind), found.values[figure.key])


#: Kinds of data by name.
DATA: dict[str, DataChoice] = {
    "time": DataChoice(
        "Time histories", "All channels over the event and the manoeuvre of the run, and tyre loads", _time
    ),
    "spectrum": DataChoice(
        "Spectra on the random road", "One-sided power spectral density of all channels", _spectrum
    ),
    "response": DataChoice(
        "Frequency response",
        "Amplitude and phase of all channels per height of a road alike in both tracks, at the front axle",
        _response,
    ),
    "sweep": DataChoice("Speed sweep", "Figures of the random road over vehicle speed", _sweep),
}
