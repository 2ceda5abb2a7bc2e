"""The time response of a run: nonlinear where the run asks for it, else linear, in the same channels."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from models.assembly import CORNERS, Mechanics, RideModel
from models.laws import Law, Progressive, Table
from models.manoeuvre import Straight
from models.ride.channels import CHANNELS, acceleration_rows, channel_index, view_row
from models.ride.frame import frame_loads, manoeuvre_frame_loads
from models.ride.lean import leaning, leaning_nonlinear, roll_gravity, without_lean
from models.ride.manoeuvres import full_accelerations, in_model, manoeuvre_accelerations, manoeuvre_forces
from models.ride.nonlinear import NonlinearResponse, StepError, begin, step_halving
from models.ride.nonlinear_car import NonlinearCar, nonlinear_car
from models.ride.nonlinear_model import NonlinearModel
from models.ride.transient import TimeResponse, road_inputs, time_response
from models.roads import wheel_heights
from models.roads.reach import event_detail
from models.run import Run
from models.statics import Statics
from models.vehicle import Vehicle

__all__ = [
    "NonlinearDrive",
    "TooLong",
    "begin_nonlinear_drive",
    "drive",
    "drive_error",
    "nonlinear_drive",
    "steps_within",
    "time_points",
]

Array = NDArray[np.float64]

_POINTS = 4000
_PER_DETAIL = 50
_APART = (0.5e-3, 2e-3)
_LONGEST_STEP = 1e-3
# A step that is too long by this share is not.
_ROUNDING = 1e-6
_PER_PERIOD = 20
# Travel past the gap for which the rate of a stop counts, m: as far as a hard bump presses one.
_PRESSED = 0.02


class TooLong(Exception):  # noqa: N818 - it says where to compute, not that something is wrong
    """A nonlinear run takes more steps than the caller allows."""


@dataclass(frozen=True, eq=False)
class NonlinearDrive:
    """A nonlinear run beside what its channels do not show.

    Attributes:
        time: the channels, as changes from the equilibrium of the load case.
        response: motion, element forces, energy and contacts.
        law_error: error of resampling the laws, as share of their span.
    """

    time: TimeResponse
    response: NonlinearResponse
    law_error: float


def time_points(run: Run) -> Array:
    """(N,) times from 0 to the end of the run, 0.5 to 2 ms apart, s.

    The linear response is exact for a road that is straight between the points, and the nonlinear one takes
    its own steps between them; so they have to resolve the event and the eye, not the fastest mode.  A run
    has at most 4000 of them, or where its event is long and slow, so many that it has 50 to itself.
    """
    fine = max(run.duration / _POINTS, event_detail(run.event) / run.speed / _PER_DETAIL)
    step = min(max(fine, _APART[0]), _APART[1])
    return np.linspace(0.0, run.duration, ceil(run.duration / step) + 1)


def drive(vehicle: Vehicle, car: Mechanics, model: RideModel, run: Run) -> TimeResponse:
    """Linear response to road and manoeuvre, about the state for which ``model`` stands."""
    t = time_points(run)
    w = road_inputs(model, _road(model, run, t))
    gravity = _gravity(vehicle, car, model, run)
    driven = leaning(model, gravity) if gravity else model
    time = time_response(driven, t, w, _forces(vehicle, car, model, run, t))
    _add_frame_loads(vehicle, car, model, run, t, time.y)
    return time


def begin_nonlinear_drive(
    vehicle: Vehicle,
    car: Mechanics,
    stand: Statics,
    model: RideModel,
    run: Run,
    most_steps: int | None = None,
) -> Callable[[], NonlinearDrive]:
    """Start the nonlinear response to road and manoeuvre, from rest in the load case; the result waits.

    Raises:
        TooLong: the run would take more than ``most_steps``; hardly anything was computed.
    """
    made = _prepared(vehicle, car, stand, model, run, most_steps)
    running = begin(
        made.model, made.t, made.road, q0=made.car.start, forces=made.forces, substeps=made.substeps
    )

    def finished() -> NonlinearDrive:
        response = running()
        if made.model is not made.car.model:
            response = without_lean(response)
        channels = _channels(model, made.car, response, made.road)
        _add_frame_loads(vehicle, car, model, run, made.t, channels)
        return NonlinearDrive(TimeResponse(made.t, channels), response, made.car.law_error)

    return finished


def nonlinear_drive(
    vehicle: Vehicle, car: Mechanics, stand: Statics, model: RideModel, run: Run
) -> NonlinearDrive:
    """Nonlinear response to road and manoeuvre, from rest in the load case."""
    return begin_nonlinear_drive(vehicle, car, stand, model, run)()


def drive_error(vehicle: Vehicle, car: Mechanics, stand: Statics, model: RideModel, run: Run) -> StepError:
    """What halving the step changes; takes three times as long as the run."""
    made = _prepared(vehicle, car, stand, model, run)
    return step_halving(
        made.model, made.t, made.road, q0=made.car.start, forces=made.forces, substeps=made.substeps
    )


@dataclass(frozen=True, eq=False)
class _Prepared:
    """A nonlinear run to be made: car, its arrays (in a turn with roll gravity), and what it meets."""

    car: NonlinearCar
    model: NonlinearModel
    t: Array
    road: Array
    forces: Array | None
    substeps: int


def _prepared(
    vehicle: Vehicle,
    car: Mechanics,
    stand: Statics,
    model: RideModel,
    run: Run,
    most_steps: int | None = None,
) -> _Prepared:
    t = time_points(run)
    substeps = steps_within(car, model, float(t[1] - t[0]))
    if most_steps is not None and (len(t) - 1) * substeps > most_steps:
        raise TooLong
    ready = nonlinear_car(car, stand, model)
    gravity = _gravity(vehicle, car, model, run)
    return _Prepared(
        car=ready,
        model=leaning_nonlinear(ready.model, model.body[1], ready.start, gravity) if gravity else ready.model,
        t=t,
        road=_wheel_road(model, run, t),
        forces=_forces(vehicle, car, model, run, t),
        substeps=substeps,
    )


def _forces(vehicle: Vehicle, car: Mechanics, model: RideModel, run: Run, t: Array) -> Array | None:
    """(n, N) forces of the manoeuvre; None straight on."""
    if isinstance(run.manoeuvre, Straight):
        return None
    return in_model(model, manoeuvre_forces(vehicle, car, *manoeuvre_accelerations(run.manoeuvre, t)))


def _add_frame_loads(
    vehicle: Vehicle, car: Mechanics, model: RideModel, run: Run, t: Array, y: Array
) -> None:
    """Add to the channels (channels, N) what the manoeuvre itself does to the frame."""
    if isinstance(run.manoeuvre, Straight):
        return
    a_x, a_y = manoeuvre_accelerations(run.manoeuvre, t)
    first = channel_index("frame_shear")
    roll = y[channel_index("roll")]
    y[first : first + 3] += manoeuvre_frame_loads(vehicle, car, model, a_x, a_y, roll)


def _gravity(vehicle: Vehicle, car: Mechanics, model: RideModel, run: Run) -> float:
    """Roll gravity of a run with lateral acceleration, N·m/rad; 0 for others, and for models without roll."""
    turns = full_accelerations(run.manoeuvre)[1] != 0 and bool(model.body[1].any())
    return roll_gravity(vehicle, car) if turns else 0.0


def _road(model: RideModel, run: Run, t: Array) -> Array:
    track = sum(model.track) / 2
    return wheel_heights(run.event, run.surface, run.speed, model.wheelbase, track, t)


def _wheel_road(model: RideModel, run: Run, t: Array) -> Array:
    """(4, N) road under the corners, as alike as the smaller models have it."""
    heights: Array = model.road @ road_inputs(model, _road(model, run, t))
    return heights


def steps_within(car: Mechanics, model: RideModel, step: float) -> int:
    """Steps within a sample, so that one is at most 1 ms and 1/20 of the fastest natural period.

    Stops count as pressed, and where damping, with measured dampers at their steepest and the friction at
    rest, is faster than any vibration, a step is no longer than the time in which the motion dies away by e.
    """
    incidence = model.incidence @ model.deflections
    stops = np.zeros(len(car.elements))
    lossy = np.zeros(len(car.elements))
    for number, element in enumerate(car.elements):
        if isinstance(element.spring, Progressive):
            stops[number] = element.spring.k + 2 * element.spring.c * _PRESSED
        lossy[number] = _steeper(element.damper)
        if element.friction:
            lossy[number] += element.friction[0] / element.friction[1]
    stiffness = model.stiffness + incidence.T @ (stops[:, None] * incidence)
    damping = model.damping + incidence.T @ (lossy[:, None] * incidence)
    fastest = float(np.sqrt(np.linalg.eigvals(np.linalg.solve(model.mass, stiffness)).real.max()))
    decay = float(np.linalg.eigvals(np.linalg.solve(model.mass, damping)).real.max())
    return ceil(step * max(fastest * _PER_PERIOD / (2 * np.pi), decay, 1 / _LONGEST_STEP) - _ROUNDING)


def _steeper(law: Law | None) -> float:
    """By how much a damper is steeper where it is steepest than in the mean at rest.

    Of analytic laws that is at most twice, which Runge-Kutta bears at the step asked for.
    """
    if not isinstance(law, Table):
        return 0.0
    return float((np.diff(law.f) / np.diff(law.x)).max() - law.slope(0.0))


def _channels(model: RideModel, ready: NonlinearCar, response: NonlinearResponse, w: Array) -> Array:
    """(channels, N) of a nonlinear run, changes from its start."""
    y = np.zeros((len(CHANNELS), len(response.t)))
    change = (response.q - ready.start).T
    acceleration = response.acceleration.T
    y[0:3] = model.body @ change
    y[3:8] = acceleration_rows(model) @ acceleration
    y[channel_index("horizon")] = view_row(model) @ change
    rest = response.tyre_force[:, :1]
    for key, values in (
        ("travel", model.travel @ change),
        ("tyre_force", response.tyre_force - rest),
        ("wheel", model.wheels @ change),
        ("road", w),
    ):
        first = channel_index(f"{key}_{CORNERS[0]}")
        y[first : first + 4] = values
    for element, deflection in zip(model.elements, response.deflection, strict=True):
        if element.name.endswith("interconnection bar"):
            y[channel_index(f"twist_{element.name.split()[0]}")] = deflection - deflection[0]
    force = response.element_force
    first = channel_index("frame_shear")
    turned = _turned(model, response)
    loads = frame_loads(model, force, acceleration, turned)
    at_rest = turned[:, :1] if turned is not None else None
    y[first : first + 3] = loads - frame_loads(
        model, force[:, :1], np.zeros_like(acceleration[:, :1]), at_rest
    )
    return y


def _turned(model: RideModel, response: NonlinearResponse) -> Array | None:
    """(4, N) wheel forces beyond those of the levers where they stand at rest; None without levers."""
    if not any(element.links for element in response.model.elements):
        return None
    turned: Array = response.coordinate_force[:4] - model.incidence[:, :4].T @ response.element_force
    return turned
