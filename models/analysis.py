"""Everything that is computed for one variant in one run."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from models.assembly import RideModel, assemble, half_car
from models.ride.frequency_response import FrequencyResponse, frequency_response
from models.ride.modes import Modes, modes
from models.ride.pitch_plane import PitchPlane, pitch_plane
from models.ride.random_road import RandomRide, random_road
from models.ride.rates import Rates, rates
from models.ride.transient import TimeResponse, road_inputs, time_response
from models.roads import wheel_heights
from models.run import Run
from models.vehicle import Vehicle

__all__ = ["FREQUENCIES", "Analysis", "analyse", "time_points"]

Array = NDArray[np.float64]

#: (400,) Hz of the frequency response and of the band in which RMS values are taken.
FREQUENCIES: Array = np.geomspace(0.1, 50.0, 400)

_POINTS = 4000
_STEP_LIMITS = (0.5e-3, 2e-3)


@dataclass(frozen=True, eq=False)
class Analysis:
    """Results of one vehicle in one run.

    Attributes:
        vehicle, run: what was computed.
        model: its mechanics.
        rates: stiffness figures.
        modes: natural modes of the whole model.
        pitch_plane: bounce and pitch of the body on rigid tyres.
        pitch_plane_on_tyres: the same with the tyres in series.
        response: frequency response at :data:`FREQUENCIES`.
        ride: spectra and RMS values on the random surface of the run.
        time: response to the event of the run.
    """

    vehicle: Vehicle
    run: Run
    model: RideModel
    rates: Rates
    modes: Modes
    pitch_plane: PitchPlane
    pitch_plane_on_tyres: PitchPlane
    response: FrequencyResponse
    ride: RandomRide
    time: TimeResponse


def analyse(vehicle: Vehicle, run: Run) -> Analysis:
    """Compute all results of a vehicle in a run."""
    model = assemble(vehicle)
    if run.model == "half car":
        model = half_car(model)
    response = frequency_response(model, FREQUENCIES, run.speed)
    return Analysis(
        vehicle=vehicle,
        run=run,
        model=model,
        rates=rates(model),
        modes=modes(model),
        pitch_plane=pitch_plane(model, tyre_in_series=False),
        pitch_plane_on_tyres=pitch_plane(model, tyre_in_series=True),
        response=response,
        ride=random_road(model, response, run.surface, run.speed),
        time=_drive(model, run),
    )


def time_points(duration: float) -> Array:
    """(N,) times from 0 to ``duration``, s.

    4000 steps as long as that makes them 0.5 to 2 ms: the response is exact for a road that is straight
    between the points, so that the step has to resolve the road and the eye, not the fastest mode.
    """
    step = min(max(duration / _POINTS, _STEP_LIMITS[0]), _STEP_LIMITS[1])
    return np.linspace(0.0, duration, ceil(duration / step) + 1)


def _drive(model: RideModel, run: Run) -> TimeResponse:
    t = time_points(run.duration)
    track = sum(model.track) / 2
    corners = wheel_heights(run.event, run.surface, run.speed, model.wheelbase, track, t)
    return time_response(model, t, road_inputs(model, corners))
