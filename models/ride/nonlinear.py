"""Transient of a car with nonlinear elements: fixed steps in compiled loops, audited by its energy.

The compiler is imported at the first run, not with this module, and its work is kept on disk: only the first
run of all on a machine waits for it (:func:`needs_compiling`, :func:`warm_up`).
"""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import astuple, dataclass
from functools import cached_property, lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError
from models.ride.nonlinear_model import ForceElement, NonlinearModel, Tyres
from models.ride.packed import ROW, TYRE, Packed, Room, pack, pack_together, room

__all__ = ["NonlinearResponse", "begin", "needs_compiling", "simulate", "step_halving", "warm_up"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

#: Part of the greatest row of a group below which a row is not measured against its own peak.
SMALL_ROW = 1e-3
_NO_WORK = 1e-6


@dataclass(frozen=True, eq=False)
class NonlinearResponse:
    """Histories of a run with n degrees of freedom, E elements and N samples, SI.

    Attributes:
        model: the car.
        t: (N,) s.
        q, rate, acceleration: (N, n) q, q̇ and q̈.
        coordinate, coordinate_rate: (D, N) deflection coordinates, the wheel travels first.
        coordinate_force: (D, N) force of all elements together on each coordinate: on the body up, on the
            wheel down; N.
        deflection, deflection_rate, element_force: (E, N) of the elements; forces whole, with preload.
        tyre_force: (4, N) whole forces, N, 0 where the wheel is off the road.
        road_work, outside_work, dissipated: (N,) J since the first sample, integrated with the motion.
        stored: (N,) J in springs, stops, tyres, motion and the potential of the constant forces.
    """

    model: NonlinearModel
    t: Array
    q: Array
    rate: Array
    acceleration: Array
    coordinate: Array
    coordinate_rate: Array
    coordinate_force: Array
    deflection: Array
    deflection_rate: Array
    element_force: Array
    tyre_force: Array
    road_work: Array
    outside_work: Array
    dissipated: Array
    stored: Array

    @property
    def lift_off(self) -> Flags:
        """(4, N) where the wheel is off the road."""
        return self.tyre_force <= 0

    @cached_property
    def stop_contact(self) -> Flags:
        """(E, N) where an element touches its jounce or rebound stop."""
        touched = np.zeros(self.deflection.shape, dtype=np.bool_)
        for row, deflection, element in zip(touched, self.deflection, self.model.elements, strict=True):
            if element.jounce_stop:
                row |= deflection > element.jounce_stop.gap
            if element.rebound_stop:
                row |= deflection < -element.rebound_stop.gap
        return touched

    @cached_property
    def extrapolated(self) -> tuple[str, ...]:
        """Names of the elements that left the range of a table of theirs at any time."""
        return tuple(
            element.name
            for element, deflection, rate in zip(
                self.model.elements, self.deflection, self.deflection_rate, strict=True
            )
            if (element.spring and element.spring.left_by(deflection))
            or (element.damper and element.damper.left_by(rate))
            or any(link.table.left_by(self.coordinate[link.coordinate]) for link in element.links)
        )

    @cached_property
    def energy_residual(self) -> float:
        """Largest |work in - dissipated - growth of the stored energy|, relative to the largest term.

        A term below a millionth of the energy stored at rest is none: of a car that stands still only
        rounding is left.
        """
        growth = self.stored - self.stored[0]
        terms = (self.road_work, self.outside_work, self.dissipated, growth)
        largest = max(*(float(np.abs(term).max()) for term in terms), _NO_WORK * abs(float(self.stored[0])))
        residual = np.abs(self.road_work + self.outside_work - self.dissipated - growth).max()
        return float(residual) / largest if largest > 0 else 0.0


@dataclass(frozen=True, slots=True)
class StepError:
    """Largest change that halving the step makes, relative to the peak; an estimate of the error.

    For a method of fourth order the error of the longer step is 16/15 of the change, at kinks of the laws,
    where the order falls, up to about 4/3 of it.

    A row (degree of freedom, element) that hardly moves is measured against a thousandth of the greatest
    one of its group, with degrees of freedom made comparable by their mass and elements by their leverage.
    """

    position: float
    rate: float
    acceleration: float
    deflection: float
    element_force: float
    tyre_force: float

    @property
    def largest(self) -> float:
        """The worst group."""
        return float(max(astuple(self)))


def simulate(
    model: NonlinearModel,
    t: Array,
    w: Array,
    q0: Array | None = None,
    v0: Array | None = None,
    forces: Array | None = None,
    substeps: int = 1,
) -> NonlinearResponse:
    """Run over a road.

    Runge-Kutta of fourth order; road and forces are straight lines between samples.  Where the road has a
    corner its rate has two values: tyre force and acceleration at the sample are given for their mean, as in
    :func:`models.ride.transient.time_response`.

    Args:
        model: the car.
        t: (N,) s, N at least 2, equal steps.
        w: (4, N) height of the road under FL, FR, RL, RR, m.
        q0, v0: (n,) q and q̇ at ``t[0]``; zero by default.
        forces: (n, N) generalised forces from outside, beside the constant ones; N, N·m.
        substeps: steps taken between two samples.

    Raises:
        ValueError: the steps of ``t`` are not equal, or an array has another shape.
        InputError: a number is not finite, or the motion grew beyond all bounds, with the time.
    """
    run = _Run.prepared(model, t, w, q0, v0, forces, substeps)
    return run.response(run.compute())


def begin(
    model: NonlinearModel,
    t: Array,
    w: Array,
    q0: Array | None = None,
    v0: Array | None = None,
    forces: Array | None = None,
    substeps: int = 1,
) -> Callable[[], NonlinearResponse]:
    """Start a run in another thread; what is returned waits for its end.

    The compiled loops leave the interpreter to others, so that on a machine of two cores other results come
    at the same time.  Arguments and errors as of :func:`simulate`: bad arguments are refused at once, a
    motion beyond all bounds at the end.
    """
    run = _Run.prepared(model, t, w, q0, v0, forces, substeps)
    stopped = _threads().submit(run.compute)
    return lambda: run.response(stopped.result())


@lru_cache(maxsize=1)
def _threads() -> ThreadPoolExecutor:
    return ThreadPoolExecutor(os.cpu_count(), "nonlinear run")


def step_halving(
    model: NonlinearModel,
    t: Array,
    w: Array,
    q0: Array | None = None,
    v0: Array | None = None,
    forces: Array | None = None,
    substeps: int = 1,
) -> StepError:
    """Run twice, with the step and with half of it; arguments as of :func:`simulate`."""
    coarse = simulate(model, t, w, q0, v0, forces, substeps)
    fine = simulate(model, t, w, q0, v0, forces, 2 * substeps)
    inertia = np.sqrt(np.diag(model.mass))
    leverage = np.array([_leverage(element) for element in model.elements])
    return StepError(
        position=_change(coarse.q.T, fine.q.T, inertia),
        rate=_change(coarse.rate.T, fine.rate.T, inertia),
        acceleration=_change(coarse.acceleration.T, fine.acceleration.T, inertia),
        deflection=_change(coarse.deflection, fine.deflection, 1 / leverage),
        element_force=_change(coarse.element_force, fine.element_force, leverage),
        tyre_force=_change(coarse.tyre_force, fine.tyre_force, np.ones(4)),
    )


def warm_up() -> None:
    """Compile the loops, or load them from disk; may take some seconds and belongs in a worker thread."""
    nothing = NonlinearModel(
        dof=("z",),
        mass=np.eye(1),
        coordinates=np.zeros((4, 1)),
        wheels=np.zeros((4, 1)),
        elements=(),
        tyres=Tyres(rate=np.ones(4), damping=np.zeros(4), static_load=np.zeros(4)),
    )
    simulate(nothing, np.arange(2.0), np.zeros((4, 2)))


def needs_compiling() -> bool:
    """Whether the next first run compiles (seconds) instead of loading from disk.

    Imports the compiler, a matter of tenths of a second.  It looks for files newer than the source; that
    they were compiled for another processor shows only in the run.
    """
    from models.ride import kernel

    source = Path(kernel.__file__).stat().st_mtime
    for loop in kernel.LOOPS:
        folder = loop.stats.cache_path  # None where no folder can be written
        kept = Path(folder).glob(f"kernel.{loop.__name__}-*.nbi") if folder else ()
        if not loop.signatures and not any(file.stat().st_mtime >= source for file in kept):
            return True
    return False


def _checked(name: str, array: Array | None, shape: tuple[int, ...]) -> Array:
    if array is None:
        return np.zeros(shape)
    if array.shape != shape:
        raise ValueError(f"{name} has the shape {array.shape}, not {shape}")
    if not np.isfinite(array).all():
        raise InputError.of(name, "not finite", "every number must be finite")
    return array


@dataclass(frozen=True, eq=False)
class _Run:
    """A run that is ready to be computed, with room for its results."""

    model: NonlinearModel
    t: Array
    substeps: int
    moving: Packed
    car: Packed
    road: Array
    force: Array
    push: Array
    start: Array
    room: Room

    @classmethod
    def prepared(
        cls,
        model: NonlinearModel,
        t: Array,
        w: Array,
        q0: Array | None,
        v0: Array | None,
        forces: Array | None,
        substeps: int,
    ) -> _Run:
        """Arrays of a run; raises as :func:`simulate` does."""
        n, samples = len(model.dof), len(t)
        step = (t[-1] - t[0]) / (samples - 1) if samples > 1 else 0.0
        if not step > 0 or np.abs(np.diff(t) - step).max() > 1e-6 * step:
            raise ValueError("t needs two or more samples at equal steps")
        if substeps < 1:
            raise ValueError(f"substeps is {substeps}, not 1 or more")
        start = np.zeros((2, ROW))
        start[0, :n] = _checked("q0", q0, (n,))
        start[1, :n] = _checked("v0", v0, (n,))
        road = np.array(_checked("w", w, (4, samples)).T, order="C")
        push = force = np.zeros((1, ROW))
        if forces is not None:
            force, push = np.zeros((samples, ROW)), np.zeros((samples, ROW))
            force[:, :n] = _checked("forces", forces, (n, samples)).T
            push[:, :n] = np.linalg.solve(model.mass, forces).T
        car = pack(model)
        return cls(
            model=model,
            t=t,
            substeps=substeps,
            moving=pack_together(model, car),
            car=car,
            road=road,
            force=force,
            push=push,
            start=start,
            room=room(samples, car.dof, len(model.elements)),
        )

    @property
    def step(self) -> float:
        """Between samples, s."""
        return float((self.t[-1] - self.t[0]) / (len(self.t) - 1))

    def compute(self) -> int:
        """Fill the room; gives the sample at which the motion was no longer finite, or -1."""
        from models.ride import kernel  # compiles, or loads what is compiled

        stopped: int = kernel.run(
            self.moving,
            self.car,
            self.step,
            self.substeps,
            self.road,
            self.force,
            self.push,
            self.start,
            np.array(self.model.mass, order="C"),
            np.array(self.model.constant_force, order="C"),
            self.room,
        )
        return stopped

    def response(self, stopped: int) -> NonlinearResponse:
        """What has been computed; raises InputError where the motion grew beyond all bounds."""
        step = self.step / self.substeps
        if stopped >= 0:
            raise InputError.of(
                "time step",
                step,
                f"the motion grew beyond all bounds at {self.t[stopped]:.4g} s: the car is unstable, or the "
                f"step of {1e3 * step:.4g} ms is too long for its stiffest part",
            )
        n, d, made = len(self.model.dof), len(self.model.coordinates), self.room
        return NonlinearResponse(
            model=self.model,
            t=self.t,
            q=made.q[:, :n],
            rate=made.rate[:, :n],
            acceleration=made.acceleration[:, :n],
            coordinate=made.x[:d],
            coordinate_rate=made.x_rate[:d],
            coordinate_force=made.force[:d],
            deflection=made.deflection,
            deflection_rate=made.deflection_rate,
            element_force=made.element_force,
            tyre_force=made.force[TYRE:],
            road_work=made.work[:, 0],
            outside_work=made.work[:, 1],
            dissipated=made.work[:, 2],
            stored=made.stored,
        )


def _leverage(element: ForceElement) -> float:
    """Deflection for all coordinates moved by one, the length of the incidence at design trim."""
    ratios = [float(link.table.ratio(0.0)) for link in element.links]
    return float(np.linalg.norm([*element.incidence, *ratios])) or 1.0


def _change(coarse: Array, fine: Array, weight: Array) -> float:
    """Largest change of the rows, each relative to its peak or to a small part of the greatest."""
    if len(fine) == 0:
        return 0.0
    peak = np.abs(fine).max(axis=1)
    scale = np.maximum(peak, SMALL_ROW * (weight * peak).max() / weight)
    change = np.abs(coarse - fine).max(axis=1)
    return float((change[scale > 0] / scale[scale > 0]).max(initial=0.0))
