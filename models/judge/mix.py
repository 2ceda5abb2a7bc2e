"""Figures over the road mix: what the roads of the car's life do to it together.

Each road counts by the time that is driven on it, its share of the distance over its speed.  A road with an
event is driven in time, nonlinear where the run is: from rest, over the event, and on for two seconds after
the rear wheels have left it (at most 120 s in all), again and again.  A random road is taken from its spectra
and lasts as long as one likes.  How the roads are put together:

- RMS values: mean squares, weighted by time; ratios of them are made afterwards.
- Peaks and margins: those of the worst road with an event; a Gaussian random road has no largest value.
- Road-holding: that of the worst road.
- Vibration dose: fourth powers added over one hour.  A Gaussian random road has the mean fourth power 3 σ⁴.
- Motion sickness dose: squares added over one hour, which is √T times the RMS value.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis, analyse
from models.comfort.assessment import SICKNESS_EXPOSURE, comfort
from models.fields import replaced
from models.judge.figure import Figure, grouped
from models.judge.figures import key_figures
from models.judge.random_surface import Rms, rms_of, surface_values, weighted_values
from models.judge.run_rms import run_rms
from models.roads import Event, RandomRoad, RoadShare, SineSweep
from models.roads.mix import mix_shares
from models.roads.reach import event_end
from models.run import Run
from models.vehicle import LoadCase, Vehicle

__all__ = [
    "MIX_GROUP",
    "MIX_MEANING",
    "MIX_PREFIX",
    "SETTLING",
    "Mix",
    "MixShare",
    "road_mix",
    "run_of_mix",
    "share_run",
]

Array = NDArray[np.float64]

#: Name of the group of figures.
MIX_GROUP = "Road mix"

MIX_MEANING = (
    "All roads of the mix together, each by the time driven on it: mean squares and doses added over time, "
    "peaks and margins of the worst road with an event."
)

#: What the key of a figure of the mix begins with.
MIX_PREFIX = "mix_"

#: Time that is driven on behind an event, s.
SETTLING = 2.0

_LONGEST = 120.0
_HOURS = SICKNESS_EXPOSURE / 3600
_BY_TIME = "Road mix: mean squares by driving time, √(Σ t x²/Σ t), t = share/speed; of each road the "
_WORST = "Road mix: worst of its roads, by itself; "
_EVENTS = "Road mix: worst of its roads with an event; "
_DOSE = "event_vibration_dose"
_SICKNESS = "motion_sickness_dose"
_HOLDING = "road_holding"

_LARGEST = (
    "peak_pitch",
    "peak_heave_acceleration",
    "event_transient_value",
    "peak_travel_front",
    "peak_travel_rear",
    "peak_roll",
    "peak_frame_torsion",
    "peak_frame_bending",
)
_SMALLEST = (
    "jounce_margin_front",
    "jounce_margin_rear",
    "rebound_margin_front",
    "rebound_margin_rear",
    "minimum_tyre_load",
)


@dataclass(frozen=True, slots=True)
class MixShare:
    """One road of the mix by itself.

    Attributes:
        name: of the road.
        distance, time: shares of the distance and of the driving time, 0 to 1.
        speed: m/s.
        event: kind of the event; empty for a random road.
        figures: those of a mix of this road alone, by key.
    """

    name: str
    distance: float
    time: float
    speed: float
    event: str
    figures: Mapping[str, Figure]


@dataclass(frozen=True, slots=True)
class Mix:
    """A car over the mix.

    Attributes:
        figures: of all roads together.
        shares: road by road, those that are not driven left out.
    """

    figures: tuple[Figure, ...]
    shares: tuple[MixShare, ...]


def run_of_mix(run: Run) -> Run:
    """All of a run that matters to the mix: the laws and the model."""
    return Run(laws=run.laws, model=run.model)


def share_run(road: RoadShare, run: Run, wheelbase: float) -> Run:
    """The run in which a road of the mix is driven; its length is that of one passing of the event.

    Args:
        road: of the mix.
        run: its laws and its model are taken.
        wheelbase: m.
    """
    event = _from_the_start(road.event)
    if isinstance(event, RandomRoad):
        duration, laws = 0.2, "linear"  # nothing is read from the time response
    elif isinstance(event, SineSweep):
        duration, laws = event.duration + SETTLING, run.laws
    else:
        duration, laws = (event_end(event) + wheelbase) / road.speed + SETTLING, run.laws
    return Run.model_validate(
        {
            "speed": road.speed,
            "event": event,
            "surface": road.surface,
            "duration": min(duration, _LONGEST),
            "laws": laws,
            "model": run.model,
        }
    )


def road_mix(vehicle: Vehicle, run: Run, load: LoadCase, mix: tuple[RoadShare, ...]) -> Mix:
    """A car over a mix with at least one road.

    Args:
        vehicle, load: the car.
        run: its laws and its model are taken, nothing else.
        mix: roads, one of them with a share above 0.

    Raises:
        InputError: the load leaves no mass in the body, or a run grew beyond all bounds.
    """
    run = run_of_mix(run)
    car = analyse(vehicle, replaced(replaced(run, ("duration",), 0.2), ("laws",), "linear"), load)
    distance = mix_shares(mix)
    at = [number for number, share in enumerate(distance) if share > 0]
    time = np.array([distance[number] / mix[number].speed for number in at])
    time = time / time.sum()
    # Another name or share is the same road.
    alone = [replaced(replaced(mix[number], ("name",), "road"), ("share",), 1.0) for number in at]
    driven = [_driven(vehicle, load, run, road) for road in alone]
    known = {figure.key: figure for figure in key_figures(car)}
    shares = tuple(
        MixShare(
            mix[number].name,
            float(distance[number]),
            float(part),
            mix[number].speed,
            "" if isinstance(mix[number].event, RandomRoad) else mix[number].event.kind,
            {figure.key: figure for figure in _together(car, known, [one], np.ones(1))},
        )
        for number, part, one in zip(at, time, driven, strict=True)
    )
    return Mix(_together(car, known, driven, time), shares)


@dataclass(frozen=True, slots=True)
class _Driven:
    """What is kept of one road.

    Attributes:
        squares: mean square by channel and filter.
        fourth: mean fourth power of the weighted vertical acceleration at the seat.
        event: figures of the time run by key; empty on a random road.
    """

    squares: Mapping[tuple[str, str], float]
    fourth: float
    event: Mapping[str, float]


@lru_cache(maxsize=128)
def _driven(vehicle: Vehicle, load: LoadCase, run: Run, road: RoadShare) -> _Driven:
    """Drive one road; kept, so that another share costs nothing."""
    analysis = analyse(vehicle, share_run(road, run, vehicle.wheelbase), load)
    squares: dict[tuple[str, str], float] = {}
    random = isinstance(road.event, RandomRoad)
    source = rms_of(analysis) if random else run_rms(analysis)

    def noted(channel: str, behind: str) -> Array:
        value = source(channel, behind)
        squares[channel, behind] = float(value) ** 2
        return value

    surface_values(analysis, noted)
    weighted_values(analysis, noted)
    if random:
        return _Driven(squares, 3 * squares["seat_acceleration", "Wk"] ** 2, {})
    shock = comfort(analysis).event
    figures = {figure.key: figure.value for figure in key_figures(analysis)}
    event = {key: figures[key] for key in (*_LARGEST, *_SMALLEST) if key in figures}
    return _Driven(squares, shock.dose**4 / shock.duration, event)


def _together(
    car: Analysis, known: Mapping[str, Figure], driven: Sequence[_Driven], time: Array
) -> tuple[Figure, ...]:
    """Figures of roads by their shares of the time, in the order in which figures are read."""
    values = {key: float(value) for key, value in _surface(car, _combined(driven, time)).items()}
    values[_HOLDING] = min(float(_surface(car, _combined([one], np.ones(1)))[_HOLDING]) for one in driven)
    fourth = float(np.sum(time * [one.fourth for one in driven]))
    values[_DOSE] = (SICKNESS_EXPOSURE * fourth) ** 0.25
    for keys, worst in ((_LARGEST, max), (_SMALLEST, min)):
        for key in keys:
            each = [one.event[key] for one in driven if key in one.event]
            if each:
                values[key] = worst(each)
    return grouped(
        MIX_GROUP, (_figure(figure, values[key]) for key, figure in known.items() if key in values)
    )


def _surface(car: Analysis, rms: Rms) -> dict[str, Array]:
    return {**surface_values(car, rms), **weighted_values(car, rms)}


def _combined(driven: Sequence[_Driven], time: Array) -> Rms:
    """RMS values of all roads together."""

    def rms(channel: str, behind: str) -> Array:
        squares = [one.squares[channel, behind] for one in driven]
        return np.asarray(sqrt(float(np.sum(time * squares))))

    return rms


def _figure(figure: Figure, value: float) -> Figure:
    """Figure of the mix out of the one of a single road."""
    said = figure.meaning.partition(": ")[2]
    if figure.key == _DOSE:
        rule = (
            f"Road mix for {_HOURS:.0f} h: VDV = (Σ t a_w⁴)^¼ with the mean of a_w⁴ on each road, 3 σ⁴ on a "
            "random one; vertical at the seat, weighted by Wk (ISO 2631-1)."
        )
    elif figure.key == _SICKNESS:
        rule = f"Road mix for {_HOURS:.0f} h, a_w² added over time: {said}"
    elif figure.key == _HOLDING:
        rule = _WORST + said
    elif figure.key in _LARGEST or figure.key in _SMALLEST:
        rule = _EVENTS + said
    else:
        rule = _BY_TIME + said
    return Figure(MIX_PREFIX + figure.key, f"Mix: {figure.label}", value, figure.kind, rule, figure.better)


def _from_the_start(event: Event) -> Event:
    """The event where the front axle stands at time zero, without flat road before it."""
    return replaced(event, ("start",), 0.0) if hasattr(event, "start") else event
