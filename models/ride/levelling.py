"""The levelling over an event: the car with its nonlinear laws, the controller, the motor.

The car is run through the event as a whole, not as a row of equilibria: the weight of the load comes on and
off steadily, the road is under the wheels while it drives, and the motor winds the trim springs meanwhile.
The controller looks at the filtered height (:mod:`models.ride.levelling_control`); between two changes of
the motor's state the motion depends on nothing that is not known beforehand, so that it is run ahead and what
comes after a change is thrown away and run again.

The inertia is that of the loaded car throughout; without the load it is only ever at rest.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.constants import g

from models.assembly import Mechanics, linearised, mechanics
from models.errors import InputError
from models.ride.drive import steps_within
from models.ride.levelling_car import TrimBars, trim_bars
from models.ride.levelling_control import (
    LOOK,
    ControlState,
    at_rest,
    looked,
    looks_of,
    low_passed,
)
from models.ride.levelling_event import LevellingEvent
from models.ride.nonlinear import simulate
from models.ride.nonlinear_car import NonlinearCar, nonlinear_car
from models.roads import RandomRoad, RoughSurface, wheel_heights
from models.statics import Statics, statics
from models.vehicle import Levelling, LoadCase, Vehicle

__all__ = [
    "SAMPLES",
    "STEP",
    "LevellingRun",
    "Plant",
    "level",
    "motor_current",
    "plant_of",
    "road_under_wheels",
    "stands",
]

Array = NDArray[np.float64]
Whole = NDArray[np.int64]
Report = Callable[[float], None]

#: Samples between two looks of the controller, and the step between two samples, s.
SAMPLES = 10
STEP = LOOK / SAMPLES
# Looks that are run ahead at once: what a change of the motor throws away is at most this.
_AHEAD = 100
# The same while the motor turns: in a quarter of a second the levers of the bars hardly move.
_AHEAD_TURNING = 5
# Time in which the road under the wheels becomes level before the car stands, s.
_FADE = 1.0


@dataclass(frozen=True, eq=False)
class LevellingRun:
    """Histories of an event with N samples, SI.

    Attributes:
        event, load, levelling: what was run.
        axle: the trimmed axle.
        t: (N,) s.
        front, rear: (N,) height of the axles over design trim (minus the mean wheel travel), m, up positive.
        seen: (N,) height of the trimmed axle behind the low-pass.
        wind_up: (N,) rad.
        motor: (N,) 1 winding up, -1 winding down, 0 standing; from the sample to the next.
        torque: (N,) of both trim bars on the gear, N·m; positive where it resists winding up.
        current: (N,) of the motor, A.
        energy: (N,) drawn since the start, J.
    """

    event: LevellingEvent
    load: LoadCase
    levelling: Levelling
    axle: Literal["front", "rear"]
    t: Array
    front: Array
    rear: Array
    seen: Array
    wind_up: Array
    motor: Whole
    torque: Array
    current: Array
    energy: Array

    @property
    def height(self) -> Array:
        """(N,) height of the trimmed axle, m."""
        return self.front if self.axle == "front" else self.rear

    @cached_property
    def starts(self) -> Array:
        """(actuations,) times at which the motor starts, s."""
        turned = (self.motor != 0) & (np.concatenate([[0], self.motor[:-1]]) == 0)
        times: Array = self.t[turned]
        return times

    @cached_property
    def stops(self) -> Array:
        """(actuations,) times at which it stops; one less where it still runs at the end."""
        ended = (self.motor == 0) & (np.concatenate([[0], self.motor[:-1]]) != 0)
        times: Array = self.t[ended]
        return times

    @property
    def actuations(self) -> int:
        """Starts of the motor."""
        return len(self.starts)

    @property
    def running_time(self) -> float:
        """Time for which the motor runs, s."""
        return float(np.count_nonzero(self.motor[:-1]) * STEP)

    def sample(self, time: float) -> int:
        """Number of the last sample at or before ``time``."""
        return int(np.clip(time / STEP + 1e-6, 0, len(self.t) - 1))


def level(
    vehicle: Vehicle, load: LoadCase, event: LevellingEvent, report: Report | None = None
) -> LevellingRun:
    """Run an event.

    Args:
        vehicle: the car, with a levelling.
        load: what is put in and taken out again.
        event: when.
        report: told the share that is done.

    Raises:
        InputError: no levelling is fitted, or the car does not stand, with the load or without.
    """
    stands(mechanics(vehicle), "as designed")
    car = mechanics(vehicle, load)
    plant = plant_of(vehicle, car, stands(car, load.name))
    t = STEP * np.arange(round(np.ceil(event.duration / LOOK - 1e-9)) * SAMPLES + 1)
    motion = _run(
        plant, vehicle.levelling, t, _road(event, car, t), _missing_load(car, load, event, t), report
    )
    return _histories(vehicle, load, event, plant, t, motion)


@dataclass(frozen=True, eq=False)
class Plant:
    """A car ready to run, and what the levelling does to it.

    Attributes:
        ready: arrays of the nonlinear run.
        bars: the trim springs.
        substeps: steps within :data:`STEP`.
    """

    ready: NonlinearCar
    bars: TrimBars
    substeps: int


def plant_of(vehicle: Vehicle, car: Mechanics, stand: Statics) -> Plant:
    """The car with its levelling; ``stand`` is its equilibrium.

    Raises:
        InputError: no levelling is fitted.
    """
    bars = trim_bars(vehicle, car)
    model = linearised(car, stand.q)
    return Plant(
        ready=nonlinear_car(car, stand, model),
        bars=bars,
        substeps=steps_within(car, model, STEP),
    )


def stands(car: Mechanics, load: str) -> Statics:
    """Equilibrium of a car; ``load`` names what it carries.

    Raises:
        InputError: it does not stand.
    """
    found = statics(car)
    if not found.stable:
        raise InputError.of(f"load case {load}", load, f"the car does not stand: {found.reason}")
    return found


def road_under_wheels(car: Mechanics, surface: RoughSurface, seed: int, speed: float, t: Array) -> Array:
    """(4, N) height of a random road on which the car sets off at ``t`` = 0, m."""
    x, y = car.corners.T
    track = float(y[0] - y[1] + y[2] - y[3]) / 2
    return wheel_heights(RandomRoad(seed=seed), surface, speed, float(x[0] - x[2]), track, t)


def motor_current(data: Levelling, motor: Whole, torque: Array) -> Array:
    """(N,) current of the motor, A: idle current and torque / torque per current while it runs.

    The gear locks itself: a torque that helps the motor along spares it no more than its load, and one that
    holds while it stands costs nothing.
    """
    against = np.maximum(motor * torque, 0.0)
    return np.where(motor != 0, data.idle_current + against / data.torque_per_current, 0.0)


@dataclass(frozen=True, eq=False)
class _Motion:
    """Histories that the run leaves behind: (4, N), (2, N) and (N,)."""

    travel: Array
    twist: Array
    seen: Array
    wind_up: Array
    motor: Whole


def _road(event: LevellingEvent, car: Mechanics, t: Array) -> Array:
    """(4, N) height of the road under the wheels, level before and after the drive."""
    heights = np.zeros((4, len(t)))
    driving = (t >= event.drive_from) & (t <= event.drive_to)
    since, left = t[driving] - event.drive_from, event.drive_to - t[driving]
    if since.size:
        fade = np.sin(np.pi / 2 * np.clip(left / _FADE, 0.0, 1.0)) ** 2
        heights[:, driving] = fade * road_under_wheels(car, event.surface, event.seed, event.speed, since)
    return heights


def _missing_load(car: Mechanics, load: LoadCase, event: LevellingEvent, t: Array) -> Array:
    """(n, N) forces that take away what is not loaded yet, or any more, from the loaded car.

    The state is that of the CG of car and load, so that the places of the loads are counted from there.
    """
    onset = np.array([event.load_at, event.load_at + event.loading_time])
    times = np.concatenate([onset, onset + event.unload_at - event.load_at])
    share = np.interp(t, times, [0.0, 1.0, 1.0, 0.0])
    ahead, aside = car.corners[0, 0], car.corners[:2, 1].mean()
    lift = np.zeros((len(car.dof), len(t)))
    for item in load.loads:
        x, y = item.x + ahead, item.y + aside
        lift[:3] += g * item.mass * np.outer([1.0, y, -x], 1.0 - share)
    return lift


def _run(
    plant: Plant, data: Levelling, t: Array, road: Array, forces: Array, report: Report | None
) -> _Motion:
    """Run ahead from change to change of the motor, starting at design trim."""
    n, last = len(plant.ready.start), len(t) - 1
    travel, twist = np.zeros((4, len(t))), np.zeros((2, len(t)))
    seen, wind_up, motor = np.zeros(len(t)), np.zeros(len(t)), np.zeros(len(t), dtype=np.int64)
    q, rate, state, delay, at = np.zeros(n), np.zeros(n), at_rest(), looks_of(data.delay), 0
    while at < last:
        if report is not None:
            report(at / last)
        looks = min(_AHEAD, _AHEAD_TURNING) if state.motor[0] else _AHEAD
        ahead = slice(at, min(at + looks * SAMPLES, last) + 1)
        wound = float(state.motor[0]) * data.speed * (t[ahead] - t[at]) + state.wind_up[0]
        wound = np.clip(wound, -data.limit, data.limit)
        # What is wound up by now is in the bars; what comes on ahead pushes by the levers as they stand.
        model = plant.bars.wound(plant.ready.model, float(state.wind_up[0]))
        pull = plant.bars.pull(model.coordinates, model.coordinates @ q)
        push = forces[:, ahead] + np.outer(pull, wound - state.wind_up[0])
        part = simulate(model, t[ahead], road[:, ahead], q, rate, push, plant.substeps)
        height = -part.coordinate[plant.bars.wheels].mean(axis=0)
        filtered = low_passed(height, float(seen[at]), data.filter_time, STEP)
        before = int(state.motor[0])
        state, used = _watched(state, filtered, data, delay)
        here, kept = slice(at, at + used + 1), slice(0, used + 1)
        travel[:, here] = part.coordinate[:4, kept]
        twist[:, here] = part.deflection[list(plant.bars.rows), kept]
        seen[here], wind_up[here], motor[here] = filtered[kept], wound[kept], before
        q, rate, at = part.q[used].copy(), part.rate[used].copy(), at + used
        motor[at] = state.motor[0]
    return _Motion(travel, twist, seen, wind_up, motor)


def _watched(state: ControlState, filtered: Array, data: Levelling, delay: Whole) -> tuple[ControlState, int]:
    """State at the first look that changes the motor, or at the last one; and the sample of that look."""
    used = 0
    for used in range(SAMPLES, len(filtered), SAMPLES):
        before, state = state, looked(state, filtered[used : used + 1], data, delay)
        if state.motor[0] != before.motor[0]:
            break
    return state, used


def _histories(
    vehicle: Vehicle, load: LoadCase, event: LevellingEvent, plant: Plant, t: Array, motion: _Motion
) -> LevellingRun:
    data = vehicle.levelling
    torque = plant.bars.torque(motion.twist, motion.wind_up)
    # The current jumps at a look: an interval is taken with the motor that turns in it.
    at_start = motor_current(data, motion.motor[:-1], torque[:-1])
    at_end = motor_current(data, motion.motor[:-1], torque[1:])
    spent = data.voltage * STEP * np.cumsum(at_start + at_end) / 2
    return LevellingRun(
        event=event,
        load=load,
        levelling=data,
        axle=plant.bars.axle,
        t=t,
        front=-motion.travel[:2].mean(axis=0),
        rear=-motion.travel[2:].mean(axis=0),
        seen=motion.seen,
        wind_up=motion.wind_up,
        motor=motion.motor,
        torque=torque,
        current=motor_current(data, motion.motor, torque),
        energy=np.concatenate([[0.0], spent]),
    )
