"""Everything that is computed for one variant in one run."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.assembly import CORNERS, MODELS, Mechanics, RideModel, linearised, mechanics
from models.ride.channels import channel_index
from models.ride.drive import NonlinearDrive, TooLong, begin_nonlinear_drive, drive
from models.ride.frequency_response import FrequencyResponse, frequency_response
from models.ride.modes import Modes, modes
from models.ride.pitch_plane import PitchPlane, pitch_plane
from models.ride.random_road import RandomRide, random_road
from models.ride.rates import Rates, rates
from models.ride.transient import TimeResponse
from models.run import Run
from models.statics import Statics, statics
from models.vehicle import AS_DESIGNED, LoadCase, Vehicle

__all__ = ["FREQUENCIES", "Analysis", "TooLong", "analyse", "begin_analysis", "prepare"]

Array = NDArray[np.float64]

#: (400,) Hz of the frequency response and of the band in which RMS values are taken.
FREQUENCIES: Array = np.geomspace(0.1, 50.0, 400)


@dataclass(frozen=True, eq=False)
class Analysis:
    """Results of one vehicle in one run.

    Attributes:
        vehicle, run, load: what was computed.
        car: its mechanics with nonlinear laws.
        stand: its static equilibrium in the load case.
        full: the linear full car about that equilibrium.
        model: the linear model that the run asks for; the full car or one of its smaller models.
        rates: stiffness figures of the full car.
        modes: natural modes of the model.
        pitch_plane: bounce and pitch of the body on rigid tyres.
        pitch_plane_on_tyres: the same with the tyres in series.
        response: frequency response at :data:`FREQUENCIES`.
        ride: spectra and RMS values on the random surface of the run.
        time: response to the event and the manoeuvre of the run, from the equilibrium of the load case.
        nonlinear: the nonlinear run behind ``time``; None where ``time`` is linear.
    """

    vehicle: Vehicle
    run: Run
    load: LoadCase
    car: Mechanics
    stand: Statics
    full: RideModel
    model: RideModel
    rates: Rates
    modes: Modes
    pitch_plane: PitchPlane
    pitch_plane_on_tyres: PitchPlane
    response: FrequencyResponse
    ride: RandomRide
    time: TimeResponse
    nonlinear: NonlinearDrive | None = None

    @property
    def tyre_load(self) -> Array:
        """(4, N) whole tyre forces of the time response, N; a linear run does not let go of the road at 0."""
        if self.nonlinear is not None:
            return self.nonlinear.response.tyre_force
        first = channel_index(f"tyre_force_{CORNERS[0]}")
        whole: Array = self.stand.tyre_force[:, None] + self.time.y[first : first + 4]
        return whole


def prepare() -> None:
    """Load the compiled code, or compile it: some seconds at the first time on a machine."""
    analyse(Vehicle(), Run(duration=0.2))


def analyse(
    vehicle: Vehicle,
    run: Run,
    load: LoadCase = AS_DESIGNED,
    *,
    compiled: bool = True,
    most_steps: int | None = None,
) -> Analysis:
    """Compute all results of a vehicle in a run; arguments and errors as of :func:`begin_analysis`."""
    return begin_analysis(vehicle, run, load, compiled=compiled, most_steps=most_steps)()


def begin_analysis(
    vehicle: Vehicle,
    run: Run,
    load: LoadCase = AS_DESIGNED,
    *,
    compiled: bool = True,
    most_steps: int | None = None,
) -> Callable[[], Analysis]:
    """Find where a vehicle stands and start its nonlinear run on another core; the result computes the rest.

    Linear results are those about the static equilibrium of the load case.  Where the car does not stand,
    they are about the state that its statics give, and :attr:`Analysis.stand` says why.

    Args:
        vehicle, run, load: what to compute.
        compiled: False does without compiled code (see :func:`prepare`): it solves the frequency response by
            a slower way and gives the linear time response in place of the nonlinear one.
        most_steps: steps that a nonlinear run may take.

    Raises:
        InputError: the load leaves no mass in the body, or (from the result) a nonlinear run grew beyond all
            bounds.
        TooLong: a nonlinear run would take more than ``most_steps``; hardly anything was computed.
    """
    car = mechanics(vehicle, load)
    stand = statics(car)
    full = linearised(car, stand.q)
    model = MODELS[run.model](full)
    nonlinear = compiled and run.laws == "nonlinear" and stand.stable
    driving = begin_nonlinear_drive(vehicle, car, stand, model, run, most_steps) if nonlinear else None

    def finished() -> Analysis:
        response = frequency_response(model, FREQUENCIES, run.speed, compiled=compiled)
        ride = random_road(model, response, run.surface, run.speed)
        natural = modes(model)
        stiffness = rates(full)
        planes = [pitch_plane(full, tyre_in_series=tyres) for tyres in (False, True)]
        driven = driving() if driving else None
        return Analysis(
            vehicle=vehicle,
            run=run,
            load=load,
            car=car,
            stand=stand,
            full=full,
            model=model,
            rates=stiffness,
            modes=natural,
            pitch_plane=planes[0],
            pitch_plane_on_tyres=planes[1],
            response=response,
            ride=ride,
            time=driven.time if driven else drive(vehicle, car, model, run),
            nonlinear=driven,
        )

    return finished
